"""What a department sets once for all its cases, in `department.yaml` beside or above a case folder."""

from __future__ import annotations

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Part
from mmbuilder.safe.terms import PaperSize, YesNo


class Department(Part):
    """A department's settings; a file without one of these keys keeps what stands here."""

    paper: PaperSize = PaperSize.A4
    """Size of the printed sheets."""
    support: FreeText | None = None
    """A line on a private reflection that says where staff find support; it may name nobody."""
    second_reviewer: YesNo = YesNo.NO
    """Whether a final deck needs a second person's review."""
