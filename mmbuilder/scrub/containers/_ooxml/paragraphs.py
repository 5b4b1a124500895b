"""Texts as a reader sees them: the runs of a paragraph put together, scrubbed, and put back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.case.tidy import seen
from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import XML_SPACE, Element, q, qs
from mmbuilder.scrub.plan import Span

PARAGRAPHS = qs("a:p w:p w:rt x:is")
"""Texts of their own; a reading aid (`w:rt`) stands over the words and is no part of the line."""

TEXTS = qs("a:t w:t m:t x:t")
_GAPS = {
    q("a:br"): "\n",
    q("w:br"): "\n",
    q("w:cr"): "\n",
    q("w:tab"): "\t",
    q("w:ptab"): "\t",
    q("w:noBreakHyphen"): "-",
}
_TABLE_CELLS = qs("a:tc w:tc")


@dataclass
class _Run:
    """A stretch of a paragraph; gaps (line breaks, tabs) have no node that could be written to."""

    node: Element | None
    text: str
    start: int

    @property
    def end(self) -> int:
        return self.start + len(self.text)


def scrub_paragraphs(scene: Scene) -> None:
    """Scrub every paragraph of a part."""
    for paragraph in list(scene.tree.iter(*PARAGRAPHS)):
        scrub_runs(scene, paragraph)


def text_of(paragraph: Element) -> str:
    """The words of a paragraph."""
    return "".join(run.text for run in _runs(paragraph))


def scrub_runs(scene: Scene, paragraph: Element, labels: tuple[str, ...] | None = None) -> None:
    """Scrub one paragraph; `labels` say what it is, where they are not those of a table around it."""
    runs = _runs(paragraph)
    text = "".join(run.text for run in runs)
    if not text.strip():
        return
    scene.said[paragraph] = text
    for span in sorted(
        scene.spans_in(text, _labels(scene, paragraph) if labels is None else labels), reverse=True
    ):
        _put(runs, span)
    for run in runs:
        if run.node is None:
            continue
        scene.vouch(run.node)
        if (run.node.text or "") != run.text:
            run.node.text = run.text
            if run.node.tag in qs("w:t x:t"):
                run.node.set(XML_SPACE, "preserve")


def scrub_together(scene: Scene, first: Element, second: Element) -> None:
    """Scrub two paragraphs as one text; what either says alone is left to its own turn."""
    one, other = _runs(first), _runs(second)
    if not (one and other):
        return  # all that was in one of them went with the box before
    gap = _Run(None, " ", one[-1].end)
    two = [_Run(run.node, run.text, run.start + gap.end) for run in other]
    text = "".join(run.text for run in (*one, gap, *two))
    alone = [(span.start + gap.end, span.end + gap.end) for span in scene.spans_alone(text[gap.end :])]
    for span in sorted(scene.spans_alone(text), reverse=True):
        over = span.start < gap.start and span.end > gap.end
        labelled = span.start >= gap.end and not any(
            span.start < end and start < span.end for start, end in alone
        )
        if over or labelled:
            scene.found(f"{span.kind}, read over two boxes")
            _put([*one, gap, *two], span)
    for run in (*one, *two):
        if run.node is not None:
            run.node.text = run.text


def _runs(paragraph: Element) -> list[_Run]:
    runs: list[_Run] = []
    place = 0
    for node in _inside(paragraph):
        words = seen(node.text or "") if node.tag in TEXTS else _GAPS.get(node.tag, "")
        if words:
            runs.append(_Run(node if node.tag in TEXTS else None, words, place))
            place += len(words)
    return runs


def _inside(node: Element) -> Iterator[Element]:
    """All below, in order; a paragraph within the paragraph (a text box) is a text of its own."""
    for child in node:
        if child.tag not in PARAGRAPHS:
            yield child
            yield from _inside(child)


def _put(runs: list[_Run], span: Span) -> None:
    """Write one stand-in: into the first run it touches, in that run's format; the others lose their part.

    Spans are put from last to first, so that offsets before them stay true.
    """
    words = span.stand_in
    for run in runs:
        if run.node is None or run.end <= span.start or run.start >= span.end:
            continue
        low, high = max(span.start - run.start, 0), min(span.end - run.start, len(run.text))
        run.text = run.text[:low] + words + run.text[high:]
        words = ""


def _labels(scene: Scene, paragraph: Element) -> tuple[str, ...]:
    """What stands over and before a table cell: "MRN" there says what a bare number is."""
    cell = next(paragraph.iterancestors(*_TABLE_CELLS), None)
    row = cell.getparent() if cell is not None else None
    table = row.getparent() if row is not None else None
    if cell is None or row is None or table is None:
        return ()
    cells = [node for node in row if node.tag in _TABLE_CELLS]
    first = next((node for node in table if node.tag == row.tag), row)
    heads = [node for node in first if node.tag in _TABLE_CELLS]
    place = cells.index(cell) if cell in cells else 0
    headed = all(may_head(_words(node)) for node in heads)
    over = [heads[place]] if headed and first is not row and place < len(heads) else []
    text = text_of(paragraph)
    # In a form every other cell is a label.
    labels = cells[max(0, place - 1) : place] if headed or place % 2 else []
    before = [_said(scene, node) for node in labels]
    return (*(_said(scene, node) for node in over), *(beside(label, text, headed=headed) for label in before))


def _said(scene: Scene, cell: Element) -> str:
    """What a cell said before it was scrubbed: a label that was taken for a name is a label all the same."""
    return " ".join(scene.said.get(one, "") for one in cell.iter(*PARAGRAPHS)).strip()


_VALUE = re.compile(r"\[|\d\D*\d\D*\d")


def may_head(words: str) -> bool:
    """Whether a cell may head a column: it holds no number, and nothing was replaced in it. A form has no heads."""
    return not _VALUE.search(words)


def beside(label: str, text: str, *, headed: bool) -> str:
    """What stands before a cell, where it can be its label: of two cells under heads, neither is the other's."""
    labelled = may_head(label) if not headed else label.endswith(":") or any(map(str.isdigit, text))
    return label if labelled else ""


def _words(cell: Element) -> str:
    return " ".join(text_of(paragraph) for paragraph in cell.iter(*PARAGRAPHS)).strip()
