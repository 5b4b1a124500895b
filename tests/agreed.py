"""Decide everything that is open in a case, as a reviewer would who agrees with every proposal."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mmbuilder.casefile import load
from mmbuilder.casefile.editing import edited
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.decided import open_boxes, open_words
from mmbuilder.scrub.propose import propose
from mmbuilder.scrub.walk import Texts


def agreed(root: Path, use: Use | None = None) -> None:
    """Write the decisions about words, and cover every place that is proposed."""
    folder = load(root, use)
    found = propose(folder)
    words = open_words(Texts(folder.case, folder.previous).items, found, folder.decided)
    lines = "".join(f"  - {{words: {word!r}, ruling: remove}}\n" for word in words)
    (root / "decisions.yaml").write_text(f"findings:\n{lines}" if lines else "findings: []\n", "utf-8")

    def drawn(tree: Any) -> None:
        for number, boxes in open_boxes(found).items():
            for box in boxes:
                sides = (box.left, box.top, box.right - box.left, box.bottom - box.top)
                cover = {"box": [str(side) for side in sides], "why": "text"}
                tree["frames"][number - 1]["cover"].append(cover)

    path = root / "case.yaml"
    path.write_text(edited(path.read_text("utf-8"), drawn), "utf-8")
