"""A folder to a case, or to every fault at once."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from pytest_regressions.file_regression import FileRegressionFixture

from mmbuilder.casefile import check, load, load_declared
from mmbuilder.errors import CaseInvalid
from mmbuilder.problem import as_dict, as_github, as_text
from tests.casefile.bad_case import CANARY, bad_case
from tests.casefile.minimal import TEXT, changed, minimal_case


def test_minimal_case_is_sound(tmp_path: Path) -> None:
    checked = check(minimal_case(tmp_path))
    assert checked.problems == ()
    assert checked.folder is not None
    event = checked.folder.case.timeline.events[1]
    assert (event.what.value, event.what.line) == ("Dark ooze behind the clip", 25)
    assert event.what.path == ("timeline", "events", 1, "what")


def test_a_specialty_is_read_as_what_it_is_called(tmp_path: Path) -> None:
    checked = check(minimal_case(tmp_path, changed("specialty: T&O")))
    assert checked.problems == ()
    assert checked.folder is not None
    assert checked.folder.case.specialty == "orthopaedics"


def test_the_file_itself_may_be_named(tmp_path: Path) -> None:
    assert check(minimal_case(tmp_path) / "case.yaml").folder is not None


def test_all_faults_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, file_regression: FileRegressionFixture
) -> None:
    bad_case(tmp_path)
    monkeypatch.chdir(tmp_path)
    problems = check(Path("bad")).problems
    told = "\n\n".join(f"{problem.severity.value}\n{as_text(problem)}" for problem in problems)
    file_regression.check(told + "\n", extension=".txt", encoding="utf-8")
    assert list(problems) == sorted(problems, key=lambda p: (p.file, p.line, p.column, p.code, p.text))


def test_no_form_of_a_problem_names_anybody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bad_case(tmp_path)
    monkeypatch.chdir(tmp_path)
    problems = check(Path("bad")).problems
    assert len(problems) > 40
    forms = [as_text(p) + as_github(p) + json.dumps(as_dict(p)) + repr(p) for p in problems]
    for piece in (CANARY, CANARY[:6], "smoker", "rang the ward", "said so"):
        assert piece.casefold() not in "\n".join(forms).casefold()


@pytest.mark.parametrize("line", range(len(TEXT.splitlines())))
def test_breaking_any_line_tells_no_name(tmp_path: Path, line: int) -> None:
    """Put a name in place of each value in turn, and in place of each line."""
    lines = TEXT.splitlines()
    key = lines[line].split(":")[0]
    for words in (
        f"{key}: {CANARY}",
        f"{key}: {CANARY}: {CANARY}",
        f"{key}: '{CANARY}",
        CANARY,
        f"  {CANARY}: x",
    ):
        broken = "\n".join([*lines[:line], words, *lines[line + 1 :]]) + "\n"
        root = minimal_case(tmp_path / str(abs(hash(words))), broken)
        told = "".join(as_text(problem) + as_github(problem) for problem in check(root).problems)
        assert CANARY not in told


def test_a_misspelt_word_that_is_a_declared_name_is_not_repeated(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("patient: {sex: Femalle}"))
    assert '"Femalle"' in as_text(check(root).problems[0])
    (root / "identifiers.yaml").write_text("people: [{name: Dr Femalle, role: surgeon}]\n", encoding="utf-8")
    told = as_text(check(root).problems[0])
    assert "Femalle" not in told
    assert "female" in told


def test_load_raises_all_of_them(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("{patient: {sex: femal}, plan: null}"))
    with pytest.raises(CaseInvalid) as raised:
        load(root)
    assert {problem.code for problem in raised.value.problems} == {"unknown-word", "missing-key"}


def test_warnings_do_not_stop(tmp_path: Path) -> None:
    folder = load(minimal_case(tmp_path, changed("take away: Call early. Count twice.")))
    assert [problem.code for problem in folder.warnings] == ["take-away-too-long"]


@pytest.mark.parametrize(
    ("written", "kind"),
    [("First Sign", "first sign"), ("first-sign", "first sign"), ("FIRST_SIGN", "first sign")],
)
def test_closed_words_in_any_spelling(tmp_path: Path, written: str, kind: str) -> None:
    case = load(minimal_case(tmp_path, changed(f"timeline: {{events: {{1: {{kind: {written}}}}}}}"))).case
    assert case.timeline.events[1].kind.value == kind


def test_figures_in_a_row_need_no_brackets(tmp_path: Path) -> None:
    case = load(minimal_case(tmp_path, changed('frames: {0: {crop: "10, 20, 300, 200"}}'))).case
    assert case.frames[0].crop == (10, 20, 300, 200)


@pytest.mark.parametrize("figure", ["nan", "inf", "-inf"])
def test_figures_are_finite(tmp_path: Path, figure: str) -> None:
    checked = check(minimal_case(tmp_path, changed(f"frames: {{0: {{crop: [0, 0, {figure}, 4]}}}}")))
    assert [problem.code for problem in checked.problems] == ["wrong-value"]


def test_missing_points_at_the_part_and_unknown_at_the_key(tmp_path: Path) -> None:
    text = TEXT.replace("      kind: step\n", "").replace("  age: 54", "  colour: blue")
    places = {
        problem.code: (problem.line, problem.column)
        for problem in check(minimal_case(tmp_path, text)).problems
    }
    assert places == {"missing-key": (19, 7), "unknown-key": (11, 3)}


def test_a_misspelt_key_is_told_once(tmp_path: Path) -> None:
    (told,) = check(minimal_case(tmp_path, TEXT.replace("situation:", "sitation:"))).problems
    assert told.code == "unknown-key"
    assert "`situation`" in told.expected


def test_rules_run_beside_schema_faults(tmp_path: Path) -> None:
    change = 'patient: {sex: femal}\ntimeline: {events: {2: {when: "09:59"}}}'
    found = {problem.code for problem in check(minimal_case(tmp_path, changed(change))).problems}
    assert found == {"unknown-word", "recognition-before-sign"}


def test_a_refused_time_raises_no_other_fault(tmp_path: Path) -> None:
    for place in range(4):
        change = f"timeline: {{events: {{{place}: {{when: quarter past}}}}}}"
        root = minimal_case(tmp_path / str(place), changed(change))
        assert [problem.code for problem in check(root).problems] == ["time-not-read"]


def test_recognition_before_sign_says_by_how_much_and_which_offset(tmp_path: Path) -> None:
    change = """
clocks: [{name: theatre clock, reference: "yes"}, {name: recorder, offset: 0 min}]
timeline: {events: {1: {when: "13:26"}, 2: {when: "13:20", clock: recorder}, 3: {when: "13:30"}}}
"""
    (told,) = check(minimal_case(tmp_path, changed(change))).problems
    assert told.text == "recognition 13:20 is earlier than the first sign 13:26 by 6 min"
    assert "offset: +6 min" in told.example
    mended = change.replace("offset: 0 min", "offset: +6 min")
    assert check(minimal_case(tmp_path / "mended", changed(mended))).problems == ()


def test_faults_of_a_declared_list_repeat_nothing(tmp_path: Path) -> None:
    path = tmp_path / "list.yaml"
    path.write_text(f"people: [{{name: {CANARY}, role: {CANARY}}}]\n{CANARY}: x\n", encoding="utf-8")
    with pytest.raises(CaseInvalid) as raised:
        load_declared(path)
    assert {problem.code for problem in raised.value.problems} == {"unknown-word", "unknown-key"}
    assert CANARY not in "".join(map(as_text, raised.value.problems))


_SPY = """
class Plugin:
    def new_schema_validator(self, *args, **kwargs):
        print("seen by a plug-in")
        return None, None, None

plugin = Plugin()
"""


@pytest.mark.parametrize("ours", [True, False])
def test_pydantic_plug_ins_never_see_a_case(tmp_path: Path, ours: bool) -> None:
    """One that is installed is handed every value that is validated: here only others' models are."""
    (tmp_path / "spy.py").write_text(_SPY, encoding="utf-8")
    metadata = tmp_path / "spy-1.0.dist-info"
    metadata.mkdir()
    (metadata / "METADATA").write_text("Metadata-Version: 2.1\nName: spy\nVersion: 1.0\n", encoding="utf-8")
    (metadata / "entry_points.txt").write_text("[pydantic]\nspy = spy:plugin\n", encoding="utf-8")
    root = minimal_case(tmp_path)
    program = f"""
import os
from pathlib import Path
from pydantic import create_model
from mmbuilder.casefile import check
assert check(Path({str(root)!r})).problems == ()
assert "PYDANTIC_DISABLE_PLUGINS" not in os.environ
if not {ours}: create_model("Other", a=int)(a=1)
"""
    settings = {key: value for key, value in os.environ.items() if key != "PYDANTIC_DISABLE_PLUGINS"}
    settings["PYTHONPATH"] = os.pathsep.join([str(tmp_path), str(Path(__file__).parents[2])])
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, env=settings, check=False
    )
    assert done.stderr == ""
    assert ("seen by a plug-in" in done.stdout) is not ours


def test_one_entry_may_stand_for_a_list_of_one(tmp_path: Path) -> None:
    change = "timeline: {events: {1: {also: {when: quarter past, source: nurse}}}}"
    (told,) = check(minimal_case(tmp_path, changed(change))).problems
    assert (told.code, told.text.split(":")[0]) == ("time-not-read", "`when` of other record 1 of event 2")
    (told,) = check(minimal_case(tmp_path / "b", changed("outcome: {grades: {scale: x, grade: I}}"))).problems
    assert told.code == "wrong-value"


def test_bundled_cases_can_be_built() -> None:
    from mmbuilder.resources import bundled_cases

    for root in bundled_cases():
        assert not [problem for problem in check(root).problems if problem.stops]
