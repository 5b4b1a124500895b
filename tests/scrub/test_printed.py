"""What stays in a finished file because of what it says, each beside what differs in one thing and goes."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.printed import nameless, spared


def stays(text: str, said: str, layer: Layer = Layer.MODEL, kind: str = "name") -> bool:
    start = text.index(said)
    span = Span(start, start + len(said), kind, "A", "[name]", 0.7, layer)
    (told,) = spared(text, [span])
    assert told.decision is Decision.REPLACE or told.reason
    return told.decision is Decision.KEEP


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Situation, Background, Asked of you", "Background"),
        ("Candour", "Candour"),
        ("Local block, no sedation. Side: right.", "Side"),
        ("Man in his 70s, right eye pressure 34 mmHg", "Man"),
        ("Man, 74, right eye pressure 34 mmHg", "Man"),
        ("Drainage device (350 mm² plate)", "mm²"),
        ("induction from T−0:36", "T"),
        ("Brandlehurst K, Overwick JD. Pumps that stop. J Invented Surg 2014;370:1198-208.", "Overwick"),
        ("Brandlehurst K, et al. Inv Med 2013;368:246-253.", "Brandlehurst"),
    ],
)
def test_words_of_ours_ordinary_words_and_authors_stay(text: str, said: str) -> None:
    assert stays(text, said)
    assert not stays(text, said, Layer.DECLARED)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Situation, Quenneville, Asked of you", "Quenneville"),
        ("Quenneville: right.", "Quenneville"),
        ("Seen by Side yesterday", "Side"),
        ("Background agreed and left", "Background agreed"),
        ("Quenneville in his 70s, right eye", "Quenneville"),
        ("Quenneville K, personal communication", "Quenneville K"),
        ("Dr Man reviewed her", "Man"),
    ],
)
def test_what_may_be_somebody_goes(text: str, said: str) -> None:
    assert not stays(text, said)


@pytest.mark.parametrize(
    ("text", "said", "kept"),
    [
        ("Patient: Rash with a mouthwash", "Rash", True),
        ("Patient: Long eye, no vitreous", "Long", True),
        ("Patient: Long, who came alone", "Long", False),
        ("Patient: Long said so", "Long", False),
        ("Patient: Quenneville with her daughter", "Quenneville", False),
        ("Consultant Long eye list", "Long", False),
    ],
)
def test_a_word_behind_a_label_is_judged_by_what_follows(text: str, said: str, kept: bool) -> None:
    assert stays(text, said, Layer.PATTERN, "name by role") is kept


@pytest.mark.parametrize(
    "words", ["NIBP 78/42 (54) 09:44 1 min", "R eye 12 o'clock at foot", "T+0:15", "heart rate, /min", "5 mm"]
)
def test_known_words_and_short_numbers_name_nobody(words: str) -> None:
    assert nameless(words)


@pytest.mark.parametrize("words", ["Quenneville", "Mark Long", "W O", "00471902", "MRN 4829", "Vincent"])
def test_unknown_words_names_that_are_words_letters_and_long_numbers_may_be_somebody(words: str) -> None:
    assert not nameless(words)
