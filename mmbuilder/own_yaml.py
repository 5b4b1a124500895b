"""YAML that comes with mmbuilder. A case is read elsewhere, with its lines (`casefile.reading`)."""

from __future__ import annotations

from typing import Any

import yaml

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # a tenth of the time where libyaml is there


def read(text: str) -> Any:
    """Return what a text holds.

    Raises:
        yaml.YAMLError: it is no YAML.
    """
    return yaml.load(text, _LOADER)
