"""What is asked of a build, and what it gives back."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from mmbuilder.errors import MMBuilderError
from mmbuilder.problem import Problem
from mmbuilder.safe.terms import Use


@dataclass(frozen=True)
class BuildOptions:
    """What was asked for.

    Attributes:
        out: folder for the results; made if it is not there.
        use: who the deck is for; each case's own use if None.
        template: a department's own .pptx; the house template if None.
        final: asks for a deck without the DRAFT stamp.
        fresh: ignore what earlier builds kept.
        skip_names: do without the search for names that nobody declared; the report says so.
        working: show every step of a computed figure.
        language: tag of the language of fixed words; the case's own if None.
        opening_layout, telling_layout: names of layouts of the template; the department's own if empty.
        need_pictures: refuse to build where a part that looks at pictures is not installed.
    """

    out: Path
    use: Use | None = None
    template: Path | None = None
    final: bool = False
    fresh: bool = False
    skip_names: bool = False
    need_pictures: bool = False
    working: bool = False
    language: str | None = None
    opening_layout: str = ""
    telling_layout: str = ""


@dataclass(frozen=True)
class BuildReport:
    """What was built. Holds counts and our own words only, nothing of the case.

    Attributes:
        code: the code of the case.
        deck, report, page: the files written; the page is the report for people to read.
        papers: the paper that goes with the deck, in the order of the use.
        slides: number of slides.
        seconds: time budget of the deck.
        needs: seconds that its words, pictures and silences take (see `storyboard.timing`).
        questions: seconds for questions after the last slide.
        too_many: slides above what the use may have.
        to_cut: numbers of the slides to leave out so that it fits and the room has its time.
        removed: replacements by kind.
        detectors: every detector that ran.
        unchecked: what nothing looked at.
        rules: which edition of a rule was applied, where it matters.
        recognisable: circumstances that may single somebody out although no identifier is left.
        circumstances: all circumstances told, in closed words; `across` compares them.
        across: what this case has in common with others of the same call.
        left_out: slides that the use asks for and the case has nothing for.
        untold: what the case holds and no slide tells, counted by its sort.
        too_long: papers that were cut short to keep to the pages of their use, or took more.
        warnings: faults that did not stop the build.
        kept: a deck that somebody had changed since it was built, put aside under this name.
        reused: nothing had changed, so the earlier result was written again.
        reviewed_by: roles of those who reviewed it; empty for a draft.
    """

    case: Path
    code: str
    deck: Path
    report: Path
    page: Path
    slides: int
    seconds: int
    needs: int
    questions: int
    too_many: int
    to_cut: tuple[int, ...]
    removed: dict[str, int]
    detectors: tuple[str, ...]
    unchecked: tuple[str, ...]
    rules: tuple[str, ...]
    recognisable: tuple[str, ...]
    circumstances: tuple[str, ...]
    left_out: tuple[str, ...]
    untold: tuple[str, ...]
    too_long: tuple[str, ...]
    warnings: tuple[Problem, ...] = field(default=(), repr=False)
    across: tuple[str, ...] = ()
    papers: tuple[Path, ...] = ()
    kept: Path | None = None
    reused: bool = False
    reviewed_by: str = ""

    @property
    def why_cut(self) -> str:
        """Why slides have to be left out, if any have: which limit is meant, time or number."""
        many = f"{self.slides} slides, where {self.slides - self.too_many} are allowed"
        if self.needs > self.seconds:
            return f"too long, and {many}" if self.too_many else "too long"
        return many if self.too_many else "too little time for discussion"


@dataclass(frozen=True)
class Failure:
    """A case that could not be built, among others that could."""

    case: Path
    error: MMBuilderError
