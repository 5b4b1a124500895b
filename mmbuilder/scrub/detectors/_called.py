"""What the detectors of names ask of a word by itself: whether somebody may be called by it."""

from __future__ import annotations

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold


def may_be_called(word: str) -> bool:
    """Whether a word is a given name, a name and a word at once, or on no list at all; no role, term or abbreviation."""
    plain, lists = fold(word), load()
    told = plain in lists.titles or plain in lists.roles or plain in lists.heads
    if told or plain.upper() in ABBREVIATIONS:
        return False
    named = plain in lists.given or plain in lists.word_names
    return named or not (lists.known(plain) or lists.plain_abroad(plain))
