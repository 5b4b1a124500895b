"""What the parts of the page put into the tree of a case file, so that it reads as if typed by hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def added(entries: Any, entry: Mapping[str, Any]) -> None:
    """Put an entry at the end of a list; what stood below the list (a blank line, a comment) stays below.

    The library keeps such lines with the last value of the last entry.
    """
    below = _below(entries[-1]) if entries else None
    made = block(entry)
    entries.append(made)
    if below:
        made.ca.items[list(made)[-1]] = below


def _below(last: Any) -> Any:
    comments = getattr(last, "ca", None)
    return comments.items.pop(list(last)[-1], None) if comments is not None and last else None


def block(entry: Mapping[str, Any]) -> Any:
    """Return a mapping that is written with a key a line."""
    from ruamel.yaml.comments import CommentedMap

    made = CommentedMap()
    made.update(entry)
    return made


def flow(entry: Mapping[str, Any]) -> Any:
    """Return a mapping that is written on one line: `{reads: "14:06:10", reference: "14:04:25"}`."""
    made = block(entry)
    made.fa.set_flow_style()
    return made


def quoted(words: str) -> Any:
    """Return a text that is written in double quotes, as times on one line are."""
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString

    return DoubleQuotedScalarString(words)
