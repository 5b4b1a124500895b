"""What each use of a case shows, in which order, for how long: one data file a use."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Literal

import yaml
from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator, model_validator

from mmbuilder import own_yaml
from mmbuilder.errors import PackInvalid
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.terms import Course, Use
from mmbuilder.safe.text import SafeText, join, ours
from mmbuilder.schemas import complete


class Planned(BaseModel):
    """One entry of a use: a slide kind, its minutes, and what it needs to know.

    Attributes:
        frames, decisions: how many of each the course stops at; a list of decisions tells all of them if 0.
        slices: whether the chart is shown again, cut, before each decision.
        joined: whether a marked frame stands beside the options of the decision that follows it.
        choice: words under a choice, up to which what was not chosen and what could be seen stand there.
        strongest: how many factors, or previous actions, the slide shows.
        facts: names of the lines that the slide tells, in order; all of them by default.
        brief: whether it is told in fewer lines, for a paper of one page.
        when: only in a story of this kind; in every story if None.
        cut: its turn to be left out when time is short, from 1; 0 for what a meeting must have.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    kind: str
    minutes: float = Field(default=1, gt=0)
    frames: int = 0
    decisions: int = 0
    slices: bool = False
    joined: bool = False
    choice: int = 0
    strongest: int = 5
    facts: tuple[str, ...] = ()
    brief: bool = False
    when: Course | None = None
    cut: int = Field(default=0, ge=0)


class Further(Planned):
    """What comes in where the slides leave time: a slide more, or more of what a slide shows.

    Attributes:
        after: the slide kind that a slide more stands behind; empty for one that is planned already.
        anyway: whether it comes in although all it tells stands on some slide, if only as a mark on a chart.
    """

    after: str = ""
    anyway: bool = False

    def added_to(self, spec: UseSpec) -> UseSpec:
        """Return the use with it: what is said here takes the place of what its plan says."""
        said = {name: getattr(self, name) for name in self.model_fields_set - {"after", "anyway"}}
        slides: list[Planned] = []
        for entry in spec.slides:
            slides.append(entry.model_copy(update=said) if entry.kind == self.kind else entry)
            if entry.kind == self.after:
                slides.append(Planned(**said))
        return spec.model_copy(update={"slides": tuple(slides)})


class Fewer(Planned):
    """What is told shorter, or on one slide instead of two, where there are too many.

    Attributes:
        instead: the slide kind that it also tells, which is left out; none if empty.
        sparse: lines up to which one slide tells both in any case: two would stand half empty.
    """

    instead: str = ""
    sparse: int = Field(default=0, ge=0)

    def put_into(self, spec: UseSpec) -> UseSpec:
        """Return the use with it: what is said here takes the place of what its plan says."""
        said = {name: getattr(self, name) for name in self.model_fields_set - {"instead", "sparse"}}
        slides = (
            entry.model_copy(update=said) if entry.kind == self.kind else entry
            for entry in spec.slides
            if entry.kind != self.instead
        )
        return spec.model_copy(update={"slides": tuple(slides)})


class Paper(BaseModel):
    """A paper that goes with the deck: slide kinds shown whole, or a copy made of the deck's own slides.

    Attributes:
        name: what it is called, also in the name of its file.
        formats: how it is written; see `formats.papers`.
        slides: slide kinds in order, each by its name alone or with what it needs to know.
        copy_: who a copy of the deck is for; see `storyboard.copies`.
        pages: how many pages it may take; no limit if None.
        upright: portrait rather than landscape.
        subtitle: said after the title of the case.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    name: str
    formats: tuple[str, ...] = Field(min_length=1)
    slides: tuple[Planned, ...] = ()
    copy_: str | None = Field(default=None, alias="copy")
    pages: int | None = None
    upright: bool = False
    subtitle: str = ""

    @field_validator("slides", mode="before")
    @classmethod
    def _by_name(cls, listed: list[object]) -> list[object]:
        return [{"kind": one} if isinstance(one, str) else one for one in listed]

    @model_validator(mode="after")
    def _of_one_kind(self) -> Paper:
        if bool(self.slides) == (self.copy_ is not None):
            raise ValueError("a paper has either slides or a copy")
        return self

    @property
    def title(self) -> SafeText:
        """Its name, as the paper shows it."""
        return ours(KEY, self.name)

    def entitled(self, title: SafeText) -> SafeText:
        """The title of the case with what this paper says after it."""
        return join(": ", (title, ours(KEY, self.subtitle)))

    @property
    def slug(self) -> str:
        """Its name, as its file has it."""
        return self.name.replace(" ", "-")


class UseSpec(BaseModel):
    """A use, as its file says."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    use: Use
    minutes: float = Field(gt=0)
    discussion: float = Field(default=0, ge=0)
    """Minutes of them that are the room's."""
    questions: float = Field(default=0, ge=0)
    """Minutes for questions after the last slide, beside `minutes`."""
    most: int | None = Field(default=None, gt=0)
    """Slides it may have; as many as it takes if None."""
    age: Literal["years", "decade"]
    outside: bool = False
    """Whether it leaves the department: consent is asked for, and no exact age or time of day is told."""
    closing: str
    slides: tuple[Planned, ...] = Field(min_length=1)
    fewer: tuple[Fewer, ...] = ()
    further: tuple[Further, ...] = ()
    """What comes in where the slides leave time, one after the other; what does not fit is passed over."""
    papers: tuple[Paper, ...] = ()
    log: tuple[str, ...] = ()
    """Formats of the action log; none where the use keeps none."""

    @property
    def confidentiality(self) -> SafeText:
        """The line at the foot of every slide."""
        return ours(KEY, self.closing)

    def planned(self, kind: str) -> Planned | None:
        """The entry of that slide kind; None where the use has no such slide."""
        return next((entry for entry in self.slides if entry.kind == kind), None)


@cache
def load(use: Use) -> UseSpec:
    """Read the file of a use.

    Raises:
        PackInvalid: the file is missing, or not of the form above.
    """
    name = f"{use.value.replace(' ', '_')}.yaml"
    try:
        text = files("mmbuilder.uses").joinpath(name).read_text("utf-8")
        complete(UseSpec)
        return UseSpec.model_validate(own_yaml.read(text))
    except (OSError, yaml.YAMLError, ValidationError) as fault:
        raise PackInvalid(f"uses/{name} cannot be used: {type(fault).__name__}") from fault
