"""What a rule may look at: the case, its folder, its times, and where things stand in the file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path as FilePath

from pydantic import BaseModel

from mmbuilder import uses
from mmbuilder.case.clocks import ClockFault, ClockOffset, Reckoner
from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case, Clock, Computation, Decision, Event
from mmbuilder.case.when import When
from mmbuilder.casefile.files import FileFault, describe, inside, listed
from mmbuilder.casefile.nearest import nearest
from mmbuilder.casefile.pictures import Probe, images_probe
from mmbuilder.casefile.reader import Source
from mmbuilder.problem import Problem
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.terms import EventKind

EVENTS: Path = ("timeline", "events")


@dataclass
class Context:
    """One case under check.

    Attributes:
        case: the raw case; may hold placeholders where the schema refused something.
        root: its folder.
        source: the file it was read from.
        declared: the private list; empty where it cannot be read.
    """

    case: Case = field(repr=False)
    root: FilePath
    source: Source = field(repr=False)
    declared: Declared = field(repr=False)
    _faults: dict[tuple[str, Path], ClockFault] = field(default_factory=dict, repr=False)
    _pictures: dict[int, Probe | FileFault] = field(default_factory=dict, repr=False)

    @cached_property
    def _reckoner(self) -> Reckoner:
        return Reckoner(self.case)

    def line(self, path: Path) -> int:
        """Line of the value at `path`."""
        return self.source.at_value(path).line

    def moment(self, when: When | None, clock: str | None) -> Moment | None:
        """Return minutes from the index event; None where they cannot be told (kept for `clock_faults`)."""
        if when is None:
            return None
        try:
            return self._reckoner.moment(when, clock)
        except ClockFault as fault:
            self._faults.setdefault((fault.code, fault.path), fault)
            return None

    @cached_property
    def moments(self) -> tuple[Moment | None, ...]:
        """When each event was, in the order of the file."""
        return tuple(self.moment(event.when, event.clock) for event in self.case.timeline.events)

    def of_kind(self, kind: EventKind) -> Iterator[tuple[int, Event, Moment]]:
        """Yield (position, event, moment) of each event of a kind that has a place in time."""
        for place, (event, moment) in enumerate(zip(self.case.timeline.events, self.moments, strict=True)):
            if event.kind is kind and moment is not None and moment.placed:
                yield place, event, moment

    def read_from(self, event: Event) -> ClockOffset | None:
        """Return how an event's clock stands to the reference; None where the case tells it wrong."""
        try:
            return self._reckoner.stands(event.when, event.clock)
        except ClockFault:
            return None

    def anchored(self, event: Event) -> bool:
        """Whether the offset of an event's clock comes from an anchor."""
        stands = self.read_from(event)
        return stands is not None and any(
            clock.anchor is not None for clock in self.case.clocks if clock.name == stands.name
        )

    def recording(self, clock: Clock) -> tuple[Moment, Moment]:
        """Return when a recording starts and ends.

        Raises:
            ClockFault: it has no start, or one that cannot be placed.
        """
        return self._reckoner.recording(clock)

    @cached_property
    def event_ids(self) -> dict[str, int]:
        """Position of the event that bears each id; the first one, if several do."""
        found: dict[str, int] = {}
        for place, event in enumerate(self.case.timeline.events):
            if event.id is not None:
                found.setdefault(event.id, place)
        return found

    def texts(self) -> Iterator[tuple[str, Path, FreeText]]:
        """Yield (what it is, place, words) of everything the room reads before the recognition."""
        case = self.case
        yield "title", ("title",), case.title
        yield "situation", ("situation",), case.situation
        if case.background is not None:
            yield "background", ("background",), case.background
        yield "asked", ("asked",), case.asked
        for place, frame in enumerate(case.frames):
            yield "shows", ("frames", place, "shows"), frame.shows
        for place, decision in enumerate(case.decisions):
            here: Path = ("decisions", place)
            if self._recognised(decision):
                continue
            yield "question", (*here, "question"), decision.question
            for entry, seen in enumerate(decision.visible):
                yield "visible", (*here, "visible", entry), seen
            for entry, option in enumerate(decision.options):
                yield "option", (*here, "options", entry, "option"), option.option
                yield "reason", (*here, "options", entry, "reason"), option.reason

    def _recognised(self, decision: Decision) -> bool:
        """Whether something had been recognised when a decision was taken: all its words may tell it."""
        place = self.event_ids.get(decision.at)
        taken = self.moments[place] if place is not None else None
        return taken is not None and any(
            at == place or moment.certainly_before(taken)
            for at, _, moment in self.of_kind(EventKind.RECOGNITION)
        )

    @cached_property
    def told(self) -> tuple[tuple[str, FreeText], ...]:
        """(The key it stands under, words) of everything that somebody wrote to be read."""
        return tuple((key, text) for key, text in _texts(self.case, "") if key not in _NAMES_ONLY)

    @staticmethod
    def as_written(path: Path) -> bool:
        """Whether a text is told as it stands: references are published, the age is told apart."""
        return path[:1] != ("references",) and path != ("patient", "age")

    @cached_property
    def told_outside(self) -> tuple[tuple[str, FreeText], ...]:
        """What goes outside the department as it stands, as of `told`; nothing where the case stays in it."""
        if not uses.load(self.case.use).outside:
            return ()
        return tuple((key, text) for key, text in self.told if self.as_written(text.path))

    def computations(self) -> Iterator[tuple[Path, Computation]]:
        """Yield every figure that is to be worked out, with its place."""
        places: tuple[tuple[Path, tuple[Computation, ...]], ...] = (
            ((), self.case.compute),
            *(((*EVENTS, at), event.compute) for at, event in enumerate(self.case.timeline.events)),
            *(
                (("outcome", "visits", at), visit.compute)
                for at, visit in enumerate(self.case.outcome.visits)
            ),
        )
        for path, asked in places:
            for at, one in enumerate(asked):
                yield (*path, "compute", at), one

    def picture(self, place: int) -> Probe:
        """Return kind and size of a frame's picture.

        Raises:
            FileFault: it cannot be used.
        """
        if place not in self._pictures:
            try:
                self._pictures[place] = images_probe(inside(self.root, self.case.frames[place].file.value))
            except FileFault as fault:
                self._pictures[place] = fault
        found = self._pictures[place]
        if isinstance(found, FileFault):
            raise found
        return found

    def near_file(self, named: FreeText) -> str:
        """Return `; perhaps the 3rd file by name in images/ (...)`, or nothing where no file is like it."""
        files = [path for folder in ("images", "readings") for path in listed(self.root, folder)]
        names = {path.relative_to(self.root).as_posix(): path for path in files}
        near = nearest(named.value.replace("\\", "/"), names)
        return f"; perhaps {describe(self.root, names[near])}" if near else ""

    def readings_problems(self) -> Iterator[Problem]:
        """Yield what is wrong within the readings files that can be opened."""
        from mmbuilder.casefile.readings import read

        for place, readings in enumerate(self.case.readings):
            try:
                inside(self.root, readings.file.value)
            except FileFault:
                continue  # told by the rule on readings files
            yield from read(self.root, readings, self._reckoner, ("readings", place))[1]

    def clock_faults(self) -> Iterator[ClockFault]:
        """Yield every fault of the clocks and of every time in the case, once."""
        for fault in self._reckoner.faults():
            self._faults.setdefault((fault.code, fault.path), fault)
        _ = self.moments
        for when, clock in self._other_times():
            self.moment(when, clock)
        yield from self._faults.values()

    def _other_times(self) -> Iterator[tuple[When | None, str | None]]:
        timeline = self.case.timeline
        yield timeline.closed, None
        for phase in timeline.phases:
            yield phase.starts, phase.clock
            yield phase.ends, phase.clock
        for event in timeline.events:
            yield from ((other.when, other.clock) for other in event.also)
        for frame in self.case.frames:
            yield frame.when, frame.clock
        for readings in self.case.readings:
            for gap in readings.gaps:
                yield gap.starts, readings.clock
                yield gap.ends, readings.clock
            yield from ((when, readings.clock) for when in readings.artefacts)
        for visit in self.case.outcome.visits:
            yield visit.when, None


def clock_face(when: When) -> str:
    """Return the time of day as written, such as `13:20`; empty for a date or an unknown time."""
    stamp = when.first or when.last
    if stamp is None or stamp.step >= 86400 or when.elapsed:
        return ""
    hours, rest = divmod(stamp.seconds, 3600)
    return f"{hours:02d}:{rest // 60:02d}" + (f":{rest % 60:02d}" if stamp.step < 60 else "")


_NAMES_ONLY = frozenset({"file", "column", "unit", "specialty", "role", "source", "by", "when"})
"""Keys whose words name a thing and tell nothing."""


def _texts(value: object, key: str) -> Iterator[tuple[str, FreeText]]:
    if isinstance(value, FreeText):
        yield key, value
    elif isinstance(value, BaseModel):
        for name, info in type(value).model_fields.items():
            yield from _texts(getattr(value, name), info.alias or name.replace("_", " "))
    elif isinstance(value, tuple):
        for item in value:
            yield from _texts(item, key)
