"""The sign-off of a case, in `sign-off.yaml`: who looked, by role, and what exactly at."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StringConstraints

from mmbuilder.case.model import Part
from mmbuilder.safe.terms import Looked, Reviewer, Use

Digest = Annotated[str, StringConstraints(pattern=r"[0-9a-f]{64}")]
IsoDay = Annotated[str, StringConstraints(pattern=r"\d{4}-\d{2}-\d{2}")]


class Signature(Part):
    """One person who reviewed, by role."""

    role: Reviewer
    on: IsoDay
    looked_at: tuple[Looked, ...] = Field(min_length=1)
    """What the program cannot judge, and this person looked at."""


class Bound(Part):
    """A part of what was signed, and its hash (SHA-256) at the time."""

    part: Annotated[str, StringConstraints(pattern=r"[a-z' ]+( \d+)?")]
    hash: Digest


class SignOff(Part):
    """The review of a case for one use."""

    use: Use
    signatures: Annotated[tuple[Signature, ...], Field(min_length=1)]
    program: str
    """Version of mmbuilder."""
    bound: tuple[Bound, ...]


class SignOffs(Part):
    """The reviews of a case, one for each use it was signed for."""

    signed: tuple[SignOff, ...] = ()
