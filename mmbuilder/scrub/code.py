"""The code of a case names every file that is written, so it may name nobody."""

from __future__ import annotations

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import CaseInvalid
from mmbuilder.problem import Problem
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.layers import Patterns


def check_code(folder: CaseFolder, index: Index) -> None:
    """Refuse a code that holds something declared, or the form of an identifier.

    Raises:
        CaseInvalid: it does; the problem tells what kind, never what.
    """
    if kind := found_in(folder.case.code, index):
        raise CaseInvalid([_problem(folder, kind)])


def found_in(code: str, index: Index) -> str:
    """Return the kind of identifier that a code holds, or nothing."""
    spaced = code.replace("-", " ")  # a name or number is looked for between its dashes too
    if index.hits(code) or index.hits(spaced):
        return "declared name, place or number"
    found = [span for spans in Patterns().find([code, spaced]) for span in spans]
    return max(found, key=lambda span: span.confidence).kind if found else ""


def _problem(folder: CaseFolder, kind: str) -> Problem:
    return Problem(
        file=str(folder.root / "case.yaml"),
        line=0,
        column=0,
        code="code-names-somebody",
        text="the code of this case holds what could identify somebody",
        found=f"a {kind} in `code`",
        expected="a neutral code",
        why="the code names every file that is written, and file names are read by everybody",
        example="code: eye-02",
    )
