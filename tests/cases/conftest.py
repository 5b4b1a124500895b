"""The bundled cases, read once, and the drawing code beside them."""

from __future__ import annotations

import importlib
import json
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from mmbuilder.casefile import Checked, check

CASES = Path(__file__).resolve().parents[2] / "cases"
ILLUSTRATED = ("eye-drainage", "abdomen-colon", "airway-prone")
"""Complications with a rescue, told with stills."""
NEAR_MISS, DEATH = "knee-replacement", "aorta-graft"
CODES = (*ILLUSTRATED, NEAR_MISS, DEATH)


@pytest.fixture(scope="session")
def checked() -> dict[str, Checked]:
    return {code: check(CASES / code) for code in CODES}


@pytest.fixture(params=CODES)
def code(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def folder(checked, code):
    assert checked[code].folder is not None, [p.code for p in checked[code].problems if p.stops]
    return checked[code].folder


@pytest.fixture
def case(folder):
    return folder.case


@pytest.fixture(scope="session")
def geometry() -> dict[str, dict[str, dict[str, Any]]]:
    return json.loads((CASES / "stills" / "geometry.json").read_text(encoding="utf-8"))


def stills(module: str) -> ModuleType:
    """Import a drawing script from cases/stills, which is run by hand and is no package."""
    place = str(CASES / "stills")
    writes, sys.dont_write_bytecode = sys.dont_write_bytecode, True  # cases/ is shipped as it stands
    sys.path.insert(0, place)
    try:
        return importlib.import_module(module)
    finally:
        sys.path.remove(place)
        sys.dont_write_bytecode = writes
