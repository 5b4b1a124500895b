from __future__ import annotations

import json
import re
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator  # an independent validator

from mmbuilder import resources
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.scaffold import scaffold
from mmbuilder.casefile.schema import documents
from mmbuilder.packs.schema import available

CASES = [path / "case.yaml" for path in resources.bundled_cases()]


def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(json.loads(documents()[name]))


def as_an_editor_sees_it(node: Any) -> Any:
    """Type plain words as the core schema of YAML 1.2.2 (section 10.3.2) does."""
    if isinstance(node, dict):
        return {key: as_an_editor_sees_it(value) for key, value in node.items()}
    if isinstance(node, list):
        return [as_an_editor_sees_it(value) for value in node]
    if node in ("", "~", "null"):
        return None
    if node in ("true", "false"):
        return node == "true"
    if re.fullmatch(r"[-+]?[0-9]+", node):
        return int(node)
    return float(node) if re.fullmatch(r"[-+]?[0-9]+\.[0-9]+", node) else node


def faults(name: str, tree: object) -> list[str]:
    return [
        f"{'.'.join(map(str, error.path))}: {error.message}" for error in validator(name).iter_errors(tree)
    ]


def case_with(**parts: Any) -> dict[str, Any]:
    tree: dict[str, Any] = yaml.load(scaffold("anaesthesia")["case.yaml"], yaml.BaseLoader)
    return tree | parts


@pytest.mark.parametrize("name", sorted(documents()))
def test_the_shipped_copy_is_up_to_date(name: str) -> None:
    assert (resources.templates() / name).read_bytes() == documents()[name]


@pytest.mark.parametrize("name", sorted(documents()))
def test_it_is_a_schema_of_the_draft_it_names(name: str) -> None:
    made = json.loads(documents()[name])
    assert made["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(made)


@pytest.mark.parametrize("specialty", available())
@pytest.mark.parametrize("view", [lambda tree: tree, as_an_editor_sees_it], ids=["text", "typed"])
def test_scaffolds_pass(specialty: str, view: Any) -> None:
    files = scaffold(specialty)
    assert faults("case.schema.json", view(yaml.load(files["case.yaml"], yaml.BaseLoader))) == []
    assert (
        faults("identifiers.schema.json", view(yaml.load(files["identifiers.yaml"], yaml.BaseLoader))) == []
    )


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.parent.name)
@pytest.mark.parametrize("view", [lambda tree: tree, as_an_editor_sees_it], ids=["text", "typed"])
def test_bundled_cases_pass(path: Any, view: Any) -> None:
    assert faults("case.schema.json", view(yaml.load(path.read_text("utf-8"), yaml.BaseLoader))) == []
    private = path.with_name("identifiers.yaml")
    if private.exists():
        tree = yaml.load(private.read_text("utf-8"), yaml.BaseLoader)
        assert faults("identifiers.schema.json", view(tree)) == []


def test_there_are_bundled_cases_to_test_against() -> None:
    assert CASES


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        ({"use": "departmental review"}, "not valid"),
        ({"take-away": "x"}, "Additional properties are not allowed"),
        ({"clocks": []}, "non-empty|too short"),
        ({"code": "My Case"}, "does not match"),
        (
            {"frames": [{"file": "a.png", "shows": "s", "caption": "c", "crop": ["1", "2", "x", "4"]}]},
            "not valid",
        ),
        ({"timeline": {"index event": "a"}}, "'events' is a required property"),
    ],
)
def test_faults_an_editor_should_show(parts: dict[str, Any], told: str) -> None:
    found = faults("case.schema.json", case_with(**parts))
    assert len(found) == 1
    assert re.search(told, found[0])


@pytest.mark.parametrize(
    "parts",
    [
        {"learning": "one point on its line"},
        {"learning": ["two", "points"]},
        {"meeting": None},
        {"governance": {"coroner": False, "legal hold": "no"}},
        {"clocks": [{"name": "a", "reference": True}, {"name": 2, "offset": "90 s", "starts": 930}]},
        {"frames": [{"file": "a.png", "shows": 7, "caption": True, "crop": "1, 2, 3, 4", "when": 930}]},
    ],
)
def test_what_yaml_makes_of_right_lines_passes(parts: dict[str, Any]) -> None:
    assert faults("case.schema.json", case_with(**parts)) == []


def test_every_key_of_the_models_is_in_it_and_described_where_the_model_is() -> None:
    made = json.loads(documents()["case.schema.json"])
    assert set(made["properties"]) == {info.alias for info in Case.model_fields.values()}
    assert made["properties"]["specialty"]["description"] == "The name of a pack."
    private = json.loads(documents()["identifiers.schema.json"])
    assert set(private["properties"]) == set(Declared.model_fields)
