"""Changes to the text of a case file: the value changes, and nothing else does.

The values are read back by the reader that `mmbuilder check` uses, not by the parser that made the change.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.reader import read
from mmbuilder.casefile.scaffold import scaffold
from mmbuilder.casefile.shape import all_keys, owner, slots
from mmbuilder.packs.schema import available
from mmbuilder.page.form import keeping, patch
from mmbuilder.page.form.keeping import New, NotKept
from mmbuilder.page.form.scalars import tidied
from tests.bundled import CASES, ILLUSTRATED, IN_WORDS

FILES = [path / name for path in CASES for name in ("case.yaml", "identifiers.yaml")]
SMALL = """# top
code: my-case           # names the files
title: "A title"
situation: >-
  one two three
  four five

timeline:
  events:
    # the first
    - what: first       # remark one
      when: 09:30
    - {what: second, when: "0912"}

    # the third
    - what: third
      when: no
      also: {when: ~10:00, source: notes}
# end
"""


TURNS = len(ILLUSTRATED)


def turn(path: Path) -> int:
    """Which of its parts a file is tried on, where each is dear: the cases have nearly the same parts, so they share them."""
    return (*ILLUSTRATED, *IN_WORDS).index(path.parent) % TURNS


def ids(path: Path) -> str:
    return f"{path.parent.name}-{path.name}"


def model_of(path: Path) -> Any:
    return Case if path.name == "case.yaml" else Declared


def tree(text: str, model: Any = Case) -> Any:
    """What the reader of `check` makes of a text, with single spaces; a slip in the text fails."""
    source = read(text.encode(), "file", all_keys(model))
    assert source.problems == ()
    return _spaced(source.tree)


def _spaced(node: Any) -> Any:
    match node:
        case dict():
            return {key: _spaced(value) for key, value in node.items()}
        case list():
            return [_spaced(value) for value in node]
        case _:
            return " ".join(str(node).split())


def value_at(node: Any, path: Any) -> Any:
    for step in path:
        node = node.get(step) if isinstance(node, dict) else node[step]
    return node


def walk(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Every part, list and value with its path."""
    yield path, node
    pairs = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, inner in pairs:
        yield from walk(inner, (*path, key))


@pytest.mark.parametrize("file", FILES, ids=ids)
def test_a_value_set_and_set_back_leaves_the_same_bytes(file: Path) -> None:
    text, model = file.read_text("utf-8"), model_of(file)
    before = tree(text, model)
    values = [(path, value) for path, value in walk(before) if isinstance(value, str)]
    tried = [
        (path, value) for at, (path, value) in enumerate(values) if at % 3 == 0 or len(value) > 80
    ]  # a third, and all long ones
    for at, (path, value) in enumerate(tried[turn(file) :: TURNS]):
        changed = patch.put(text, model, path, f"{value} too")
        assert at % 7 or value_at(tree(changed, model), path) == f"{value} too"
        assert patch.put(changed, model, path, value) == text


@pytest.mark.parametrize("file", FILES, ids=ids)
def test_a_change_touches_only_the_lines_of_its_value(file: Path) -> None:
    text, model = file.read_text("utf-8"), model_of(file)
    lines = text.split("\n")
    before = tree(text, model)
    for path, value in list(walk(before))[::5]:
        if isinstance(value, str):
            after = patch.put(text, model, path, "x: #y").split("\n")
            kept = [line for line in lines if line.lstrip().startswith("#")]
            assert [line for line in after if line.lstrip().startswith("#")] == kept
            same = sum(one == other for one, other in zip(lines, after, strict=False))
            tail = sum(one == other for one, other in zip(lines[::-1], after[::-1], strict=False))
            assert same + tail >= min(len(lines), len(after)) - 1


@pytest.mark.parametrize("file", FILES, ids=ids)
def test_a_key_that_was_not_there_goes_in_and_out_again(file: Path) -> None:
    text, model = file.read_text("utf-8"), model_of(file)
    for at, (path, part) in enumerate(walk(tree(text, model))):
        inner = owner(model, (*path, "x")) if isinstance(part, dict) else None
        for key, slot in slots(inner).items() if inner is not None else ():
            if key not in part and slot.part is None and (at + len(key)) % 4 == 0:
                more = patch.put(text, model, (*path, key), "words")
                assert at % 5 or value_at(tree(more, model), (*path, key)) == "words"
                assert patch.take(more, (*path, key)) == text


@pytest.mark.parametrize("file", FILES, ids=ids)
def test_entries_are_added_removed_and_moved(file: Path) -> None:
    text, model = file.read_text("utf-8"), model_of(file)
    lists = [(path, found) for path, found in walk(tree(text, model)) if isinstance(found, list)]
    for nth, (path, found) in enumerate(lists[turn(file) :: TURNS]):
        if not all(isinstance(one, str | dict) for one in found):
            continue
        more = patch.add(text, model, path, found[0])
        assert value_at(tree(more, model), path) == [*found, found[0]]
        assert patch.drop(more, path, len(found)) == text
        for at in range(len(found) - 1)[:: max(1, len(found) - 2)][nth % 2 :: 2]:  # the first, or the last
            moved = patch.shift(text, path, at, at + 1)
            wanted = [*found[:at], found[at + 1], found[at], *found[at + 2 :]]
            assert value_at(tree(moved, model), path) == wanted
            assert patch.shift(moved, path, at + 1, at) == text
            fewer = tree(patch.drop(text, path, at), model)
            assert value_at(fewer, path) == found[:at] + found[at + 1 :]


@pytest.mark.parametrize("file", FILES, ids=ids)
def test_lines_that_stay_keep_their_place(file: Path) -> None:
    text, model = file.read_text("utf-8"), model_of(file)
    lists = [(path, found) for path, found in walk(tree(text, model)) if isinstance(found, list)]
    of_lines = [(path, found) for path, found in lists if all(isinstance(one, str) for one in found)]
    for nth, (path, found) in enumerate(of_lines):
        if nth % TURNS == turn(file):
            changes = (
                [*found, "new: one"],
                found[::-1],
                ["zero", *found[1:]],
                ["only"],
                [*found[:1], "mid", *found[1:]],
            )
            for lines in changes[nth % 2 :: 2]:
                after = patch.put_lines(text, model, path, lines)
                assert value_at(tree(after, model), path) == lines
            same = patch.put_lines(patch.put_lines(text, model, path, [*found, "new"]), model, path, found)
            assert same == text


def test_a_remark_moves_with_the_entry_below_it() -> None:
    moved = patch.shift(SMALL, ("timeline", "events"), 1, 2)
    assert moved.index("# the third") < moved.index("what: third") < moved.index("what: second")
    assert "# end" in moved
    assert "# remark one" in moved


def test_a_remark_on_the_line_stays_when_the_value_goes() -> None:
    assert "code:           # names the files" in patch.take(SMALL, ("code",))
    assert "what:       # remark one" in patch.take(SMALL, ("timeline", "events", 0, "what"))


def test_times_are_written_as_typed() -> None:
    path = ("timeline", "events", 0, "when")
    for typed in (
        "0930",
        "~14:20",
        "no",
        "0912",
        "1:4",
        "14:15-14:20",
        "9.30 pm",
        "null",
        "-2 min 15 s",
        "+3 min",
    ):
        assert value_at(tree(patch.put(SMALL, Case, path, typed)), path) == typed


def test_one_record_becomes_a_list_of_two() -> None:
    path = ("timeline", "events", 2, "also")
    after = patch.add(SMALL, Case, path, {"when": "10:05"})
    assert value_at(tree(after), path) == [{"when": "~10:00", "source": "notes"}, {"when": "10:05"}]
    block = SMALL.replace(
        "also: {when: ~10:00, source: notes}",
        "also:\n        when: ~10:00\n        # whose\n        source: notes",
    )
    after = patch.add(block, Case, path, {"when": "10:05"})
    assert value_at(tree(after), path) == [{"when": "~10:00", "source": "notes"}, {"when": "10:05"}]
    assert "# whose" in after


def test_the_first_value_of_an_empty_file() -> None:
    after = patch.put("", Case, ("timeline", "events", 0, "what"), "Skin incision")
    assert tree(after) == {"timeline": {"events": [{"what": "Skin incision"}]}}


def test_keys_go_where_the_schema_has_them() -> None:
    after = patch.put(SMALL, Case, ("patient", "age"), "58")
    assert after.index("situation:") < after.index("patient:\n  age: 58\n") < after.index("timeline:")


def test_a_list_flush_with_its_key_is_gone_on_with_in_the_same_way() -> None:
    flush = "code: a\nheld:\n- what: one\n  evidence: two\nrescue:\n- stop\n"
    after = patch.add(flush, Case, ("held",), {"what": "three"})
    assert after == flush.replace("two\n", "two\n- what: three\n")
    assert patch.put(after, Case, ("learning",), ["x"]).endswith("learning:\n- x\n")


def test_figures_of_a_box() -> None:
    text = "frames:\n  - file: a.png\n    crop: [0,  0, 1180, 34]   # strip\n"
    path = ("frames", 0, "crop")
    after = patch.put(text, Case, path, patch.as_row("0, 0, 1200, 34", 4))
    assert after == text.replace("1180", "1200")
    assert (
        patch.put(after, Case, path, patch.as_row("1, 2", 4))
        .splitlines()[2]
        .split(":")[1]
        .strip()
        .startswith("1, 2")
    )


def test_an_entry_that_is_gone_is_told() -> None:
    for change in (
        lambda: patch.put(SMALL, Case, ("timeline", "events", 9, "what"), "x"),
        lambda: patch.drop(SMALL, ("timeline", "events"), 9),
        lambda: patch.shift(SMALL, ("timeline", "events"), 2, 3),
    ):
        with pytest.raises(patch.Gone):
            change()


_NASTY = st.text(
    st.one_of(
        st.sampled_from(list(" :#-?,[]{}&*!|>'\"%@`~\\=<“”‘’–•\t\n\u00a0é0a.")), st.characters(codec="utf-8")
    ),
    max_size=40,
)


@settings(max_examples=300, deadline=None)
@given(
    words=_NASTY,
    path=st.sampled_from(
        [
            ("code",),
            ("title",),
            ("situation",),
            ("timeline", "events", 0, "what"),
            ("timeline", "events", 1, "what"),
            ("timeline", "events", 2, "also", "source"),
            ("asked",),
        ]
    ),
)
def test_any_words_are_read_back_as_written(words: str, path: tuple[Any, ...]) -> None:
    wanted = tidied(words)
    if wanted:
        after = patch.put(SMALL, Case, path, wanted)
        assert value_at(tree(after), path) == wanted


@settings(max_examples=100, deadline=None)
@given(
    lines=st.lists(_NASTY.map(tidied).filter(bool), min_size=1, max_size=5),
    more=st.lists(_NASTY.map(tidied).filter(bool), min_size=1, max_size=5),
)
def test_any_lines_are_read_back_as_written(lines: list[str], more: list[str]) -> None:
    text = patch.put_lines(SMALL, Case, ("plan", "told"), lines)
    assert value_at(tree(text), ("plan", "told")) == lines
    assert value_at(tree(patch.put_lines(text, Case, ("plan", "told"), more)), ("plan", "told")) == more


@pytest.mark.parametrize("specialty", available())
def test_the_remarks_of_a_new_case_survive_every_change(specialty: str) -> None:
    text = scaffold(specialty)["case.yaml"].decode()
    remarks = sorted(line.strip() for line in text.splitlines() if line.lstrip().startswith("#"))
    for path, value in walk(tree(text)):
        if isinstance(value, str):
            text = patch.put(text, Case, path, f"{value} and")
    text = patch.add(text, Case, ("actions",), {"what": "more"})
    text = patch.add(text, Case, ("timeline", "events"), {"what": "more"})
    assert sorted(line.strip() for line in text.splitlines() if line.lstrip().startswith("#")) == remarks


def test_what_comes_to_a_list_leaves_what_stands_there() -> None:
    for before, after in (
        ("held: none\n", [{"what": "calm"}]),
        ("held: help came\n", ["help came", {"what": "calm"}]),  # words where a list belongs
        ("held: {what: help came}\n", [{"what": "help came"}, {"what": "calm"}]),
        ("held:\n", [{"what": "calm"}]),
    ):
        text, places = keeping.put_in(f"code: a-1\n{before}", Case, [New(("held",), {"what": "calm"})])
        assert tree(text)["held"] == after
        assert places == [("held", len(after) - 1)]


def test_words_that_would_be_too_long_are_refused_and_nothing_is_put() -> None:
    long = "outcome: {told: " + "a" * 19_990 + "}\n"
    with pytest.raises(NotKept, match="longer than"):
        keeping.put_in(long, Case, [New(("outcome", "told"), "and more than that")])
