"""Charts: what they show, from their own cache; no workbook behind, no date on an axis."""

from __future__ import annotations

import math
import re

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, above, named, q, remove

_QUOTED = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]|_.|\*.')


def is_date_format(code: str) -> bool:
    """Whether a number format shows a calendar date: a day or year in it (ECMA-376-1, 18.8.31)."""
    bare = _QUOTED.sub("", code).lower()
    return "y" in bare or "d" in bare or "mmm" in bare


def scrub_chart(scene: Scene) -> None:
    """Scrub what a chart says, and count dates from the first."""
    for node in named(scene.tree, "c:f"):
        node.text = _reference(scene, node.text or "")
        scene.vouch(node)
    for node in named(scene.tree, "c:axId c:crossAx"):
        # Some writers number axes below zero, which the schema does not allow; LibreOffice reads 31 bits.
        node.set("val", str(_whole(node.get("val", "")) % 2**31))
    _first_days(scene)
    for cache in named(scene.tree, "c:numCache c:numLit"):
        _numbers(scene, cache)
    for value in named(scene.tree, "c:v"):
        if not any(True for _ in value.iterancestors(q("c:numCache"), q("c:numLit"))):
            value.text = scene.text(value.text or "")
            scene.vouch(value)


def _series(cache: Element) -> str:
    """Name of the series that values belong to: "MRN" there says what they are."""
    series = above(cache, "c:ser")
    name = series.find(q("c:tx")) if series is not None else None
    return "" if name is None else "".join(value.text or "" for value in name.iter(q("c:v")))


def _reference(scene: Scene, text: str) -> str:
    """Where a series comes from: the cells, on a sheet by its new name; in a deck there is no workbook."""
    sheet, _, cells = text.strip("()").rpartition("!")
    plain = re.fullmatch(r"\$?[A-Z]{1,3}\$?\d{1,7}(?::\$?[A-Z]{1,3}\$?\d{1,7})?", cells)
    if not scene.name.startswith("xl/"):
        return f"Sheet1!{cells if plain else '$A$1'}"
    new = scene.work.shared.get(SHEET + sheet.strip("'").replace("''", "'"))
    return f"'{new}'!{cells}" if plain and new else "#REF!"


SHEET = "sheet "
"""Before the old name of a sheet in `Work.shared`, which gives the new one."""


def _first_days(scene: Scene) -> None:
    """Dates become days from the earliest of the chart: their distances are what it shows."""
    dated = [cache for cache in named(scene.tree, "c:numCache c:numLit") if is_date_format(_format(cache))]
    days = [day for cache in dated for day in _values(cache) if day >= 1]
    if days:
        scene.found("dates of a chart, now days from its first")
    for cache in dated:
        for value in cache.iter(q("c:v")):
            day = _number(value.text)
            if day >= 1:
                value.text = f"{day - math.floor(min(days)):.10g}"
        _set_format(cache)
    for axis in named(scene.tree, "c:dateAx c:valAx c:catAx"):
        _axis(axis)
    for label in named(scene.tree, "c:numFmt"):
        if is_date_format(label.get("formatCode", "")):
            label.set("formatCode", "General")
            label.set("sourceLinked", "0")


def _axis(axis: Element) -> None:
    code = next((node.get("formatCode", "") for node in axis.iter(q("c:numFmt"))), "")
    if axis.tag == q("c:dateAx") or is_date_format(code):
        for bound in named(axis, "c:min c:max c:crossesAt"):
            remove(bound)


def _format(cache: Element) -> str:
    codes = [node.text or "" for node in cache.iter(q("c:formatCode"))]
    return codes[0] if codes else ""


def _set_format(cache: Element) -> None:
    for node in cache.iter(q("c:formatCode")):
        node.text = "General"
    for point in cache.iter(q("c:pt")):
        point.attrib.pop("formatCode", None)


def _values(cache: Element) -> list[float]:
    return [_number(value.text) for value in cache.iter(q("c:v"))]


def _number(text: str | None) -> float:
    try:
        value = float(text or "")
    except ValueError:
        return 0.0
    return value if math.isfinite(value) else 0.0


def as_read(value: str) -> str:
    """The figures of a number as they are read: 9.9900012E9 is 9990001200, and 8.109999999999999 is 8.11."""
    number = float(value)
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else f"{number:.10g}"


def _whole(text: str) -> int:
    return int(text) if re.fullmatch(r"-?\d{1,12}", text) else 0


_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


def _same(scene: Scene, figures: str, label: str) -> bool:
    return scene.text(figures, (label,)) == figures


def _numbers(scene: Scene, cache: Element) -> None:
    """A number that identifies, alone or under the name of its series, is left out; so is what is no number."""
    label = _series(cache)
    for node in cache.iter(q("c:formatCode")):
        node.text = scene.text(node.text or "") or "General"
        scene.vouch(node)
    for point in named(cache, "c:pt"):
        values = list(point.iter(q("c:v")))
        words = "".join(value.text or "" for value in values)
        if words != "#N/A" and not (_NUMBER.fullmatch(words) and _same(scene, as_read(words), label)):
            remove(point)
        for value in values:
            scene.vouch(value)
