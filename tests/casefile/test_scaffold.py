from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml
from PIL import Image

from mmbuilder import casefile
from mmbuilder.casefile.scaffold import scaffold
from mmbuilder.errors import PackInvalid
from mmbuilder.packs.schema import available, load, specialties
from mmbuilder.problem import Problem, as_text
from mmbuilder.safe.terms import EventKind, FactorRow


def write(folder: Path, specialty: str) -> None:
    for name, content in scaffold(specialty).items():
        path = folder / name
        if name.endswith("/"):
            path.mkdir()
        else:
            path.write_bytes(content)


def told(problems: tuple[Problem, ...]) -> list[Problem]:
    """All but the warning that a new case is meant to raise: its private list is still the invented one."""
    assert [problem.code for problem in problems].count("nobody-declared") == 1
    return [problem for problem in problems if problem.code != "nobody-declared"]


@pytest.mark.parametrize("specialty", available())
def test_it_passes_check_without_a_word(specialty: str, tmp_path: Path) -> None:
    write(tmp_path, specialty)
    checked = casefile.check(tmp_path)
    assert "\n".join(map(as_text, told(checked.problems))) == ""
    assert checked.folder is not None
    assert checked.folder.case.specialty == specialty


@pytest.mark.parametrize("specialty", available())
def test_it_speaks_the_words_of_its_specialty(specialty: str) -> None:
    text = scaffold(specialty)["case.yaml"].decode()
    pack = load(specialty)
    flat = " ".join(text.replace("#", " ").split())
    for words in (*pack.phases, *(word for kind in pack.events.values() for word in kind)):
        assert words in flat
    for questions in pack.factors.values():
        assert all(question in flat for question in questions)
    for measure in pack.measures:
        assert (
            f"{measure.name}, {measure.unit}: {measure.low:g} to {measure.high:g} ({measure.source})" in flat
        )


def test_it_explains_every_closed_word_an_event_can_have() -> None:
    flat = " ".join(scaffold("anaesthesia")["case.yaml"].decode().replace("#", " ").split())
    assert ", ".join(EventKind) in flat
    assert all(f" {row.value} " in flat for row in FactorRow)


_OFFERED = re.compile(r"# +(- name: monitor|- name: file 1|closed:|frames:|grades:|visits:|readings:)")


def uncommented(text: str) -> str:
    """Take "# " away from the parts that are offered in comments, as the head of the file says."""
    lines, offered = [], False
    for line in text.splitlines():
        offered = line.startswith("#") and (offered or _OFFERED.match(line) is not None)
        lines.append(line[2:] if offered else line)
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("specialty", available())
def test_parts_offered_in_comments_are_right_once_uncommented(specialty: str, tmp_path: Path) -> None:
    write(tmp_path, specialty)
    case = tmp_path / "case.yaml"
    case.write_text(uncommented(case.read_text("utf-8")), "utf-8")
    (tmp_path / "readings" / "monitor.csv").write_text("Time,HR\n14:05,70\n14:10,72\n14:35,80\n")
    Image.new("RGB", (640, 480)).save(tmp_path / "images" / "first.png")
    checked = casefile.check(tmp_path)
    assert "\n".join(map(as_text, told(checked.problems))) == ""
    assert checked.folder is not None
    made = checked.folder.case
    assert (len(made.clocks), len(made.frames), len(made.readings)) == (4, 1, 1)
    assert (len(made.outcome.grades), len(made.outcome.visits)) == (1, 1)
    assert made.timeline.closed is not None


def test_two_calls_give_the_same_bytes() -> None:
    assert scaffold("ophthalmology") == scaffold("ophthalmology")


def test_values_that_yaml_would_misread_are_quoted() -> None:
    from mmbuilder.casefile.scaffold import _line

    for text in ("a: b", "50 % of it", "#7", "- x", "it's: so", "yes #no", "‘smart’", "10⁹/L", "*x", "ends:"):
        assert yaml.load(f"key: {_line(text)}", yaml.BaseLoader) == {"key": text}


def test_an_unknown_specialty_is_told_with_those_there_are() -> None:
    with pytest.raises(PackInvalid, match=", ".join(specialties())):
        scaffold("phrenology")
