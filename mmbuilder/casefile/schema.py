"""JSON Schema (draft 2020-12) of the case files, for editors; made from the models that read them.

An editor sees a file as YAML types it, where `age: 58` is a number and `reference: yes` may be
a word or true. So values are allowed in every type they may appear in; what a time or a number
means is decided by `mmbuilder check`. Keys and closed words are exact, for completion.

Copies ship in `templates/`; `python -m mmbuilder.casefile.schema` writes them anew.
"""

from __future__ import annotations

import ast
import inspect
import json
from types import ModuleType
from typing import Final, TypeAlias

from pydantic import BaseModel, BeforeValidator

from mmbuilder import resources
from mmbuilder.case import identifiers, model

Json: TypeAlias = "dict[str, Json] | list[Json] | str | int | float | bool | None"
Node: TypeAlias = "dict[str, Json]"

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_NUMBER: Final = r"^\s*[+-]?\d+([.,]\d+)?\s*$"
_SWITCH: Final = ("yes", "no", "true", "false", "on", "off")
_BY_YAML: Final = {"yes": True, "no": False}


def documents() -> dict[str, bytes]:
    """Return the schemas, file name to content, the same bytes every time."""
    return {
        "case.schema.json": _document(model.Case, model, "A case of mmbuilder: case.yaml"),
        "identifiers.schema.json": _document(
            identifiers.Declared, identifiers, "Private identifiers of a case: identifiers.yaml"
        ),
    }


def _document(root: type[BaseModel], module: ModuleType, title: str) -> bytes:
    whole = root.model_json_schema(by_alias=True)
    parts: dict[str, Json] = whole.pop("$defs", {})
    notes = _notes(module)
    models = {name: made for name, made in vars(module).items() if _is_model(made)}
    for name, part in (*parts.items(), (root.__name__, whole)):
        assert isinstance(part, dict)
        if name in models:
            _widen_part(part, models[name], notes.get(name, {}))
        else:
            _widen_words(part)
    made = {"$schema": _DIALECT, "title": title} | {k: v for k, v in whole.items() if k != "title"}
    return (json.dumps(made | {"$defs": parts}, indent=1, ensure_ascii=False) + "\n").encode()


def _is_model(made: object) -> bool:
    return inspect.isclass(made) and issubclass(made, BaseModel)


def _notes(module: ModuleType) -> dict[str, dict[str, str]]:
    """Return the docstring under each field, by class and field name."""
    found: dict[str, dict[str, str]] = {}
    for part in ast.parse(inspect.getsource(module)).body:
        if not isinstance(part, ast.ClassDef):
            continue
        for line, below in zip(part.body, part.body[1:], strict=False):
            if isinstance(line, ast.AnnAssign) and isinstance(line.target, ast.Name):
                text = _docstring(below)
                if text:
                    found.setdefault(part.name, {})[line.target.id] = text
    return found


def _docstring(line: ast.stmt) -> str:
    text = line.value.value if isinstance(line, ast.Expr) and isinstance(line.value, ast.Constant) else ""
    return inspect.cleandoc(text).replace("\n", " ") if isinstance(text, str) else ""


def _widen_part(part: Node, made: type[BaseModel], notes: dict[str, str]) -> None:
    """Let every value of a part stand in each type that YAML may give it."""
    properties = part["properties"]
    assert isinstance(properties, dict)
    for name, info in made.model_fields.items():
        key = info.alias or name
        found = properties[key]
        assert isinstance(found, dict)
        node: Node = _widened(found)
        if "items" in node and any(isinstance(extra, BeforeValidator) for extra in info.metadata):
            choices: list[Json] = [node, node["items"]]
            node = {"anyOf": choices}
        if not info.is_required():
            node = _or_nothing(node)
        if name in notes:
            node["description"] = notes[name]
        properties[key] = node


def _widen_words(part: Node) -> None:
    """Let a closed list that holds yes or no take the values that YAML makes of them."""
    words = part["enum"]
    assert isinstance(words, list)
    words.extend(_BY_YAML[word] for word in list(words) if isinstance(word, str) and word in _BY_YAML)
    del part["type"]


def _widened(node: Node) -> Node:
    node = {key: value for key, value in node.items() if key not in ("title", "default")}
    match node.get("type"):
        case "string" if "enum" not in node:
            node["type"] = ["string", "number"]
            if "\\w" in str(node.get("pattern", "")):
                # A letter with an accent is \w to Python and not to the dialect's regular expressions.
                del node["pattern"]
                node |= {"minLength": 1, "maxLength": 40}
        case "number" | "integer":
            node |= {"type": ["number", "string"], "pattern": _NUMBER}
        case "boolean":
            del node["type"]
            node["enum"] = [True, False, *_SWITCH, *(word.capitalize() for word in _SWITCH)]
        case "array" if "prefixItems" in node:
            # A row of figures may also be written without brackets.
            row: Node = {key: _within(key, value) for key, value in node.items()}
            return {"anyOf": [row, {"type": "string"}]}
        case _:
            pass
    return {key: _within(key, value) for key, value in node.items()}


def _within(key: str, value: Json) -> Json:
    if key == "items" and isinstance(value, dict):
        return _widened(value)
    if key in ("anyOf", "prefixItems") and isinstance(value, list):
        return [_widened(entry) if isinstance(entry, dict) else entry for entry in value]
    return value


def _or_nothing(node: Node) -> Node:
    """A key that may be left out may also stand there without a value."""
    choices = node.get("anyOf", [node])
    assert isinstance(choices, list)
    if {"type": "null"} not in choices:
        choices = [*choices, {"type": "null"}]
    return {"anyOf": choices}


if __name__ == "__main__":
    for file, content in documents().items():
        (resources.templates() / file).write_bytes(content)
