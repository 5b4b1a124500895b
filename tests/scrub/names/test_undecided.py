"""Which sentences the model is given, and that it is missed in none of the others.

The examples are ours; that nothing is lost is held against the model itself, which reads everything.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.names import NameHit, NameModel
from mmbuilder.scrub.plan import Decision, Span
from mmbuilder.scrub.propose import in_texts
from mmbuilder.scrub.undecided import candidates, looked_at
from mmbuilder.scrub.untitled import Sentence, UntitledNames, _acting, _written
from tests.scrub.names.corpus import NAMED, read
from tests.scrub.sets.score import NOTHING


class Asked(NameModel):
    """The model, and what it was asked."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []

    def find(self, texts: Sequence[str]) -> list[list[NameHit]]:
        self.texts += texts
        return super().find(texts)


def looked(text: str, *taken: str, sure: Sequence[str] = ()) -> bool:
    """Whether the model is needed, where the words of `taken` and `sure` are replaced already."""
    passage = Passage.of(text, load())
    places = [[(text.index(word), text.index(word) + len(word)) for word in words] for words in (taken, sure)]
    return looked_at(passage, candidates(passage), *places).undecided


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("The wound was closed with nylon.", ()),  # ordinary words
        ("A Foley catheter and a Kocher clamp were ready.", ()),  # eponyms by their nouns
        ("Zelandrou was seen in clinic.", ("Zelandrou",)),  # taken already
        ("Reviewed on 4 November.", ()),  # the calendar
    ],
)
def test_the_model_is_not_asked_where_all_is_decided(text: str, taken: tuple[str, ...]) -> None:
    assert not looked(text, *taken)


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("Asked Grace for a second suction.", ()),  # a name that is a word
        ("Zelandrou agreed.", ()),  # on no list, where every word has a capital
        ("Fatima bint Khalid declined.", ("Fatima",)),  # the rest of a name, past a particle
        ("Her niece lives in Upper Zelandrou.", ("Zelandrou",)),  # the rest of a place
        ("Referred from Zelandrou.", ("Zelandrou",)),  # a person or a place
    ],
)
def test_the_model_is_asked_where_it_alone_can_tell(text: str, taken: tuple[str, ...]) -> None:
    assert looked(text, *taken)


def test_what_others_replace_is_not_asked_about() -> None:
    text = "Asked Grace for a second suction."
    assert not looked(text, sure=["Grace"])
    model = Asked()
    at = text.index("Grace")
    found = [[Span(at, at + 5, "titled name", "A", "[name]", 0.9)]]
    UntitledNames(model).find_beside([text], found)
    assert not model.texts
    UntitledNames(model).find([text])
    assert model.texts == [text]


def test_what_the_guard_keeps_is_told_without_the_model() -> None:
    text = "A Swan-Ganz catheter and a Foley catheter."
    model = Asked()
    spans = UntitledNames(model).find([text])[0]
    assert not model.texts
    assert {text[span.start : span.end] for span in spans} == {"Swan-Ganz", "Foley"}
    assert all(span.decision is Decision.KEEP and span.reason for span in spans)


def replaced(text: str, names: UntitledNames) -> set[int]:
    """Every letter that is replaced by all layers together."""
    spans = in_texts([text], NOTHING, names=names)[0]
    return {at for span in spans for at in range(span.start, span.end) if text[at].isalpha()}


def test_no_name_is_lost_by_what_the_model_is_not_given(monkeypatch: pytest.MonkeyPatch) -> None:
    passages = list(read(NAMED))
    model = Asked()
    few = UntitledNames(model)
    ours = [replaced(passage.text, few) for passage in passages]
    assert 0 < sum(map(len, model.texts)) < 0.4 * sum(len(passage.text) for passage in passages)

    def everything(sentence: Sentence, others: Sequence[Span] = ()) -> tuple[list[Span], list[Span], bool]:
        return [*_acting(sentence), *_written(sentence)], [], True

    monkeypatch.setattr("mmbuilder.scrub.untitled._without_the_model", everything)
    every = UntitledNames()
    for passage, found in zip(passages, ours, strict=True):
        planted = {at for start, end in passage.people for at in range(start, end)}
        assert planted & replaced(passage.text, every) <= found, passage.text
