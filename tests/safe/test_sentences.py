"""What a case says in sentences stands in ours without its own full stops."""

from __future__ import annotations

import pytest

from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, inline, join, sentence, wording


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
