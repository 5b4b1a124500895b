"""Read a word list that ships beside the code."""

from __future__ import annotations

from importlib.resources import files

import yaml

# The parser in C reads a list in a few milliseconds; the one in Python takes fifty.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read(name: str) -> object:
    """Return the tree of `<name>.yaml` in this folder."""
    text = files("mmbuilder.review").joinpath(f"{name}.yaml").read_text("utf-8")
    return yaml.load(text, Loader=_LOADER)
