"""Times of day within the sentences of a case, told as slides tell all times: from the index event.

A time of day beside an elapsed one tells when the index event was, to whoever has the log or the rota, and
makes the room reckon: so it goes like a date, whoever the deck is for. One that cannot be counted for
certain is told with the reason; it stays for a review, where the author may remove it or say how long after,
and becomes `[time]` for readers elsewhere. Four bare figures that are perhaps a time and cannot be counted are
asked about: only the author can tell.

Source: practice of case reports and of review meetings (no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from mmbuilder import uses
from mmbuilder.case.counted_time import LOST, OTHER_DAY, Counting, end_of_clause
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.context import Context
from mmbuilder.scrub.plan import Decision, Span

KIND, PERHAPS, LETTER = "time of day", "perhaps a time of day", "C"
_SURE = 0.6
"""Below every pattern: an identifier that holds such figures is told as what it is."""


class TimesOfDay:
    """The times of day in the texts of one case."""

    def __init__(self, case: Case) -> None:
        self._counting = Counting(case)
        self._outside = uses.load(case.use).outside

    def find(self, path: Path, text: str, found: Iterable[Span] = ()) -> Iterator[Span]:
        """Yield each time of day of a text with its stand-in, or with the reason why it stays.

        Args:
            path: where the text stands in the case.
            text: the text.
            found: what else was found in it: a date before a time, or in one clause with it, may be its day.
        """
        if not Context.as_written(path):
            return
        dates = [span.start for span in found if span.letter == LETTER and span.decision is Decision.REPLACE]
        for time in self._counting.find(text, path):
            dated = any(start < end_of_clause(text, time.end) and start != time.start for start in dates)
            why = time.why or (OTHER_DAY if dated else "")
            asked = time.bare and why
            stays = why and not asked and not self._outside
            kind = PERHAPS if asked else KIND
            yield Span(
                *(time.start, time.end, kind, LETTER, LOST if why else time.instead, _SURE),
                decision=Decision.KEEP if stays else Decision.REPLACE,
                reason=why if stays else "",
            )
