"""Change a case file in place: comments, order, quotes and every word that is not changed survive.

Values are text here as everywhere (see `reader`): `09:30`, `0912` and `no` are written back as
they stand.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from typing import Any

_WIDE = 100_000
"""Columns: a line that the author did not break is not broken."""


def edited(text: str, change: Callable[[Any], None]) -> str:
    """Return a file as it is after a change to its tree.

    Args:
        text: the file.
        change: told the tree (mappings and lists of text, with their comments), changes it.
    """
    yaml = _yaml(text)
    tree = yaml.load(text)
    change(tree)
    written = io.StringIO()
    yaml.dump(tree, written)
    return written.getvalue()


def _yaml(text: str) -> Any:
    from ruamel.yaml import YAML
    from ruamel.yaml.resolver import VersionedResolver

    class Text(VersionedResolver):
        """Takes no plain value for a number, a date or a yes."""

        @property
        def versioned_resolver(self) -> dict[str, list[Any]]:
            return {}

    yaml = YAML()
    yaml.Resolver = Text
    yaml.preserve_quotes = True
    yaml.width = _WIDE
    # Lists stand in from their key, or flush with it, as the author has them.
    flush = re.search(r"^[A-Za-z][^\n]*:[ \t]*\n(?:[ \t]*(?:#[^\n]*)?\n)*- ", text, re.MULTILINE)
    yaml.indent(mapping=2, sequence=2 if flush else 4, offset=0 if flush else 2)
    return yaml
