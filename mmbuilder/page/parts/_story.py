"""The story as the timeline page shows it: a list in the order of time, and the figure that the deck has.

The words of the list are the author's own; those of the figure have crossed the line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import count
from typing import Any

from markupsafe import Markup

from mmbuilder import labels
from mmbuilder.analysis import build_timeline
from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Timeline
from mmbuilder.case.clocks import Reckoner
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.figures import POINTS
from mmbuilder.figures.entries import Key
from mmbuilder.figures.timeline import compose
from mmbuilder.page.parts._drawn import Target, drawn, targets
from mmbuilder.page.parts._typed import entries, word
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.moment import Moment, clock
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.plan import RedactionPlan
from mmbuilder.scrub.walk import Texts, digest

WIDE, HIGH = 30.06 * POINTS, 13.05 * POINTS
"""Of the figure on a slide of the deck as it ships; points. Another size would have other labels."""


@dataclass(frozen=True)
class Told:
    """One entry of the list.

    Attributes:
        key: which it is in the case: ("event", 3), ("decision", 1).
        when: counted from the index event, as the room is told it.
        typed: as the author wrote it.
        facts: label and words of what else was written.
        label: its number as on the figure: "3" for the third event of the story, "D1".
    """

    key: Key
    kind: str
    when: str
    typed: str
    what: str
    facts: tuple[tuple[str, str], ...] = ()
    label: str = ""

    @property
    def place(self) -> str:
        """Where it stands in the form."""
        section, path = ("events", "timeline-events") if self.key[0] == "event" else ("decisions",) * 2
        return f"/write/{section}/#at-{path}-{self.key[1] - 1}"

    @property
    def name(self) -> str:
        """What it is called on the page."""
        return f"{self.key[0]}-{self.key[1]}"

    @property
    def said(self) -> str:
        """What its mark says to who cannot see it."""
        return f"{self.when}, {self.kind} {self.label}: {self.what}"


@dataclass(frozen=True)
class Figure:
    """The drawn timeline."""

    shapes: Markup
    targets: tuple[Target, ...]
    alt: str


# The list


def story(folder: CaseFolder, tree: dict[str, Any]) -> tuple[Told, ...]:
    """Return events and decisions in order of time; what has no time stays behind what was told before."""
    with labels.speaking(folder.case.language):
        ordered = [told for _, told in sorted(_placed(folder, tree), key=lambda pair: pair[0])]
    return tuple(_labelled(ordered))


def _labelled(ordered: Iterable[Told]) -> Iterator[Told]:
    """Number events as the figure and the handout do, by their place in the story."""
    places = count(1)
    for told in ordered:
        kind, number = told.key
        yield replace(told, label=str(next(places)) if kind == "event" else f"D{number}")


def _placed(folder: CaseFolder, tree: dict[str, Any]) -> Iterator[tuple[tuple[float, int, int], Told]]:
    case, reckoner, last = folder.case, Reckoner(folder.case), float("-inf")
    times: dict[str, Moment] = {}
    typed = entries(tree, "timeline", "events")
    for number, event in enumerate(case.timeline.events, 1):
        at = reckoner.moment(event.when, event.clock, number)
        last = last if at.centre is None else at.centre
        times[event.id or ""] = at
        entry = typed[number - 1] if number <= len(typed) else {}
        yield (last, 0, number), _event(number, event.kind.value, at, entry)
    for number, decision in enumerate(case.decisions, 1):
        at = times[decision.at]
        entry = entries(tree, "decisions")[number - 1]
        centre = at.centre if at.centre is not None else float("inf")
        when = clock(at).reveal()
        yield (centre, 1, number), Told(("decision", number), "decision", when, "", word(entry, "question"))


def _event(number: int, kind: str, at: Moment, entry: dict[str, Any]) -> Told:
    facts = [(key, word(entry, key)) for key in ("dose", "volume", "phase", "noticed", "sure")]
    by, source = word(entry, "clock"), word(entry, "source")
    facts += [("source", source), ("by the", by)]
    others = entry.get("also")
    many = [others] if isinstance(others, dict) else others if isinstance(others, list) else []
    for other in (one for one in many if isinstance(one, dict)):
        said = ", ".join(filter(None, (word(other, key) for key in ("when", "what", "dose", "source"))))
        facts.append(("another record", said))
    told = tuple((label, words) for label, words in facts if words)
    return Told(("event", number), kind, clock(at).reveal(), word(entry, "when"), word(entry, "what"), told)


# The figure


def crossed(folder: CaseFolder, plan: RedactionPlan) -> ScrubbedCase:
    """Carry the case across the line without its pictures, which a timeline does not need."""
    bare = folder.case.model_copy(update={"frames": (), "mechanism": None})
    without = replace(folder, case=bare)
    texts = Texts(bare, folder.previous)
    there = {item.path for item in texts.items}
    spans = {path: spans for path, spans in plan.texts.items() if path in there}
    return apply(without, replace(plan, texts=spans, images={}, case=digest(without, texts)))


def figure(folder: CaseFolder, plan: RedactionPlan) -> Figure:
    """Draw the whole timeline as the deck does, with the place of every mark."""
    with labels.speaking(folder.case.language):
        timeline = build_timeline(crossed(folder, plan))
        return _figure(timeline)


def _figure(timeline: Timeline) -> Figure:
    chart = Chart(timeline, brackets=True)
    sheet = compose(chart, WIDE, HIGH)
    return Figure(drawn(sheet), targets(timeline, WIDE, HIGH), describe(chart).reveal())
