"""What a scale makes of the facts, and how a stated grade is held against it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

NOT_APPLICABLE = "not applicable"

_Meaning = TypeVar("_Meaning")


@dataclass(frozen=True)
class Implied:
    """A grade that follows from the facts given.

    Attributes:
        scale: its name, as printed.
        grade: as the scale writes it, or "not applicable".
        because: the fact that decides, in our words.
        rule: the definition, in our words.
        source: where the definition was seen.
        note: what a reader may argue with.
        least: not all facts are told, so that the grade may be higher.
    """

    scale: str
    grade: str
    because: str
    rule: str
    source: str
    note: str = ""
    least: bool = False


def closed(word: str, words: Mapping[str, _Meaning]) -> _Meaning:
    """Return what a word of a closed list stands for.

    Raises:
        ValueError: the list has no such word; the words are told, what was given is not.
    """
    if word not in words:
        raise ValueError(f"expected one of: {'; '.join(words)}")
    return words[word]


def challenge(stated: str, implied: Implied | None) -> str | None:
    """Return what to say to an author whose stated grade is not the one implied, or None."""
    if implied is None or stated == implied.grade:
        return None
    note = f" {implied.note}" if implied.note else ""
    gives = f"gives {implied.grade} at least" if implied.least else f"gives {implied.grade}"
    return (
        f"{implied.scale} is stated as {stated}, but {implied.because} {gives}: {implied.rule} "
        f"({implied.source}).{note} Change the grade, or say why it stands."
    )
