"""The plain form of a key: `Take-Away`, `take_away` and `“take away”` are all `take away`."""

from __future__ import annotations

_DASHES = str.maketrans(dict.fromkeys("-_‐‑‒–—", " ") | dict.fromkeys("“”„‟«»‘’‚\"'`", ""))


def plain_key(key: str) -> str:
    """Return lower-case words with single spaces."""
    return " ".join(key.translate(_DASHES).casefold().split())
