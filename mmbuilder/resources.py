"""Find what ships beside the code: templates, fonts and bundled cases, in a wheel or a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).parent


@cache
def _root() -> Path:
    packed = _PACKAGE / "_data"
    return packed if packed.is_dir() else _PACKAGE.parent


def templates() -> Path:
    """Folder of deck and page templates."""
    return _root() / "templates"


def cases() -> Path:
    """Folder of the bundled, fictional cases."""
    return _root() / "cases"


def bundled_cases() -> tuple[Path, ...]:
    """Every bundled case folder, sorted by name."""
    return tuple(sorted(path.parent for path in cases().glob("*/case.yaml")))
