"""Fill in for what the schema refused, on a copy, so that the rules can look at the rest in the same run.

Nothing of this is ever built: a case with one stop is not handed on. Placeholders are as quiet
as can be (an unknown time, the first word of a list), and no rule may speak of a part that
holds one.
"""

from __future__ import annotations

from collections.abc import Iterable

import yaml
from pydantic import ValidationError
from pydantic_core import ErrorDetails

from mmbuilder.case.freetext import Path, Scalar
from mmbuilder.case.model import Case
from mmbuilder.case.when import When
from mmbuilder.casefile.mark import Tree
from mmbuilder.casefile.shape import example, owner, slot_at

_ROUNDS = 3
_UNKNOWN = Scalar("unknown", (), 0, 0)


def mended(tree: dict[str, Tree], errors: Iterable[ErrorDetails]) -> tuple[Case, frozenset[Path]] | None:
    """Return a case with placeholders and the places that hold them; None where too much is missing."""
    work = {key: _copy(value) for key, value in tree.items()}
    touched: set[Path] = set()
    for _ in range(_ROUNDS):
        for error in sorted(errors, key=lambda error: -len(error["loc"])):
            path = tuple(error["loc"])
            touched.add(path)
            _put(work, path, error["type"])
        try:
            return Case.model_validate(work), frozenset(touched)
        except ValidationError as still:
            errors = still.errors(include_input=False, include_url=False)
    return None


def _copy(node: Tree) -> Tree:
    if isinstance(node, dict):
        return {key: _copy(value) for key, value in node.items()}
    return [_copy(value) for value in node] if isinstance(node, list) else node


def _put(work: dict[str, Tree], path: Path, kind: str) -> None:
    slot = slot_at(Case, path)
    if slot is not None and slot.kind is tuple and isinstance(path[-1], int):
        path = path[:-1]
    node: Tree | None = work
    for step in path[:-1]:
        node = _step(node, step)
    last = path[-1]
    if isinstance(node, dict) and isinstance(last, str):
        node.pop(last, None)
        if kind != "extra_forbidden":
            node[last] = _placeholder(path)
    elif isinstance(node, list) and isinstance(last, int) and last < len(node):
        filled = _placeholder(path)
        node[last] = filled[0] if isinstance(filled, list) else filled


def _step(node: Tree | None, step: str | int) -> Tree | None:
    if isinstance(node, dict) and isinstance(step, str):
        return node.get(step)
    if isinstance(node, list) and isinstance(step, int) and step < len(node):
        return node[step]
    # One entry that stands for a list of one.
    return node if isinstance(node, dict) and step == 0 else None


def _placeholder(path: Path) -> Tree:
    slot = slot_at(Case, path)
    if slot is not None and slot.kind is When:
        return _UNKNOWN
    key = next(step for step in reversed(path) if isinstance(step, str))
    model = owner(Case, tuple(step for step in path if isinstance(step, str)))
    assert model is not None
    made: dict[str, Tree] = yaml.load(example(model, key), Loader=yaml.BaseLoader)
    return _quiet(made[key])


def _quiet(node: Tree) -> Tree:
    """Take the times out of a part that stands in for one that was refused."""
    if isinstance(node, dict):
        return {key: _UNKNOWN if key == "when" else _quiet(value) for key, value in node.items()}
    return [_quiet(value) for value in node] if isinstance(node, list) else node
