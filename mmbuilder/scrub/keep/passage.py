"""A text as a row of words, and what stands between them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from mmbuilder.scrub.keep.lists import Lists, load
from mmbuilder.scrub.keep.words import Word, words

_SENTENCE_END = re.compile(r"[.;:!?]\s|[\n()\[\]]")
_LONGEST_TERM = 5
_HYPHENS = ("-", "‐", "‑", "–")
_SHORTENED = 3
"""Letters of a word that a full stop may follow within a term: `St. Mark's solution`."""


@dataclass(frozen=True)
class Passage:
    """The words of one text. Places are indices of words, ends not included."""

    text: str
    words: tuple[Word, ...]
    lists: Lists
    capitals: bool
    small: bool

    @classmethod
    def of(cls, text: str, lists: Lists) -> Passage:
        """Cut a text; `capitals` and `small` say that its letter case tells nothing."""
        cut, capitals, small = _read(text)
        return cls(text, cut, lists, capitals, small)

    @property
    def cased(self) -> bool:
        """Whether capitals tell anything: neither all capitals nor none."""
        return not self.capitals and not self.small

    def span(self, start: int, end: int) -> tuple[int, int]:
        """Indices of the words that an offset range touches."""
        touched = [i for i, word in enumerate(self.words) if word.start < end and word.end > start]
        return (touched[0], touched[-1] + 1) if touched else (0, 0)

    def plain(self, first: int, last: int) -> str:
        """Folded words joined by single spaces."""
        return " ".join(word.plain for word in self.words[first:last])

    def between(self, left: int) -> str:
        """What is written between word `left` and the next one."""
        return self.text[self.words[left].end : self.words[left + 1].start]

    def ends(self, left: int) -> bool:
        """Whether a sentence or a bracket ends right after word `left`."""
        if left + 1 >= len(self.words) or left < 0:
            return True
        initial = self.words[left].initial or self.words[left].plain in self.lists.titles
        gap = self.between(left)
        return bool(_SENTENCE_END.search(gap)) and not (initial and gap.strip() == ".")

    def opens(self, first: int) -> bool:
        """Whether word `first` opens a sentence."""
        return first == 0 or self.ends(first - 1)

    def named(self, index: int) -> bool:
        """Whether a word is written as a name is; where case tells nothing, whether it is on no list."""
        word = self.words[index]
        if not word.text[0].isalpha():
            return False
        if self.capitals or self.small:
            return word.plain not in self.lists.terms
        return word.capital

    def plain_word(self, index: int) -> bool:
        """Whether a word is of the vocabulary, and its capital, if it has one, is no sign of a name.

        A capital shows nothing where it opens a sentence, where every letter is one, and in a row of words
        with capitals ("Ischaemic Heart Disease").
        """
        word = self.words[index]
        if not self.lists.plain_word(word.plain):
            return False
        if not (self.cased and word.capital) or word.text.isupper() or self.opens(index):
            return True
        return any(
            self._listed_capital(other) for other in (index - 1, index + 1) if self._beside(other, index)
        )

    def _beside(self, other: int, index: int) -> bool:
        if not 0 <= other < len(self.words):
            return False
        return self.between(min(other, index)) in (" ", "-", "/")

    def _listed_capital(self, index: int) -> bool:
        word = self.words[index]
        return word.capital and self.lists.known(word.plain) and word.plain not in self.lists.word_names

    def term_over(self, first: int, last: int) -> str | None:
        """Class of a listed term of several words that holds all of these words, if there is one."""
        for begin in range(max(0, last - _LONGEST_TERM), first + 1):
            for end in range(max(last, begin + 2), min(len(self.words), begin + _LONGEST_TERM) + 1):
                if any(self._parted(at) for at in range(begin, end - 1)):
                    continue
                said = self.plain(begin, end)
                if listed := self.lists.terms.get(said):
                    return listed
                if said in self.lists.doubles and all(
                    self.between(at) in _HYPHENS for at in range(begin, end - 1)
                ):
                    return "an eponym of two names"
        return None

    def _parted(self, left: int) -> bool:
        """Whether something stands after word `left` that no term goes across: `from Birmingham, hip in plaster`."""
        gap = self.between(left).strip()
        short = gap == "." and len(self.words[left].text) <= _SHORTENED
        return bool(gap) and not short and gap not in (*_HYPHENS, "/")


def term_around(text: str, start: int, end: int) -> str | None:
    """Class of a listed term of several words that holds what stands in a range of a text, if there is one."""
    passage = Passage.of(text, load())
    return passage.term_over(*passage.span(start, end))


@lru_cache(maxsize=256)
def _read(text: str) -> tuple[tuple[Word, ...], bool, bool]:
    """Words of a text, and whether it is all capitals or all small; several layers read one sentence after another."""
    letters = [c for c in text if c.isalpha()]
    capitals = sum(map(str.isupper, letters)) > 0.7 * len(letters)
    return tuple(words(text)), capitals, text == text.lower()
