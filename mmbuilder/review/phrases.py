"""How the word lists write what to look for, and what that means as a pattern.

missed beat|beats     either word; a space also stands for a hyphen
careless*, *list      any ending, any beginning
_ fault               any one word
human ... error       up to three words between, in the same sentence
<device> fault        any word of the group `device`, which the file names
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

_BETWEEN = r"[\s‐‑–-]"
GAP = _BETWEEN + "+"
_UP_TO_THREE = r"(?:[^\s.;!?]+\s+){0,3}"
_WORD = r"[^\s.;!?,'’]+"


def pattern(phrases: Iterable[str], groups: Mapping[str, str] | None = None) -> str:
    """Return one expression, without capturing groups, that matches any of `phrases` as whole words."""
    found = "|".join(_phrase(_expanded(phrase, groups or {})) for phrase in phrases)
    return rf"(?<!\w)(?:{found})(?!\w)"


Cues = tuple[tuple[frozenset[str], ...], ...]
"""For each phrase, the words of each of its tokens; a text that a phrase is in holds one of every token."""


def cues(phrases: Iterable[str], groups: Mapping[str, str] | None = None) -> Cues:
    """Return what to look for before an expression is compiled, which costs far more than the look."""
    return tuple(
        tuple(
            frozenset(map(_cue, token.split("|")))
            for token in _expanded(phrase, groups or {}).split()
            if token != "..."
        )
        for phrase in phrases
    )


def possible(wanted: Cues, text: str) -> bool:
    """Whether any of the phrases may be in a text that was `squeezed`; never false where one is."""
    return any(all(any(word in text for word in token) for token in phrase) for phrase in wanted)


def rarest(wanted: Cues) -> frozenset[str]:
    """Return words of which every text has one that any of the phrases may be in: the longest of each."""
    return frozenset(word for phrase in wanted for word in max(phrase, key=_shortest))


def _shortest(token: frozenset[str]) -> int:
    return min(map(len, token))


def squeezed(text: str) -> str:
    """Return a text in small letters without spaces and hyphens, as cues are."""
    return re.sub(_BETWEEN, "", text.casefold().replace("’", "'"))


def _cue(word: str) -> str:
    """Return the part of a word that has to be there; nothing if any word will do."""
    return "" if "_" in word else squeezed(max(word.split("*"), key=len))


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
