"""Refusals that tell the author what to write instead, and never repeat a date or free words."""

from __future__ import annotations

from typing import LiteralString

from pydantic_core import PydanticCustomError


def refusal(
    code: LiteralString, text: LiteralString, *, found: str, expected: str, why: str, example: str
) -> PydanticCustomError:
    """Return the error to raise.

    Args:
        code: as listed in DEVELOPERS.md.
        text: one sentence that says what is wrong.
        found: what was found, by kind; times of day may be quoted, dates and words may not.
        expected: the form that would be understood.
        why: why it matters to the case.
        example: a line that would be right.
    """
    beats = {"found": found, "expected": expected, "why": why, "example": example}
    return PydanticCustomError(code, text, beats)
