"""Take the minutes of a meeting into the case file; what they do not speak of stays as it is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mmbuilder.casefile.checking import CASE, Checked, check, load_minutes
from mmbuilder.casefile.editing import edited
from mmbuilder.casefile.files import read_bytes
from mmbuilder.casefile.reader import MOST_BYTES
from mmbuilder.errors import CaseInvalid


def recorded(root: Path, minutes: Path) -> tuple[str, Checked]:
    """Return the case file as it is after a meeting, and what the check says of it. Writes nothing.

    Raises:
        CaseInvalid: the minutes or the case have faults, or the case would have after it; nothing is changed.
    """
    if stopped := [problem for problem in check(root).problems if problem.stops]:
        raise CaseInvalid(stopped)
    load_minutes(minutes)  # every fault of the minutes, in their own lines
    said = _tree(minutes.read_text("utf-8-sig"))
    text = read_bytes(root, CASE, most=MOST_BYTES).decode("utf-8-sig")
    after = edited(text, lambda tree: _take(tree, said))
    checked = check(root, instead=after.encode())
    if checked.folder is None:
        raise CaseInvalid([problem for problem in checked.problems if problem.stops])
    return after, checked


def _tree(text: str) -> dict[str, Any]:
    trees: list[dict[str, Any]] = []
    edited(text, trees.append)
    return trees[0]


def _take(tree: Any, said: dict[str, Any]) -> None:
    meeting = {key: said[key] for key in ("day", "attendance", "decided") if key in said}
    before = [one for one in tree.get("meetings", []) if one["day"] != said["day"]]
    tree["meetings"] = [*before, meeting]  # minutes taken twice are one meeting
    if said.get("learning"):
        tree["learning"] = said["learning"]
    for action in said.get("actions", []):
        _agree(tree, action)


def _agree(tree: Any, action: Any) -> None:
    known = {one["id"]: one for one in tree.get("actions", []) if "id" in one}
    if action.get("id") in known:
        known[action["id"]].update(action)
    else:
        tree.setdefault("actions", []).append(action)


def blank(case_learning: list[str], ids: list[str]) -> str:
    """Return minutes to be filled in, with what the case has now."""
    points = "".join(f"  - {point}\n" for point in case_learning) or "  - \n"
    known = ", ".join(ids) or "none has an id yet"
    return _BLANK.format(points=points, known=known)


_BLANK = """\
# What the meeting left behind. Fill in, delete what you do not need, then run the same command again.
# Numbers by role only; nobody is named.
day: 2025-01-31            # the day of the meeting
attendance:
  - {{role: consultant, number: 0}}
  - {{role: registrar, number: 0}}
  - {{role: nurse, number: 0}}
decided:
  - What was decided, in a sentence
# The learning points as the meeting left them. Delete this part to keep those of the case.
learning:
{points}# A new action with all of these; or the id of one of the case ({known})
# with what changes in it. Delete this part if nothing changed.
actions:
  - what: What is to change
    owner: a role
    due: 1 March 2025
    strength: intermediate
    strength reason: why it is as strong as that
    measure: what is counted
    out of: what it is counted out of
    target: 19 of 20
    period: 3 months
    baseline: how it is now
    review: at the meeting in 4 months
"""
