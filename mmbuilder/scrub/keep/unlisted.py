"""Whether a word is on any of our lists: what is on none, beside a cue, is a name or a place."""

from __future__ import annotations

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep.lists import Lists
from mmbuilder.scrub.keep.words import fold


def unlisted(word: str, lists: Lists) -> bool:
    """Whether a word is on none of the lists, whatever its letters."""
    plain = fold(word)
    known = (
        plain in lists.eponym_words
        or plain in lists.titles
        or plain in lists.heads
        or plain in lists.roles
        or plain in lists.verbs_before
        or plain in lists.verbs_after
        or plain in lists.particles
        or plain in lists.months
        or lists.plain_abroad(plain)
        or plain.upper() in ABBREVIATIONS
        or lists.known(plain)
        or (len(plain) >= _ENDING_TELLS and plain.endswith(lists.suffixes))
    )
    return not known and plain not in lists.word_names


_ENDING_TELLS = 8
