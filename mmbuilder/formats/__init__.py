"""Outputs, one file each: a leaf writes a storyboard; one for paper says what a use calls it (`FORMAT`)."""

from __future__ import annotations

from collections.abc import Sequence
from types import ModuleType

from mmbuilder import registry
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import PaperSize
from mmbuilder.storyboard.blocks import Paper


def write_paper(paper: Paper) -> dict[str, bytes]:
    """Return the files of a paper by name, such as `handout.html`.

    Raises:
        KeyError: the use asks for a format that no leaf writes.
    """
    writers = _writers("FORMAT")
    chosen = [writers[name] for name in paper.formats]
    return {f"{paper.slug}{leaf.SUFFIX}": leaf.write(paper.board, paper.sheet) for leaf in chosen}


def write_log(
    rows: Sequence[LoggedAction], formats: Sequence[str], size: PaperSize = PaperSize.A4
) -> dict[str, bytes]:
    """Return the files of an action log by name, such as `action-log.csv`; none for a log without rows.

    Args:
        rows: in the order they are to stand in.
        formats: what the use asks for.
        size: of the sheet that what can be printed is set out for.

    Raises:
        KeyError: the use asks for a format that no leaf writes.
    """
    writers = _writers("LOG")
    return {f"action-log{writers[name].SUFFIX}": writers[name].write(rows, size) for name in formats if rows}


def _writers(called: str) -> dict[str, ModuleType]:
    """Return the leaves that say what a use calls them, by that name."""
    leaves = registry.discover("mmbuilder.formats", "SUFFIX", "write").values()
    return {getattr(leaf, called): leaf for leaf in leaves if hasattr(leaf, called)}
