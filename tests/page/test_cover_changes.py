"""What is drawn goes into the case file, and every other line of it stays.

Checked against the file itself, line by line (difflib), and against the case model reading it again.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest

from mmbuilder.casefile.editing import edited
from mmbuilder.errors import FileRefused
from mmbuilder.page import stills
from tests.bundled import ILLUSTRATED

HAND_WRITTEN = """\
# what happened
frames:
  - file: a.png
    # the strip at the top
    cover:
      - {box: [1, 2, 3, 4], why: one}   # strip
      - {box: "1, 2.5, 3, 4", why: two}

  # the second
  - file: b.png
    when: file 2 0:05:25
    pause: yes   # ask

# now the decisions
decisions:
  - x: 1
"""
SPELLED_OUT = """\
frames:
  - file: a.png
    cover:
      - box: [1, 2, 3, 4]
        why: one
      # the other
      - box: [5, 6, 7, 8]
        why: two

  # the second
  - file: b.png
    Cover: none

# now the decisions
decisions: x
"""
LINE = "      - {box: [10, 20, 30, 40], why: name}"


def after(text: str, change: Callable[..., object], *args: Any) -> str:
    """The file after a change; what comes after the tree in its arguments may be given here."""

    def changed(tree: Any) -> None:
        change(tree, *args)

    return edited(text, changed)


def differing(before: str, now: str) -> tuple[list[str], list[str]]:
    """Lines that are gone, and lines that are new."""
    rows = list(difflib.ndiff(before.splitlines(), now.splitlines()))
    return [row[2:] for row in rows if row[0] == "-"], [row[2:] for row in rows if row[0] == "+"]


def test_frames_are_read_as_they_are_written() -> None:
    first, second = stills.stills(HAND_WRITTEN)
    assert first.boxes("cover") == ((1, 2, 3, 4), (1, 2, 3, 5))  # a pixel that is partly covered is covered
    assert [one.why for one in first.drawn] == ["one", "two"]
    assert (first.said, first.nothing, second.said) == (True, False, False)
    assert second.device == "file"
    assert stills.stills(SPELLED_OUT)[1].nothing


def test_a_half_written_case_has_pictures_too() -> None:
    text = (
        "frames:\n  - file: a.png\n    cover:\n      - {why: x}\n      - {box: [1, 2, wide]}\n  - nothing\n"
    )
    first, second = stills.stills(text)
    assert [one.box for one in first.drawn] == [None, None]
    assert (second.file, second.drawn) == ("", ())
    assert stills.stills("code: x\n") == ()
    assert stills.stills("frames: [\n") == ()


def test_a_box_adds_one_line() -> None:
    now = after(HAND_WRITTEN, lambda tree: stills.add(tree, 1, "cover", (10, 20, 30, 40), "name"))
    assert differing(HAND_WRITTEN, now) == ([], [LINE])
    now = after(HAND_WRITTEN, lambda tree: stills.add(tree, 2, "cover", (10, 20, 30, 40), "name"))
    assert differing(HAND_WRITTEN, now) == ([], ["    cover:", LINE])
    assert now.index("# now the decisions") > now.index("why: name")


@pytest.mark.parametrize(
    "why", ["yes", "09:30", "a: b", "#7", "no, he said: 'no' \"never\"", "ünïcödé µg", "- x", ""]
)
def test_any_reason_is_read_back_as_it_was_given(why: str) -> None:
    now = after(HAND_WRITTEN, lambda tree: stills.add(tree, 2, "cover", (1, 2, 3, 4), why))
    assert stills.stills(now)[1].drawn[0].why == why


def test_a_box_is_moved_and_explained_in_its_line() -> None:
    now = after(HAND_WRITTEN, lambda tree: stills.change(tree, 1, "cover", 0, (9, 8, 7, 6), "new"))
    assert differing(HAND_WRITTEN, now) == (
        ["      - {box: [1, 2, 3, 4], why: one}   # strip"],
        ["      - {box: [9, 8, 7, 6], why: new}   # strip"],
    )
    now = after(HAND_WRITTEN, lambda tree: stills.change(tree, 1, "cover", 0, None, ""))
    assert stills.stills(now)[0].drawn[0] == stills.Drawn("cover", 0, (1, 2, 3, 4), "")


@pytest.mark.parametrize("text", [HAND_WRITTEN, SPELLED_OUT], ids=["in one line", "over several"])
def test_the_comment_on_what_follows_survives_a_deletion(text: str) -> None:
    for places in ([1], [0], [1, 0], [0, 0]):
        now = text
        for place in places:
            now = after(now, stills.remove, 1, "cover", place)
        for comment in ("  # the second", "# now the decisions"):
            assert comment in now.splitlines()
        assert len(stills.stills(now)[0].drawn) == 2 - len(places)
        assert stills.stills(now)[0].said is (
            len(places) == 1
        )  # with the last cover goes the word on covering


def test_nothing_to_cover_is_said_and_taken_back_by_a_cover() -> None:
    now = after(HAND_WRITTEN, lambda tree: stills.say_nothing(tree, 2))
    assert differing(HAND_WRITTEN, now) == ([], ["    cover: none"])
    now = after(SPELLED_OUT, lambda tree: stills.add(tree, 2, "cover", (10, 20, 30, 40), "name"))
    assert differing(SPELLED_OUT, now) == (["    Cover: none"], ["    Cover:", LINE])
    with pytest.raises(FileRefused, match="has covers"):
        after(HAND_WRITTEN, lambda tree: stills.say_nothing(tree, 1))


def test_what_stays_needs_a_reason() -> None:
    with pytest.raises(FileRefused, match="reason"):
        after(HAND_WRITTEN, lambda tree: stills.add(tree, 1, "keep", (1, 2, 3, 4), ""))
    now = after(HAND_WRITTEN, lambda tree: stills.add(tree, 1, "keep", (1, 2, 3, 4), "scale"))
    with pytest.raises(FileRefused, match="reason"):
        after(now, lambda tree: stills.change(tree, 1, "keep", 0, None, ""))


def test_boxes_are_copied_once() -> None:
    def copied(tree: Any) -> int:
        return stills.copy(tree, [("cover", (1, 2, 3, 4), "one"), ("keep", (1, 1, 1, 1), "scale")], [1, 2])

    now = after(HAND_WRITTEN, copied)
    first, second = stills.stills(now)
    assert len(first.boxes("cover")) == 2  # it was there
    assert (second.boxes("cover"), second.boxes("keep")) == (((1, 2, 3, 4),), ((1, 1, 1, 1),))
    assert after(now, copied) == now


@pytest.mark.parametrize(
    "change",
    [
        lambda tree: stills.add(tree, 3, "cover", (1, 2, 3, 4), ""),
        lambda tree: stills.remove(tree, 1, "cover", 2),
        lambda tree: stills.remove(tree, 2, "keep", 0),
        lambda tree: stills.change(tree, 1, "keep", 0, None, "x"),
    ],
)
def test_what_is_not_there_is_refused(change: Callable[[Any], object]) -> None:
    with pytest.raises(FileRefused, match="there is no"):
        after(HAND_WRITTEN, change)


@pytest.mark.parametrize("root", ILLUSTRATED, ids=lambda path: path.name)
def test_adding_and_deleting_leaves_a_bundled_case_as_it_was(root: Path) -> None:
    text = (root / "case.yaml").read_text()
    for still, kind in zip(stills.stills(text), cycle(stills.KINDS), strict=False):
        added = after(text, stills.add, still.number, kind, (1, 2, 3, 4), "x")
        last = len(still.boxes(kind))
        assert after(added, stills.remove, still.number, kind, last) == text


@pytest.mark.parametrize("root", ILLUSTRATED, ids=lambda path: path.name)
def test_stills_are_those_of_the_model(root: Path) -> None:
    from mmbuilder.casefile import load

    read, model = stills.stills((root / "case.yaml").read_text()), load(root).case.frames
    assert len(read) == len(model)
    for still, frame in zip(read, model, strict=True):
        assert (still.file, still.shows) == (frame.file.value, frame.shows.value)
        assert still.boxes("cover") == tuple(cover.box for cover in frame.cover)
        assert still.boxes("keep") == tuple(keep.box for keep in frame.keep)
