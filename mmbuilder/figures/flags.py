"""The marks over the full height of the chart: name, time, and the event's words under them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mmbuilder.analysis.timeline import Mark, Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.captions import flag_captions
from mmbuilder.figures.layout import Label, Placement, place
from mmbuilder.figures.letters import Letters
from mmbuilder.figures.style import FLAG, LINE, TEXT, width
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Moment, clock
from mmbuilder.safe.terms import Noticed, Recognised
from mmbuilder.safe.text import SafeText, fill, wording

HEIGHT = FLAG + LINE + 2
"""Height of one row of flags; points."""

ROWS = 3
"""Most rows of flags."""

_WORDS = {
    Mark.FIRST_SIGN: wording("FIRST SIGN"),
    Mark.RECOGNITION: wording("RECOGNITION"),
    Mark.RESPONSE: wording("RESPONSE"),
    Mark.RESOLUTION: wording("Resolution"),
}

_SORTS: dict[Noticed | Recognised | None, SafeText] = {Recognised.CAUSE: wording("OF CAUSE")}


@dataclass(frozen=True)
class Flag:
    """A mark to be flown from the top: the earliest of its kind that has a time."""

    number: int
    mark: Mark
    at: Moment
    title: SafeText
    caption: SafeText
    longer: tuple[SafeText, ...] = ()
    """Its caption with more of the event's words, the most first."""

    def saying(self, caption: SafeText) -> Flag:
        """Return the flag with that caption, if it is one of its own."""
        return replace(self, caption=caption) if caption in self.longer else self

    @property
    def strongest(self) -> bool:
        """Whether it is one of the three marks that come first of all."""
        return self.mark is not Mark.RESOLUTION

    @property
    def width(self) -> float:
        """Width of its two lines; points."""
        return max(width(text, size, bold=bold) for text, size, bold in self.lines)

    @property
    def lines(self) -> tuple[tuple[SafeText, float, bool], ...]:
        """(text, size, bold) of each line; a resolution has one, and its words in the lane."""
        if not self.strongest:
            return ((self.title, TEXT, False),)
        return (self.title, FLAG, True), (self.caption, TEXT, False)


def flags(timeline: Timeline, letters: Letters) -> tuple[Flag, ...]:
    """Return the flags in the order of the marks."""
    return tuple(
        _flag(mark, placed[0], letters)
        for mark, numbers in timeline.marks
        for placed in [[event for event in map(timeline.event, numbers) if event.at.placed]]
        if placed
    )


def _flag(mark: Mark, event: Event, letters: Letters) -> Flag:
    sort = _SORTS.get(event.recognised) if mark is Mark.RECOGNITION else None
    word = fill("{mark} {sort}", mark=_WORDS[mark], sort=sort) if sort else _WORDS[mark]
    title = fill("{word} {when}", word=word, when=clock(event.at))
    letter = letters.of(("event", event.number)) if event.disputed else None
    *longer, caption = (_lettered(text, letter) for text in flag_captions(event))
    return Flag(event.number, mark, event.at, title, caption, tuple(longer))


def _lettered(caption: SafeText, letter: SafeText | None) -> SafeText:
    return fill("{caption} ({letter})", caption=caption, letter=letter) if letter else caption


def fly(flown: tuple[Flag, ...], axis: Axis, right: float) -> Placement:
    """Give every flag a place beside its pole, in as few rows as will do."""
    return place((_label(flag, axis) for flag in flown), 0, right, rows=ROWS, inline=False)


def lengthened(
    flown: tuple[Flag, ...], places: Placement, axis: Axis, right: float
) -> tuple[tuple[Flag, ...], Placement]:
    """Give flags more of their words where that takes no further row and puts none out."""
    for index, flag in enumerate(flown):
        for caption in flag.longer:
            tried = (*flown[:index], flag.saying(caption), *flown[index + 1 :])
            found = fly(tried, axis, right)
            if found.rows <= places.rows and len(found.unplaced) <= len(places.unplaced):
                flown, places = tried, found
                break
    return flown, places


def _label(flag: Flag, axis: Axis) -> Label:
    x = pole(flag, axis)
    return Label(flag.number, x, flag.width, x - 1, x + 1)


def pole(flag: Flag, axis: Axis) -> float:
    """Return where the flag's line stands."""
    assert flag.at.centre is not None
    return axis.x(flag.at.centre)
