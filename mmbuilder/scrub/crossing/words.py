"""The mint for words: a text of the case with its findings replaced, as safe text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.safe.direction import runs_left
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import EMPTY, SafeText, isolated, join
from mmbuilder.scrub.crossing.spoken import spoken
from mmbuilder.scrub.detectors import date
from mmbuilder.scrub.plan import Decision, RedactionPlan, Span
from mmbuilder.scrub.walk import Texts


class PlanDoesNotFit(ValueError):
    """The plan names places that this text does not have. It holds no text."""


def replace_all(text: str, spans: Sequence[Span]) -> SafeText:
    """Return the text with every span that is not to be kept replaced by its stand-in.

    Raises:
        PlanDoesNotFit: spans overlap, are out of order, or lie outside the text.
    """
    gone = [span for span in spans if span.decision is Decision.REPLACE]
    # In a text that runs from the right a stand-in is foreign, also where it comes first.
    foreign = runs_left(_without(text, gone))
    pieces: list[SafeText] = []
    last = 0
    for span in spans:
        if not last <= span.start < span.end <= len(text):
            raise PlanDoesNotFit("a place of the plan is not in this text; make a new plan for the case")
        if span.decision is Decision.REPLACE:
            stand_in = spoken(span.stand_in)
            pieces += [SafeText(KEY, text[last : span.start]), isolated(stand_in) if foreign else stand_in]
            last = span.end
    rest = SafeText(KEY, text[last:])
    return join("", (*pieces, rest)) if pieces else rest


def _without(text: str, gone: Sequence[Span]) -> str:
    edges = [0, *(edge for span in gone for edge in (span.start, span.end)), len(text)]
    return " ".join(text[start:end] for start, end in zip(edges[::2], edges[1::2], strict=True))


class Words:
    """The words of one case, scrubbed by its plan."""

    def __init__(self, texts: Texts, plan: RedactionPlan) -> None:
        self._texts = texts
        self._spans = plan.texts
        unknown = set(plan.texts) - {item.path for item in texts.items}
        if unknown:
            raise PlanDoesNotFit(f"the plan names {len(unknown)} texts that this case does not have")

    def safe(self, text: FreeText | None) -> SafeText:
        """Return a text of the case as safe text; empty where there is none."""
        return EMPTY if text is None else self.at(self._texts.place(text), text.value)

    def every(self, texts: Iterable[FreeText]) -> tuple[SafeText, ...]:
        """Return several."""
        return tuple(self.safe(text) for text in texts)

    def dated(self, text: FreeText | None) -> bool:
        """Whether a date of this text was replaced by an offset from another day; `[date]` tells of none."""
        spans = () if text is None else self._spans.get(self._texts.place(text), ())
        replaced = (span for span in spans if span.kind == date.KIND and span.decision is Decision.REPLACE)
        return any(span.stand_in != "[date]" for span in replaced)

    def at(self, path: Path, value: str) -> SafeText:
        """Return the text that stands at `path`, such as the name of a clock."""
        return replace_all(value, self._spans.get(path, ()))
