"""The rescue as it went: what was done from the recognition on, what it did not prevent, and when."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.timeline import Mark
from mmbuilder.safe.case import Decision, Event
from mmbuilder.safe.moment import clock
from mmbuilder.safe.terms import Course, EventKind, Noticed, Recognised
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, labelled, sentence, unbroken, wording
from mmbuilder.storyboard.beats import beats
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides import timeline_whole
from mmbuilder.storyboard.timing import guessed

MISSING = wording("rescue as it went: nothing was recognised or done about it at a known point")

_GIVEN, _RESPONSE, _DONE = wording("Given"), wording("Response"), wording("Done")
_CALLED = wording("Help")
_ACTED = (_CALLED, _DONE, _GIVEN)
_MIXED = EMPTY
"""What deeds of several sorts are called that share a line."""
_COMPLICATION, _DECIDED, _READING = wording("Complication"), wording("Decided"), wording("Reading")
_HELP = frozenset({EventKind.CALL, EventKind.ARRIVAL})
_GROUPS: tuple[tuple[SafeText, frozenset[EventKind]], ...] = (
    (_CALLED, _HELP),
    (_RESPONSE, frozenset({EventKind.RESPONSE})),
    (_DONE, frozenset({EventKind.ACTION, EventKind.STEP})),
    (_GIVEN, frozenset({EventKind.DRUG})),
    (_COMPLICATION, frozenset({EventKind.COMPLICATION})),
    (wording("Resolution"), frozenset({EventKind.RESOLUTION})),
    (_READING, frozenset({EventKind.READING})),
)
_RECOGNISED: dict[Recognised | None, SafeText] = {
    None: wording("Recognised"),
    Recognised.COMPLICATION: wording("Recognised"),
    Recognised.CAUSE: wording("Cause"),
}
_SIGNS: dict[Noticed | None, SafeText] = {
    None: wording("First sign"),
    Noticed.IN_HINDSIGHT: wording("First sign, in hindsight"),
    Noticed.AT_THE_TIME: wording("First sign, noted"),
}

_MOST = 10
"""Lines of a slide, above which deeds share them. Common practice, no source."""

_HEADS = {
    Course.HARM: wording("This is how the rescue went"),
    Course.NEAR_MISS: wording("This is how it was stopped"),
    Course.DEATH: wording("This is what was done"),
}
"""What the list is of: nobody has to be rescued from a near miss, and a death has no rescue to be told of."""

_WHO_CAME = wording("Tell it in order, by the clock. Say who came and what was ready.")
_IN_ORDER = wording("Tell it in order, by the clock.")
"""Of a rescue for which nobody was called and nobody came."""

_TO_RESOLUTION = wording("response to resolution")

_Row = tuple[SafeText, SafeText]
_Deed = Event | Decision
_Run = tuple[list[_Deed], SafeText]
"""What shares a line, and what it was for the rescue."""


def make(context: Context) -> tuple[Slide, ...]:
    """One slide, a line a deed, by the clock; before them the signs, and harm nobody had seen yet.

    A decision that the deck has no time to stop at is told here, as what was decided.
    """
    signs = _signs(context)
    before = _before(context, signs)
    rows = rows_of(context, _MOST - len(before), _passed(context))
    if not rows:
        return ()
    told = (before, _joined(context, signs), _before(context, signs[-1:]))  # the chart has all the signs
    return (min((_slide(context, (*one, *rows)) for one in told), key=guessed),)


def _slide(context: Context, rows: tuple[_Row, ...]) -> Slide:
    notes = (_WHO_CAME if _called(context) else _IN_ORDER,)
    return Slide("rescued", _headline(context), (Facts(rows),), notes, context.seconds)


def _called(context: Context) -> bool:
    return any(event.kind in _HELP for event in _since(context))


def rows_of(context: Context, most: int = _MOST, decisions: tuple[Decision, ...] = ()) -> tuple[_Row, ...]:
    """What was done since the first recognition, or the first response without one: when, and what it was.

    Where that takes more than `most` lines, readings are left to the chart; then deeds of one sort that
    follow each other share a line, and what is done after a response goes on with its line; then help, deeds
    and drugs do, whichever comes first. Of `decisions` each has its line.
    """
    told: list[tuple[_Deed, SafeText]] = [
        (event, group) for event in _since(context) if (group := _group(event)) is not None
    ]
    if all(group == _READING for _, group in told):
        return ()
    for decision in decisions:
        told.insert(_place(told, decision), (decision, _DECIDED))
    if len(told) > most:
        told = [(deed, group) for deed, group in told if group != _READING]
    runs = [([deed], group) for deed, group in told]
    for joined in ({_RESPONSE: {_DONE}}, dict.fromkeys((_RESPONSE, _MIXED, *_ACTED), _ACTED)):
        if len(runs) > most:
            runs = _shared(runs, joined)
    return tuple(_row(deeds, group) for deeds, group in runs)


def _shared(runs: list[_Run], joined: Mapping[SafeText, Collection[SafeText]]) -> list[_Run]:
    """Let each run share the line before it where that is of its sort, or of one it may be `joined` to.

    What is of several sorts has no word for all of it: each deed says what it is.
    """
    made: list[_Run] = []
    for deeds, group in runs:
        before = made[-1][1] if made else None
        if before is None or (before != group and group not in joined.get(before, ())):
            made.append((deeds, group))
            continue
        kept = before if before in (group, _RESPONSE) else _MIXED
        made[-1] = ([*made[-1][0], *deeds], kept)
    return made


def _passed(context: Context) -> tuple[Decision, ...]:
    """The decisions of the rescue that a deck which stops at decisions has no time for."""
    stopped = {beat.number for beat in beats(context) if isinstance(beat, Decision)}
    since = _since(context)
    start = since[0].at.lo if since else None
    return tuple(
        decision
        for decision in context.case.decisions
        if stopped
        and decision.number not in stopped
        and start is not None
        and decision.at.lo is not None
        and decision.at.lo >= start
    )


def _place(told: list[tuple[_Deed, SafeText]], decision: Decision) -> int:
    """Before what came later."""
    begun = decision.at.lo or 0.0
    later = (at for at, (deed, _) in enumerate(told) if deed.at.lo is not None and deed.at.lo > begun)
    return next(later, len(told))


def _before(context: Context, signs: tuple[Event, ...]) -> tuple[_Row, ...]:
    """The signs, and each complication from before the rescue, by the clock."""
    since = {event.number for event in _since(context)}
    told = {event.number: _SIGNS[event.noticed] for event in signs}
    told |= {
        event.number: _COMPLICATION
        for event in context.timeline.events
        if event.kind is EventKind.COMPLICATION and event.number not in since
    }
    return tuple(
        _row([event], told[event.number]) for event in context.timeline.events if event.number in told
    )


def _joined(context: Context, signs: tuple[Event, ...]) -> tuple[_Row, ...]:
    """The same, with the sign that was noted on the line of the first one."""
    if len(signs) < 2:
        return _before(context, signs)
    first, noted = signs
    also = fill("noted: {what} ({when})", what=_what(noted), when=_when(noted))
    own = _row([first], _SIGNS[first.noticed])
    return tuple(
        (when, join("; ", (text, also))) if (when, text) == own else (when, text)
        for when, text in _before(context, signs[:1])
    )


def _signs(context: Context) -> tuple[Event, ...]:
    """The first sign, and the first that was noted if that is another; none where nothing was recognised."""
    first, seen = context.first(Mark.FIRST_SIGN), context.first(Mark.RECOGNITION)
    if first is None or seen is None:
        return ()
    signs = (event for event in context.timeline.events if event.kind is EventKind.FIRST_SIGN)
    noted = next((event for event in signs if event.noticed is Noticed.AT_THE_TIME), first)
    return (first,) if noted.number == first.number else (first, noted)


def _row(deeds: Sequence[_Deed], group: SafeText) -> _Row:
    first, *rest = deeds
    also = (fill("{what} ({when})", what=_what(deed), when=_when(deed)) for deed in rest)
    told = join("; ", (_what(first), *also))
    return _when(first), labelled(group, told) if group else capital(told)


def _group(event: Event) -> SafeText | None:
    """Return what an event was for the rescue: what has a dose was given, whatever else it was."""
    if event.dose:
        return _GIVEN
    if event.kind is EventKind.RECOGNITION:
        return _RECOGNISED[event.recognised]
    return next((label for label, kinds in _GROUPS if event.kind in kinds), None)


def _since(context: Context) -> tuple[Event, ...]:
    start = context.first(Mark.RECOGNITION) or context.first(Mark.RESPONSE)
    events = context.timeline.events
    return events[events.index(start) :] if start is not None else ()


def _when(deed: _Deed) -> SafeText:
    return clock(deed.at) if deed.at.placed else wording("no time")


def _what(deed: _Deed) -> SafeText:
    return capital(deed.options[deed.chosen].what) if isinstance(deed, Decision) else deed.label or deed.what


def _headline(context: Context) -> SafeText:
    """Say what the list is, signs and all, and count on from where the timeline's headline ends."""
    before, what = timeline_whole.counted(context), _HEADS[context.case.course]
    for one in context.timeline.intervals:
        if one.name == _TO_RESOLUTION and one.elapsed.known and one not in before:
            return fill("{what}; {name}: {length}.", what=what, name=one.name, length=unbroken(lengths(one)))
    return sentence(what)
