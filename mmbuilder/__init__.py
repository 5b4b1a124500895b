"""A surgeon's notes on an unexpected complication, made into slides with the identifiers removed.

The library in five names; each is loaded when it is first used:

    folder = load_case(Path("my-case"))       # every fault at once, or the raw case
    plan = propose(folder)                    # what would be removed, and where
    case = apply(folder, plan)                # the line: past it, nothing raw
    board = compose(case)                     # slides made of blocks
    report = build(Path("my-case"), BuildOptions(Path("out")))   # all of it, into files
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mmbuilder.casefile import load as load_case
    from mmbuilder.pipeline import BuildOptions, build
    from mmbuilder.scrub.apply import apply
    from mmbuilder.scrub.propose import propose
    from mmbuilder.storyboard.compose import compose

__version__ = "0.1.0"

__all__ = ["BuildOptions", "apply", "build", "compose", "load_case", "propose"]

_HOMES = {
    "BuildOptions": ("mmbuilder.pipeline", "BuildOptions"),
    "apply": ("mmbuilder.scrub.apply", "apply"),
    "build": ("mmbuilder.pipeline", "build"),
    "compose": ("mmbuilder.storyboard.compose", "compose"),
    "load_case": ("mmbuilder.casefile", "load"),
    "propose": ("mmbuilder.scrub.propose", "propose"),
}


def __getattr__(name: str) -> object:
    """Load a public name when it is asked for, so that `--help` loads none of them."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, attribute = _HOMES[name]
    return getattr(import_module(module), attribute)
