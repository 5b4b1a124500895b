"""Text that may leave the building.

`SafeText` is not a `str`: it cannot slip into an f-string, a log line or a slide by
accident, and a `str` cannot pass for it. It is read in one place per output format,
through `reveal()`.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import LiteralString, NoReturn, final

from mmbuilder.safe.mint import KEY as _KEY
from mmbuilder.safe.mint import MintKey


@final
class SafeText:
    """Words that have crossed the line, or that we wrote ourselves."""

    __slots__ = ("_text",)

    def __init__(self, key: MintKey, text: str) -> None:
        if key is not _KEY:
            raise TypeError("safe text is minted by the scrubber, not made by hand")
        self._text = text

    def reveal(self) -> str:
        """Return the words as `str`; called where a format writes them out and nowhere else."""
        return self._text

    def __len__(self) -> int:
        return len(self._text)

    def words(self) -> int:
        """How many words, for timing."""
        return len(self._text.split())

    def split(self) -> tuple[SafeText, ...]:
        """Return the words one by one, for breaking lines."""
        return tuple(SafeText(_KEY, word) for word in self._text.split())

    def within(self, other: SafeText) -> bool:
        """Whether `other` already says this, letter case aside."""
        return self._text.casefold() in other._text.casefold()

    def __bool__(self) -> bool:
        return bool(self._text)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, SafeText) and self._text == other._text

    def __hash__(self) -> int:
        return hash(("SafeText", self._text))

    def __lt__(self, other: SafeText) -> bool:
        return self._text < other._text

    def __repr__(self) -> str:
        return f"SafeText({self._text!r})"

    def __str__(self) -> NoReturn:
        raise TypeError("safe text is written out by a format, through reveal()")

    def __format__(self, spec: str) -> NoReturn:
        raise TypeError("safe text is put together with safe.text.fill or join, not with an f-string")


EMPTY = SafeText(_KEY, "")


def wording(text: LiteralString) -> SafeText:
    """Words of our own, written in the source."""
    return SafeText(_KEY, text)


def number(value: float, spec: LiteralString = "") -> SafeText:
    """Return a count or measure as text; `spec` as in `format()`.

    Raises:
        TypeError: it is no number.
    """
    if not isinstance(value, int | float):
        raise TypeError("a number is needed here")
    return SafeText(_KEY, format(value, spec))


def join(separator: LiteralString, parts: Iterable[SafeText]) -> SafeText:
    """Join the parts that are not empty."""
    return SafeText(_KEY, separator.join(part.reveal() for part in parts if part))


def fill(template: LiteralString, **parts: SafeText | int) -> SafeText:
    """Fill `{name}` places in a sentence of ours with safe parts.

    Raises:
        KeyError: the template names a part that was not given.
        TypeError: a part is neither safe text nor a count.
    """
    for part in parts.values():
        if not isinstance(part, SafeText | int):
            raise TypeError("only safe text and counts are put into a sentence")
    shown = {name: part.reveal() if isinstance(part, SafeText) else str(part) for name, part in parts.items()}
    return SafeText(_KEY, template.format_map(shown))


def sentence(text: SafeText) -> SafeText:
    """Capital first letter, and a full stop unless it ends in punctuation."""
    words = text.reveal().strip()
    if not words:
        return EMPTY
    return SafeText(_KEY, words[0].upper() + words[1:] + ("" if words[-1] in ".?!:…" else "."))


def capital(text: SafeText) -> SafeText:
    """Capital first letter, and nothing else changed."""
    words = text.reveal()
    return SafeText(_KEY, words[:1].upper() + words[1:])


def inline(text: SafeText) -> SafeText:
    """Lower the article of a text that stood alone and now stands within a sentence."""
    words = text.reveal()
    article = words.split(" ", 1)[0]
    return SafeText(_KEY, words[0].lower() + words[1:]) if article in ("The", "A", "An") else text


def unbroken(text: SafeText) -> SafeText:
    """Keep on one line: `4 min` is not torn apart at a line's end."""
    return SafeText(_KEY, text.reveal().replace(" ", "\N{NO-BREAK SPACE}"))


def clip(text: SafeText, limit: int) -> SafeText:
    """Keep the first `limit` words; an ellipsis shows that more was said."""
    words = text.reveal().split()
    return text if len(words) <= limit else SafeText(_KEY, " ".join(words[:limit]) + " …")
