"""Outputs, one file each: a leaf writes a storyboard; one for paper says what a use calls it (`FORMAT`)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import ModuleType

from mmbuilder import registry
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import PaperSize
from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import Paper


@dataclass(frozen=True)
class Written:
    """A paper as files.

    Attributes:
        files: content by name, such as `handout.html`.
        told: what its author has to know of how it came out.
    """

    files: dict[str, bytes]
    told: tuple[SafeText, ...] = ()


def write_paper(paper: Paper) -> Written:
    """Write a paper in each of its formats.

    Raises:
        KeyError: the use asks for a format that no leaf writes.
    """
    from mmbuilder.formats import handout_pdf

    writers = _writers("FORMAT")
    files: dict[str, bytes] = {}
    told: tuple[SafeText, ...] = ()
    for name in paper.formats:
        file = f"{paper.slug}{writers[name].SUFFIX}"
        if name == handout_pdf.FORMAT:  # the one format that has pages to keep to
            fitted = handout_pdf.fit(paper.board, paper.sheet)
            files[file], told = fitted.pdf, fitted.told
        else:
            files[file] = writers[name].write(paper.board, paper.sheet)
    return Written(files, told)


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
