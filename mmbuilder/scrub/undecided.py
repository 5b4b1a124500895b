"""Which words of a sentence only the name model can decide about, and which are taken or kept without asking it.

The model is the slowest layer by far. It need not read a sentence whose every word is ordinary, taken as a name
already, or would be kept by the guard however sure the model were: "Dr Okonjo used a Foley catheter."
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from mmbuilder.scrub.keep import Guard, Verdict
from mmbuilder.scrub.keep.lists import Lists
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.things import thing, unproven

AFTER_TITLE = "after a title"
"""The guard's reason."""
_ABBREVIATION = 4
"""Letters of the longest word in capitals that is taken for an abbreviation."""
_JOINED = (" ", "-", "‐")
_PLACE_BEFORE = frozenset({"in", "at", "from", "near", "to", "zu", "aus", "en", "desde"})


@dataclass(frozen=True)
class Word:
    """A word that is written as a name, with the reason why it goes or stays."""

    start: int
    end: int
    reason: str


@dataclass(frozen=True)
class Look:
    """What the guard says of a sentence that no model has read.

    Attributes:
        undecided: whether there is a word for the model to decide.
        titled: what goes.
        kept: what stays.
    """

    undecided: bool
    titled: Sequence[Word]
    kept: Sequence[Word]


def candidates(passage: Passage) -> list[int]:
    """Indices of the words that could be a name by their writing and the lists alone."""
    return [index for index in range(len(passage.words)) if _candidate(passage, index, passage.lists)]


def _candidate(passage: Passage, index: int, lists: Lists) -> bool:
    word = passage.words[index]
    if len(word.plain) < 2 or not word.text[0].isalpha() or (passage.cased and not word.capital):
        return False
    if passage.cased and word.text.isupper() and len(word.text) <= _ABBREVIATION:
        return False
    if word.plain in lists.word_names:
        return True
    return not (ordinary(word.plain, lists) or word.plain in lists.titles or passage.plain_word(index))


def ordinary(plain: str, lists: Lists) -> bool:
    """Whether a word is a clinical or ordinary one by the lists that were chosen by hand."""
    if plain in lists.terms or plain in lists.heads or plain in lists.roles:
        return True
    return plain not in lists.eponym_words and lists.called(plain) is not None


def looked_at(
    passage: Passage,
    could_be: Sequence[int],
    taken: Collection[tuple[int, int]],
    sure: Collection[tuple[int, int]] = (),
) -> Look:
    """Say of each word that could be a name whether the model has to decide.

    Args:
        passage: one sentence.
        could_be: its `candidates`.
        taken: offsets of what is taken for a name in it, by its writing or its neighbours.
        sure: offsets of what is replaced in it for other reasons, its kind known.
    """
    every = range(len(passage.words))
    known = {index for index in every if _covered(passage, index, sure)}
    covered = known | {index for index in every if _covered(passage, index, taken)}
    undecided = {index for index in covered - known if _in_a_place(passage, index)}
    undecided.update(_rest_of_a_name(passage, covered))
    guard, small = Guard(passage.text), set[int]()
    kept, titled = list[Word](), list[Word]()
    for index in could_be:
        if index in covered or index in undecided or _calendar(passage, index):
            continue
        word = passage.words[index]
        judged = guard.judge(word.start, word.end)
        reason = judged.reason if judged.verdict is Verdict.KEEP else ""
        if not reason and unproven(judged.reason, "person"):
            reason = thing(passage.text, "person", judged.start, judged.end)
        if judged.reason == AFTER_TITLE and _right_after(passage, index, covered):
            titled.append(Word(judged.start, judged.end, judged.reason))
            covered.add(index)
        elif not reason:
            undecided.add(index)
        elif word.text.islower():
            small.add(index)
        elif word.plain.isalpha():
            kept.append(Word(judged.start, judged.end, reason))
    # The guard keeps one such word in small letters, and not two side by side.
    pair = any(index + 1 in small and passage.between(index) == " " for index in small)
    return Look(pair or bool(undecided), titled, list(_whole(passage, kept)))


def _right_after(passage: Passage, index: int, covered: Collection[int]) -> bool:
    """Whether a word with a capital stands right after a title, or after a name that does."""
    if not index or not passage.words[index].capital:
        return False
    before = passage.words[index - 1]
    return before.plain in passage.lists.titles or (index - 1 in covered and not before.bears_s)


def _whole(passage: Passage, kept: Sequence[Word]) -> Iterator[Word]:
    """Neighbours that are kept as one: `Swan-Ganz`."""
    last: Word | None = None
    for one in kept:
        if last and one.reason == last.reason and passage.text[last.end : one.start] in _JOINED:
            last = Word(last.start, one.end, one.reason)
            continue
        if last:
            yield last
        last = one
    if last:
        yield last


def _covered(passage: Passage, index: int, taken: Collection[tuple[int, int]]) -> bool:
    word = passage.words[index]
    end = word.end - 2 * word.bears_s
    return any(start <= word.start and end <= stop for start, stop in taken)


def _in_a_place(passage: Passage, index: int) -> bool:
    """Whether a name is written where a place stands: which of the two it is, the model says."""
    return bool(index) and passage.words[index - 1].plain in _PLACE_BEFORE and not passage.ends(index - 1)


def _rest_of_a_name(passage: Passage, covered: Collection[int]) -> Iterator[int]:
    """Words with a capital beside a name, or past a particle beside it: `Fatima bint Khalid`, `Upper Brackle`."""
    if not passage.cased:
        return
    lists = passage.lists
    for index, word in enumerate(passage.words):
        if index in covered or not word.capital or (word.text.isupper() and not word.initial):
            continue
        if word.plain in lists.titles or word.plain in lists.roles or not _by_a_name(passage, index, covered):
            continue
        part = word.initial or word.plain in lists.particles
        if part or not passage.opens(index) or _candidate(passage, index, lists):
            yield index


def _by_a_name(passage: Passage, index: int, covered: Collection[int]) -> bool:
    for step in (-1, 1):
        at = index + step
        if 0 <= at < len(passage.words) and passage.words[at].plain in passage.lists.particles:
            at += step
        between = range(min(at, index), max(at, index))
        if at in covered and all(_joined(passage, left) for left in between):
            return True
    return False


def _joined(passage: Passage, left: int) -> bool:
    gap = passage.between(left)
    return gap in _JOINED or (passage.words[left].initial and gap in (". ", "."))


def _calendar(passage: Passage, index: int) -> bool:
    """Whether it is a month or a day, and nobody's name: dates have patterns of their own."""
    plain = passage.words[index].plain
    return plain in passage.lists.months and plain not in passage.lists.word_names
