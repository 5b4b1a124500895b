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
    meetings = tree.setdefault("meetings", [])
    # Minutes that are taken again, with what was wrong in them mended, are of the same meeting.
    place = next((at for at, one in enumerate(meetings) if one["day"] == said["day"]), len(meetings))
    meetings[place : place + 1] = [meeting]
    if said.get("learning"):
        tree["learning"] = said["learning"]
    for action in said.get("actions", []):
        _agree(tree, action)


def _agree(tree: Any, action: Any) -> None:
    """Change the action of this id, or, of one without, that of the same words; else it is a new one."""
    actions = tree.setdefault("actions", [])
    name = "id" if "id" in action else "what"
    same = next((one for one in actions if name in action and one.get(name) == action[name]), None)
    if same is None:
        actions.append(action)
    else:
        same.update(action)


def blank(case_learning: list[str], ids: list[str]) -> str:
    """Return minutes to be filled in, with what the case has now."""
    points = "".join(f"  - {_quoted(point)}\n" for point in case_learning)
    known = ", ".join(ids) or "none has an id yet"
    return _BLANK.format(learning=f"learning:\n{points}" if points else _NO_LEARNING, known=known)


def _quoted(text: str) -> str:
    """Within single quotes nothing has a meaning of its own but a single quote (YAML 1.2, 7.3.2)."""
    return "'" + " ".join(text.split()).replace("'", "''") + "'"


_NO_LEARNING = """\
# learning:
#   - What helps next time, in a sentence
"""


_BLANK = """\
# What the meeting left behind. Fill in; take the # away from what you need; run the same command again.
# Numbers by role only; nobody is named.
day:                       # the day of the meeting, such as 31 January 2025
attendance:
  - {{role: consultant, number: 0}}
  - {{role: registrar, number: 0}}
  - {{role: nurse, number: 0}}
# decided:
#   - What was decided, in a sentence
# The learning points as the meeting left them. Delete this part to keep those of the case.
{learning}# A new action with all of these; or the id of one of the case ({known})
# with what changes in it.
# actions:
#   - what: What is to change
#     owner: a role
#     due: 1 March 2025
#     strength: intermediate
#     strength reason: why it is as strong as that
#     measure: what is counted
#     out of: what it is counted out of
#     target: 19 of 20
#     period: 3 months
#     baseline: how it is now
#     review: at the meeting in 4 months
"""
