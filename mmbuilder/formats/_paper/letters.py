"""Every letter of a paper is one that its fonts have: a box is an error, and the script is named."""

from __future__ import annotations

import unicodedata

from mmbuilder import fonts
from mmbuilder.errors import LetterNotDrawn


def check(text: str) -> None:
    """Do nothing if every letter can be drawn.

    Raises:
        LetterNotDrawn: one cannot.
    """
    lost = fonts.missing(text) or "".join(letter for letter in text if _is_nothing(letter))
    if lost:
        scripts = ", ".join(dict.fromkeys(map(fonts.script, lost)))
        raise LetterNotDrawn(
            f"the paper holds letters that cannot be drawn: the script {scripts}; expected Latin, Greek, "
            "Cyrillic, Arabic, Hebrew, Armenian or Georgian letters, such as a transcription into Latin ones"
        )


def _is_nothing(letter: str) -> bool:
    """Control characters, and places in Unicode where no letter is or a maker may put one (Cc, Cn, Co)."""
    return not letter.isprintable() and unicodedata.category(letter) in ("Cc", "Cn", "Co")
