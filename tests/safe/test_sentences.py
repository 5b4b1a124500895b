"""What a case says in sentences stands in ours without its own full stops."""

from __future__ import annotations

import pytest

from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, capital, inline, join, phrase, sentence, wording


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        (("Reopened.", "Packed."), "Reopened; Packed."),
        (("Called at 4 a.m.", "Came"), "Called at 4 a.m.; Came"),
        (("Looked ...", "Saw it?", "No"), "Looked ...; Saw it?; No"),
        (("One.", ""), "One."),
    ],
)
def test_before_a_semicolon_no_full_stop_stands(parts: tuple[str, ...], told: str) -> None:
    assert join("; ", map(wording, parts)).reveal() == told


def test_sentences_side_by_side_keep_theirs() -> None:
    assert join(" ", map(wording, ("Reopened.", "Packed."))).reveal() == "Reopened. Packed."


def test_within_a_sentence_neither_capital_article_nor_full_stop_is_left() -> None:
    assert inline(wording("The first cut.")).reveal() == "the first cut"


# Unicode, Sentence_Terminal: marks that end a sentence in other scripts.
@pytest.mark.parametrize("words", ["هل نتوقف؟", "ختم ہوا۔", "समाप्त।", "完。", "למה?"])
def test_a_sentence_that_has_its_end_gets_no_full_stop(words: str) -> None:
    assert sentence(SafeText(KEY, words)).reveal() == words


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("wait a little", "Wait a little"),
        ("pH first", "pH first"),
        ("eGFR halved", "eGFR halved"),
        ("mL not mg", "mL not mg"),
        ("mg for mL", "mg for mL"),
        ("β-blocker stopped", "β-blocker stopped"),
        ("magnesium given", "Magnesium given"),
    ],
)
def test_a_first_letter_is_a_capital_unless_the_word_is_spelt_otherwise(words: str, told: str) -> None:
    assert capital(wording(words)).reveal() == told
    assert sentence(wording(words)).reveal() == told + "."


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Chamber formed and ache all gone", "Chamber formed and ache all gone"),
        ("Gas: pH 7.1, lactate 9, base deficit of 12", "Gas: pH 7.1, lactate 9"),
        ("Patient moved to recovery ward with oxygen", "Patient moved to recovery ward …"),
        ("Swab count wrong (one large swab short)", "Swab count wrong"),
        ("Drain 240 mL. Ward team told by phone", "Drain 240 mL"),
        ("Approx. 300 mL blood lost over two hours", "Approx. 300 mL blood lost …"),
        ("Patient nach der Operation auf die Station verlegt", "Patient nach der Operation …"),
        ("One two three four five six seven", "One two three four five six …"),
    ],
)
def test_a_label_ends_where_a_part_of_its_text_does(words: str, told: str) -> None:
    assert phrase(wording(words), 6).reveal() == told


# Common practice, no source: a question that is quoted at the end of a sentence ends it.
@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ('she asked "who lifts the drape?"', 'She asked "who lifts the drape?"'),
        ("she said “that is it.”", "She said “that is it.”"),
        ('he says "this eye is rock hard"', 'He says "this eye is rock hard".'),
        ("the patients' list", "The patients' list."),
    ],
)
def test_a_quoted_question_at_the_end_needs_no_full_stop(said: str, expected: str) -> None:
    assert sentence(SafeText(KEY, said)).reveal() == expected
