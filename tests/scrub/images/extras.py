"""Tests that need an optional part: skipped with the reason where it is missing, failing on CI."""

from __future__ import annotations

import os
from importlib.util import find_spec

import pytest


def need(extra: str, *modules: str) -> None:
    """Skip, or fail on CI, unless every module is installed."""
    missing = [name for name in modules if find_spec(name) is None]
    if missing:
        reason = f"needs {', '.join(missing)}: pip install 'mmbuilder[{extra}]'"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
