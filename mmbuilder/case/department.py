"""What a department sets once for all its cases, in `department.yaml` beside or above a case folder."""

from __future__ import annotations

from pydantic import Field

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Part
from mmbuilder.safe.terms import PaperSize, YesNo


class Layouts(Part):
    """Which layout of the department's template serves what, by the name slide software shows."""

    opening: FreeText | None = None
    telling: FreeText | None = None


class Department(Part):
    """A department's settings; a file without one of these keys keeps what stands here."""

    paper: PaperSize = PaperSize.A4
    """Size of the printed sheets."""
    support: FreeText | None = None
    """A line on a private reflection that says where staff find support; it may name nobody."""
    layouts: Layouts = Field(default_factory=Layouts)
    crest_outside: YesNo = YesNo.NO
    """Whether the template's crest stays on a deck for outside; inside it always does."""
    second_reviewer: YesNo = YesNo.NO
    """Whether a final deck needs a second person's review."""
