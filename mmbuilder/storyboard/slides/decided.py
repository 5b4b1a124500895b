"""What the meeting decided, and how many of each role were there."""

from __future__ import annotations

from mmbuilder.safe.case import Meeting
from mmbuilder.safe.text import fill, join, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Facts, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("what the meeting decided: nothing is recorded yet")


def make(context: Context) -> tuple[Slide, ...]:
    """One part a meeting that left something to tell."""
    parts = map(_blocks, context.case.meetings)
    headline = wording("This is what the meeting decided.")
    return tuple(Slide("decided", headline, blocks) for blocks in parts if blocks)


def _blocks(meeting: Meeting) -> tuple[Block, ...]:
    decided = (Bullets(meeting.decided),) if meeting.decided else ()
    there = join(", ", (fill("{n} {role}", n=n, role=role) for role, n in meeting.attendance if n))
    return (*decided, *((Facts(((wording("Present"), there),)),) if there else ()))
