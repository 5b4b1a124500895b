"""Paragraphs that know their height, and where they may be cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mmbuilder.formats._pptx import measure
from mmbuilder.formats._pptx.style import HOUSE_FACE, Face, Role


@dataclass(frozen=True)
class Para:
    """One paragraph, set in one way.

    Attributes:
        text: plain words.
        size: points.
        after: space below, points; none below the last of a box.
        number: its number in a numbered list.
        dot: whether a bullet stands before it.
        rest: the tail of a paragraph that began on the sheet before: indented, not numbered again.
    """

    text: str
    size: float
    bold: bool = False
    role: Role = Role.INK
    after: float = 0
    dot: bool = False
    number: int | None = None
    rest: bool = False
    face: Face = HOUSE_FACE

    @property
    def indent(self) -> float:
        """How far the text stands in from its bullet or number."""
        if self.number is not None:
            return self.size * (1.5 if self.number < 10 else 2)
        return self.size * 0.95 if self.dot else 0

    @property
    def heading(self) -> bool:
        """Whether it names what follows it."""
        return self.bold and self.role is Role.ACCENT

    @property
    def pitch(self) -> float:
        """Height of one line."""
        return self.size * self.face.pitch

    def lines(self, width: float) -> tuple[str, ...]:
        """Break it into lines in a box of this width."""
        return measure.lines(self.text, (width - self.indent) / self.face.stretch, self.size, self.bold)

    def height(self, width: float) -> float:
        """Height without the space below."""
        return len(self.lines(width)) * self.pitch

    def cut(self, width: float, room: float) -> tuple[Para, Para] | None:
        """Cut so that the first part is at most `room` high, at the end of a sentence if one ends there."""
        shown = self.lines(width)
        fit = int((room + 1e-6) / self.pitch)
        if fit < 1 or fit >= len(shown):
            return None
        taken = sum(len(line.replace(" ", "")) for line in shown[:fit])
        words = self.text.split(" ")
        count = _words_within(words, taken)
        if count == 0:  # one word, longer than the room: cut where its line was cut
            head, tail = self.text[:taken], self.text[taken:].lstrip(" ")
        else:
            count = _sentence_end(words, count) or count
            head, tail = " ".join(words[:count]), " ".join(words[count:])
        return replace(self, text=head), replace(self, text=tail, rest=True)


def _words_within(words: Sequence[str], letters: int) -> int:
    """How many whole words those letters (spaces not counted) hold."""
    used = 0
    for count, word in enumerate(words):
        used += len(word)
        if used > letters:
            return count
    return len(words)


def _sentence_end(words: Sequence[str], count: int) -> int:
    """Return the last sentence end that still leaves a fair part before it, or 0."""
    ends = [n for n in range(1, count + 1) if words[n - 1].endswith((".", "?", "!"))]
    return ends[-1] if ends and ends[-1] >= count * 0.4 else 0


def height(paras: Sequence[Para], width: float) -> float:
    """Height of paragraphs in one box."""
    return sum(para.height(width) + para.after for para in paras) - (paras[-1].after if paras else 0)


def split(paras: tuple[Para, ...], width: float, room: float) -> tuple[tuple[Para, ...], tuple[Para, ...]]:
    """Return what fits into `room`, and the rest."""
    used = 0.0
    for place, para in enumerate(paras):
        tall = para.height(width)
        if used + tall > room + 1e-6:
            parts = para.cut(width, room - used)
            if parts is None:
                return paras[:place], paras[place:]
            return (*paras[:place], parts[0]), (parts[1], *paras[place + 1 :])
        used += tall + para.after
    return paras, ()


def widest_word(paras: Sequence[Para]) -> float:
    """Width below which a word would be broken."""
    return max(
        (
            measure.width(word, para.size, bold=para.bold) * para.face.stretch + para.indent
            for para in paras
            for word in para.text.split(" ")
        ),
        default=0,
    )
