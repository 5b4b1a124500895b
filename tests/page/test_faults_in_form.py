"""A fault in the page speaks of the form: its labels and what is typed there, never lines of a file.

Common practice, no source: nobody who fills in the form sees the file.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask, get_template_attribute

from mmbuilder import registry
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import RULES
from mmbuilder.casefile.shape import all_keys, example, slots
from mmbuilder.page import Desk, create_app
from mmbuilder.page.form.examples import Typed, as_typed
from mmbuilder.page.form.layout import words
from mmbuilder.page.guarding import Door
from mmbuilder.page.parts.write import place_of
from tests.casefile.bad_case import bad_case
from tests.casefile.minimal import changed, minimal_case
from tests.page.conftest import BASE, PORT

_KEYS = "|".join(sorted(all_keys(Case) | all_keys(Declared)))
_OF_A_FILE = re.compile(
    rf"`[a-z][^`]*`|^(?:- )?(?:{_KEYS}):(?: |$)|\[[a-z]+(?:-[a-z]+)+\]|(?:^|: )(?:\[\d|{{\w)|^- ",
    re.MULTILINE,
)
"""A key in backticks, a line of a file, a code, an opening bracket."""


def told(app: Flask, root: Path) -> Iterator[tuple[str, str]]:
    """What the page shows of each fault of a case that a field concerns, with its code."""
    desk = app.extensions["desk"] = Desk(root)
    with app.test_request_context("/", base_url=BASE):
        fault = get_template_attribute("parts.html.j2", "fault")
        for problem in desk.checked().problems:
            for beside in (False, True) if place_of(problem) else ():
                shown = re.sub(r"<br>|</?(?:p|li|dd|dt|dl)[^>]*>", "\n", str(fault(problem, beside)))
                yield problem.code, html.unescape(re.sub(r"<[^>]+>", "", shown))


def test_no_fault_shows_lines_of_a_file(tmp_path: Path) -> None:
    rules = registry.discover(RULES, "CODE", "WHY", "GOOD", "BAD", "check")
    roots = [
        minimal_case(tmp_path / name, changed(rule.BAD), readings="readings" in rule.BAD)
        for name, rule in rules.items()
    ]
    app = create_app(Desk(roots[0]), Door(PORT))
    found = [one for root in [*roots, bad_case(tmp_path)] for one in told(app, root)]
    assert len({code for code, _ in found}) >= len({rule.CODE for rule in rules.values()})
    wrong = {
        code: line for code, shown in found for line in shown.split("\n") if _OF_A_FILE.search(line.strip())
    }
    assert wrong == {}


@pytest.mark.parametrize(
    ("lines", "path", "typed"),
    [
        (
            "by: audit lead\nwhen: Day 30",
            ("outcome", "grades", 0),
            ["Graded by: audit lead", "Graded when: Day 30"],
        ),
        ("low: 0\nhigh: 100", ("readings", 0, "lines", 0, "low"), [": 0", "Nonsense above: 100"]),
        ("box: [10, 10, 200, 40]", ("frames", 0, "cover", 0, "box"), [": 10, 10, 200, 40"]),
        (
            "offset: 7 min fast    (the same as -7 min)",
            ("clocks", 0, "offset"),
            [": 7 min fast (the same as -7 min)"],
        ),
        ("40 min later", ("background",), [": 40 min later"]),
        ('what: "Note: pain"', ("governance",), []),
    ],
)
def test_an_example_is_told_as_it_is_typed(lines: str, path: tuple[str | int, ...], typed: list[str]) -> None:
    def flat(one: Typed) -> str:
        return f"{one.label}: {one.words} {one.after}".rstrip()

    assert [flat(one) for one in as_typed(lines, path, Case)] == typed


def test_the_example_of_every_key_is_told_by_labels() -> None:
    for model in (Case, Declared):
        for key in slots(model):
            made = as_typed(example(model, key), (key,), model)
            assert made, key
            assert not any(_OF_A_FILE.search(one.words) for one in made), key
            assert words(model.__name__).keys[key].label
