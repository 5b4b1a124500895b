"""The parts of a cause in a line of the note: its level where the words tell one, and what came of it."""

from __future__ import annotations

import re
from functools import cache

from mmbuilder.page.form.layout import read
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._parted import Parted

NAME = "factors/what"


def parted(words: str, known: Known) -> Parted:
    """Take a cause apart: what is said to have come of it goes to how it contributed."""
    what, effect = _joined(words)
    fields = {"row": level_of(words), "contributed": effect}
    return Parted(what, {key: value for key, value in fields.items() if value})


_BECAUSE = re.compile(
    r"(?P<effect>[^.;]+?),?\s+(?:because(?: of)?|due to|owing to)\s+(?P<cause>\S.*)", re.IGNORECASE
)
_LED_TO = re.compile(
    r"(?P<cause>[^.;]+?),?\s+(?:(?:which |this |and )?(?:led to|resulted in|meant that|caused)|so that)\s+"
    r"(?P<effect>\S.*)",
    re.IGNORECASE,
)


def _joined(words: str) -> tuple[str, str]:
    """Cause and effect of a sentence that joins the two; else the words, and nothing."""
    found = _BECAUSE.fullmatch(words) or _LED_TO.fullmatch(words)
    return (found["cause"], found["effect"]) if found else (words, "")


def level_of(words: str) -> str:
    """Return the level that the words tell; empty where they tell none, or several."""
    told = [level for level, shapes in _levels().items() if any(one.search(words) for one in shapes)]
    return told[0] if len(told) == 1 else ""


@cache
def _levels() -> dict[str, list[re.Pattern[str]]]:
    return {
        level: [re.compile(one, re.IGNORECASE) for one in shapes]
        for level, shapes in read("levels.yaml").items()
    }
