from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest

from mmbuilder.errors import CaseInvalid
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.scrub import report
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.crossing.words import PlanDoesNotFit, replace_all
from mmbuilder.scrub.plan import Decision, PixelBox, RedactionPlan, Span
from mmbuilder.scrub.propose import propose
from tests.scrub.small_case import CASE, NAMES, small


def words(value: object) -> list[str]:
    """Every text below a safe value."""
    if isinstance(value, SafeText):
        return [value.reveal()]
    if is_dataclass(value):
        return [text for one in fields(value) for text in words(getattr(value, one.name))]
    if isinstance(value, tuple):
        return [text for item in value for text in words(item)]
    return []


def test_no_declared_name_or_date_crosses(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    told = "\n".join(words(apply(folder, propose(folder)))).casefold()
    assert [name for name in NAMES if name in told] == []
    assert "2026" not in told
    assert "93" not in told


def test_clinical_words_and_figures_cross_untouched(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    case = apply(folder, propose(folder))
    assert case.plan.findings == (wording("Acuity 6/9 and 20/40"),)
    assert case.patient.history[0] == wording("Foley catheter since the month before")
    assert case.outcome.visits[0].measures[0].value == wording("6/9")


def test_one_person_is_told_alike_everywhere(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    case = apply(folder, propose(folder))
    assert case.situation == wording("The pump stopped while the surgeon was closing, on Ward A, on Day 0.")
    assert case.events[0].what == wording("Pump started by the surgeon")
    assert case.events[1].source == wording("The surgeon's log")
    assert case.decisions[0].because == wording("The surgeon asked for it")


def test_ids_become_numbers_and_evidence_its_event(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    case = apply(folder, propose(folder))
    assert case.frames[0].event == 3
    assert (case.decisions[0].event, case.decisions[0].chosen) == (3, 1)
    assert case.factors[0].actions == (1,)
    assert case.factors[0].evidence == (wording("Pump found still (T+0:00)"), wording("log of Day 0"))
    assert case.held[0].evidence == wording("Spare fetched (T+0:05)")


def test_dates_are_offsets_and_due_dates_are_told_by_their_month(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    case = apply(folder, propose(folder))
    # 14 to 20 March is 6 days; The action is due by 7 July 2026.
    assert case.outcome.summary.reveal().endswith("went home on Day 6")
    assert case.actions[0].due == wording("July")


@pytest.mark.parametrize(
    ("change", "by", "said"),
    [
        ("I call sooner", "7 July 2026", "July"),
        ("I call sooner", "end of July 2026", "July"),
        ("I call sooner", "in one month", "in one month"),
        # Beside an offset the month would tell when Day 0 was: 14 March to 7 July 2026 is 115 days.
        ("I call sooner than on 20 March 2026", "7 July 2026", "Day 115"),
    ],
)
def test_a_reflection_tells_the_month_of_its_change(tmp_path: Path, change: str, by: str, said: str) -> None:
    # Common practice, no source: nobody reckons from the day of an operation when "by Day 115" is.
    more = f"reflection: {{headings: gibbs, change: {change}, change by: {by}}}"
    folder = small(tmp_path / "case", CASE + more)
    told = apply(folder, propose(folder)).reflection
    assert told is not None
    assert told.change_by == wording(said)


@pytest.mark.parametrize(
    ("written", "age", "decade"),
    [
        ("71", "71", "70s"),
        ("71 years", "71", "70s"),
        ("71-year-old", "71", "70s"),
        ("89", "89", "80s"),
        ("90", "90 or older", "90 or older"),
        ("104", "90 or older", "90 or older"),
        ("70s", "70s", "70s"),
        ("90s", "90 or older", "90 or older"),
        ("8 months", "8 months", "under 10"),
        ("7", "7", "under 10"),
        ("middle-aged", "middle-aged", ""),
    ],
)
def test_ages_over_89_are_pooled(tmp_path: Path, written: str, age: str, decade: str) -> None:
    # 45 CFR 164.514(b)(2)(i)(C): 89 may be stated, 90 and more become "90 or older".
    folder = small(tmp_path / "case", CASE.replace("age: 93", f"age: {written}"))
    patient = apply(folder, propose(folder)).patient
    assert (patient.age.reveal(), patient.age_decade.reveal()) == (age, decade)


def test_marks_are_fractions_of_what_stays_visible(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    frame = apply(folder, propose(folder)).frames[0]
    assert (frame.image.width, frame.image.height) == (60, 40)
    arrow, circle = frame.arrows[0], frame.circles[0]
    assert (arrow.x0, arrow.y0, arrow.x1, arrow.y1) == (0, 0, 0.5, 0.5)
    assert (circle.x, circle.y, circle.radius) == (1, 1, 0.1)


def test_what_the_author_drew_is_solid_and_whole_pixels(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    plan = propose(folder)
    assert plan.images == {1: (PixelBox(12, 22, 18, 28),)}
    image = apply(folder, plan).frames[0].image
    assert pixel(image, 2, 2) == pixel(image, 7, 7) != pixel(image, 8, 8) == (200, 10, 10)


def pixel(image: SafeImage, x: int, y: int) -> tuple[int, ...]:
    start = 3 * (y * image.width + x)
    return tuple(image.pixels[start : start + 3])


def test_what_the_reviewer_keeps_stays(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    plan = propose(folder)
    kept = {
        path: tuple(replace(span, decision=Decision.KEEP) for span in spans)
        for path, spans in plan.texts.items()
    }
    case = apply(folder, replace(plan, texts=kept))
    assert case.events[0].what == wording("Pump started by Velkonar")


def test_a_plan_of_another_case_is_refused(tmp_path: Path) -> None:
    one = small(tmp_path / "one")
    other = small(tmp_path / "two", CASE.replace("Hum heard", "Hum was heard"))
    with pytest.raises(PlanDoesNotFit):
        apply(other, propose(one))
    with pytest.raises(PlanDoesNotFit):
        apply(one, RedactionPlan())


@pytest.mark.parametrize("spans", [[(0, 5), (4, 8)], [(4, 99)], [(6, 8), (0, 2)], [(3, 3)]])
def test_places_that_do_not_fit_are_refused(spans: list[tuple[int, int]]) -> None:
    made = [Span(start, end, "date", "C", "[date]", 1.0) for start, end in spans]
    with pytest.raises(PlanDoesNotFit):
        replace_all("some words", made)


def test_a_code_that_names_somebody_is_refused(tmp_path: Path) -> None:
    folder = small(tmp_path / "case", CASE.replace("code: wheel-01", "code: oskavarn-01"))
    with pytest.raises(CaseInvalid) as caught:
        propose(folder)
    assert caught.value.problems[0].code == "code-names-somebody"
    assert "oskavarn" not in repr(caught.value.problems[0])


def test_the_report_says_what_ran_and_what_nobody_looked_at(tmp_path: Path) -> None:
    plan = propose(small(tmp_path / "case"))
    assert plan.detectors[0] == "declared"
    assert {"date", "phone", "titled_name"} <= set(plan.detectors)
    assert plan.draft
    for word in ("names", "tattoos", "jewellery", "scars", "reflections", "voices"):
        assert any(word in line for line in plan.unchecked), word
    told = report.of_case(plan).unchecked
    for word in ("tattoos", "reflections", "voices"):
        assert sum(word in line for line in told) == 1, word
    assert plan.counts()["declared name"] >= 7
