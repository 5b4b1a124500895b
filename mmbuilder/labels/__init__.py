"""The fixed words of slides and paper, in the language they are read in: one catalogue a language.

A catalogue is a gettext file (`<language>.po`, compiled to `.mo`): the English words of the
source are its keys, so that a sentence in the code reads as the sentence on the slide.
`python -m tests.labels.gather` brings the catalogues up to date.

Source: GNU gettext manual, "The Format of PO Files"; language tags: BCP 47 (RFC 5646).
"""

from __future__ import annotations

import gettext
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from importlib.resources import as_file, files

ENGLISH = "en"

_FOLDER = files("mmbuilder.labels")
_spoken = ContextVar("spoken", default=ENGLISH)


@dataclass(frozen=True)
class _Tongue:
    """A language: its words, and how it writes a half and a thousand."""

    words: gettext.NullTranslations
    decimal: str
    group: str


def languages() -> tuple[str, ...]:
    """Return the tags of all languages there is a catalogue for, sorted; a new file is a new tag here."""
    found = (entry.name for entry in _FOLDER.iterdir() if entry.name.endswith(".mo"))
    return tuple(sorted(name.removesuffix(".mo") for name in found))


def spoken() -> str:
    """Return the tag of the language that is written now, such as `de`."""
    return _spoken.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Write in another language within the block.

    Raises:
        KeyError: there is no catalogue for it.
    """
    if language not in languages():
        raise KeyError(language)
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def say(words: str) -> str:
    """Return words of ours in the language that is written now.

    Words that no catalogue has stay as they are; a test builds every bundled case in every
    language and refuses any such.
    """
    return _tongue(_spoken.get()).words.gettext(words) if words else words


def figures(number: str) -> str:
    """Return a number as `format()` made it with the signs of the language that is written now."""
    tongue = _tongue(_spoken.get())
    return number.translate({ord("."): tongue.decimal, ord(","): tongue.group})


# --- figures with words among them ------------------------------------------------------------

_NUMBER = re.compile(r"(?<![^\W\d_])\d+(?:,\d{3})*(?:\.\d+)?")
WORD = re.compile(r"[^\W\d_]{3,}")
"""What has none of these is figures and units alone, written alike in every language."""

_BETWEEN = re.compile(r"( or | to |: |; |, | \(|\))")
BETWEEN = (" or ", " to ")
"""Words between the parts of a line of figures."""


def shapes(text: str) -> list[str]:
    """Return the parts of a line of figures as a catalogue has them: `{n1} mL in swabs`, ` or `, ...

    A sentence is one part; of anything else, every second part is what stands between two others.
    """
    parts = [text] if text.endswith(".") else _BETWEEN.split(text)
    return [_shape(part) for part in parts]


def _shape(part: str) -> str:
    places = iter(range(1, len(part) + 1))
    return _NUMBER.sub(lambda found: f"{{n{next(places)}}}", part)


def told(text: str) -> str:
    """Return a line of figures, as a figure of the clinic tells it, in the language that is written now."""
    numbers = map(figures, _NUMBER.findall(text))
    return "".join(_filled(shape, numbers) for shape in shapes(text))


def _filled(shape: str, numbers: Iterator[str]) -> str:
    count = len(re.findall(r"\{n\d+\}", shape))
    places = {f"n{place}": next(numbers) for place in range(1, count + 1)}
    return (say(shape) if shape in BETWEEN or WORD.search(shape) else shape).format_map(places)


@cache
def _tongue(language: str) -> _Tongue:
    with as_file(_FOLDER / f"{language}.mo") as path, path.open("rb") as file:
        words = gettext.GNUTranslations(file)
    # The catalogue itself says how its readers write numbers: by two numbers as its words.
    return _Tongue(words, words.gettext("0.5")[1:-1], words.gettext("1,000")[1:-3])
