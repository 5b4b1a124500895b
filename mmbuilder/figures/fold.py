"""Lines of a width, and what becomes of a word that is wider than any line."""

from __future__ import annotations

from functools import lru_cache

from mmbuilder.figures.sheet import Words
from mmbuilder.figures.style import LINE, TEXT, Ink, pieces, width
from mmbuilder.safe.text import EMPTY, SafeText, again, join, wording

TOO_LONG = wording("[long word]")
"""Stands for a word that no line can hold: said, and not lost in silence."""

LETTERS = wording("A B C D E F G H I J K L M N O P Q R S T U V W X Y Z").split()
"""In place of words, where a number would be taken for something else."""


def letter(place: int) -> SafeText:
    """Return A to Z, then AA, AB and so on, for places from 0."""
    first, last = divmod(place, len(LETTERS))
    return join("", (letter(first - 1) if first else EMPTY, LETTERS[last]))


@lru_cache(maxsize=4096)  # a layout asks for the same lines again and again while it looks for the best
def fold(text: SafeText, limit: float, size: float = TEXT, *, bold: bool = False) -> tuple[SafeText, ...]:
    """Break into lines no wider than `limit` points; nothing if a word alone is wider."""
    lines: list[SafeText] = []
    line = EMPTY
    for word in pieces(text, limit, size, bold=bold):
        if width(word, size, bold=bold) > limit:
            return ()
        longer = again((line, word))
        if line and width(longer, size, bold=bold) > limit:
            lines.append(line)
            line = word
        else:
            line = longer
    return (*lines, line)


def fold_clauses(clauses: tuple[SafeText, ...], limit: float, *, bold: bool = False) -> tuple[SafeText, ...]:
    """Break between clauses, and within one only if no line holds it: `11 o'clock` stays whole."""
    lines: list[SafeText] = []
    for clause in clauses:
        longer = join(" ", (*lines[-1:], clause))
        if lines and width(longer, bold=bold) <= limit:
            lines[-1] = longer
        elif folded := fold(clause, limit, bold=bold):
            lines += folded
        else:
            return ()
    return tuple(lines)


def spared(text: SafeText, limit: float, *, bold: bool = False) -> SafeText:
    """Return the text with a note in place of each word that is wider than `limit`."""
    return again(word if width(word, bold=bold) <= limit else TOO_LONG for word in text.split())


def fold_all(text: SafeText, limit: float, *, bold: bool = False) -> tuple[SafeText, ...]:
    """Break into lines; a word that is wider than `limit` gives way to a note of it."""
    return fold(spared(text, limit, bold=bold), limit, bold=bold)


def write(
    lines: tuple[SafeText, ...], x: float, top: float, *, bold: bool = False, ink: Ink = Ink.BLACK
) -> list[Words]:
    """Set lines of ordinary text under each other; `top` is the upper edge of the first."""
    return [
        Words(x, top + TEXT * 0.8 + place * LINE, line, TEXT, bold, ink) for place, line in enumerate(lines)
    ]


def centred(
    lines: tuple[SafeText, ...], x: float, top: float, *, bold: bool = False, ink: Ink = Ink.BLACK
) -> list[Words]:
    """Set lines under each other about a middle."""
    return [
        Words(x - width(line, bold=bold) / 2, top + TEXT * 0.8 + place * LINE, line, TEXT, bold, ink)
        for place, line in enumerate(lines)
    ]
