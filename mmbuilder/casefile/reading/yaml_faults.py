"""YAML's own errors, told as a ward clerk would: its words, which may quote the file, are never repeated."""

from __future__ import annotations

from typing import NamedTuple

import yaml

from mmbuilder.casefile.mark import Mark
from mmbuilder.casefile.reading.report import Report


class _Said(NamedTuple):
    code: str
    text: str
    expected: str
    example: str
    at_context: bool = False


_ALIGN = "entries that belong together start in the same column, with spaces"
_EXAMPLE = "- id: incision\n  kind: step\n  what: Skin incision"
# The first one whose words occur in YAML's message counts.
_TABLE: tuple[tuple[str, _Said], ...] = (
    (
        "tab",
        _Said("tab-indent", "a tab where spaces are expected", "spaces: two for each step inwards", _EXAMPLE),
    ),
    (
        "mapping values are not allowed",
        _Said(
            "colon-in-text",
            "a colon where no key can stand",
            "words with a colon between double quotes; keys that belong together in the same column",
            'what: "Note: pain in the shoulder"',
        ),
    ),
    (
        "could not find expected ':'",
        _Said("no-colon", "this line has no key", "a key, a colon and a space", "what: Skin incision", True),
    ),
    (
        "end of stream",
        _Said(
            "quote-not-closed", "a quote mark is never closed", "a closing one", 'what: "these words"', True
        ),
    ),
    (
        "escape",
        _Said(
            "backslash-in-quotes",
            "a backslash between double quotes",
            "single quotes around the words",
            "file: 'images\\first frame.png'",
        ),
    ),
    (
        "',' or",
        _Said(
            "bracket-in-text",
            "a bracket is never closed",
            "a closing bracket",
            "box: [10, 20, 300, 40]",
            True,
        ),
    ),
    ("sequence entries", _Said("moved-in-unevenly", "a dash where no list can stand", _ALIGN, _EXAMPLE)),
    (
        "expected key",
        _Said("moved-in-unevenly", "this line is not in line with those above it", _ALIGN, _EXAMPLE),
    ),
    (
        "'-' indicator",
        _Said("moved-in-unevenly", "this line is not in line with the list above", _ALIGN, _EXAMPLE),
    ),
    (
        "cannot start any token",
        _Said(
            "sign-at-start",
            "the words start with a sign that has another meaning here",
            "double quotes",
            'what: "> 90"',
        ),
    ),
    (
        "directive",
        _Said(
            "sign-at-start",
            "a line that starts with %",
            "the words between double quotes",
            'what: "% of all"',
        ),
    ),
)
_ELSE = _Said("not-readable", "from this line on the file cannot be read", _ALIGN, _EXAMPLE)


def tell_yaml_error(error: yaml.YAMLError, report: Report) -> None:
    """Add YAML's error to the report, in our words."""
    problem = str(getattr(error, "problem", "") or "")
    said = next((said for words, said in _TABLE if words in problem), _ELSE)
    mark = getattr(error, "context_mark" if said.at_context else "problem_mark", None)
    mark = mark or getattr(error, "problem_mark", None)
    report.tell(
        Mark(mark.line + 1, mark.column + 1) if mark is not None else Mark(0, 0),
        said.code,
        said.text,
        expected=said.expected,
        example=said.example,
        why="nothing below this line was looked at: there may be more to mend",
    )
