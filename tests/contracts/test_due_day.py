"""The due date of an action is the one real date past the line: only the log and the calendar print it."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "mmbuilder"

PRINT = {"formats/_log.py", "formats/due_dates_ics.py"}
"""`_log` holds the cells that both spreadsheets write."""

CARRY = {"safe/case.py", "safe/log.py", "scrub/crossing/review.py", "analysis/action_log.py"}
"""Say what it is, fill it at the line, hand it from an action to its row, and order rows by it."""


def _named(path: Path) -> set[str]:
    tree = ast.parse(path.read_text("utf-8"))
    names = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    names |= {node.arg for node in ast.walk(tree) if isinstance(node, ast.keyword) and node.arg}
    names |= {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    # "due_day" as a word would be getattr or a table of fields.
    names |= {
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    return names


def test_nothing_else_knows_of_it() -> None:
    found = {
        path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py") if "due_day" in _named(path)
    }
    assert found == PRINT | CARRY


def test_what_writes_cells_from_it_are_the_two_spreadsheets() -> None:
    users = {path.name for path in (PACKAGE / "formats").rglob("*.py") if "_log" in _named(path)}
    assert users == {"action_log_csv.py", "action_log_xlsx.py"}
