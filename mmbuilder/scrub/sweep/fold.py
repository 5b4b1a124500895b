"""Words as they are compared: without case, accents, invisible marks, or the way they were typed."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_TOKEN = re.compile(r"[^\W\d_]+|\d+")
_CAMEL = re.compile(r"(?<=[a-zß-ÿ])(?=[A-ZÀ-Þ])")
_INVISIBLE = re.compile(
    "[\u00ad\u034f\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff]"
)
_APOSTROPHES = "ʼʹʻʽ"
"""Letters that stand as an apostrophe."""
_LETTERS = str.maketrans(
    {"ø": "o", "đ": "d", "ł": "l", "ı": "i", "æ": "ae", "œ": "oe", "ħ": "h", "ð": "d", "þ": "th"}
)
"""Letters that Unicode does not take apart into a base letter and a mark."""
_LOOK_ALIKES = str.maketrans("авекмнорстухіјѕԁһԛԝον", "abekmhopctyxijsdhqwov")
"""Small letters of other scripts that look like Latin ones."""


def tokens(text: str) -> list[str]:
    """Runs of letters and runs of figures, as written; everything else only parts them.

    `IMG_20240301-Quillmark` gives three. Composed first, since a combining mark is no letter.
    """
    if not text.isascii():
        text = unicodedata.normalize("NFKC", _INVISIBLE.sub("", text))
        for sign in _APOSTROPHES:  # in a long text several times as fast as a table
            text = text.replace(sign, "'")
    return _TOKEN.findall(text)


@lru_cache(maxsize=65536)
def fold(token: str) -> str:
    """Case and accents away."""
    if token.isascii():
        return token.lower()
    bare = unicodedata.normalize("NFKD", token.casefold())
    return (
        "".join(sign for sign in bare if not unicodedata.combining(sign))
        .translate(_LETTERS)
        .translate(_LOOK_ALIKES)
    )


def humps(token: str) -> list[str]:
    """Parts of a word written in CamelCase; the word itself where it is not."""
    return _CAMEL.split(token)
