"""Read a word list that ships beside the code: `<name>.yaml`, in other languages `<name>.<tag>.yaml`.

An author writes in the language of the meeting, and often in two; so every language is looked for at once.
"""

from __future__ import annotations

from importlib.resources import files
from typing import Any

from mmbuilder import own_yaml

# The parser in C reads a list in a few milliseconds; the one in Python takes fifty.
_FOLDER = files("mmbuilder.review")


def read(name: str) -> dict[str, Any]:
    """Return the tree of `<name>.yaml` in this folder, with what its other languages add.

    Lists are made longer, groups wider. Rows that bear the `name` of another add to it; one that is
    told `as` another is a row of its own, and takes from that what it does not say.
    """
    named = sorted(
        (entry.name.count("."), entry.name) for entry in _FOLDER.iterdir() if entry.name.endswith(".yaml")
    )
    trees = [_tree(file) for _, file in named if file.partition(".")[0] == name]
    tree: dict[str, Any] = trees[0]
    for more in trees[1:]:
        tree = _with(tree, more)
    return tree


def fields(row: dict[str, Any]) -> dict[str, Any]:
    """Return a row of a list as the fields of a frozen class: its lists as tuples."""
    return {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}


def _tree(file: str) -> dict[str, Any]:
    tree: dict[str, Any] = own_yaml.read(_FOLDER.joinpath(file).read_text("utf-8"))
    return tree


def _with(one: Any, more: Any) -> Any:
    if isinstance(one, dict):
        return one | {key: _with(one[key], value) if key in one else value for key, value in more.items()}
    if isinstance(one, str):
        return f"{one}|{more}"
    return _rows(one, more) if isinstance(more[0], dict) else one + more


def _rows(rows: list[dict[str, Any]], more: list[dict[str, Any]]) -> list[dict[str, Any]]:
    told = {row.get("name") or row["word"]: row for row in rows}
    own = []
    for row in more:
        if "name" in row:
            told[row["name"]] = told[row["name"]] | _with(
                {key: told[row["name"]].get(key, []) for key in ("forms", "unless")},
                {key: row[key] for key in ("forms", "unless") if row.get(key)},
            )
        else:
            shared = {key: value for key, value in told[row["as"]].items() if key not in ("forms", "unless")}
            own.append(shared | {key: value for key, value in row.items() if key != "as"})
    return [*told.values(), *own]
