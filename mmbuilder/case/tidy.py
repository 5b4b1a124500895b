"""What keyboards, word processors and chat windows do to a time, undone."""

from __future__ import annotations

import re
import unicodedata

_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―−﹣－"), "-")
_QUOTES = dict.fromkeys(map(ord, "‘’‚‛“”„«»`´\"'"), None)
_INVISIBLE = dict.fromkeys(
    (0xAD, 0x200B, 0x200C, 0x200D, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2060, 0x206A), 0xFEFF),
    None,
)
_UNSEEN = re.compile("[\u00ad\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\ufeff]")
_SIGNS = dict.fromkeys(map(ord, "≈≃≅∼～"), "~") | {ord("…"): "..", ord("∶"): ":", ord("："): ":"}
_TABLE = _DASHES | _QUOTES | _INVISIBLE | _SIGNS

_PLUS_MINUS = ("+/-", "+ / -", "+-", "plus or minus", "plus/minus", "give or take")


def tidy(text: str) -> str:
    """Return `text` in lower case, dashes, spaces and signs plain, quotes and invisible marks gone."""
    plain = unicodedata.normalize("NFKC", text.translate(_TABLE)).translate(_TABLE).casefold()
    for spelling in _PLUS_MINUS:
        plain = plain.replace(spelling, "±")
    return " ".join(plain.split())


def seen(text: str) -> str:
    """Return `text` without the signs that show nothing, which can part an identifier in the middle.

    The joiners of Hindi and Arabic writing stay: they change what is seen.
    """
    return _UNSEEN.sub("", text)
