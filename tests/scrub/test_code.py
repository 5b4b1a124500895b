"""A case's code names files, so it holds nothing that names somebody."""

from __future__ import annotations

import pytest

from mmbuilder import resources
from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.code import found_in
from mmbuilder.scrub.declared import Index

INDEX = Index(Declared.model_validate({"people": [{"name": "Jane Oskavarn", "role": "patient"}]}))


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        ("oskavarn-01", "declared"),
        ("jane-oskavarn", "declared"),
        ("mrn-00482913", "number"),
        ("bleed-2024-03-14", "date"),
        ("dr-quillfeather-02", "name"),
        ("case-9990000018", "number"),
    ],
)
def test_a_code_that_could_identify_is_told_by_kind(code: str, kind: str) -> None:
    assert kind in found_in(code, INDEX)


@pytest.mark.parametrize(
    "code", ["eye-02", "wheel-01", "airway-prone", "mm-17", "l4-5-fusion", "case-a", "iol-3"]
)
def test_a_neutral_code_passes(code: str) -> None:
    assert found_in(code, INDEX) == ""


def test_the_codes_of_the_bundled_cases_pass() -> None:
    assert {found_in(root.name, INDEX) for root in resources.bundled_cases()} == {""}
