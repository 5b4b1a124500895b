"""A scrubbed case becomes slides, in the order and the time that its use asks for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate

from mmbuilder import packs, registry, uses
from mmbuilder.analysis import build_timeline, cause_grid
from mmbuilder.analysis.cause_grid import CauseGrid
from mmbuilder.analysis.timeline import Timeline
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.terms import Course, PaperSize, Use, YesNo, term
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, wording
from mmbuilder.storyboard.blocks import Paper, Sheet, Slide, Storyboard
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.timing import Timing, guessed, needed, timing, written
from mmbuilder.storyboard.untold import untold

_KINDS = "mmbuilder.storyboard.slides"
_COPIES = "mmbuilder.storyboard.copies"


def compose(
    case: ScrubbedCase, use: Use | None = None, *, draft: bool = True, working: bool = False
) -> Storyboard:
    """Make the storyboard of a case.

    Args:
        case: the scrubbed case.
        use: who it is for; the case's own use if not given.
        draft: whether the removal of identifiers still waits for its review.
        working: whether every step of a computed figure is shown.

    Raises:
        PackInvalid: the file of the use is wrong.
        KeyError: the file of the use names a slide kind that does not exist.
    """
    return Telling.of(case, use, draft=draft, working=working).deck


def compose_papers(
    case: ScrubbedCase,
    deck: Storyboard,
    use: Use | None = None,
    *,
    size: PaperSize = PaperSize.A4,
    draft: bool = True,
    working: bool = False,
) -> tuple[Paper, ...]:
    """Make the storyboards of the paper that goes with a deck.

    Arguments and errors as for `compose`; copies are made of `deck`, for sheets of a size.
    """
    telling = Telling.of(case, use, draft=draft, working=working)
    return tuple(telling.paper(planned, deck, size) for planned in telling.spec.papers)


@dataclass(frozen=True)
class Telling:
    """A case as a use tells it, with what is computed from it once for all its slides and papers."""

    case: ScrubbedCase
    spec: uses.UseSpec
    timeline: Timeline
    grid: CauseGrid
    draft: bool
    working: bool

    @classmethod
    def of(
        cls, case: ScrubbedCase, use: Use | None = None, *, draft: bool = True, working: bool = False
    ) -> Telling:
        """Return the telling: in fewer slides where there are too many, with more where that fits.

        Arguments and errors as for `compose`.
        """
        spec = uses.load(use or case.use)
        told = cls(case, spec, build_timeline(case), cause_grid(case), draft, working)
        for step in spec.fewer:
            less = replace(told, spec=step.put_into(told.spec))
            if told.guessed.too_many > less.guessed.too_many or _sparse(less.deck, step):
                told = less
        for added in spec.further:
            more = replace(told, spec=added.added_to(told.spec))
            if more.guessed.fits and (added.anyway or _tells_more(case, more.deck, told.deck)):
                told = more
        return told

    @cached_property
    def deck(self) -> Storyboard:
        """The deck, its slides in the order and the time of the use."""
        slides, left_out = self.slides(_ordered(self.case, self.spec))
        return self.board(_fitted(slides, self.spec.minutes), left_out)

    @cached_property
    def guessed(self) -> Timing:
        """The deck timed with the sheets that its slides will take."""
        slides = tuple(replace(slide, sheets=guessed(slide)) for slide in self.deck.slides)
        return timing(replace(self.deck, slides=slides))

    def paper(self, planned: uses.Paper, deck: Storyboard, size: PaperSize = PaperSize.A4) -> Paper:
        """Return one of the papers of the use; `deck` and `size` as for `compose_papers`."""
        board = self._copied(planned.copy_, deck) if planned.copy_ else self._written(planned)
        board = replace(board, title=planned.entitled(board.title), paper=planned.title)
        return Paper(planned.slug, planned.formats, board, Sheet(size, planned.upright, planned.pages))

    def _copied(self, kind: str, deck: Storyboard) -> Storyboard:
        copied: Storyboard = registry.discover(_COPIES, "make")[kind].make(deck, self.case)
        return copied

    def _written(self, planned: uses.Paper) -> Storyboard:
        slides, left_out = self.slides(planned.slides)
        return self.board(tuple(slides), left_out)

    def slides(self, entries: tuple[uses.Planned, ...]) -> tuple[list[Slide], tuple[SafeText, ...]]:
        """Return the slides of these entries, and the reason for each entry that made none."""
        kinds = registry.discover(_KINDS, "MISSING", "make")
        slides: list[Slide] = []
        left_out: list[SafeText] = []
        for planned in (entry for entry in entries if entry.when in (None, self.case.course)):
            given = Context(self.case, self.timeline, self.grid, self.spec, planned, self.working)
            made = kinds[planned.kind].make(given)
            slides.extend(replace(slide, cut=planned.cut) for slide in made)
            if not made:
                left_out.append(kinds[planned.kind].MISSING)
        return slides, tuple(left_out)

    def board(self, slides: tuple[Slide, ...], left_out: tuple[SafeText, ...]) -> Storyboard:
        """Return the slides as a storyboard."""
        return Storyboard(
            code=self.case.code,
            title=self.case.title,
            use=term(self.spec.use),
            slides=slides,
            banner=_banner(self.case, self.spec.confidentiality, self.draft),
            draft=self.draft,
            left_out=left_out,
            discussion=round(self.spec.discussion * 60),
            questions=round(self.spec.questions * 60),
            most=self.spec.most,
        )


def _ordered(case: ScrubbedCase, spec: uses.UseSpec) -> tuple[uses.Planned, ...]:
    """Return the entries of the use, in the order of the specialty where its pack has one.

    A kind that the pack names and the use does not plan gets one minute; a kind that the pack
    does not name is left out.
    """
    order = next(
        (pack.slides.get(spec.use, ()) for pack in packs.every() if pack.title == case.specialty), ()
    )
    if not order:
        return spec.slides
    planned = {entry.kind: entry for entry in spec.slides}
    return tuple(planned.get(kind, uses.Planned(kind=kind)) for kind in order)


def _sparse(shorter: Storyboard, step: uses.Fewer) -> bool:
    """Whether one slide instead of two has so few lines that two would stand half empty."""
    return any(slide.kind == step.kind and written(slide) <= step.sparse for slide in shorter.slides)


def _tells_more(case: ScrubbedCase, longer: Storyboard, deck: Storyboard) -> bool:
    """Whether the longer deck leaves less of the case untold."""
    left, before = (sum(one.left for one in untold(case, board.slides)) for board in (longer, deck))
    return left < before


def _fitted(slides: list[Slide], minutes: float) -> tuple[Slide, ...]:
    """Give the time of slides that were left out back to the pauses, and take from all what is added.

    Each gives in proportion to what it has above its need; if that does not do, the pauses give the rest.
    """
    spare = round(minutes * 60) - sum(slide.seconds for slide in slides)
    if spare < 0:
        slides, spare = _given(slides, -spare)
    pauses = [index for index, slide in enumerate(slides) if slide.pause]
    if spare == 0 or not pauses:
        return tuple(slides)
    share, rest = divmod(spare, len(pauses))
    for place, index in enumerate(pauses):
        extra = share + (1 if place < rest else 0)
        slides[index] = replace(slides[index], seconds=slides[index].seconds + extra)
    return tuple(slides)


def _given(slides: list[Slide], wanted: int) -> tuple[list[Slide], int]:
    """Return the slides less what they give of the seconds wanted, and what is still wanted, as a loss."""
    above = [max(0, slide.seconds - needed(slide)) for slide in slides]
    given = min(wanted, sum(above))
    ends = [round(end * given / sum(above)) if given else 0 for end in accumulate(above)]
    less = (
        replace(slide, seconds=slide.seconds - (end - start))
        for slide, start, end in zip(slides, (0, *ends), ends, strict=False)
    )
    return list(less), given - wanted


def _banner(case: ScrubbedCase, closing: SafeText, draft: bool) -> SafeText:
    status = _legal(case) if case.course is Course.DEATH else EMPTY
    line = join(" ", (wording("Confidential."), status, closing))
    if draft:
        return fill("{line} Identifiers not yet reviewed.", line=line)
    return fill("{line} Identifiers removed, reviewed by {role}.", line=line, role=case.reviewed)


def _legal(case: ScrubbedCase) -> SafeText:
    """Where the law stands after a death; said on every slide, and never guessed."""
    match case.governance.coroner, case.governance.legal_hold:
        case YesNo.YES, YesNo.YES:
            return wording("With the coroner and on legal hold: internal only.")
        case YesNo.YES, _:
            return wording("With the coroner: internal only.")
        case _, YesNo.YES:
            return wording("On legal hold: internal only.")
        case YesNo.NO, YesNo.NO:
            return wording("Not with the coroner; no legal hold.")
        case YesNo.NO, _:
            return wording("Legal hold not recorded: internal only.")
        case _, YesNo.NO:
            return wording("Coroner not recorded: internal only.")
        case _:
            return wording("Coroner and legal hold not recorded: internal only.")
