"""Names where no capital tells: invented ones, in notes as wards write them (common practice, no source)."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mmbuilder.scrub.in_small import in_small
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.words import word_set


def said(text: str) -> list[str]:
    return [text[start:end] for start, end, _ in in_small(text, load())]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("pt of mr quenshaw-bells, lap appx", "quenshaw-bells"),
        ("nok: tui, ph on file", "tui"),
        ("mdt outcome (chair bram van quenstade): t3", "bram van quenstade"),
        ("i/c mr quennacharya, bladder wash by s/n quency. hb 81", "quency"),
        ("pt ng wei ling, thyroid", "ng wei ling"),
        ("bed 18 is harold quenshaw-pike, fell", "harold quenshaw-pike"),
        ("wife jo will drive", "jo"),
        ("verity k. (physio) mobilised", "verity k."),
        ("SCRUB QUENDELINE, RUNNER KWABENA, SWABS CORRECT", "QUENDELINE"),
        ("HOPE WAS BORN BY FORCEPS AT 0417", "HOPE"),
        ("thanks kofi, will do the abg now", "kofi"),
    ],
)
def test_a_name_is_found_whole(text: str, name: str) -> None:
    assert name in said(text)


@pytest.mark.parametrize(
    "text",
    [
        "wife will come, son unable, reg to review in the morning",
        "pt young and fit, s/b physio and ot",
        "asked for foley catheter, foley out at 6",
        "thanks all, sorry, will do",
        "scrub nurse and runner counted twice",
        "THE SURGEON WAS CALLED AND THE CHEST OPENED AT THE BEDSIDE",
        "handover: bed 1 for home, bed 2 needs potassium, 3 empty",
        "hb 94, 93, 92 over three days",
        "Dr Quenby saw her in clinic with capitals that tell",
    ],
)
def test_words_of_the_ward_stay(text: str) -> None:
    assert said(text) == []


WORDS = st.lists(
    st.sampled_from(
        sorted(
            word_set(
                "pt nok wife mr dr by s/b hi thx bed 4 will may foley o'shea-pell k. van der ng li quenby : , . ( ) - and & x2 iii d2 é ß İ ŉ"
            )
        )
    ),
    max_size=14,
).map(" ".join)


@given(st.one_of(WORDS, st.text(max_size=80)))
@settings(max_examples=400, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
def test_what_is_found_lies_in_the_text(text: str) -> None:
    for written in (text, text.upper(), text.lower()):
        for start, end, reason in in_small(written, load()):
            assert 0 <= start < end <= len(written)
            assert reason
