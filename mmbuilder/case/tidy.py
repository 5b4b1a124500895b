"""What keyboards, word processors and chat windows do to a time, undone."""

from __future__ import annotations

import unicodedata

_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―−﹣－"), "-")
_QUOTES = dict.fromkeys(map(ord, "‘’‚‛“”„«»`´\"'"), None)
_INVISIBLE = dict.fromkeys(
    (0xAD, 0x200B, 0x200C, 0x200D, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2060, 0x206A), 0xFEFF),
    None,
)
_SIGNS = dict.fromkeys(map(ord, "≈≃≅∼～"), "~") | {ord("…"): "..", ord("∶"): ":", ord("："): ":"}
_TABLE = _DASHES | _QUOTES | _INVISIBLE | _SIGNS

_PLUS_MINUS = ("+/-", "+ / -", "+-", "plus or minus", "plus/minus", "give or take")


def tidy(text: str) -> str:
    """Return `text` in lower case, dashes, spaces and signs plain, quotes and invisible marks gone."""
    plain = unicodedata.normalize("NFKC", text.translate(_TABLE)).translate(_TABLE).casefold()
    for spelling in _PLUS_MINUS:
        plain = plain.replace(spelling, "±")
    return " ".join(plain.split())
