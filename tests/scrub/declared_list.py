"""A private list for the sweep's tests: invented surnames, numbers of reserved ranges."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from datetime import date

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.sweep import Known

DECLARED = Declared.model_validate(
    {
        "people": [
            {"name": "Ondréa Quillmarkton", "role": "surgeon"},
            {"name": "Brask-Veldhoen", "role": "patient"},
            {"name": "Ulla Hand", "role": "nurse"},
            {"name": "Jo Cooper", "role": "trainee"},
        ],
        "places": [{"name": "St Yorrick's Infirmary", "kind": "hospital"}],
        "numbers": [
            {"value": "999 476 5919", "kind": "national number"},
            {"value": "ZX-40417", "kind": "record number"},
            {"value": "01632 960417", "kind": "phone number"},
        ],
        "other": ["the lighthouse keeper"],
        "keep": ["hand"],
    }
)
CASE_DATES = frozenset([date(2024, 3, 14)])
KNOWN = replace(Known.from_declared(DECLARED), dates=CASE_DATES)
SURNAME = "Quillmarkton"


def packed(parts: dict[str, bytes], comment: bytes = b"") -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        package.comment = comment
        for name, data in parts.items():
            package.writestr(name, data)
    return out.getvalue()
