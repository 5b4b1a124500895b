"""ClassIntra counts from skin incision to skin closure (READ in check-values D3 [S81])."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from mmbuilder.casefile import check
from mmbuilder.problem import Severity
from tests.casefile.minimal import TEXT, minimal_case

CODE = "grade-outside-window"

CLOSED = {"id": "closed", "kind": "step", "what": "Skin closed", "when": "11:00"}
LEAK = {"id": "leak", "kind": "complication", "what": "Bile in the drain", "when": "13:00"}


def told(folder: Path, grade: dict[str, object], *more: dict[str, object], signs: bool = False) -> list[str]:
    """Check a case cut open at 09:30 (`Skin incision`); without its first sign unless `signs`."""
    tree = yaml.load(TEXT, Loader=yaml.BaseLoader)
    events = tree["timeline"]["events"]
    if not signs:
        events[1]["kind"] = "note"
    events += more
    tree["outcome"]["grades"] = [{"scale": "ClassIntra", **grade}]
    found = check(minimal_case(folder, yaml.safe_dump(tree))).problems
    return [problem.text for problem in found if problem.code == CODE and problem.severity is Severity.WARN]


def test_a_complication_after_closure_is_challenged_with_the_rule(tmp_path: Path) -> None:
    (said,) = told(tmp_path, {"grade": "II"}, CLOSED, LEAK)
    assert said.startswith("ClassIntra is stated as II, but an event before incision or after closure gives")
    assert "not applicable: the scale runs from skin incision to skin closure" in said


@pytest.mark.parametrize(
    ("grade", "more"),
    [
        ({"grade": "II", "events": "leak"}, [CLOSED, LEAK]),
        ({"grade": "II", "complication": "bile in the DRAIN"}, [CLOSED, LEAK]),
        ({"grade": "II", "events": "leak"}, [CLOSED, LEAK | {"when": "after 12:00"}]),
        ({"grade": "II", "events": "leak"}, [LEAK | {"when": "08:50"}]),
    ],
)
def test_the_events_of_a_complication_are_found_by_id_or_by_words(
    tmp_path: Path, grade: dict[str, object], more: list[dict[str, object]]
) -> None:
    assert len(told(tmp_path, grade, *more, signs=True)) == 1


@pytest.mark.parametrize(
    ("grade", "more"),
    [
        ({"grade": "II"}, [LEAK]),  # nobody said when it was closed
        ({"grade": "II"}, [CLOSED | {"when": "unknown"}, LEAK]),
        ({"grade": "II"}, [CLOSED, LEAK | {"when": "unknown"}]),
        ({"grade": "II"}, [CLOSED, LEAK | {"when": "10:50-13:00"}]),  # may lie inside
        ({"grade": "II"}, [CLOSED, LEAK | {"when": "11:00"}]),  # on the edge
        ({"grade": "II", "events": ["leak", "seen"]}, [CLOSED, LEAK]),  # one of them is inside
        ({"grade": "0"}, [CLOSED, LEAK]),  # nothing happened in the operation
        ({"grade": "not applicable"}, [CLOSED, LEAK]),
        ({"grade": "II"}, [CLOSED | {"what": "Discussed whether the skin should be closed"}, LEAK]),
    ],
)
def test_silent_where_it_cannot_know(
    tmp_path: Path, grade: dict[str, object], more: list[dict[str, object]]
) -> None:
    assert told(tmp_path, grade, *more) == []


def test_with_a_sign_inside_nobody_knows_which_the_grade_is_of(tmp_path: Path) -> None:
    assert told(tmp_path, {"grade": "II"}, CLOSED, LEAK, signs=True) == []


def test_another_scale_has_no_window(tmp_path: Path) -> None:
    assert told(tmp_path, {"scale": "Clavien-Dindo", "grade": "II"}, CLOSED, LEAK) == []


def test_a_phase_of_closure_bounds_it_too(tmp_path: Path) -> None:
    tree = yaml.load(TEXT, Loader=yaml.BaseLoader)
    tree["timeline"]["events"][1]["kind"] = "note"
    tree["timeline"]["events"].append(LEAK)
    tree["timeline"]["phases"] = [{"name": "Closure", "starts": "10:40", "ends": "11:00"}]
    tree["outcome"]["grades"] = [{"scale": "ClassIntra", "grade": "II"}]
    for end, count in (("11:00", 1), (None, 0)):
        tree["timeline"]["phases"][0] = {"name": "Closure", "starts": "10:40"} | (
            {"ends": end} if end else {}
        )
        root = tmp_path / str(count)
        root.mkdir()
        found = check(minimal_case(root, yaml.safe_dump(tree))).problems
        assert [problem.code for problem in found].count(CODE) == count


def test_an_event_of_a_grade_has_to_be_there(tmp_path: Path) -> None:
    tree = yaml.load(TEXT, Loader=yaml.BaseLoader)
    tree["outcome"]["grades"] = [
        {"scale": "ClassIntra", "grade": "II", "events": "leek", "by": "surgeon", "when": "same day"}
        | {"treatments": "minor"}
    ]
    found = check(minimal_case(tmp_path, yaml.safe_dump(tree))).problems
    assert [problem.code for problem in found] == ["unknown-id"]
