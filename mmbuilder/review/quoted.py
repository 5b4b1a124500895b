"""Where somebody is quoted: what was said or written then is evidence, and is left alone."""

from __future__ import annotations

import re

Span = tuple[int, int]

_QUOTES = re.compile(
    r'(?<!\w)"[^"]*"'  # not the inches of a 5" port
    r"|“[^”]*”|„[^“”]*[“”]|«[^»]*»|»[^«]*«"
    r"|(?<!\w)‘.*?’(?!\w)",  # an apostrophe inside does not end it
    re.DOTALL,
)


def spans(text: str) -> tuple[Span, ...]:
    """Return the place of every quotation, its marks included. A mark that is not closed quotes nothing."""
    return tuple(match.span() for match in _QUOTES.finditer(text))


def touches(span: Span, others: tuple[Span, ...]) -> bool:
    """Whether `span` shares a character with any of `others`."""
    return any(span[0] < end and start < span[1] for start, end in others)
