"""Causes as a fishbone (Ishikawa): the event at the head, a rib for each row, its factors along it.

Roles are told by shape and word as well as by ink, and a root cause has the strongest. Words that
find no room on the ribs are numbered and listed beside the figure, or else on further sheets.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from mmbuilder.analysis.causes import Cause, CauseRow, Causes
from mmbuilder.figures.drawn import Drawn, Rows, Size, painted, room
from mmbuilder.figures.fishbone import Rib, Twig, fishbone
from mmbuilder.figures.fold import letter
from mmbuilder.figures.numbered import Entry, fill_area
from mmbuilder.figures.numbered import sheets as list_sheets
from mmbuilder.figures.roles import key, look
from mmbuilder.figures.sheet import Box, Item, Sheet
from mmbuilder.safe.terms import FactorRole, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, number, sentence, wording

MOST = 7
"""Most rows; those of Vincent 1998."""

LEAST = Size(16, 8)
"""Smallest room; centimetres."""

_BESIDE = 0.48
"""Share of the width that the figure keeps if its list stands beside it."""

_EVENT = wording("Event")


def draw(causes: Causes, size: Size) -> Drawn:
    """Draw a fishbone at the size it has on the slide."""
    return Drawn(painted(compose(causes, size)), alt(causes), rows(causes))


def compose(causes: Causes, size: Size) -> tuple[Sheet, ...]:
    """Lay a fishbone out: whole if its words find room, else numbered.

    Raises:
        ValueError: there is no row or more than seven, or the size is too small.
    """
    if not 1 <= len(causes.rows) <= MOST:
        raise ValueError(
            f"a cause diagram: found {len(causes.rows)} rows, expected 1 to {MOST}, for example the seven "
            "types of contributing factor"
        )
    wide, high = room(size, LEAST)
    legend = key(_roles(causes), _noted(causes), wide)
    whole = fishbone(Box(0, 0, wide, high), causes.event, _ribs(causes), legend)
    if whole is not None:
        return (Sheet(wide, high, tuple(whole)),)
    return _beside(causes, wide, high) or _apart(causes, wide, high)


def alt(causes: Causes) -> SafeText:
    """Tell the figure row by row."""
    told = (
        fill("{row}: {causes}.", row=capital(row.name), causes=join("; ", map(_told, row.causes)) or _NOTHING)
        for row in causes.rows
    )
    head = fill("Cause diagram of: {event}", event=sentence(causes.event))
    return join(" ", (head, *told))


def rows(causes: Causes) -> Rows:
    """Return the factors as a table."""
    head = (wording("Row"), wording("Factor"), wording("Role"))
    told = ((row.name, cause.what, term(cause.role)) for row in causes.rows for cause in row.causes)
    return (head, *told)


_NOTHING = wording("nothing recorded")

_THIN = wording("thin line: nothing recorded")


def _told(cause: Cause) -> SafeText:
    return fill("{what} ({role})", what=cause.what, role=term(cause.role))


def _roles(causes: Causes) -> tuple[FactorRole, ...]:
    used = {cause.role for row in causes.rows for cause in row.causes}
    return tuple(role for role in FactorRole if role in used)


def _noted(causes: Causes) -> SafeText:
    """Say once, under the figure, what a bone without words means: it was looked at."""
    return EMPTY if all(row.causes for row in causes.rows) else _THIN


def _ribs(causes: Causes) -> tuple[Rib, ...]:
    return tuple(Rib(capital(row.name), _twigs(row)) for row in causes.rows)


def _twigs(row: CauseRow) -> tuple[Twig, ...]:
    return tuple(Twig(cause.what, cause.role) for cause in row.causes)


def _beside(causes: Causes, wide: float, high: float) -> tuple[Sheet, ...]:
    """Number the factors and list them at the right; nothing if there is no room for that."""
    middle = wide * _BESIDE
    made = _numbered(causes, Box(0, 0, middle - 12, high), EMPTY)
    listed = made and fill_area(Box(middle + 6, 0, wide, high), made[1])
    return (Sheet(wide, high, (*made[0], *listed)),) if made and listed else ()


def _apart(causes: Causes, wide: float, high: float) -> tuple[Sheet, ...]:
    """Number the factors and list them on further sheets."""
    made = _numbered(causes, Box(0, 0, wide, high), wording("numbers: listed on the next sheet"))
    assert made is not None, "letters and ranges of numbers fit the least size"
    foot = key(_roles(causes), wording("numbers: as in the diagram before"), wide)
    return (Sheet(wide, high, tuple(made[0])), *list_sheets(wide, high, made[1], foot))


def _numbered(causes: Causes, frame: Box, note: SafeText) -> tuple[list[Item], tuple[Entry, ...]] | None:
    """Draw the figure with as many of its words as fit and numbers for the rest; and the list."""
    legend = key(_roles(causes), note, frame.right - frame.left)
    for named, single, told in product((True, False), repeat=3):
        ribs = tuple(_short(causes, place, named=named, single=single) for place in range(len(causes.rows)))
        event = causes.event if told else _EVENT
        drawn = fishbone(frame, event, ribs, legend)
        if drawn is not None:
            return drawn, tuple(_entries(causes, named=named, told=told))
    return None


def _short(causes: Causes, place: int, *, named: bool, single: bool) -> Rib:
    """Return a rib with numbers: one on each twig, or the range of all of them."""
    row, first = causes.rows[place], _first(causes, place)
    last = first + len(row.causes) - 1
    name = capital(row.name) if named else letter(place)
    if single and row.causes:
        return Rib(name, tuple(Twig(number(first + n), cause.role) for n, cause in enumerate(row.causes)))
    span = number(first) if first == last else fill("{first}–{last}", first=first, last=last)
    return Rib(name, (Twig(span),) if row.causes else ())


def _first(causes: Causes, place: int) -> int:
    """Return the number of a row's first factor."""
    return 1 + sum(len(row.causes) for row in causes.rows[:place])


def _entries(causes: Causes, *, named: bool, told: bool) -> Iterator[Entry]:
    """Return the list: the event if the head does not tell it, then the factors row by row."""
    if not told:
        yield _heading(fill("{event}: {what}", event=_EVENT, what=causes.event))
    for place, row in enumerate(causes.rows):
        name = join(" ", (EMPTY if named else letter(place), capital(row.name)))
        yield _heading(name if row.causes else fill("{name}: {nothing}", name=name, nothing=_NOTHING))
        for n, cause in enumerate(row.causes, _first(causes, place)):
            drawn = look(cause.role)
            mark = drawn.shape, drawn.hollow
            yield Entry(number(n), (cause.what,), drawn.bold, ink=drawn.ink, mark=mark)


def _heading(words: SafeText) -> Entry:
    return Entry(EMPTY, (words,), bold=True, heading=True)
