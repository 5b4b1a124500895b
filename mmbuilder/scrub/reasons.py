"""Reasons for keeping a finding that may stand in a report: ours word by word, or not at all.

A reason can have been typed by a person, and then it could hold anything. One that is made only
of the words below cannot name anybody; of another only that a person decided is told.
"""

from __future__ import annotations

import re

TYPED = "the reviewer's decision"

_WORDS = frozenset(
    """
    a abbreviation after alone also an anatomy and another are article as at author authors bar before belongs beside both
    by capitals classes clinical code confidence day decide device disease do does drug else finding ending eponym eponyms eye faces
    figure figures finder follows for found from given grade halves has holds in is it its journals keeps kept label
    labels large latin left length letters like line list listed looks measure month name named names no not
    nothing noun nouns number numbers of on one operation or ordinary orientation other part pattern place please possessive product material
    published read reads reason reference references right said scale score scores setting short show shows side
    sign single small stand stands street sure taken term terms text that the thing things title titles to type
    under used unit units unlisted up was way which with without word words written organism anatomical
    instrument procedure medical doubts row german writes every capital publication volume ends family person place initial particle before
    instrument procedure medical common english unknown nobody reviewer decision could be speak against somebody date
    devices size others made none them joined s
    index event exact time what agreed learned another tell clock certain kind far came unless same day said story several named days visit
    """.split()  # noqa: SIM905 - read as a text, it is checked as a text
)
_QUOTED = re.compile(r'"[^"]*"')
_FIGURE = re.compile(r"\b[01]\.\d\d\b")
_WORD = re.compile(r"[^\W_]+")


def own(reason: str) -> str:
    """A reason in our words; what it quotes is taken out, and so is what follows a colon if it has to be."""
    bare = " ".join(_QUOTED.sub("a listed word", reason).split())
    for told in (bare, bare.partition(":")[0]):
        if told and _WORDS.issuperset(_WORD.findall(_FIGURE.sub("", told))):
            return told
    return TYPED
