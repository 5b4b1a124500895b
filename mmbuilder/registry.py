"""Find leaves by walking their folder: one file, one entry, in sorted order.

A new detector, rule, slide kind, format or command is one new file; nothing lists it.
Whatever is found can be counted, so a leaf that went missing shows (the report prints
every detector's name, and a contract test compares the wheel with the checkout).
"""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from types import ModuleType

from mmbuilder import ready_patterns


def names(package: str) -> tuple[str, ...]:
    """Module names in `package`, sorted, without those that start with an underscore; imports none."""
    folder = import_module(package)
    found = (entry.name for entry in pkgutil.iter_modules(folder.__path__))
    return tuple(sorted(name for name in found if not name.startswith("_")))


@cache
def discover(package: str, *required: str, but: tuple[str, ...] = ()) -> dict[str, ModuleType]:
    """Import every leaf of `package`, keyed by module name.

    Args:
        package: dotted name of the folder that holds the leaves.
        required: attributes each leaf must have.
        but: modules of the folder that are no leaves.

    Raises:
        TypeError: a leaf lacks a required attribute (a fault of ours, so it stops at once).
    """
    with ready_patterns.kept(package):
        leaves = {name: import_module(f"{package}.{name}") for name in names(package) if name not in but}
    for name, attribute in _lacking(leaves, required):
        raise TypeError(f"{package}.{name} has no {attribute}")
    return leaves


def _lacking(leaves: dict[str, ModuleType], required: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    for name, leaf in leaves.items():
        yield from ((name, attribute) for attribute in required if not hasattr(leaf, attribute))
