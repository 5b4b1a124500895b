"""References hold what is published: it stays; what is declared or a house's own goes all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.propose import in_texts, propose
from tests.scrub.small_case import CASE, small

STAYS = (
    "Brandlehurst K, Overwick J. Pumps that stop. J Invented Surg 2014;370(2):1198-208.",
    "Overwick J et al. Wheels. Invented Lancet 12 March 2019. doi:10.5555/inv.2019.03.014",
    "Pump safety: https://journal.example.org/articles/pump-2014 (2014)",
    "Brandlehurst K. PMID: 99912345",
    "Haynes AB, et al. Invented Surg 2009;360:491-499.",  # initials that are a state's letters too
)
GOES = (
    ("Velkonar P. Own series, 2014", "Velkonar"),
    ("Film at https://pacs.example.org/study/8821", "8821"),
    ("Dr Quillfeather, personal communication", "Quillfeather"),
    ("Scan at Calgary AB, 2014", "Calgary"),
    ("Notes of the patient, MRN 00482913", "00482913"),
)


def told(root: Path, reference: str) -> str:
    case = small(root, CASE + f'references:\n  - "{reference}"\n')
    return apply(case, propose(case)).references[0].reveal()


@pytest.mark.parametrize("reference", STAYS)
def test_a_published_reference_stays_whole(reference: str, tmp_path: Path) -> None:
    assert told(tmp_path / "case", reference) == reference


@pytest.mark.parametrize(("reference", "word"), GOES)
def test_what_is_not_published_goes(reference: str, word: str, tmp_path: Path) -> None:
    assert word not in told(tmp_path / "case", reference)


@pytest.mark.parametrize(
    ("text", "stays"),
    [
        ("Given St Mark's electrolyte solution for a high output stoma.", True),
        ("Started on St. Mark's solution, two sachets.", True),
        ("Transferred from St Mark's overnight.", False),
        ("Transferred from Birmingham hip in plaster.", False),
        ("Transferred from Birmingham, hip in plaster.", False),
    ],
)
def test_a_saint_stays_in_the_term_that_is_called_after_it(text: str, stays: bool) -> None:
    """Common practice, no source: St Mark's solution is what is drunk after loss of bowel."""
    place = "St Mark" if "Mark" in text else "Birmingham"
    found = in_texts([text], Index(Declared()))[0]
    assert any(text[span.start : span.end].startswith(place) for span in found) is not stays


def test_a_comma_parts_a_term() -> None:
    lists = load()
    for text, whole in (("Oxford knee score", True), ("Oxford, knee score", False)):
        assert (Passage.of(text, lists).term_over(0, 1) is not None) is whole


@pytest.mark.parametrize(
    "line",
    [
        "Strasberg SM et al. J Am Coll Surg 2016;222:89-96",
        "not followed in full: see Brandlehurst R et al.",
        "1. Brandlehurst K, Overwick J. Pumps that stop. J Invented Surg 2014;370(2):1198-208.",
    ],
)
def test_a_line_of_a_text_that_is_a_reference_stays(line: str) -> None:
    assert in_texts([f"Further reading\n{line}\n"], Index(Declared())) == [[]]


@pytest.mark.parametrize(
    "line",
    [
        "Seen with Overwick J on the ward; see Pumps. J Invented Surg 2014;370:1198-208.",
        "Pt Overwick J, seen in 2016; 3 units",
    ],
)
def test_who_stands_before_a_citation_goes(line: str) -> None:
    found = in_texts([line], Index(Declared()))[0]
    assert "Overwick" in " ".join(line[span.start : span.end] for span in found)
