"""The detectors that are not asked about a text without a figure find nothing in one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from re import _constants as kinds  # type: ignore[attr-defined]  # the parse of a pattern, as Python's own compiler has it
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.scrub.layers import NEEDS_FIGURE, Patterns, detectors

each = pytest.mark.parametrize("name", sorted(NEEDS_FIGURE))


def holds_figure(parsed: Any) -> bool:
    """Whether no text without a figure can match a parsed pattern."""
    return any(_part_holds(kind, value) for kind, value in parsed)


def _part_holds(kind: Any, value: Any) -> bool:
    if kind is kinds.LITERAL:
        return chr(value).isdecimal()
    if kind is kinds.IN:
        return all(_choice_holds(*choice) for choice in value)
    if kind is kinds.BRANCH:
        return all(map(holds_figure, value[1]))
    if kind in (kinds.MAX_REPEAT, kinds.MIN_REPEAT, kinds.POSSESSIVE_REPEAT):
        return bool(value[0] >= 1 and holds_figure(value[2]))
    if kind is kinds.SUBPATTERN:
        return holds_figure(value[3])
    if kind is kinds.ASSERT:
        return holds_figure(value[1])
    return kind is kinds.ATOMIC_GROUP and holds_figure(value)


def _choice_holds(kind: Any, value: Any) -> bool:
    if kind is kinds.RANGE:
        return all(chr(code).isdecimal() for code in range(value[0], value[1] + 1))
    return (kind is kinds.LITERAL and chr(value).isdecimal()) or value is kinds.CATEGORY_DIGIT


def patterns(held: object) -> Iterator[re.Pattern[str]]:
    """Every compiled pattern, however deep in a table."""
    if isinstance(held, re.Pattern):
        yield held
    elif isinstance(held, dict):
        yield from (found for value in held.values() for found in patterns(value))
    elif isinstance(held, (tuple, list, set, frozenset)):
        yield from (found for value in held for found in patterns(value))


@pytest.mark.parametrize(
    ("pattern", "holds"),
    [
        (r"\d", True),
        (r"[0-9]+x?", True),
        (r"a(?:1|b\d)", True),
        (r"(?=.*\d)\w+", True),
        (r"\d*a", False),
        (r"[\da]", False),
        (r"a|\d", False),
        (r"(?<!\d)a", False),
        (r"[^\d]", False),
        (r"\D", False),
    ],
)
def test_a_pattern_is_taken_apart(pattern: str, holds: bool) -> None:
    assert holds_figure(parser.parse(pattern)) is holds


@each
def test_every_pattern_holds_a_figure(name: str) -> None:
    found = list(patterns(vars(detectors()[name])))
    assert found
    for pattern in found:
        assert holds_figure(parser.parse(pattern.pattern, pattern.flags)), pattern.pattern


@each
def test_nothing_is_found_in_an_example_without_its_figures(name: str) -> None:
    leaf = detectors()[name]
    for example in leaf.EXAMPLES:
        assert list(leaf.find(re.sub(r"\d", "O", example))) == []
        assert list(leaf.find(re.sub(r"\d", "", example))) == []


CUES = (
    "MRN", "NHS", "SSN", "NPI", "VIN", "IBAN", "bed", "ward", "bleep", "ext.", "policy", "no.", "serial", "number", "tel:", "fax",
    "licence", "reg", "(01)", "+", "-", "/", "O", "l", "I",
)  # fmt: skip


@given(
    st.lists(
        st.sampled_from(CUES) | st.text(st.characters(exclude_categories=["Nd", "Cs"]), max_size=20),
        max_size=12,
    )
)
def test_nothing_is_found_where_there_is_no_figure(words: list[str]) -> None:
    text = " ".join(words)
    leaves = detectors()
    if re.search(r"\d", text) is None:
        assert [span for name in NEEDS_FIGURE for span in leaves[name].find(text)] == []


def test_all_detectors_are_asked_where_there_is_one() -> None:
    for name, leaf in detectors().items():
        for example in leaf.EXAMPLES:
            assert set(leaf.find(example)) <= set(Patterns().find([example])[0]), name
