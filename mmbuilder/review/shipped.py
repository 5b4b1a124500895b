"""Read a word list that ships beside the code."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

import yaml

# The parser in C reads a list in a few milliseconds; the one in Python takes fifty.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read(name: str) -> dict[str, Any]:
    """Return the tree of `<name>.yaml` in this folder."""
    text = files("mmbuilder.review").joinpath(f"{name}.yaml").read_text("utf-8")
    tree: dict[str, Any] = yaml.load(text, Loader=_LOADER)
    return tree


def fields(row: dict[str, Any]) -> dict[str, Any]:
    """Return a row of a list as the fields of a frozen class: its lists as tuples."""
    return {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}
