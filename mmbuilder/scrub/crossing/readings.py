"""Readings: values over minutes from the index event; headings and file names stay behind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mmbuilder.case.clocks import Reckoner
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import CaseInvalid
from mmbuilder.safe import case as safe
from mmbuilder.scrub.crossing.words import Words

if TYPE_CHECKING:
    from mmbuilder.casefile.readings import RawSeries


def series(folder: CaseFolder, words: Words, reckoner: Reckoner) -> Iterator[safe.Series]:
    """Yield every line of every readings file.

    Raises:
        CaseInvalid: a file cannot be read any more as it was when the case was checked.
    """
    if not folder.case.readings:
        return
    from mmbuilder.casefile.readings import read

    for place, raw in enumerate(folder.case.readings):
        lines, problems = read(folder.root, raw, reckoner, ("readings", place))
        if any(problem.stops for problem in problems):
            raise CaseInvalid(problems)
        yield from (_line(line, words) for line in lines)


def _line(raw: RawSeries, words: Words) -> safe.Series:
    return safe.Series(
        name=words.safe(raw.name),
        unit=words.safe(raw.unit),
        points=raw.points,
        artefacts=raw.artefacts,
        gaps=tuple(safe.Gap(gap.start, gap.end, words.safe(gap.why)) for gap in raw.gaps),
        dropped=raw.dropped,
        alarm_low=raw.alarm_below,
        alarm_high=raw.alarm_above,
    )
