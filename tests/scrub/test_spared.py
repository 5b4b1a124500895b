"""References hold what is published: it stays; what is declared or a house's own goes all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.propose import propose
from tests.scrub.small_case import CASE, small

STAYS = (
    "Brandlehurst K, Overwick J. Pumps that stop. J Invented Surg 2014;370(2):1198-208.",
    "Overwick J et al. Wheels. Invented Lancet 12 March 2019. doi:10.5555/inv.2019.03.014",
    "Pump safety: https://journal.example.org/articles/pump-2014 (2014)",
    "Brandlehurst K. PMID: 99912345",
)
GOES = (
    ("Velkonar P. Own series, 2014", "Velkonar"),
    ("Film at https://pacs.example.org/study/8821", "8821"),
    ("Dr Quillfeather, personal communication", "Quillfeather"),
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
