"""Hours of night are two times of day, and the nights they belong to are to be shown."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.stamp import DAY_STEP
from mmbuilder.case.when import When
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.moment import Known
from mmbuilder.safe.terms import YesNo

CODE = "night-half-said"
WHY = "what is shaded has to be what the author calls night"
GOOD = 'timeline: {night: "yes", night from: "21:00", night to: "07:30"}'
BAD = 'timeline: {night: "yes", night from: "21:00"}'

_EXAMPLE = "night: yes\nnight from: 20:00\nnight to: 08:00"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield hours without their other end, without nights to show, or that are no times of day."""
    told = ctx.case.timeline
    hours = {"night from": told.night_from, "night to": told.night_to}
    given = [key for key, when in hours.items() if when is not None]
    for key, when in hours.items():
        if when is not None and not _time_of_day(when):
            yield _finding(key, "an hour of night is a time of day", "no plain time of day", "such as 20:00")
    if len(given) == 1:
        other = "night to" if given == ["night from"] else "night from"
        yield _finding(given[0], "night has one end only", f"`{given[0]}` alone", f"`{other}` too")
    elif given and told.night is not YesNo.YES:
        yield _finding(
            given[0], "hours of night are given, and no night is shown", "no `night: yes`", "`night: yes`"
        )


def _time_of_day(when: When) -> bool:
    stamp = when.first
    plain = when.known is Known.EXACT and not when.elapsed and stamp is not None
    return plain and stamp is not None and stamp.day is None and stamp.step != DAY_STEP


def _finding(key: str, text: str, found: str, expected: str) -> Finding:
    return Finding(("timeline", key), text, found=found, expected=expected, example=_EXAMPLE)
