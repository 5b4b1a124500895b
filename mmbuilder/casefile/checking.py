"""A case folder to a case, or to every fault it has: bytes, slips, schema, rules, in one pass."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from mmbuilder import registry
from mmbuilder.case.decided import Decided, Decisions
from mmbuilder.case.department import Department, Layouts
from mmbuilder.case.freetext import Path as CasePath
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.minutes import Minutes
from mmbuilder.case.model import Case, Governance
from mmbuilder.case.previous import PreviousAction
from mmbuilder.case.signoff import SignOffs
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.files import FileFault, read_bytes
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.casefile.guard import guarded
from mmbuilder.casefile.mark import START, Finding
from mmbuilder.casefile.previous import KEY as PREVIOUS
from mmbuilder.casefile.previous import read as read_log
from mmbuilder.casefile.reader import MOST_BYTES, Source, read
from mmbuilder.casefile.shape import all_keys
from mmbuilder.errors import CaseInvalid
from mmbuilder.packs import meant
from mmbuilder.problem import Problem, Severity
from mmbuilder.resources import templates
from mmbuilder.safe.terms import Use
from mmbuilder.schemas import complete

CASE = "case.yaml"
IDENTIFIERS = "identifiers.yaml"
DECISIONS = "decisions.yaml"
SIGN_OFF = "sign-off.yaml"
DEPARTMENT = "department.yaml"
"""In the case folder, or in the folder above it for all cases there."""
_Model = TypeVar("_Model", bound=BaseModel)

RULES = "mmbuilder.casefile.rules"


@dataclass(frozen=True)
class Checked:
    """What a check found.

    Attributes:
        problems: stops and warnings, by file, line and column.
        folder: the case, where nothing stops it from being built.
    """

    problems: tuple[Problem, ...]
    folder: CaseFolder | None


def check(root: Path, use: Use | None = None, *, instead: bytes | None = None) -> Checked:
    """Read a case folder and tell every fault of it at once. Writes nothing.

    Args:
        root: the folder.
        use: what it is to be built for, where that is not the use named in the file.
        instead: what to read in place of the case file, before it is written there.
    """
    root = root.parent if root.name in (CASE, IDENTIFIERS) else root
    _build_schemas()
    declared, private, told = _identifiers(root)
    department, set_wrong = _department(root)
    decided, undecided = _beside(root, DECISIONS, Decisions())
    signed, unsigned = _beside(root, SIGN_OFF, SignOffs())
    case, problems = _case(root, use, instead, declared or Declared())
    wrong = [*problems, *set_wrong, *undecided, *unsigned]
    everything = tuple(sorted({*guarded(wrong, private), *told}, key=_order))
    if any(problem.stops for problem in everything) or not (case and declared and department):
        return Checked(everything, None)
    previous = read_log(root, case.previous_actions)[0] if case.previous_actions else ()
    return Checked(
        everything,
        CaseFolder(
            root,
            case,
            declared,
            department,
            everything,
            previous,
            decided or Decisions(),
            signed or SignOffs(),
        ),
    )


def load(root: Path, use: Use | None = None) -> CaseFolder:
    """Return the case of a folder, for its own use or for the one given.

    Raises:
        CaseInvalid: it has faults that stop it from being built; all of them are in it.
    """
    checked = check(root, use)
    if checked.folder is None:
        raise CaseInvalid(checked.problems)
    return checked.folder


def load_declared(path: Path) -> Declared:
    """Return a private list of identifiers that lies anywhere.

    Raises:
        CaseInvalid: it has faults; all of them are in it, and none repeats a value.
    """
    _build_schemas()
    declared, _, problems = _declared(path.parent, path.name)
    if declared is None or any(problem.stops for problem in problems):
        raise CaseInvalid(sorted(problems, key=_order))
    return declared


def load_minutes(path: Path) -> Minutes:
    """Return the minutes of a meeting, from a file that lies anywhere.

    Raises:
        CaseInvalid: they have faults; all of them are in it.
    """
    _build_schemas()
    minutes, _, problems = _whole(path.absolute().parent, path.name, Minutes)
    if minutes is None or any(problem.stops for problem in problems):
        raise CaseInvalid(sorted(problems, key=_order))
    return minutes


def _order(problem: Problem) -> tuple[object, ...]:
    return (problem.file, problem.line, problem.column, problem.code, problem.text, problem.found)


# The two files


def _identifiers(root: Path) -> tuple[Declared | None, Source | None, list[Problem]]:
    """Read the private list; a case without one declares nobody, and is told so."""
    if not os.path.lexists(root / IDENTIFIERS):
        return Declared(), None, list(_undeclared(root))
    declared, source, problems = _declared(root, IDENTIFIERS)
    if declared is not None and not any((declared.people, declared.places, declared.numbers, declared.other)):
        problems.append(_nobody(root, "a list without entries"))
    elif source is not None and (root / IDENTIFIERS).read_bytes() == (templates() / IDENTIFIERS).read_bytes():
        problems.append(_nobody(root, "the invented list that a new case starts with"))
    return declared, source, problems


def _department(root: Path) -> tuple[Department | None, list[Problem]]:
    """Read the department's settings; without a file, those that stand in the model."""
    for folder in (root, root.absolute().parent):
        if os.path.lexists(folder / DEPARTMENT):
            settings, _, problems = _whole(folder, DEPARTMENT, Department)
            return settings, problems
    return Department(), []


def _beside(root: Path, name: str, without: _Model) -> tuple[_Model | None, list[Problem]]:
    """Read a private file that a case may do without."""
    if not os.path.lexists(root / name):
        return without, []
    found, _, problems = _whole(root, name, type(without), private=True)
    return found, problems


def _undeclared(root: Path) -> Iterator[Problem]:
    """A list under another name is a list that nobody reads: that stops the build."""
    if not os.path.lexists(root / CASE):
        return
    alike = [entry.name for entry in root.iterdir() if entry.name.casefold().startswith("identif")]
    if alike:
        yield Problem(
            str(root),
            *START,
            "list-misnamed",
            "a file here is named almost like the private list, and would not be read",
            "another name or ending",
            "a file named identifiers.yaml",
            "what it lists would stand on the slides",
        )
    else:
        yield _nobody(root, "no identifiers.yaml")


def _nobody(root: Path, found: str) -> Problem:
    return Problem(
        str(root / IDENTIFIERS),
        *START,
        "nobody-declared",
        "nobody is declared, so names without a title will stand on the slides as you wrote them",
        found,
        "everybody, every place and every number that your notes and pictures name",
        "a declared name is found in every form; an undeclared one often is not",
        "people:\n  - {name: Orla Quennimore, role: patient}",
        severity=Severity.WARN,
    )


def _declared(root: Path, name: str) -> tuple[Declared | None, Source | None, list[Problem]]:
    return _whole(root, name, Declared, private=True)


def _whole(
    root: Path, name: str, model: type[_Model], *, private: bool = False
) -> tuple[_Model | None, Source | None, list[Problem]]:
    """Read a file that is of its model, or is not: no rules run over it."""
    source, problems = _read(root, name, model)
    if source is None or source.tree is None:
        return None, source, problems
    try:
        return model.model_validate(source.tree), source, problems
    except ValidationError as wrong:
        return None, source, problems + _schema_problems(_errors(wrong), source, model, private=private)


def _case(
    root: Path, use: Use | None, instead: bytes | None, declared: Declared
) -> tuple[Case | None, list[Problem]]:
    source, problems = _read(root, CASE, Case, instead)
    if source is None or source.tree is None:
        return None, problems
    try:
        case = Case.model_validate(source.tree)
    except ValidationError as wrong:
        errors = _errors(wrong)
        problems += _schema_problems(errors, source, Case)
        from mmbuilder.casefile.mend import mended

        rest = mended(source.tree, errors)
        return None, problems + (
            _rule_problems(Context(rest[0], root, source, declared), rest[1]) if rest else []
        )
    told = {"specialty": meant(case.specialty) or case.specialty, "use": use or case.use}
    case = case.model_copy(update=told)
    return case, problems + _rule_problems(Context(case, root, source, declared), frozenset())


def _read(
    root: Path, name: str, model: type[BaseModel], instead: bytes | None = None
) -> tuple[Source | None, list[Problem]]:
    try:
        data = instead if instead is not None else read_bytes(root, name, most=MOST_BYTES)
    except FileFault as fault:
        return None, [_unopened(root, name, fault)]
    source = read(data, str(root / name), all_keys(model))
    return source, list(source.problems)


def _unopened(root: Path, name: str, fault: FileFault) -> Problem:
    if fault.code != "file-missing":
        return Problem(str(root / name), *START, fault.code, fault.text, fault.found, fault.expected)
    stem = Path(name).stem
    alike = [other for other in (f"{stem}.yml", f"{name}.txt", f"{stem}.txt") if (root / other).is_file()]
    found = f"{alike[0]}, which is another name" if alike else "nothing of that name"
    return Problem(str(root), *START, fault.code, f"this folder has no {name}", found, f"a file named {name}")


def _errors(wrong: ValidationError) -> list[ErrorDetails]:
    return wrong.errors(include_input=False, include_url=False)


# Faults of form and of meaning


def _schema_problems(
    errors: list[ErrorDetails], source: Source, model: type[BaseModel], *, private: bool = False
) -> list[Problem]:
    from mmbuilder.casefile.wording import findings  # only once something is wrong

    return [
        _placed(source, code, finding) for code, finding in findings(errors, source, model, private=private)
    ]


def _rule_problems(context: Context, filled: frozenset[CasePath]) -> list[Problem]:
    found: list[Problem] = []
    for rule in registry.discover(RULES, "CODE", "WHY", "GOOD", "BAD", "check").values():
        wide = getattr(rule, "WIDE", False)
        found += [
            _placed(context.source, rule.CODE, finding, rule.WHY)
            for finding in rule.check(context)
            if not _touches(finding.path, filled, wide=wide)
        ]
    found += _clock_problems(context, filled)
    found += _log_problems(context, filled)
    told = {(problem.code, problem.line, problem.column) for problem in found}
    return found + [
        problem
        for problem in _readings_problems(context, filled)
        if (problem.code, problem.line, problem.column) not in told
    ]


def _readings_problems(context: Context, filled: frozenset[CasePath]) -> Iterator[Problem]:
    if not any(path[0] in ("clocks", "timeline", "readings") for path in filled):
        for problem in context.readings_problems():
            yield replace(problem, file=context.source.file)


def _log_problems(context: Context, filled: frozenset[CasePath]) -> Iterator[Problem]:
    named = context.case.previous_actions
    if named is not None and (PREVIOUS,) not in filled:
        for problem in read_log(context.root, named)[1]:
            own = problem.file == PREVIOUS  # else it is told where the case names the file
            yield problem if own else replace(problem, file=context.source.file)


def _clock_problems(context: Context, filled: frozenset[CasePath]) -> Iterator[Problem]:
    if any(path[0] == "clocks" for path in filled):
        return  # any clock may be at fault only because of a placeholder
    hidden = _hidden(filled)
    for fault in context.clock_faults():
        severity = Severity.WARN if fault.warns else Severity.STOP
        finding = Finding(
            fault.path, fault.text, fault.found, fault.expected, fault.example, fault.why, severity=severity
        )
        if fault.code not in hidden and not _touches(fault.path, filled):
            yield _placed(context.source, fault.code, finding)


def _hidden(filled: frozenset[CasePath]) -> set[str]:
    """Codes of clock faults that may only follow from an event that was refused."""
    events = [path for path in filled if path[:2] == EVENTS or path == ("timeline",)]
    lost = any(len(path) <= len(EVENTS) + 1 or path[-1] == "id" for path in events)
    untimed = any(path[-1] in ("when", "clock") for path in events)
    return ({"index-event-not-listed"} if lost else set()) | (
        {"index-event-no-time"} if lost or untimed else set()
    )


def _touches(path: CasePath, filled: frozenset[CasePath], *, wide: bool = False) -> bool:
    """Whether a value holds a placeholder or lies in one; `wide` looks at its whole entry of a list."""
    numbered = [count for count, step in enumerate(path, 1) if isinstance(step, int)]
    looked = path[: numbered[0]] if wide and numbered else path
    return bool(path) and any(
        place[: len(looked)] == looked or path[: len(place)] == place for place in filled
    )


def _placed(source: Source, code: str, finding: Finding, why: str = "") -> Problem:
    mark = source.at_key(finding.path) if finding.at_key else source.at_value(finding.path)
    return finding.problem(source.file, mark, code, why)


def _build_schemas() -> None:
    # Those that are made on their own, not within another.
    complete(
        Case, Governance, PreviousAction, Declared, Department, Layouts, Minutes, Decided, Decisions, SignOffs
    )
