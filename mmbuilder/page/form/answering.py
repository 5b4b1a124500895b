"""Which causes an action answers: asked where the action is written, kept in the case with each cause."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.page.form import keeping
from mmbuilder.page.form.choices import ANSWERS, NAMED, NEW_NAME, answered, entries, listed, word
from mmbuilder.page.form.opened import opened


def asks(path: Path) -> bool:
    """Whether a path is that question of an action."""
    return path[:1] == NAMED["actions"] and path[2:] == (ANSWERS,) and isinstance(path[1], int)


def path_of(sent: Any, model: type[BaseModel]) -> Path:
    """Return a path as the form sent it: that question of an action, or a place that the schema has.

    Raises:
        NotKept: it is neither.
    """
    steps: Path = tuple(sent) if isinstance(sent, list) else ()
    if model is Case and asks(steps):
        keeping.path_of(list(steps[:2]), model)  # raises where there is no such entry
        return steps
    return keeping.path_of(sent, model)


def set_value(text: str, model: type[BaseModel], path: Path, typed: str) -> str:
    """Return the text of a file with a value as it was typed, or with an action at the causes it answers.

    Raises:
        NotKept: it is too long, or its place is gone.
    """
    if not asks(path):
        return keeping.set_value(text, model, path, typed)
    own, wanted = f"{NEW_NAME}{path[1]}", frozenset(typed.split("\n"))
    now = opened(text, Case)
    values = now.values if now is not None else {}
    before = frozenset(answered(values, path[:2]))
    for place, cause in enumerate(entries(values, "factors")):
        name = f"{NEW_NAME}{place}"
        if (name in wanted) is (name in before):
            continue
        others = [one for one in listed(cause, "actions") if one != word(values, *path[:2], "id")]
        named = "\n".join([*others, own] if name in wanted else others)
        text = keeping.set_value(text, model, ("factors", place, "actions"), named)
    return text
