"""Clinical sentences that must cross as they are, with declared surnames that are clinical words."""

from __future__ import annotations

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.propose import spans

INDEX = Index(
    Declared.model_validate(
        {
            "people": [
                {"name": "May Young", "role": "patient"},
                {"name": "Dr Brown", "role": "anaesthetist"},
                {"name": "Mr Foley", "role": "surgeon"},
                {"name": "Miss Allen", "role": "surgeon"},
                {"name": "Short", "role": "nurse"},
                {"name": "Dr Burney", "role": "anaesthetist"},
                {"name": "Chinwe Hinchey", "role": "surgeon"},
            ],
            "keep": ["young", "short", "brown"],
        }
    )
)


@pytest.mark.parametrize(
    "sentence",
    [
        "Acuity 6/18 improved to 6/9 by week 6, and pressure fell from 38 to 16 mmHg.",
        "A young man with a short neck had a brown nucleus of grade 4.",
        "Foley catheter 16 Fr, 10 ml in the balloon; Allen's test was normal.",
        "May be repeated after 20 minutes, up to 3 doses of 0.5 mg.",
        "Brown syndrome and a Young syndrome were thought of.",
        "McBurney point was tender; Hinchey III at surgery.",
        "The ratio was 1:200,000 and the dilution 1 in 10.",
        "Bupivacaine 0.25% 20 ml at T10 to L1 with 27G needle, 3 attempts.",
        "10-0 nylon, then 5-0 PDS; wound 2.75 mm at 110 degrees.",
        "BP 95/60, pulse 110, saturation 91% on FiO2 0.6, T+00:12:30.",
        "Count 12 of 12 swabs at 14:35; 3 units given, Hb 92 g/L.",
        "ASA III, GCS 13, Clavien-Dindo IIIb, Cormack-Lehane 2b.",
        "Sutures at 2, 5 and 8 o'clock; the extension was 3 clock hours.",
        "Repeat in 2/52, review 6/12, tablets 1/7.",
        "The second surgeon scrubbed; the nurse in charge called theatre 4.",
        "Walks 100yd, 250m with a stick, 1200 yards on the flat and 2 flights of stairs; swims 40 lengths.",
    ],
)
def test_nothing_in_it_is_touched(sentence: str) -> None:
    assert [sentence[span.start : span.end] for span in spans(sentence, INDEX)] == []
