"""Orders that cannot be stop the build, with both lines quoted and a shift that reconciles them.

practice.md (f) 4, READ: "recognition 13:20 is earlier than first sign 13:26 by 6 min. If the recorder clock
is 8 min slow, add its offset (example)."
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mmbuilder.casefile import check
from mmbuilder.problem import Problem
from tests.casefile.minimal import changed, minimal_case

CLOCKS = "clocks: [{name: theatre clock, reference: yes}, {name: recorder, %s}]"


def found(folder: Path, change: str, *codes: str) -> list[Problem]:
    return [
        problem for problem in check(minimal_case(folder, changed(change))).problems if problem.code in codes
    ]


def test_both_lines_are_quoted(tmp_path: Path) -> None:
    (problem,) = found(tmp_path, 'timeline: {events: {2: {when: "09:59"}}}', "recognition-before-sign")
    assert problem.stops
    assert problem.text == "recognition 09:59 is earlier than the first sign 10:05 by 6 min"
    assert problem.quote == "when: 09:59"
    text = (tmp_path / "case" / "case.yaml").read_text("utf-8").splitlines()
    line = re.match(r"line (\d+), the first sign: `when: 10:05`$", problem.found)
    assert line
    assert "10:05" in text[int(line[1]) - 1]
    assert "09:59" in text[problem.line - 1]


@pytest.mark.parametrize("clock", ["offset: 0 min", "offset: -2 min", "offset: +90 s", "kind: camera"])
@pytest.mark.parametrize("late_sign", [False, True])
def test_the_offset_that_is_suggested_reconciles_them(tmp_path: Path, clock: str, late_sign: bool) -> None:
    place, when = (1, "10:25") if late_sign else (2, "09:50:30")
    change = CLOCKS + "\ntimeline: {events: {%d: {when: '%s', clock: recorder}}}"
    (problem,) = found(tmp_path, change % (clock, place, when), "recognition-before-sign")
    suggested = problem.example.splitlines()[-1]
    assert re.fullmatch(r"offset: [+-][\d a-z]+", suggested)
    assert not found(tmp_path / "mended", change % (suggested, place, when), "recognition-before-sign")


def test_an_anchored_clock_is_told_what_its_anchor_would_have_to_be(tmp_path: Path) -> None:
    anchor = "anchor: {reads: '09:00:00', reference: '08:58:00'}"
    change = (CLOCKS % anchor) + "\ntimeline: {events: {2: {when: '10:00', clock: recorder}}}"
    (problem,) = found(tmp_path, change, "recognition-before-sign")
    # it reads 10:00 at 09:58; 10:05 is 7 min later: -2 + 7 = +5
    assert problem.example == "if the anchor of that clock is wrong, in its place, at least:\noffset: +5 min"


def test_time_into_a_recording_is_quoted_as_its_counter_and_its_start_is_doubted(tmp_path: Path) -> None:
    change = """
clocks: [{name: theatre clock, reference: yes}, {name: file 1, starts: "10:10:00", runs: 20 min}]
timeline: {events: {1: {when: "file 1 0:10:00"}}}
"""
    (problem,) = found(tmp_path, change, "recognition-before-sign")
    assert "first sign 0:10:00" in problem.text
    assert problem.example == "if the start of that recording is wrong, it has to be at least 5 min earlier"


@pytest.mark.parametrize("kind", ["response", "resolution"])
def test_nothing_is_treated_or_over_before_its_sign(tmp_path: Path, kind: str) -> None:
    change = f"timeline: {{events: {{3: {{kind: {kind}, when: '10:04:40'}}}}}}"
    (problem,) = found(tmp_path, change, "end-before-sign", "response-before-recognition")
    assert (problem.code, problem.stops) == ("end-before-sign", True)
    assert problem.text.endswith("by 20 s")


def test_a_range_that_may_be_in_order_is_let_stand(tmp_path: Path) -> None:
    change = "timeline: {events: {2: {when: 'between 10:00 and 10:06'}, 3: {when: 'before 10:10'}}}"
    assert not found(tmp_path, change, "recognition-before-sign", "end-before-sign")


def test_a_resolution_before_the_response_is_worth_a_look(tmp_path: Path) -> None:
    change = "timeline: {events: {2: {kind: resolution, when: '10:12'}, 3: {kind: response, when: '10:20'}}}"
    (problem,) = found(tmp_path, change, "resolution-before-response")
    assert not problem.stops


@pytest.mark.parametrize(
    ("clocks", "count"),
    [
        (
            "{name: file 1, starts: '09:30:00', runs: 20 min}, {name: file 2, starts: '09:49:59', runs: 5 min}",
            1,
        ),
        (
            "{name: file 1, starts: '09:30:00', runs: 20 min}, {name: file 2, starts: '09:50:00', runs: 5 min}",
            0,
        ),
        ("{name: scope, starts: '09:30:00', runs: 20 min}, {name: room, starts: '09:45:00', runs: 5 min}", 0),
        ("{name: file 1, starts: '09:30:00'}, {name: file 2, starts: '09:45:00', runs: 5 min}", 0),
    ],
)
def test_files_of_one_recorder_do_not_run_at_once(tmp_path: Path, clocks: str, count: int) -> None:
    """practice.md (e) 3, READ: the gap is file 2's start less file 1's end; it cannot be negative."""
    change = f"clocks: [{{name: theatre clock, reference: yes}}, {clocks}]"
    problems = found(tmp_path, change, "end-before-start")
    assert len(problems) == count
    assert all(problem.stops and problem.quote.startswith("starts: 09:49") for problem in problems)


@pytest.mark.parametrize(("starts", "ends", "count"), [("10:00", "09:40", 1), ("10:00", "10:00", 0)])
def test_a_phase_ends_after_it_starts(tmp_path: Path, starts: str, ends: str, count: int) -> None:
    change = f"timeline: {{phases: [{{name: dissection, starts: '{starts}', ends: '{ends}'}}]}}"
    problems = found(tmp_path, change, "end-before-start")
    assert len(problems) == count
    assert all(f"`starts: {starts}`" in problem.found for problem in problems)


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ('{2: {also: {when: "10:01", source: chart}}}', "the first sign"),
        ('{1: {also: {when: "10:20", source: chart}}}', "the recognition"),
    ],
)
def test_another_record_by_which_the_order_cannot_be_is_asked_about(
    tmp_path: Path, change: str, line: str
) -> None:
    """practice.md (b) 4, READ: both sources are kept, neither is averaged; so this asks and does not stop."""
    told = found(tmp_path, f"timeline: {{events: {change}}}", "recognition-before-sign")
    assert [(problem.stops, problem.text) for problem in told] == [
        (False, "by this record the recognition is earlier than the first sign")
    ]
    assert line in told[0].found


def test_another_record_in_a_possible_order_is_left_alone(tmp_path: Path) -> None:
    change = 'timeline: {events: {1: {also: {when: "10:08", source: chart}}, 2: {also: {when: "10:16", source: chart}}}}'
    assert check(minimal_case(tmp_path, changed(change))).problems == ()
