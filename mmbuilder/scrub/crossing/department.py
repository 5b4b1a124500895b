"""The department's own line crosses only if nothing in it names anybody; it is never rewritten."""

from __future__ import annotations

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import CaseInvalid
from mmbuilder.problem import Problem
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import EMPTY, SafeText


def support(folder: CaseFolder) -> SafeText:
    """Return the line that says where staff find support.

    Raises:
        CaseInvalid: it names somebody or some place, or holds a number that does.
    """
    from mmbuilder.scrub.declared import Index
    from mmbuilder.scrub.propose import in_texts

    line = folder.department.support
    if line is None:
        return EMPTY
    if in_texts([line.value], Index(folder.declared))[0]:
        raise CaseInvalid([_problem()])
    return SafeText(KEY, line.value)


def _problem() -> Problem:
    return Problem(
        file="department.yaml",
        line=0,
        column=0,
        code="support-names-somebody",
        text="the line of support would name a person, a place or a number",
        found="something that identifies",
        expected="where to turn, by role",
        why="a private reflection may be read by others, and the line would say which hospital it is from",
        example="support: Talk to the staff support lead; the number is on the intranet",
    )
