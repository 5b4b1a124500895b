"""Outputs, one file each: a leaf writes a storyboard, and says what a use calls it (`FORMAT`)."""

from __future__ import annotations

from mmbuilder import registry
from mmbuilder.storyboard.blocks import Paper


def write_paper(paper: Paper) -> dict[str, bytes]:
    """Return the files of a paper by name, such as `handout.html`.

    Raises:
        KeyError: the use asks for a format that no leaf writes.
    """
    leaves = registry.discover("mmbuilder.formats", "FORMAT", "SUFFIX", "write").values()
    writers = {leaf.FORMAT: leaf for leaf in leaves}
    chosen = [writers[name] for name in paper.formats]
    return {f"{paper.slug}{leaf.SUFFIX}": leaf.write(paper.board) for leaf in chosen}
