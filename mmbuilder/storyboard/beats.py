"""Where the story stops: the frames and decisions that a use has time for, and what may be told before each.

A frame with a pause comes before a decision at the same moment: the room sees, then decides. A frame
without one is explained at once: it comes in its time, but behind every stop that it is not known to be
earlier than, or whose answer it would tell.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.analysis.timeline import Mark
from mmbuilder.safe.case import Decision, Frame
from mmbuilder.safe.moment import SECOND, Moment
from mmbuilder.safe.text import SafeText, join
from mmbuilder.storyboard.context import Context

Beat = Frame | Decision

_LEAST = 2
"""Words that a picture shares with an answer where it tells it; one may be there by chance."""


def beats(context: Context) -> list[Beat]:
    """Return the frames and decisions that the use has time for, in order of time."""
    planned = context.spec.planned("course")
    if planned is None:
        return []
    mechanism = context.case.mechanism
    shown = mechanism.frame if mechanism is not None else None
    told = [frame for frame in context.case.frames if frame.number != shown]
    frames = sorted(told, key=lambda frame: not frame.pause)[: planned.frames]
    decisions = context.case.decisions[: planned.decisions]
    told_of: list[Beat] = [*frames, *decisions]
    ordered = sorted(told_of, key=lambda beat: _order(context, beat))
    made = [beat for beat in ordered if stops(beat)]
    for frame in (beat for beat in ordered if isinstance(beat, Frame) and not beat.pause):
        made.insert(_place(context, frame, made), frame)
    return made


def stops(beat: Beat) -> bool:
    """Whether the room is asked something there."""
    return isinstance(beat, Decision) or beat.pause


def began(context: Context, beat: Beat) -> Moment | None:
    """Return the earlier of its own time and that of its event; None if neither is known."""
    event = None if beat.event is None else context.timeline.event(beat.event).at
    return min((at for at in (beat.at, event) if at is not None and at.placed), key=just_before, default=None)


def just_before(moment: Moment) -> float:
    """Return the last moment at which nothing of it had happened: where a chart is to be cut."""
    start = moment.lo if moment.lo is not None else moment.hi
    assert start is not None
    return start - SECOND


def _order(context: Context, beat: Beat) -> tuple[float, bool, int]:
    moment = context.when(beat)
    centre = moment.centre if moment is not None else None
    late = float("inf") if centre is None else centre
    return (late, isinstance(beat, Decision), beat.number)


def _place(context: Context, frame: Frame, made: list[Beat]) -> int:
    """Return the place of a frame without a pause: behind what it follows, and what it would tell."""
    follows = [
        place
        for place, beat in enumerate(made, 1)
        if (_tells(context, frame, beat) if stops(beat) else _order(context, beat) < _order(context, frame))
    ]
    return max(follows, default=0)


def _tells(context: Context, frame: Frame, beat: Beat) -> bool:
    """Whether a frame may tell what is asked there: it is no earlier, or its words are of the answer."""
    moment, start = context.when(frame), began(context, beat)
    if moment is None or moment.hi is None or start is None or moment.hi > just_before(start):
        return True
    words = join(" ", (frame.shows, frame.caption, *_labels(frame)))
    held = any(word.within(words) for word in context.case.hold_back)
    heard = join(" ", (_asked(beat), *_told_by(context, moment.hi)))
    telling = words.shared(_answer(beat)) - words.shared(heard)
    return (held and not _recognised(context, start)) or len(telling) >= _LEAST


def _recognised(context: Context, moment: Moment) -> bool:
    """Whether it is known by then: nothing is held back any more."""
    seen = context.first(Mark.RECOGNITION)
    return seen is not None and seen.at.hi is not None and seen.at.hi <= just_before(moment)


def _told_by(context: Context, minute: float) -> Iterator[SafeText]:
    """Yield the events up to a minute: the chart of every later stop tells them."""
    for event in context.timeline.events:
        if event.at.centre is not None and event.at.centre <= minute:
            yield event.what


def _asked(beat: Beat) -> SafeText:
    """What the room reads at a stop."""
    if isinstance(beat, Decision):
        options = (text for one in beat.options for text in (one.what, one.reason))
        return join(" ", (beat.question, *beat.visible, *options))
    return beat.shows


def _answer(beat: Beat) -> SafeText:
    """What is told behind it: the reason of the choice, or what is marked on the picture."""
    return beat.because if isinstance(beat, Decision) else join(" ", _labels(beat))


def _labels(frame: Frame) -> tuple[SafeText, ...]:
    return (*(arrow.label for arrow in frame.arrows), *(circle.label for circle in frame.circles))
