"""What the meeting decided, and how many of each role were there."""

from __future__ import annotations

from mmbuilder.safe.case import Meeting
from mmbuilder.safe.text import fill, join, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Facts, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("what the meeting decided: nothing is recorded yet")


def make(context: Context) -> tuple[Slide, ...]:
    """One part a meeting."""
    return tuple(map(_part, context.case.meetings))


def _part(meeting: Meeting) -> Slide:
    blocks: list[Block] = [Bullets(meeting.decided)] if meeting.decided else []
    if meeting.attendance:
        there = join(", ", (fill("{n} {role}", n=n, role=role) for role, n in meeting.attendance if n))
        blocks.append(Facts(((wording("Present"), there),)))
    return Slide("decided", wording("This is what the meeting decided."), tuple(blocks))
