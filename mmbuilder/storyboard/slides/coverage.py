"""What the case has for each item of the reporting checklists, and what is missing."""

from __future__ import annotations

from mmbuilder.safe.text import EMPTY, SafeText, fill, join, wording
from mmbuilder.storyboard.blocks import Cell, Paragraph, Slide, Table
from mmbuilder.storyboard.context import Context
from mmbuilder.uses.coverage import CHECKLISTS, Checklist, Covered, State, checklist, coverage, reason

MISSING = wording("coverage: every case has one")

_WORDS = {
    State.PRESENT: wording("present"),
    State.MISSING: wording("MISSING"),
    State.NOT_APPLICABLE: wording("not applicable"),
}


def make(context: Context) -> tuple[Slide, ...]:
    """A part for each checklist."""
    return tuple(_part(context, checklist(name)) for name in CHECKLISTS)


def _part(context: Context, listed: Checklist) -> Slide:
    excused = {item.reveal(): why for item, why in context.case.report.not_applicable}
    found = coverage(listed, context.case, excused)
    missing = sum(one.state is State.MISSING for one in found)
    headline = fill(
        "{name}: {missing} of {all} items are missing.", name=listed.title, missing=missing, all=len(found)
    )
    table = Table(
        header=(wording("Item"), wording("What it asks for"), wording("In this case")),
        rows=tuple(_row(one, excused) for one in found),
        shares=(1.2, 4, 3),
        caption=fill("{source}. Present means that there are words for it.", source=listed.origin),
    )
    return Slide("coverage", headline, (table, Paragraph(_counted(listed))))


def _row(one: Covered, excused: dict[str, SafeText]) -> tuple[Cell, ...]:
    said = _WORDS[one.state]
    if one.state is State.MISSING:
        return Cell(one.item.name, strong=True), Cell(one.item.asks), Cell(EMPTY, said)
    why = excused[reason(one.item, excused)] if one.state is State.NOT_APPLICABLE else EMPTY
    return Cell(one.item.name, strong=True), Cell(one.item.asks), Cell(join(": ", (said, why)))


def _counted(listed: Checklist) -> SafeText:
    """Both editions of a list that has two."""
    first = sum(item.earlier for item in listed.items)
    if first == len(listed.items):
        return wording("Compare with the journal's own list before you submit.")
    return fill(
        "Its first edition counts {first} items, the later one {all}.", first=first, all=len(listed.items)
    )
