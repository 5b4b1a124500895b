r"""Web addresses, bare domain names and network shares (`\\server\share`).

Source: RFC 3986 (generic syntax); reserved names for examples RFC 2606.
https://www.rfc-editor.org/rfc/rfc3986
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "web address"
LETTER = "N"
SOURCE = "RFC 3986"
EXAMPLES = (
    "Images at https://pacs.example.org/study/88213 show it",
    "see www.example.com/ward",
    "(rota.example.org)",
    r"saved on \\theatre-pc\video\case.mp4",
    "file:///D:/cases/film.mp4",
    "PACS.EXAMPLE.ORG",
    "Pacs.Trust.nhs.uk",
    "bit.ly/x",
    "example.io/foo",
    "pacs.intranet/study",
    "localhost:8080/study/8821",
    "pacs․example․org",
)
NEAR_MISSES = (
    "e.g. the wound was closed.The drain was left",
    "i.v. fluids and p.o. intake",
    "0.5 mg/kg of drug at 1.5 ml/min",
    "the ratio improved to 0.94.In recovery",
    "closed.De novo",
    "mg.kg/min and ml.kg/h",
    "swab.Ie the count",
    "ratio:1000/day",
)

_SCHEME = re.compile(
    r"(?<![a-z0-9])(?:https?|ftps?|sftp|file|rtsp|dicom|teams|zoommtg)://[^\s<>\"”)\]]+", re.IGNORECASE
)
_WWW = re.compile(r"(?<![\w.])www\.[^\s<>\"”)\]]+", re.IGNORECASE)
_BARE = re.compile(
    r"(?<![\w@.-])(?:[a-z0-9-]++\.)++(?:com|org|net|edu|gov|uk|int|info|health|hospital|test|invalid|example|local"
    r"|nz|au|ca|ie|de|fr|eu|za|sg)(?![\w-])(?::\d+)?(?:/[^\s<>\"”)\]]*)?"
)
_NAMED = re.compile(
    r"(?<![\w@.-])(?:(?:[A-Z0-9-]++\.)++(?:COM|ORG|NET|EDU|GOV|UK|INT|INFO|HEALTH|LOCAL|EXAMPLE|TEST)"
    r"|(?:[A-Za-z0-9-]++\.)++(?:com|org|net|edu|gov|uk|info|example|test))(?![\w-])(?::\d+)?(?:/[^\s<>\"”)\]]*)?"
)
_PATHED = re.compile(
    r"(?<![\w@.-])(?:(?:[a-z0-9-]++\.)++(?:ly|io|co|me|app|dev|link|page|site|cloud|intranet|lan|internal|corp|home|nhs|tv|eu|ai|gl|gle)"
    r"(?::\d+)?/|localhost(?::\d{2,5})?/|[a-z][a-z0-9-]{2,}:\d{4,5}/(?=[a-z]{2,}/))[^\s<>\"”)\]]*",
    re.IGNORECASE,
)
_SHARE = re.compile(r"\\\\[\w.-]+\\[^\s\"”]+")


def find(text: str) -> Iterator[Span]:
    """Yield every address; what a citation prints stays."""
    yield from outside(text, _found(text))


def _found(text: str) -> Iterator[Span]:
    """Yield every address, without the punctuation that ends the sentence."""
    text = view(text)
    for pattern, confidence in (
        (_SCHEME, 0.99),
        (_WWW, 0.95),
        (_BARE, 0.8),
        (_NAMED, 0.8),
        (_PATHED, 0.8),
        (_SHARE, 0.9),
    ):
        for found in pattern.finditer(text):
            end = found.start() + len(found[0].rstrip(".,;:!?'’"))
            yield Span(found.start(), end, KIND, LETTER, "[web address]", confidence)
