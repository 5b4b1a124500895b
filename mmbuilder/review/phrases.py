"""How the word lists write what to look for, and what that means as a pattern.

missed beat|beats     either word; a space also stands for a hyphen
careless*             any ending
_ fault               any one word
human ... error       up to three words between, in the same sentence
<device> fault        any word of the group `device`, which the file names
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

GAP = r"[\s‐‑–-]+"
_UP_TO_THREE = r"(?:[^\s.;!?]+\s+){0,3}"
_WORD = r"[^\s.;!?,'’]+"


def pattern(phrases: Iterable[str], groups: Mapping[str, str] | None = None) -> str:
    """Return one expression, without capturing groups, that matches any of `phrases` as whole words."""
    found = "|".join(_phrase(_expanded(phrase, groups or {})) for phrase in phrases)
    return rf"(?<!\w)(?:{found})(?!\w)"


def _expanded(phrase: str, groups: Mapping[str, str]) -> str:
    return re.sub(
        r"<(\w+)>('s)?",
        lambda name: "|".join(f"{word}{name[2] or ''}" for word in groups[name[1]].split("|")),
        phrase,
    )


def _phrase(phrase: str) -> str:
    parts = []
    for token in phrase.split():
        parts += [_UP_TO_THREE] if token == "..." else [_token(token), GAP]
    if parts[-1] is not GAP:
        raise ValueError(f"a phrase cannot end in '...': {phrase}")
    return "".join(parts[:-1])


def _token(token: str) -> str:
    words = [_word(word) for word in token.split("|")]
    return words[0] if len(words) == 1 else f"(?:{'|'.join(words)})"


def _word(word: str) -> str:
    shown = re.escape(word.replace("-", " ")).replace("'", "['’]")
    return shown.replace(r"\*", r"\w*").replace(r"\ ", r"[\s‐‑–-]*").replace("_", _WORD)
