"""Every word a reader sees of a figure of the clinic, kept as pages.

That the figures are right, the EXAMPLES and the printed tables say, each with its source. These pages
hold the words around them: what is asked for and within which limits (ours, common practice), inputs as
they were understood, steps, notes, faults, reasons of grades. They are ours; after a change run `pytest tests/clinic/test_words.py --force-regen`, then read the diff.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import product
from pathlib import Path
from typing import get_args

import pytest
from pytest_regressions.file_regression import FileRegressionFixture

from mmbuilder.clinic import InputFault, catalogue, work
from mmbuilder.clinic.inputs import Chosen, Counted, Kind, Many, Measured, Written
from mmbuilder.clinic.severity import agreement, classintra, clavien_dindo, harm, merp
from mmbuilder.clinic.severity.course import CARE, Course, Loss, Symptoms
from mmbuilder.clinic.severity.implied import Implied
from tests.clinic.test_edges import ON_THE_LIMIT, TOLD
from tests.clinic.test_severity import COURSES, PRINTED
from tests.clinic.test_working import IMPOSSIBLE

PAGES = Path(__file__).with_name("pages")

MORE = [
    ("apgar", {"heart": "2", "breathing": "1", "tone": "1", "grimace": "2", "colour": "1"}),
    ("dilution", {"strength": "40 mg/mL", "drawn": "1 mL", "diluent": "4 mL", "written strength": "10 mg/mL"}),
    ("early warning score", {"written": "3", "respiration": "2", "saturation": "1", "oxygen": "2"}),
    ("eye grade", {"scale": "LOCS III cortical", "grade": "2.5"}),
    ("gestation", {"days to due date": "-3"}),
    ("ischaemia time", {"kind": "warm", "from to": "23:40-00:25"}),
    ("mast cell tryptase", {"acute": "5-11 µg/L", "baseline": "4 µg/L"}),
    ("meld", {"version": "original 2001", "bilirubin": "40 mg/dL", "inr": "6", "creatinine": "1.5 mg/dL"}),
    ("meld", {"version": "original 2001", "bilirubin": "2 mg/dL", "inr": "1", "creatinine": "1 mg/dL", "sodium": "130 mmol/L", "sex": "male"}),
    ("meld", {"version": "3.0", "bilirubin": "90 mg/dL", "inr": "9", "creatinine": "5 mg/dL", "sodium": "120 mmol/L", "albumin": "10 g/L", "sex": "female"}),
    ("visual acuity", {"acuity": "6/12-1"}),
    ("visual acuity", {"acuity": "6/6+2"}),
    ("visual acuity", {"acuity": "6/9+1"}),
]  # fmt: skip
"""What brings out a note that no example has."""

REFUSED = [
    ("meld", {"version": "3.0", "bilirubin": "2 mg/dL", "inr": "1", "creatinine": "1 mg/dL"}),
    ("cumulative dose", {"entries": ["1 mg", "2 mL"]}),
    ("cumulative dose", {"entries": ["1 mg or 2 mg"] * 7}),
    ("early warning score", {"written": "3"}),
    ("eye grade", {"scale": "Oxford", "grade": "6"}),
    ("eye grade", {"scale": "LOCS III cortical", "grade": "6.0"}),
    ("glasgow coma scale", {"eyes": "5", "smell": "sweet"}),
    ("mean arterial pressure", {"systolic": "90", "diastolic": "a lot"}),
]


def _worked(name: str, given: Mapping[str, str | Sequence[str]]) -> Iterator[str]:
    told = work(name, given)
    yield f"{name}: " + " | ".join(
        f"{key} = {said if isinstance(said, str) else '; '.join(said)}" for key, said in given.items()
    )
    yield from (f"    as  {key}: {said}" for key, said in told.inputs)
    yield from (f"    is  {answer}" for answer in told.answers)
    yield from (f"    or  {answer}" for answer in told.disputed)
    yield from (f"    by  {step}" for step in told.steps)
    yield from (f"    but {note}" for note in told.notes)


def _refused(name: str, given: Mapping[str, str | Sequence[str]]) -> Iterator[str]:
    with pytest.raises(InputFault) as told:
        work(name, given)
    yield f"{name}: {told.value if len(told.value.faults) < 3 else f'{len(told.value.faults)} faults'}"
    for fault in told.value.faults:
        yield f"    {fault.name}: {fault.found} | {fault.expected} | {fault.why} | {fault.example}"


def _graded(given: Implied) -> str:
    return " | ".join(
        part
        for part in (given.scale, given.grade, given.because, given.rule, given.source, given.note)
        if part
    )


def _page(lines: Iterable[str]) -> str:
    return "\n".join(lines) + "\n"


def _check(page: str, name: str, file_regression: FileRegressionFixture) -> None:
    file_regression.check(page, extension=".txt", encoding="utf-8", fullpath=PAGES / f"{name}.txt")


def _asked(kind: Kind) -> str:
    match kind:
        case Measured():
            also = "".join(f", or 1 {unit} as {convert(1.0):.6g}" for unit, convert in kind.also)
            turns = f", turns at {', '.join(f'{at:g}' for at in kind.turns)}" if kind.turns else ""
            bare = ", also without its unit" if kind.bare else ""
            return f"{kind.low:.12g} to {kind.high:.12g} {kind.unit}{also}{turns}{bare}"
        case Counted():
            return f"{kind.low:.12g} to {kind.high:.12g}{', whole' if kind.whole else ''}"
        case Chosen():
            return "; ".join(kind.words)
        case Many():
            return f"{kind.least} or more of: {_asked(kind.kind)}"
        case Written():
            return f"{kind.expected}: {kind.example}"
    raise TypeError("a kind of input that this page does not tell")


def test_the_page_of_what_is_asked_for(file_regression: FileRegressionFixture) -> None:
    lines = [
        f"{name}: {key}{'' if kind.required else ' (may be left out)'}: {_asked(kind)}"
        for name, leaf in catalogue().items()
        for key, kind in leaf.INPUTS.items()
    ]
    _check(_page(lines), "asked", file_regression)


def test_the_page_of_what_was_worked_out(file_regression: FileRegressionFixture) -> None:
    examples = [(name, example.given) for name, leaf in catalogue().items() for example in leaf.EXAMPLES]
    limits = [(name, given) for name, given, _ in (*ON_THE_LIMIT, *TOLD)]
    lines = (line for name, given in (*examples, *MORE, *limits) for line in _worked(name, given))
    _check(_page(lines), "worked", file_regression)


def test_the_page_of_what_was_refused(file_regression: FileRegressionFixture) -> None:
    impossible = [(name, given) for name, given, _ in IMPOSSIBLE]
    nothing = [
        (name, {}) for name, leaf in catalogue().items() if any(k.required for k in leaf.INPUTS.values())
    ]
    lines = (line for name, given in (*impossible, *REFUSED, *nothing) for line in _refused(name, given))
    _check(_page(lines), "refused", file_regression)


def test_the_page_of_complications(file_regression: FileRegressionFixture) -> None:
    treatments = [*([word] for word in clavien_dindo.TREATMENTS), *(row[1] for row in PRINTED)]
    given = [
        clavien_dindo.implied(words, at_discharge=still)
        for words in treatments
        for still in (None, True, False)
    ]
    lines = [_graded(one) for one in given if one is not None]
    lines += [
        _graded(classintra.implied(treatment, symptoms))
        for treatment, symptoms in product(classintra.TREATMENT, classintra.SYMPTOMS)
    ]
    lines += [_graded(classintra.implied("none", "mild", left_out=word)) for word in classintra.NOT_COUNTED]
    lines += [_graded(classintra.implied("none", "mild", inside=False))]
    lines += [
        str(clavien_dindo.challenge("I", clavien_dindo.implied(["death"]))),
        str(clavien_dindo.challenge("I", clavien_dindo.implied(["antibiotics"]))),
        str(clavien_dindo.challenge_headline("II", ["II", "IIIb", "IIIbd"])),
        str(classintra.challenge("I", classintra.implied("minor", "mild"))),
    ]
    _check(_page(lines), "complications", file_regression)


def test_the_page_of_harm(file_regression: FileRegressionFixture) -> None:
    printed = [course for course, *_ in COURSES]
    made = [
        Course(symptoms=symptoms, care=care, longer_stay=longer, loss=loss)
        for symptoms, care, longer, loss in product(get_args(Symptoms), CARE, (True, False), get_args(Loss))
    ]
    said: dict[str, None] = {}
    lines = []
    for course in (*printed, *made):
        grades = (merp.implied(course), harm.icps(course), harm.ahrq(course))
        told = [*map(_graded, grades), *map(str, agreement.disagreements(course))]
        said |= dict.fromkeys(told)
        places = [list(said).index(sentence) + 1 for sentence in told]
        lines.append(f"{_course(course)}: {' '.join(map(str, places))}")
    challenges = (
        merp.challenge("C", merp.implied(Course(care="monitoring"))),
        harm.challenge("none", harm.icps(Course(longer_stay=True))),
    )
    numbered = (f"{place} {sentence}" for place, sentence in enumerate(said, start=1))
    _check(_page([*numbered, *map(str, challenges), "", *lines]), "harm", file_regression)


def _course(course: Course) -> str:
    facts = {
        "did not occur": not course.occurred,
        "did not reach": not course.reached,
        f"symptoms {course.symptoms}": course.symptoms != "none",
        course.care: course.care != "none",
        "longer stay": course.longer_stay,
        f"loss {course.loss}": course.loss != "none",
        "died": course.died,
    }
    return ", ".join(word for word, holds in facts.items() if holds) or "nothing of note"


def test_the_questions_of_every_printed_course_end_where_it_is_decided() -> None:
    """READ S72: each category is reached by the last question asked."""
    for course, index, *_ in COURSES:
        *_, last = merp.questions(course)
        assert merp.implied(course).because == f"'{last[0]}' answered {'yes' if last[1] else 'no'}", index
