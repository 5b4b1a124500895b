"""What is still to be written: a line for each section, and there each field once, in a word or two."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mmbuilder.page.form.layout import sections
from mmbuilder.page.form.view import Asked

_Fields = dict[tuple[str, str], list[tuple[Asked, str]]]
"""By the entry that they stand in and their names."""


@dataclass(frozen=True)
class Lack:
    """A field that is still to be written, or several of one name in one entry.

    Attributes:
        label: what the form calls it; without its entry where the one before stands in the same.
        mark: its name on the page, the first of several.
        address: of the page, and where it stands there.
        times: how many there are.
        why: it is needed.
    """

    label: str
    mark: str
    address: str
    times: int
    why: str


def by_section(asked: Iterable[tuple[Asked, str]]) -> dict[str, list[Lack]]:
    """Return fields by the title of their section, in the order of the form, those of one entry together.

    Args:
        asked: where the form asks for each of them, and why it is needed.
    """
    told: dict[str, _Fields] = {name: {} for name in sections()}
    for one, why in asked:
        holder = one.label.rpartition(": ")[0].partition(",")[0]
        told[one.address.split("/")[2]].setdefault((holder, one.short), []).append((one, why))
    return {sections()[name].title: [*_lines(fields)] for name, fields in told.items() if fields}


def _lines(fields: _Fields) -> Iterable[Lack]:
    before = ""
    for (holder, short), found in fields.items():
        label = f"{holder}: {short}" if holder and holder != before else short
        before = holder
        first, why = found[0]
        yield Lack(label, first.mark, first.address, len(found), why)
