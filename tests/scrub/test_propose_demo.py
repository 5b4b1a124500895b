"""The cases that ship: the model and the memory take nothing from them; every declared name goes."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.casefile import load
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import replaced
from mmbuilder.scrub.plan import Decision, Layer
from mmbuilder.scrub.propose import in_texts, propose
from mmbuilder.scrub.walk import Texts
from tests.bundled import CASES


@pytest.mark.usefixtures("seen")
@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_only_what_is_declared_or_has_a_pattern_is_replaced(root: Path) -> None:
    folder = load(root)
    plan = propose(folder)
    index = Index(folder.declared)
    guessed = []
    for item in Texts(folder.case).items:
        spans = [span for span in plan.texts.get(item.path, ()) if span.decision is Decision.REPLACE]
        guessed += [
            item.value[span.start : span.end] for span in spans if span.layer in (Layer.MODEL, Layer.MEMORY)
        ]
        hits = [(start, end) for start, end, _, _ in index.hits(item.value)]
        assert all(any(s.start <= start and end <= s.end for s in spans) for start, end in hits)
    assert guessed == []  # everybody in them is declared
    assert any(span.layer is Layer.DECLARED for spans in plan.texts.values() for span in spans)


@pytest.mark.parametrize(
    "text",
    [
        "Seen by Staff Nurse B. Quillorne and Doctor J. Vashtern, Nurse A Ombrelay",
        "Nurse A Ombrelay came",
        "nurse O'Drellan came",
    ],
)
def test_what_looks_like_a_stand_in_shields_no_name(text: str) -> None:
    (spans,) = in_texts([text], Index(Declared()))
    out = replaced(text, spans)
    assert not any(name in out for name in ("Quillorne", "Vashtern", "Ombrelay", "Drellan"))


@pytest.mark.parametrize(
    "text",
    ["Seen on Day 14 March 2025", "Seen on Day 12 March", "Clinic Day 03/02/2025", "Hospital 14/02/2025"],
)
def test_what_looks_like_a_day_shields_no_date(text: str) -> None:
    (spans,) = in_texts([text], Index(Declared()))
    assert "[date]" in replaced(text, spans)


@pytest.mark.parametrize(
    "text", ["Surgeon A and nurse B met patient A2.", "On Day −12 and Day 3, at Hospital A.",
             "A [record number B] of a man of 90 or older"]
)  # fmt: skip
def test_our_own_stand_ins_stay(text: str) -> None:
    (spans,) = in_texts([text], Index(Declared()))
    assert replaced(text, spans) == text
