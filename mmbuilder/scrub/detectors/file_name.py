"""Names of files of pictures, sounds, films and letters: they often hold a name, a date or the number of a picture.

Source: 45 CFR 164.514(b)(2)(i)(Q), full-face photographs and comparable images; (P), voice prints; (R), any other unique
identifying characteristic. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.plan import Span

KIND = "file name"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(Q), (R)"
EXAMPLES = (
    "saved as quenby_leg_03.jpg on the ward tablet",
    "see DSC_004417.JPG and IMG-20240311-WA0007.jpg",
    "photo taken (IMG_20250119_0881).",
    "sound sample VB_00318.wav kept",
    "quenby discharge.docx was attached",
    "film C:\\shared\\quenby lap.mp4",
    "oct_quenby_od.pdf",
)
NEAR_MISSES = (
    "see figure-02.png",
    "frame1.jpg and frame2.jpg",
    "the .jpg was large",
    "in case.yaml",
    "IMG of the chest",
    "a jpg or a pdf",
    "MOV 3",
)

_KINDS = r"(?:jpe?g|png|heic|heif|tiff?|gif|bmp|webp|raw|dng|mp4|mov|avi|mkv|wmv|m4v|3gp|wav|mp3|m4a|aac|ogg|opus|amr|wma|dcm|dicom|pdf|docx?|odt|rtf|xlsx?|csv|pptx?|msg|eml|zip)"
_NAMED = re.compile(
    rf"(?<![\w@])(?<!:/)(?<!//)(?P<stem>[\w&()+-][\w&()+.-]{{0,80}}?)\.{_KINDS}(?![\w@])", re.IGNORECASE
)
_CAMERA = re.compile(
    r"(?<![\w@])(?:IMG|DSC[NF]?|DSCF|PXL|MVI|MOV|VID|PIC|PHOTO|SAM|GOPR|WA|AUD|PTT|REC|SCAN|Screenshot)[_-]\d[\w-]{3,30}(?![\w@])"
)
"""What cameras and telephones call a picture."""
_BEFORE = re.compile(r"(?<![^\W_])[^\W\d_]{4,}\s$")
_NEUTRAL = re.compile(
    r"(?:(?:figure|fig|frame|image|img|picture|photo|video|film|clip|sound|scan|slide|deck|paper|poster|table|chart|report|case|cover|logo|copy|file|ct|mri|xray|oct|ecg|still)s?"
    r"|[\s_.()-]|\d{1,3}(?!\d))+",
    re.IGNORECASE,
)
"""Stems that tell nothing: a kind of picture with a small number."""


def find(text: str) -> Iterator[Span]:
    """Yield the whole name, with a word before it that is on no list."""
    if "." in text:
        for found in _NAMED.finditer(text):
            if _NEUTRAL.fullmatch(found["stem"]) or not re.search(r"[^\W\d_]{2}|\d{4}", found["stem"]):
                continue
            start = found.start()
            before = _BEFORE.search(text, max(0, start - 24), start)
            if before and unlisted(before[0].strip(), load()):
                start = before.start()
            yield Span(start, found.end(), KIND, LETTER, "[removed]", 0.85)
    for found in _CAMERA.finditer(text):
        yield span(found, KIND, LETTER, "[removed]", 0.85)
