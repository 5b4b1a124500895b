"""A case folder that has been read and found sound."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from mmbuilder.case.decided import Decisions
from mmbuilder.case.department import Department
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.case.previous import PreviousAction
from mmbuilder.case.signoff import SignOffs
from mmbuilder.problem import Problem


@dataclass(frozen=True)
class CaseFolder:
    """The raw case with the folder its files lie in.

    Attributes:
        root: the folder.
        case: the raw case.
        declared: names, numbers and places the author listed in `identifiers.yaml`.
        department: what the department sets for all its cases.
        warnings: faults that do not stop the build.
        previous: rows of the action log that the case names.
        decided: what a reviewer decided about findings in words.
        signed: the reviews of the case, as they were written; `pipeline.signing` says whether they hold.
    """

    root: Path
    case: Case = field(repr=False)
    declared: Declared = field(repr=False)
    department: Department = field(default_factory=Department, repr=False)
    warnings: tuple[Problem, ...] = ()
    previous: tuple[PreviousAction, ...] = field(default=(), repr=False)
    decided: Decisions = field(default_factory=Decisions, repr=False)
    signed: SignOffs = field(default_factory=SignOffs)
