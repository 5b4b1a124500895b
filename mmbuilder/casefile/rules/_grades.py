"""What rules on grades ask of one, whichever scale it is on."""

from __future__ import annotations

import re
from collections.abc import Sequence

from mmbuilder.case.model import Grade

NOT_APPLICABLE = "not applicable"
_SAYS_NOTHING = ("0", NOT_APPLICABLE)
"""Grades that say nothing of an event or a complication; 0 is ClassIntra's ideal course."""


def says_something(given: Grade) -> bool:
    """Whether a grade is of something that befell the patient."""
    return given.grade not in _SAYS_NOTHING


def complication(given: Grade) -> tuple[str, ...]:
    """The words of what a grade is of, whatever their case and signs; none where it does not say."""
    return tuple(re.findall(r"\w+", given.complication.plain)) if given.complication else ()


def of_one_among_several(given: Grade, grades: Sequence[Grade]) -> bool:
    """Whether a grade is of one complication, where others are graded beside it."""
    mine = complication(given)
    return bool(mine) and any(complication(one) not in ((), mine) for one in grades)
