"""The form as data and pure code: every key of the model has its place, its words and an example; faults find their field."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from mmbuilder import registry, resources
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.case.when import When, parse_when
from mmbuilder.casefile.checking import CASE, IDENTIFIERS, check
from mmbuilder.casefile.reader import read
from mmbuilder.casefile.scaffold import scaffold
from mmbuilder.casefile.shape import all_keys, example_words, slots
from mmbuilder.page.form import answering, choices, keeping, layout
from mmbuilder.page.form import first as using
from mmbuilder.page.form.choices import _KINDS, ANSWERS
from mmbuilder.page.form.faults import Faults, home, section_of, sorted_by_field
from mmbuilder.page.form.layout import called, sections, words
from mmbuilder.page.form.opened import opened
from mmbuilder.page.form.view import Block, Field, List, Row, Viewer
from mmbuilder.safe.terms import Use
from mmbuilder.uses import load

_FIGURES = ("box", "crop", "from", "to", "at")
"""Keys under which a row of figures may stand."""


def parts(model: type[BaseModel], seen: set[type[BaseModel]] | None = None) -> Iterator[type[BaseModel]]:
    seen = seen if seen is not None else set()
    if model not in seen:
        seen.add(model)
        yield model
        for slot in slots(model).values():
            if slot.part is not None:
                yield from parts(slot.part, seen)


PARTS = [*parts(Case), *parts(Declared)]


def leaves(model: type[BaseModel], path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    for key, slot in slots(model).items():
        if slot.part is None:
            yield (*path, key)
        else:
            yield from leaves(slot.part, (*path, key))


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
def test_every_key_has_a_label_and_no_hint_only_repeats_it(part: type[BaseModel]) -> None:
    said = words(part.__name__)
    assert set(said.keys) == set(slots(part))
    for told in said.keys.values():
        assert told.label
        assert (
            set(re.findall(r"\w+", told.hint.lower())) - set(re.findall(r"\w+", told.label.lower()))
            or not told.hint
        )
        assert told.choice in _KINDS or not told.choice
        assert set(told.only) <= set(slots(part))
    assert all(key in slots(part) for told in said.told_by for key in told.split("/"))


def test_nothing_is_said_of_parts_that_are_not_there() -> None:
    assert set(layout.read("words.yaml")) == {part.__name__ for part in PARTS}


@pytest.mark.parametrize(("model", "file"), [(Case, CASE), (Declared, IDENTIFIERS)])
def test_every_key_has_one_place_in_the_form(model: type[BaseModel], file: str) -> None:
    shown = [path for section in sections().values() if section.file == file for path in section.fields]
    for leaf in leaves(model):
        holders = [path for path in shown if leaf[: len(path)] == path]
        assert len(holders) == 1, f"{leaf} has its place in {holders}"


def test_every_example_of_a_time_is_read_as_one() -> None:
    for part in PARTS:
        for key, told in words(part.__name__).keys.items():
            if slots(part)[key].kind is When:
                parse_when(told.example or example_words(part, key))  # raises for what is no time


# What is shown


def viewer(root: Path, file: str = CASE, faults: Faults | None = None, **more: Any) -> Viewer:
    model: type[BaseModel] = Declared if file == IDENTIFIERS else Case
    now = opened((root / file).read_text("utf-8") if (root / file).exists() else "", model)
    assert now is not None
    return Viewer(model, now.values, faults or Faults(), file, root, **more)


def all_fields(rows: tuple[Row, ...]) -> Iterator[Field]:
    for row in rows:
        match row:
            case Field():
                yield row
            case Block():
                yield from all_fields((*row.rows, *row.more))
            case List():
                for one in row.entries:
                    assert one.body is not None
                    yield from all_fields((*one.body.rows, *one.body.more))


@pytest.mark.parametrize("root", resources.bundled_cases(), ids=lambda path: path.name)
def test_every_value_of_a_case_is_shown_and_changes_nothing_by_being_kept_as_it_is(root: Path) -> None:
    for file, model in ((CASE, Case), (IDENTIFIERS, Declared)):
        text = (root / file).read_text("utf-8")
        source = read(text.encode(), file, all_keys(model))
        shown = {}
        for section in (one for one in sections().values() if one.file == file):
            for group in viewer(root, file).section(section):
                shown |= {one.path: one for one in all_fields((*group.rows, *group.more))}
        for path in source.values:
            if source.text(path) is not None:
                one, typed = shown[home(path, model)], " ".join(str(source.text(path)).split())
                assert typed in (one.value.split(", ") if one.path[-1] in _FIGURES else one.value.split("\n"))
        for path, one in list(shown.items())[::9]:
            assert answering.set_value(text, model, path, one.value) == text


def test_a_word_that_is_not_spelled_as_on_the_list_stays_as_typed(tmp_path: Path) -> None:
    (tmp_path / CASE).write_text("patient: {sex: f, side: OD, pregnant: maybe}\n")
    (block,) = viewer(tmp_path).section(sections()["patient"])[0].rows
    assert isinstance(block, Block)
    found = {one.path[-1]: one for one in all_fields((*block.rows, *block.more))}
    assert found["sex"].value == "f"
    assert ("f", "f (read as female)") in found["sex"].choices
    assert ("OD", "OD (read as right)") in found["side"].choices
    assert ("maybe", "maybe (not on the list)") in found["pregnant"].choices


def test_a_nearly_empty_case_has_every_section() -> None:
    now = opened("mmbuilder: 1\n", Case)
    assert now is not None
    for section in sections().values():
        values = now.values if section.file == CASE else {}
        shown = Viewer(section.model, values, Faults(), section.file, Path("none")).section(section)
        assert [row for group in shown for row in (*group.rows, *group.more)]


def test_a_long_list_is_sent_closed(tmp_path: Path) -> None:
    events = "".join(f"    - {{kind: step, what: w{at}, when: unknown}}\n" for at in range(300))
    (tmp_path / CASE).write_text(f"timeline:\n  events:\n{events}")
    opened_one = ("timeline", "events", 7)
    (shown,) = viewer(tmp_path, open=frozenset([opened_one])).section(sections()["events"])[0].rows
    assert isinstance(shown, List)
    assert [one.path for one in shown.entries if one.body is not None] == [opened_one]
    assert shown.entries[299].told == ("unknown", "step", "w299")


# Slips of the hand


def test_a_slip_is_shown_as_it_is_read_and_mended_by_the_next_change() -> None:
    text = "title: Note: a bleed\nsituation: Pain #7 of ten\nuse: teaching\n"
    now = opened(text, Case)
    assert now is not None
    assert now.mended
    assert now.values == {"title": "Note: a bleed", "situation": "Pain #7 of ten", "use": "teaching"}
    after = keeping.set_value(text, Case, ("asked",), "What next?")
    again = read(after.encode(), "x", all_keys(Case))
    assert again.problems == ()
    assert again.tree == {**now.values, "asked": "What next?"}


@pytest.mark.parametrize(
    "text", ["a: &x b\nc: *x\n", "title: a\n\tuse: b\n", "- a\n- b\n", "title: !tag x\n"]
)
def test_a_text_that_cannot_be_trusted_is_not_shown(text: str) -> None:
    assert opened(text, Case) is None or read(text.encode(), "x").problems


# Where faults belong


def placed(root: Path) -> Faults:
    sources = {}
    for file, model in ((CASE, Case), (IDENTIFIERS, Declared)):
        now = opened((root / file).read_text("utf-8"), model)
        assert now is not None
        sources[file] = (now.source, model)
    return sorted_by_field(check(root).problems, root, sources)


@pytest.fixture
def eye(tmp_path: Path) -> Path:
    source = next(path for path in resources.bundled_cases() if path.name == "eye-drainage")
    return Path(shutil.copytree(source, tmp_path / "eye"))


@pytest.mark.parametrize(
    ("change", "code", "path"),
    [
        (("age: 74", "age: old"), "age-not-read", ("patient", "age")),
        (("when: 14:43", "when: 25:99"), "time-out-of-range", ("timeline", "events", 4, "when")),
        (("      when: 14:43\n", ""), "missing-key", ("timeline", "events", 4, "when")),
        (("take away: ", "takeaway: "), "unknown-key", ()),
        (("    role: root\n", "    role: rot\n"), "unknown-word", ("factors", 2, "role")),
        (("  summary: >-", "  summry: >-"), "unknown-key", ("outcome", "summary")),
        (
            ("index event: opening", "index event: closing"),
            "index-event-not-listed",
            ("timeline", "index event"),
        ),
        (("at: ache", "at: nowhere"), "unknown-id", ("decisions", 0, "at")),
        (
            ("clock: theatre clock, source: scrub", "clock: kitchen, source: scrub"),
            "clock-not-listed",
            ("timeline", "events", 10, "also", 0, "when"),
        ),
        (("file: images/scan.jpg", "file: images/scam.jpg"), "picture-file", ("frames", 3, "file")),
        (("presenter: {role: registrar in ophthalmology}\n", ""), "missing-key", ("presenter",)),
        (("asked: >-", "asked:\nbackground2: >-"), "empty-key", ("asked",)),
    ],
)
def test_a_fault_stands_at_its_field(
    eye: Path, change: tuple[str, str], code: str, path: tuple[Any, ...]
) -> None:
    text = (eye / CASE).read_text("utf-8")
    assert change[0] in text
    (eye / CASE).write_text(text.replace(change[0], change[1], 1), "utf-8")
    found = placed(eye)
    places = [place for (_, place), problems in found.at.items() for one in problems if one.code == code]
    assert path in places
    assert all(section_of(CASE, place) in sections() for place in places)


def test_every_example_of_a_bad_case_finds_a_section() -> None:
    """Each rule's own bad example concerns a key that the form has."""
    for rule in registry.discover("mmbuilder.casefile.rules", "CODE", "BAD").values():
        bad = rule.BAD if isinstance(rule.BAD, str) else next(iter(rule.BAD))
        top = bad.partition(":")[0].strip()
        if top in slots(Case):
            assert section_of(CASE, (top,)) in sections()


def test_faults_of_the_private_list_stand_in_its_own_section(eye: Path) -> None:
    (eye / IDENTIFIERS).write_text(
        "people:\n  - {name: Orla Quennimore, role: queen}\nnumbers:\n  - {value: 7}\n"
    )
    counts = placed(eye).counts()
    assert counts["names"][0] == 2
    assert sum(stops for name, (stops, _) in counts.items() if name != "names") == 0


@pytest.mark.parametrize("specialty", ["ophthalmology"])
def test_tallies_count_the_faults_within_an_entry(tmp_path: Path, specialty: str) -> None:
    root = tmp_path / "new"
    root.mkdir()
    for name, content in scaffold(specialty).items():
        if not name.endswith("/"):
            (root / name).write_bytes(content)
    text = (root / CASE).read_text("utf-8").replace("when: 14:14", "when: 99:14")
    (root / CASE).write_text(text, "utf-8")
    found = placed(root)
    assert found.tallies(CASE)["timeline", "events", 2][0] == 1
    assert found.counts()["events"][0] >= 1


# Places that a form may send


@pytest.mark.parametrize(
    "sent",
    [
        [],
        "code",
        ["code", 0],
        ["nothing"],
        ["timeline", "events", "what"],
        ["timeline", "events", -1, "what"],
        ["timeline", "events", True, "what"],
        ["plan", "told", 0],
        ["patient", 0, "age"],
        [0],
        None,
        ["code", "x"],
    ],
)
def test_a_place_that_no_case_has_is_refused(sent: Any) -> None:
    with pytest.raises(keeping.NotKept):
        keeping.path_of(sent, Case)


def test_a_value_past_the_bound_is_refused() -> None:
    with pytest.raises(keeping.NotKept, match="longer"):
        keeping.set_value("code: a\n", Case, ("title",), "x" * 20_001)


def test_choosing_an_event_gives_it_a_short_name() -> None:
    text = "timeline:\n  events:\n    - {kind: step, what: a, when: 09:30}\n"
    after = keeping.set_value(text, Case, ("timeline", "index event"), "@0")
    assert read(after.encode(), "x", all_keys(Case)).tree == {
        "timeline": {
            "index event": "event 1",
            "events": [{"id": "event 1", "kind": "step", "what": "a", "when": "09:30"}],
        }
    }


@pytest.mark.parametrize(
    ("path", "listed", "name"),
    [
        (("factors", 0, "actions"), "actions", "action 2"),
        (("mechanism", "frame"), "frames", "picture 2"),
    ],
)
def test_choosing_any_entry_gives_it_a_short_name(path: tuple[Any, ...], listed: str, name: str) -> None:
    """What a cause or a drawing points to needs no name of the writer's making."""
    text = f"{listed}:\n  - {{id: tray}}\n  - {{}}\nfactors:\n  - {{row: task}}\n"
    after = keeping.set_value(text, Case, path, "tray\n@1" if listed == "actions" else "@1")
    tree = read(after.encode(), "x", all_keys(Case)).tree or {}
    assert tree[listed][1]["id"] == name
    offered = choices.choices(listed, tree, path, Path())
    assert [value for value, _ in offered] == ["tray", name]
    assert keeping.set_value("other: []\n", Declared, ("other",), "@1").count("@1") == 1  # words stay words


def test_events_are_offered_in_the_order_of_time_by_their_clocks() -> None:
    events = [
        {"when": "0815", "what": "a"},
        {"when": "0946", "what": "sign"},
        {"when": "0951", "clock": "tower", "what": "drill"},  # 0944 by the wall
        {"when": "unknown", "what": "loss"},  # behind the one before it
        {"when": "Day 1 0200", "what": "late"},
        {"when": "0938", "what": "by hand"},
        {"when": "teatime", "what": "odd"},
    ]
    clocks = [{"name": "wall", "reference": "yes"}, {"name": "tower", "offset": "-7 min"}, {"offset": "odd"}]
    tree: dict[str, Any] = {"clocks": clocks, "timeline": {"day zero": "2026-11-17", "events": events}}
    told = [value for value, _ in choices.choices("events", tree, (), Path())]
    assert told == ["@0", "@5", "@6", "@2", "@3", "@1", "@4"]
    timeless: dict[str, Any] = {"timeline": {"events": [{"what": "a"}, {"when": "soon"}]}}
    assert [value for value, _ in choices.choices("events", timeless, (), Path())] == ["@0", "@1"]


def test_what_an_action_needs_to_be_counted_is_asked_at_once() -> None:
    """`action-incomplete` wants out of how many; `more` would show it only once that is told."""
    asked = words("Action").keys
    assert not any(
        asked[name].more for name in ("owner", "due", "measure", "out of", "period", "baseline", "review")
    )


@pytest.mark.parametrize(
    ("path", "name"),
    [
        (("title",), "Title"),
        (("timeline", "events", 10, "what"), "Event 11: What happened"),
        (("decisions", 1, "options", 0, "reason"), "Decision 2, way forward 1: A fair reason for it"),
        (("decisions", 1, "visible", 0), "Decision 2: What could be seen"),
        (("learning", 2), "Learning points"),
        (("factors", 0), "Factor 1"),
    ],
)
def test_a_place_is_called_as_the_form_calls_it(path: tuple[Any, ...], name: str) -> None:
    assert called(Case, path) == name


def test_a_needed_value_of_a_part_left_out_is_not_asked_for(tmp_path: Path) -> None:
    values: dict[str, Any] = {"factors": [{"row": "task", "what": "a"}]}
    for barrier, needed in ((None, False), ({"state": "held"}, True)):
        if barrier:
            values["factors"][0]["barrier"] = barrier
        view = Viewer(Case, values, Faults(), CASE, tmp_path)
        block = view.row(("factors", 0, "barrier"))
        assert isinstance(block, Block)
        assert [row.required for row in block.rows if isinstance(row, Field)] == [needed, needed]


def test_what_a_use_has_no_slide_for_is_said_where_it_is_written() -> None:
    """The words of the form agree with `uses/*.yaml`."""
    kinds = {use: {slide.kind for slide in load(use).slides} for use in Use}
    assert [use for use in Use if "rescue" in kinds[use]] == [Use.TEACHING]
    assert "Shown in teaching." in sections()["rescue"].lead
    assert [use for use in Use if "mechanism" in kinds[use]] == [Use.TEACHING]
    assert "Shown in teaching." in words("Case").keys["mechanism"].hint
    assert "learning" not in kinds[Use.REVIEW]
    frames = {use: max(slide.frames for slide in load(use).slides) for use in Use}
    assert (frames[Use.REVIEW], frames[Use.TEACHING]) == (1, 4)


def test_what_the_use_has_no_slide_for_comes_last() -> None:
    """From `uses/*.yaml`; every slide kind that the form names is one."""
    kinds = set(registry.names("mmbuilder.storyboard.slides"))
    groups = [group for section in sections().values() for group in section.groups]
    assert {kind for part in (*sections().values(), *groups) for kind in part.slides} <= kinds
    last = {
        use: [
            one.name for one in using.first(sections().values(), use.value) if not using.told(one, use.value)
        ]
        for use in Use
    }
    assert last[Use.REVIEW] == ["report", "reflection"]
    assert "rescue" not in last[Use.TEACHING]
    assert last[Use.REPORT][-1] == "reflection"
    assert [one.name for one in using.first(sections().values(), "")] == [*sections()]


def test_a_group_in_which_nothing_is_needed_is_one_line_that_tells_what_it_holds(eye: Path) -> None:
    """Common practice, no source."""
    story = viewer(eye, faults=placed(eye)).section(sections()["story"])[1]
    assert (story.heading, story.folded, story.tally) == ("Title and use", True, (0, 0))
    assert "what it is for: department review" in story.holds
    text = (eye / CASE).read_text("utf-8")
    (eye / CASE).write_text(re.sub(r"(?m)^title: .*\n", "", text), "utf-8")
    story = viewer(eye, faults=placed(eye)).section(sections()["story"])[1]
    assert (story.folded, story.tally) == (False, (1, 0))
    consent = Viewer(Case, {"governance": {"legal hold": "no"}}, Faults(), CASE, eye).section(
        sections()["governance"]
    )[1]
    assert (consent.folded, consent.holds) == (True, "legal hold: no")
    assert Viewer(Case, {}, Faults(), CASE, eye).section(sections()["governance"])[1].holds == "not given yet"
    open = frozenset([("meetings", 0)])
    assert not viewer(eye, faults=placed(eye), open=open).section(sections()["actions"])[1].folded


def test_what_a_use_does_not_tell_is_folded_behind_what_it_tells(tmp_path: Path) -> None:
    for use, headings in (
        ("teaching", ["How it came about", ""]),
        ("department review", ["", "How it came about"]),
    ):
        shown = Viewer(Case, {"use": use}, Faults(), CASE, tmp_path).section(sections()["causes"])
        assert [group.heading for group in shown] == headings
        assert [group.folded for group in shown if group.heading] == [use != "teaching"]


LINKED = """factors:
  - {row: task, role: root, what: a, actions: [tray]}
  - {row: team, what: b}
  - {row: team, role: considered and excluded, what: c, reason: none}
actions:
  - {id: tray, what: d}
  - {what: e}
"""


def answers(text: str, action: int) -> Field:
    now = opened(text, Case)
    assert now is not None
    (field,) = (
        one
        for one in all_fields((Viewer(Case, now.values, Faults(), CASE, Path()).row(("actions",)),))
        if one.path == ("actions", action, ANSWERS)
    )
    return field


def test_an_action_says_which_causes_it_answers_and_each_cause_names_it() -> None:
    """Common practice, no source: what the slide of causes shows is said where the action is written."""
    assert [says for _, says in answers(LINKED, 0).choices] == ["task · a", "team · b", "team · c"]
    assert (answers(LINKED, 0).value, answers(LINKED, 1).value) == ("@0", "")
    path = ("actions", 1, ANSWERS)
    after = answering.set_value(LINKED, Case, path, "@0\n@1")
    tree = read(after.encode(), "x", all_keys(Case)).tree or {}
    assert [one.get("actions") for one in tree["factors"]] == [["tray", "action 2"], ["action 2"], None]
    assert answers(after, 1).value == "@0\n@1"
    assert answering.set_value(after, Case, path, "@0\n@1") == after
    less = read(answering.set_value(after, Case, path, "@1").encode(), "x", all_keys(Case)).tree or {}
    assert [one.get("actions") for one in less["factors"]] == [["tray"], ["action 2"], None]
    with pytest.raises(keeping.NotKept):
        answering.path_of(["factors", 0, ANSWERS], Case)


def test_a_closed_cause_tells_that_no_action_answers_it_as_its_slide_does() -> None:
    now = opened(LINKED, Case)
    assert now is not None
    causes = Viewer(Case, now.values, Faults(), CASE, Path()).row(("factors",))
    assert isinstance(causes, List)
    assert [one.told[-1] for one in causes.entries] == ["a", "no action yet", "c"]


def test_what_is_only_for_an_eye_is_not_asked_of_others(tmp_path: Path) -> None:
    for specialty, asked in (("ophthalmology", True), ("Eyes", True), ("anaesthesia", False)):
        view = Viewer(Case, {"specialty": specialty}, Faults(), CASE, tmp_path)
        shown = [row.path for group in view.section(sections()["readings"]) for row in group.rows]
        assert (("orientation",) in shown) is asked


def test_none_in_place_of_a_list() -> None:
    text = "frames:\n  - {file: images/a.png, shows: a, caption: b}\n"
    path = ("frames", 0, "cover")
    said, _ = keeping.say_nothing(text, Case, path, True)
    assert "cover: none" in said
    assert keeping.say_nothing(said, Case, path, False)[0] == text
    more, did = keeping.add(said, Case, path)
    assert did.at == (*path, 0)
    assert "none" not in more


@pytest.mark.parametrize(
    ("written", "says"),
    [("ENT", "ENT (read as ear nose and throat)"), ("gardening", "gardening (not in the case)")],
)
def test_a_specialty_in_other_words_is_offered_with_what_it_is_read_as(
    tmp_path: Path, written: str, says: str
) -> None:
    view = Viewer(Case, {"specialty": written}, Faults(), CASE, tmp_path)
    asked = view.row(("specialty",))
    assert isinstance(asked, Field)
    assert dict(asked.choices)[written] == says
