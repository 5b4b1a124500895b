"""No bundled case names somebody by rota: a role with its one night names a person (practice, common, no source)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mmbuilder import resources

_ON_ONE_NIGHT = re.compile(
    r"(?:doctor|registrar|fellow|trainee|consultant|nurse)\b[^.\n]*\b(?:night|weekend) of Day \d",
    re.IGNORECASE,
)


@pytest.mark.parametrize("root", resources.bundled_cases(), ids=lambda path: path.name)
def test_no_role_stands_beside_its_one_night(root: Path) -> None:
    assert _ON_ONE_NIGHT.findall((root / "case.yaml").read_text(encoding="utf-8")) == []
