"""Office files with an identifier in every hiding place, in a zip and in a zip within it: none survives a scrub.

Structure of the zip: APPNOTE.TXT 6.3.10 (PKWARE); from memory.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from tests.leaks.attack import attacked, tells_nothing
from tests.leaks.attack_office import build_zip


@pytest.mark.parametrize("variant", ["declared", "mail"])
def test_nothing_survives_in_a_zip_of_them(variant: str, tmp_path: Path) -> None:
    done = attacked(build_zip, ".zip", variant, tmp_path)
    planted = done.plant.cores
    assert [place for place, cores in planted.items() if not done.before.holds(cores)] == []
    assert [place for place, cores in planted.items() if done.after.holds(cores)] == []
    tells_nothing(done)
    with zipfile.ZipFile(io.BytesIO(done.data)) as archive:
        assert len(archive.namelist()) == 5
