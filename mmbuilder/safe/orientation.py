"""Where things lie in an eye: clock hours as the surgeon saw them and as the anatomy has them.

Anatomical hours are those of a clock face laid on the eye as seen from the front, the patient
upright: 12 is superior, and 9 is temporal in a right eye, 3 in a left one. The surgeon's view is
the same face turned until the surgeon's own seat is at 6, the near side. An upright, unmirrored
view is meant; a turned camera has to be asked about. Geometry; common practice, no source.
The hours are not a time of day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from mmbuilder.safe.terms import Seat, Sector, Side, View, term
from mmbuilder.safe.text import EMPTY, SafeText, fill, join

NEAR = 6
"""The hour of the surgeon's view that is nearest to the surgeon."""

REACH = 2
"""How many hours beside the near side a wound may lie; common practice, no source."""


@dataclass(frozen=True)
class Finding:
    """What was found or done at an hour, as it was said.

    Attributes:
        wound: whether it is the main wound, which lies in front of the surgeon.
        sector: the direction that was said along with the hour, if one was.
    """

    name: SafeText
    hour: int
    view: View
    wound: bool = False
    sector: Sector | None = None


@dataclass(frozen=True)
class Place:
    """A finding with its hour in both views and its direction."""

    finding: Finding
    anatomical: int
    surgeon: int
    sector: Sector

    @property
    def hours(self) -> tuple[SafeText, SafeText]:
        """Both hours, each with its view."""
        return _hour_in(self.anatomical, View.ANATOMICAL), _hour_in(self.surgeon, View.SURGEON)

    @property
    def told(self) -> SafeText:
        """Name and hours: `wound: 9 o'clock anatomical, 6 o'clock surgeon's view`."""
        return fill("{name}: {hours}", name=self.finding.name, hours=join(", ", self.hours))


@dataclass(frozen=True)
class Contradiction:
    """Why what was said of a finding cannot all be so."""

    name: SafeText
    reason: SafeText


@dataclass(frozen=True)
class Orientation:
    """An eye, the surgeon's seat, and every finding in both views."""

    side: Side
    seat: Seat
    places: tuple[Place, ...]
    contradictions: tuple[Contradiction, ...]

    @property
    def seat_hour(self) -> int:
        """Anatomical hour of the seat."""
        return seat_hour(self.side, self.seat)

    def doubted(self, place: Place) -> bool:
        """Whether something speaks against this place."""
        return any(found.name == place.finding.name for found in self.contradictions)


def orient(side: Side, seat: Seat, findings: tuple[Finding, ...]) -> Orientation:
    """Place every finding in both views and say what contradicts what.

    Raises:
        ValueError: the side is not one eye, or an hour is not on a clock face.
    """
    places = tuple(_placed(side, seat, finding) for finding in findings)
    found = (*_of_each(side, seat, places), *_between(places))
    return Orientation(side, seat, places, found)


def seat_hour(side: Side, seat: Seat) -> int:
    """Return the anatomical hour at which the surgeon sat."""
    if seat in (Seat.SUPERIOR, Seat.INFERIOR):
        return 12 if seat is Seat.SUPERIOR else 6
    return 9 if (_one_eye(side) is Side.RIGHT) == (seat is Seat.TEMPORAL) else 3


def anatomical(side: Side, seat: Seat, hour: int) -> int:
    """Turn an hour of the surgeon's view into an anatomical one."""
    return _on_face(_hour(hour) + seat_hour(side, seat) - NEAR)


def surgeons(side: Side, seat: Seat, hour: int) -> int:
    """Turn an anatomical hour into one of the surgeon's view."""
    return _on_face(_hour(hour) - seat_hour(side, seat) + NEAR)


def sector(side: Side, hour: int) -> Sector:
    """Return the direction of an anatomical hour."""
    _hour(hour)
    if hour in (12, 6):
        return Sector.SUPERIOR if hour == 12 else Sector.INFERIOR
    across = "nasal" if (hour < 6) == (_one_eye(side) is Side.RIGHT) else "temporal"
    if hour in (3, 9):
        return Sector(across)
    return Sector(("infero" if 3 < hour < 9 else "supero") + across)


def _one_eye(side: Side) -> Side:
    if side not in (Side.RIGHT, Side.LEFT):
        raise ValueError(
            f"clock hours need one eye: found '{side.value}', expected 'right' or 'left'; "
            "for example, draw two faces if both eyes were operated on"
        )
    return side


def _hour(hour: int) -> int:
    if not 1 <= hour <= 12:
        raise ValueError(f"an hour on a clock face: found {hour}, expected 1 to 12, for example 9")
    return hour


def _on_face(hour: int) -> int:
    return (hour - 1) % 12 + 1


def _placed(side: Side, seat: Seat, finding: Finding) -> Place:
    if finding.view is View.SURGEON:
        hour, seen = anatomical(side, seat, finding.hour), finding.hour
    else:
        hour, seen = finding.hour, surgeons(side, seat, finding.hour)
    return Place(finding, hour, seen, sector(side, hour))


def _of_each(side: Side, seat: Seat, places: tuple[Place, ...]) -> Iterator[Contradiction]:
    for place in places:
        if not _in_front(place):
            yield Contradiction(place.finding.name, _not_in_front(side, seat, place))
        if not _agrees(place):
            yield Contradiction(place.finding.name, _elsewhere(side, seat, place))


def _in_front(place: Place) -> bool:
    return not place.finding.wound or abs(place.surgeon - NEAR) <= REACH


def _not_in_front(side: Side, seat: Seat, place: Place) -> SafeText:
    return fill(
        "{name} is said to be at {said}; seated {seat} to a {side} eye, which is {hour} o'clock anatomical, "
        "the surgeon has the wound in front, at 6 o'clock of the surgeon's view, but this is {seen} o'clock "
        "of that view{hint}",
        name=place.finding.name, said=_said(place.finding), seat=term(seat), side=term(side),
        hour=seat_hour(side, seat), seen=place.surgeon, hint=_hint(side, seat, place.finding),
    )  # fmt: skip


def _agrees(place: Place) -> bool:
    """Whether the direction that was said is that of the hour; `temporal` also allows 10 o'clock."""
    said = place.finding.sector
    return said is None or _parts(said) <= _parts(place.sector)


def _parts(direction: Sector) -> set[str]:
    """Return the main directions that a direction is made of."""
    mains = {"super": "superior", "infer": "inferior", "nasal": "nasal", "temporal": "temporal"}
    return {main for stem, main in mains.items() if stem in direction.value}


def _elsewhere(side: Side, seat: Seat, place: Place) -> SafeText:
    said = place.finding.sector or place.sector
    hours = [hour for hour in range(1, 13) if sector(side, hour) is said]
    return fill(
        "{name} is said to be {said}, which in a {side} eye is {hours} o'clock anatomical, "
        "and to be at {where}, which is {sector}{hint}",
        name=place.finding.name, said=term(said), side=term(side),
        hours=join(" or ", (fill("{hour}", hour=hour) for hour in hours)),
        where=_said(place.finding), sector=term(place.sector), hint=_hint(side, seat, place.finding),
    )  # fmt: skip


def _said(finding: Finding) -> SafeText:
    return _hour_in(finding.hour, finding.view)


def _hour_in(hour: int, view: View) -> SafeText:
    return fill("{hour} o'clock {view}", hour=hour, view=term(view))


def _hint(side: Side, seat: Seat, finding: Finding) -> SafeText:
    """Say which single change would make it fit; it is for the author to choose."""
    fits = join(", or ", _fits(side, seat, finding))
    return fill(" (it would fit {fits})", fits=fits) if fits else EMPTY


def _fits(side: Side, seat: Seat, finding: Finding) -> Iterator[SafeText]:
    other_eye = Side.LEFT if side is Side.RIGHT else Side.RIGHT
    other_view = View.SURGEON if finding.view is View.ANATOMICAL else View.ANATOMICAL
    if _sound(other_eye, seat, finding):
        yield fill("a {side} eye", side=term(other_eye))
    if _sound(side, seat, replace(finding, view=other_view)):
        yield _said(replace(finding, view=other_view))
    for other in Seat:
        if other is not seat and _sound(side, other, finding):
            if other is Seat.INFERIOR:
                yield fill("an {seat} seat", seat=term(other))
            else:
                yield fill("a {seat} seat", seat=term(other))


def _sound(side: Side, seat: Seat, finding: Finding) -> bool:
    place = _placed(side, seat, finding)
    return _in_front(place) and _agrees(place)


def _between(places: tuple[Place, ...]) -> Iterator[Contradiction]:
    """Compare what was said of one finding in one view with what was said of it in the other."""
    for name in dict.fromkeys(place.finding.name for place in places):
        told = {view: _hours(places, name, view) for view in View}
        if all(told.values()) and told[View.SURGEON] != told[View.ANATOMICAL]:
            yield Contradiction(name, _two_places(name, told))


def _hours(places: tuple[Place, ...], name: SafeText, view: View) -> tuple[int, ...]:
    """Return the anatomical hours of a finding as it was said in one view."""
    hours = {p.anatomical for p in places if p.finding.name == name and p.finding.view is view}
    return tuple(sorted(hours))


def _two_places(name: SafeText, told: dict[View, tuple[int, ...]]) -> SafeText:
    seen, stated = (
        join(" and ", (fill("{hour} o'clock", hour=hour) for hour in told[view]))
        for view in (View.SURGEON, View.ANATOMICAL)
    )
    return fill(
        "{name} is said in both views: what was said in the surgeon's view is {seen} anatomical, "
        "and what was said in anatomical hours is {stated} anatomical",
        name=name, seen=seen, stated=stated,
    )  # fmt: skip
