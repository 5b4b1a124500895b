"""An invented surname planted in every text of a case, in every variant: none of it may cross."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.propose import propose
from tests.scrub.small_case import CASE, IDENTIFIERS, small
from tests.scrub.test_apply import words

LINE = "  - {name: Zorvath Quillemaine-Harrowby, role: colleague}"
VARIANTS = (
    "Zorvath Quillemaine-Harrowby",
    "ZORVATH QUILLEMAINE-HARROWBY",
    "zorvath quillemaine harrowby",
    "Quillemaine-Harrowby's",
    "Quillemaine",
    "harrowby",
    "Dr Z. Quillemaine-Harrowby",
    "Quillemaine-Harrowby, Z.",
    "Zorvath",
    "Quillémaine",
    "Quillemain",
    "Quilemaine-Harowby",
    "ZorvathQuillemaineHarrowby",
    "quillemaine_harrowby",
    "Harrowbys",
    "Harro\u00adwby",
)
PIECES = ("zorvath", "quillem", "quilem", "harrowby", "harowby")
FIELDS = re.compile(
    r"(?<=title: A pump that would not start)|(?<=Was the pump checked\?)|(?<=Pump exchange)"
    r"|(?<=what: Hum heard)"
    r"|(?<=shows: A pump)|(?<=label: rotor)|(?<=Which way now\?)|(?<=reason: quick)|(?<=what: No check)"
    r"|(?<=log complete)|(?<=The fuse)|(?<=Clinic)"
)


@pytest.mark.parametrize("variant", VARIANTS)
def test_a_planted_name_never_crosses(tmp_path: Path, variant: str) -> None:
    planted, count = FIELDS.subn(f" {variant}", CASE.replace('fine"]', f'fine {variant}"]'))
    assert count == 12
    quoted = planted.replace(", Z.", " Z.")  # a comma would end a value in the braces of the case file
    people = IDENTIFIERS.replace("people:\n", f"people:\n{LINE}\n")
    folder = small(tmp_path / "case", quoted, people)
    told = folded("\n".join(words(apply(folder, propose(folder)))))
    assert [piece for piece in PIECES if piece in told] == []
