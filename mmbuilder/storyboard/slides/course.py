"""The middle of the story: frames and decisions in order of time, each with its pause.

A frame is shown clean and the room is asked; then with its arrow. A decision is shown as
what could be seen and its options, and the room is asked; then the choice and the reason at the
time. A use with few slides to spend puts the arrow beside the options of a decision at the same
event. Whatever is told here is told in order of time, so no slide runs ahead of a later pause.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import accumulate

from mmbuilder.analysis.cut import cut, same
from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Timeline
from mmbuilder.safe.case import Decision, Frame
from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, sentence, wording
from mmbuilder.storyboard.beats import Beat, beats, began, just_before
from mmbuilder.storyboard.blocks import (
    Bullets,
    Cell,
    Facts,
    Picture,
    Slide,
    Table,
    TimeChart,
)
from mmbuilder.storyboard.context import Context, filled, titled
from mmbuilder.storyboard.slides import timeline_before
from mmbuilder.storyboard.timing import needed

MISSING = wording("frames and decisions: the case has none that this use stops at")

_WAIT = wording("PAUSE: wait 20 s in silence.")

_ACROSS, _DOWN = 30, 16
"""Letters of a line and lines of a column beside a picture; each option takes one line more, for space."""

_BELOW = 260
"""Letters of a caption below a picture that leaves room for both: six lines."""


def make(context: Context) -> tuple[Slide, ...]:
    """Two slides for each frame with a pause and each decision, one for each other frame."""
    slides = _slides(context, context.planned.choice)
    if sum(map(needed, slides)) > context.seconds:
        slides = _slides(context, 0)
    return tuple(_timed(slides, context.seconds))


def _slides(context: Context, most: int) -> list[Slide]:
    start = timeline_before.chart(context) if context.spec.planned("timeline_before") else None
    drawn = [cut(start[0])] if start is not None else []
    order = beats(context)
    slides: list[Slide] = []
    for before, beat in zip((None, *order), order, strict=False):
        told = list(_told(context, beat, drawn, most))
        if context.planned.joined and _of_one(context, before, beat) and _fit(slides[-1], told[0]):
            told[0] = _beside(slides.pop(), told[0])
        slides += told
    return slides


def _told(context: Context, beat: Beat, drawn: list[Timeline], most: int) -> Iterator[Slide]:
    """Tell a frame or decision, a choice in `most` words, and no chart that is empty or `drawn` already."""
    if isinstance(beat, Frame):
        yield from _frame(context, beat)
        return
    if context.planned.slices:
        yield from _slice(context, beat, drawn)
    yield _options(beat)
    yield _choice(beat, most)


def _frame(context: Context, frame: Frame) -> Iterator[Slide]:
    moment = context.when(frame)
    stamp = clock(moment) if moment is not None else wording("time unknown")
    if frame.pause:
        alt = fill("Still at {when}, unmarked: {shows}", when=stamp, shows=frame.shows)
        question = fill("What do you see at {when}?", when=stamp)
        yield Slide("frame", question, (Picture(frame.image, alt, frame.shows),), (_WAIT,), pause=True)
    told = join(" ", (sentence(frame.caption), _marks(frame)))
    alt = fill("Still at {when}: {told}", when=stamp, told=told)
    headline, rest = titled(sentence(frame.caption), wording("This is what the picture shows."))
    # One that is explained at once is told after later ones: without its time it would seem to follow them.
    shown = rest if frame.pause or moment is None else join(" · ", (stamp, rest))
    marked = Picture(frame.image, alt, shown, frame.arrows, frame.circles)
    yield Slide("frame_marked", headline, (marked,), (_pointing(frame, stamp),))


def _pointing(frame: Frame, stamp: SafeText) -> SafeText:
    if frame.arrows:
        return fill("{when}. Point along the arrow; leave a breath before the next slide.", when=stamp)
    return fill("{when}. Point at what you see; leave a breath before the next slide.", when=stamp)


def _marks(frame: Frame) -> SafeText:
    marked = [arrow.label for arrow in frame.arrows] + [circle.label for circle in frame.circles]
    labels = [label for label in marked if label]
    return sentence(fill("Marked: {labels}", labels=join("; ", labels))) if labels else EMPTY


def _slice(context: Context, decision: Decision, drawn: list[Timeline]) -> Iterator[Slide]:
    start = began(context, decision)
    if start is None:
        return
    chart = Chart(context.timeline, until=just_before(start))
    shown = cut(chart)
    if any(same(shown, before) for before in drawn) or not any(event.at.placed for event in shown.events):
        return
    drawn.append(shown)
    headline = fill("This is what had happened before {when}.", when=clock(start))
    yield Slide("timeline_slice", headline, (TimeChart(chart, describe(chart)),), ())


def _options(decision: Decision) -> Slide:
    """Ask: what could be seen stands with the options, for nobody can choose without it."""
    known = filled(((wording("Could be seen"), _seen(decision)),))
    table = Table(
        header=(wording("Option"), wording("A fair reason for it")),
        rows=tuple((Cell(capital(o.what), strong=True), Cell(capital(o.reason))) for o in decision.options),
        shares=(2, 3),
        caption=wording("The options that were open, each with a fair reason; the choice is not shown."),
    )
    notes = (_WAIT, wording("Hands up for each option before anybody speaks, juniors first."))
    blocks = (known, table) if known.rows else (table,)
    return Slide("options", decision.question, blocks, notes, pause=True)


def _seen(decision: Decision) -> SafeText:
    return join(" ", map(sentence, decision.visible))


def _of_one(context: Context, before: Beat | None, beat: Beat) -> bool:
    """Whether a frame that was asked about and a decision are of the same event, or of the same moment.

    A frame that was not is new to the room, and one of another event answers another question: neither
    stands on the slide of a pause.
    """
    if not (isinstance(before, Frame) and before.pause and isinstance(beat, Decision)):
        return False
    if before.event is not None:
        return before.event == beat.event
    moment = context.when(before)
    return moment is not None and moment == context.when(beat)


def _fit(marked: Slide, asked: Slide) -> bool:
    """Whether what stands beside a picture is short enough, and what stands below it."""
    if asked.kind != "options":
        return False
    table = asked.blocks[-1]
    assert isinstance(table, Table)
    lines = (1 + sum(-(-len(cell.text) // _ACROSS) for cell in row) for row in table.rows)
    return sum(lines) <= _DOWN and len(_below(marked, asked)) <= _BELOW


def _beside(marked: Slide, asked: Slide) -> Slide:
    """Return one slide of both: the picture and what could be seen besides, and the headline asks."""
    (picture,), table = marked.blocks, asked.blocks[-1]
    assert isinstance(picture, Picture)
    assert isinstance(table, Table)
    options = (Bullets((reason.text,), option.text) for option, reason in table.rows)
    shown = replace(picture, caption=_below(marked, asked))
    return replace(asked, blocks=(shown, *options), notes=(*marked.notes, *asked.notes), beside=True)


def _below(marked: Slide, asked: Slide) -> SafeText:
    """What stands below the picture: what it shows, then what could be seen."""
    known = (row for block in asked.blocks if isinstance(block, Facts) for row in block.rows)
    seen = (fill("{label}: {text}", label=label, text=text) for label, text in known)
    return join(" ", (_caption(marked), *seen))


def _caption(marked: Slide) -> SafeText:
    """What a marked frame says: in its headline, or below the picture where that is too long for one."""
    (picture,) = marked.blocks
    assert isinstance(picture, Picture)
    return picture.caption or marked.headline


def _choice(decision: Decision, most: int) -> Slide:
    """Tell the choice; `most` words stand under it where there is more than the reason."""
    chosen = decision.options[decision.chosen].what
    notes = (wording("Past tense, no verdict: what was seen, what was thought, what was done."),)
    headline = fill("The team chose: {chosen}", chosen=sentence(chosen))
    return Slide("choice", headline, (_why(decision, most),), notes)


def _why(decision: Decision, most: int) -> Facts:
    """Why it was chosen; as the words allow, what was not and what could be seen, which the room has read.

    A reason alone may be one word: it stands with what was not chosen.
    """
    because, fallback = sentence(decision.because), _fallback(decision)
    left = most - because.words() - fallback.words()
    others = next((text for text in _others(decision) if text.words() <= left), EMPTY)
    if not (others or (because and fallback)):
        others = _others(decision)[-1]
    seen = _seen(decision)
    return filled(
        (
            (wording("Reason then"), because),
            (wording("Could be seen"), seen if seen.words() <= left - others.words() else EMPTY),
            (wording("Not chosen"), others),
            (wording("Fallback"), fallback),
        )
    )


def _others(decision: Decision) -> tuple[SafeText, SafeText]:
    """What was not chosen, with the fair reason for each, and without."""
    others = [option for place, option in enumerate(decision.options) if place != decision.chosen]
    reasoned = (join(": ", (other.what, other.reason)) for other in others)
    return join(" ", map(sentence, reasoned)), join(" ", (sentence(other.what) for other in others))


def _fallback(decision: Decision) -> SafeText:
    trigger = fill("Trigger: {trigger}", trigger=sentence(decision.trigger)) if decision.trigger else EMPTY
    return join(" ", (sentence(decision.fallback), trigger))


def _timed(slides: list[Slide], seconds: int) -> Iterator[Slide]:
    """Share the time: each slide has what its words take, and the pauses share what that leaves.

    Where it is too little for the words, each has less in proportion.
    """
    needs = [needed(slide) for slide in slides]
    spare = seconds - sum(needs)
    paused = [int(slide.pause) for slide in slides]
    parts = needs if spare < 0 or not any(paused) else paused
    ends = [
        round(end)
        for end in accumulate(n + spare * p / sum(parts) for n, p in zip(needs, parts, strict=True))
    ]
    for slide, start, end in zip(slides, (0, *ends), ends, strict=False):
        yield replace(slide, seconds=end - start)
