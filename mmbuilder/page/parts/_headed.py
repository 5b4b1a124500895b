"""Where each line of a note says that it belongs: by its own opening, or by the heading above it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.page.form.targets import offered
from mmbuilder.page.parts._listed import kind_told

_BULLET = re.compile(r"\s*[-–—•*·▪‣]+\s+")
_NUMBER = re.compile(r"\s*\(?(\d{1,2})[.):]?\s+(?=\D)")


@dataclass(frozen=True)
class Headed:
    """One line of a note.

    Attributes:
        under: the line that says where it belongs: itself, or a heading above it.
        heading: whether it is nothing but a heading.
        listed: whether it is an entry of a list below a heading: one thing, however many sentences it has.
    """

    text: str
    under: str
    heading: bool = False
    listed: bool = False


def headed(text: str) -> Iterator[Headed]:
    """Yield every line of a note that holds something.

    Below a heading that has its own line everything belongs to it, up to an empty line; below one with words
    behind it, and behind an empty line, only the entries of a list do.
    """
    above, lists_only = "", False
    for line in text.splitlines():
        own, listed = offered(line), _BULLET.match(line) or _NUMBER.match(line)
        if not line.strip():
            lists_only = True
        elif own is not None:
            above, alone = line, own.heads(line)
            lists_only = not alone
            yield Headed(line, line, heading=alone)
        elif above and (listed or not (lists_only or _TIMED.match(line))):
            yield Headed(line, above, listed=listed is not None)
        else:
            above = ""
            yield Headed(line, line)


_TIMED = re.compile(
    r"\s*(?:~?(?:[01]\d|2[0-3])[:.]?[0-5]\d\b|sign(?:ed)?\b(?!.{0,12}\b(?:off|in|out)\b))", re.IGNORECASE
)
"""A line that begins with an hour is an event again, one that signs the note its end."""


_COMMA = re.compile(r"\s*[,;]\s+(?![^()\[\]]*[)\]])")
"""A comma outside brackets."""
_LEAST = 3
"""Things on a line that make it a list of them."""
_JOINED = re.compile(
    r"(?:and|but|or|so|then|which|who|where|when|because|as|since|while|that"
    r"|owners?|by|due|before|from|until|measured?|audit|count(?:ed)?|check|target)\b",
    re.IGNORECASE,
)
"""What begins a part of the thing before it, no thing of its own: an owner, a day, the rest of a sentence."""


def things(text: str, *, sentences: bool = False) -> list[str]:
    """Return the things that commas part on a line, where there are several; else the line.

    Args:
        text: the line.
        sentences: whether one thing may be a sentence, or hold who is to do it and by when: it is only a list
            where no part of it leans on the one before.
    """
    found = _COMMA.split(text)
    lean = sentences and any(_leans(one) for one in found[1:])
    return found if len(found) >= _LEAST and not lean else [text]


def _leans(part: str) -> bool:
    last = re.findall(r"[\w-]+", part)[-1:]
    return _JOINED.match(part) is not None or len(part.split()) < 2 or bool(kind_told("".join(last)))


def without_marks(texts: list[str]) -> list[str]:
    """Return what stands under one heading without bullets, and without numbers that count it: 1, 2, 3."""
    numbers = [int(found[1]) if (found := _NUMBER.match(text)) else 0 for text in texts]
    made = []
    for place, (text, number) in enumerate(zip(texts, numbers, strict=True)):
        beside = {*numbers[max(0, place - 1) : place], *numbers[place + 1 : place + 2]}
        counts = number and beside & {number - 1 or number + 1, number + 1}
        made.append(_without(_NUMBER if counts else _BULLET, text))
    return made


def without_bullet(text: str) -> str:
    """Return a line without the sign that begins it as one of several."""
    return _without(_BULLET, text)


def _without(mark: re.Pattern[str], text: str) -> str:
    found = mark.match(text)
    return text[found.end() :] if found else text
