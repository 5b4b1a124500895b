r"""The folder of a user in the path of a file: `C:\Users\quenbyr\Desktop`, `/home/quenbyr/notes`.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying characteristic; where systems keep the folders of
their users is common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.surrogates import is_stand_in

KIND = "user name"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    r"saved under C:\Users\quenbyr\Desktop\x",
    r"exported from C:\Users\Moira Quenby\notes",
    r'"path": "C:\\Users\\quenbyr\\x"',
    "C:/Users/quenbyr",
    "D:\\Documents and Settings\\quenbyr\\x",
    "log in /home/quenbyr/exports",
    "/Users/moira.quenby/Downloads/x",
)
NEAR_MISSES = (
    r"C:\Users\Public\Pictures",
    "discharged to nursing/home/care",
    "users/day",
    "went /home/",
    "and home / work",
    r"C:\Users\the surgeon\Desktop",
)

_FOLDERS = r"(?:Users|Documents\sand\sSettings|Benutzer|Utilisateurs|Usuarios|Profiles)"
_SHARED = r"(?!(?:Public|Shared|Default(?:\sUser)?|All\sUsers)(?![\w.-]))"
_OF_WINDOWS = re.compile(
    rf"(?<!\w)[A-Z]:[\\/]{{1,2}}{_FOLDERS}[\\/]{{1,2}}{_SHARED}(?!\[)"
    r"(?P<name>[^\s\\/:*?\"'<>|,;)\]]+(?:(?:\s[^\s\\/:*?\"'<>|,;)\]]+){0,3}(?=[\\/]))?)",
    re.IGNORECASE,
)
_OF_OTHERS = re.compile(rf"(?<![\w/.:])/(?:home|Users)/{_SHARED}(?!\[)(?P<name>[^\s/:*?\"'<>|,;)\]]+)(?=/)")


def find(text: str) -> Iterator[Span]:
    """Yield the name of the folder: it is the user's."""
    for pattern in (_OF_WINDOWS, _OF_OTHERS):
        for found in pattern.finditer(text):
            if not is_stand_in(found["name"]):
                yield span(found, KIND, LETTER, "[user name]", 0.9, "name")
