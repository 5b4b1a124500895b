"""The finished decks of the bundled cases, for every use, as a chair or a governance lead would look."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from mmbuilder.pipeline import BuildReport
from mmbuilder.safe.terms import Use
from tests.bundled import CASES, DEATH, ILLUSTRATED, NEAR_MISS, OPENED
from tests.formats.invariants import check_deck
from tests.office import pages

Built = Callable[[Path, Use], BuildReport]
IDS = [f"{root.name}-{use.value.replace(' ', '-')}" for root, use in OPENED]


@pytest.mark.parametrize(("root", "use"), OPENED, ids=IDS)
def test_the_deck_keeps_every_rule_of_a_deck(root: Path, use: Use, built: Built) -> None:
    report = built(root, use)
    check_deck(report.deck.read_bytes())
    assert report.slides >= 3
    beside = [report.deck, *report.papers, report.report, report.page]
    assert all(path.name.startswith(f"{report.code}-{use.value.replace(' ', '-')}") for path in beside)
    assert all("-DRAFT" in path.name for path in (report.deck, *report.papers))
    assert {
        path.name for path in report.deck.parent.glob(report.deck.name.removesuffix("-DRAFT.pptx") + "-*")
    } == {path.name for path in beside}


@pytest.mark.parametrize(("root", "use"), OPENED, ids=IDS)
def test_neither_validator_finds_anything(root: Path, use: Use, built: Built) -> None:
    # openxml-audit (schema and semantics) and ooxml-integrity (text that does not fit), from PyPI.
    from openxml_audit import OpenXmlValidator

    deck = built(root, use).deck
    result = OpenXmlValidator().validate(deck)
    assert not list(result.errors)
    tool = Path(sys.executable).with_name("ooxml-integrity")
    done = subprocess.run(
        [tool, "check", "--no-config", "--fail-on", "info", deck], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.office
@pytest.mark.parametrize("root", ILLUSTRATED, ids=lambda path: path.name)
def test_it_converts_with_a_page_a_slide(root: Path, built: Built, tmp_path: Path) -> None:
    from pptx import Presentation

    deck = built(root, Use.REVIEW).deck
    assert pages(deck, tmp_path) == len(Presentation(deck).slides)


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_the_review_stays_within_what_a_chair_bears(root: Path, built: Built) -> None:
    # practice.md (a), what kills it: more than eighteen slides in fifteen minutes.
    report = built(root, Use.REVIEW)
    assert report.seconds == 15 * 60
    assert report.slides <= 18


@pytest.mark.parametrize("root", ILLUSTRATED, ids=lambda path: path.name)
def test_a_conference_report_has_ten_slides_at_most(root: Path, built: Built) -> None:
    report = built(root, Use.REPORT)
    assert report.slides <= 10


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_the_words_of_the_report_promise_no_more_than_they_should(root: Path, built: Built) -> None:
    report = built(root, Use.REVIEW)
    for path in (report.papers[0], report.report, report.page):
        text = path.read_text("utf-8").lower()
        assert "anonymous" not in text
        assert "draft" in text
    assert "not a medical device" in report.papers[0].read_text("utf-8").lower()


def _told(deck: Path) -> list[str]:
    """What each slide says, with its notes."""
    from pptx import Presentation

    return [
        "\n".join(
            (node.text or "").replace("\u00a0", " ")
            for part in (slide, slide.notes_slide)
            for node in part.element.iter()
            if node.tag.endswith("}t")
        )
        for slide in Presentation(deck).slides
    ]


def test_every_slide_of_a_death_says_where_the_law_stands_and_none_waits_for_it(built: Built) -> None:
    told = _told(built(DEATH, Use.REVIEW).deck)
    assert all("With the coroner: internal only." in slide for slide in told)
    family = next(place for place, slide in enumerate(told) if "what the family was told" in slide)
    causes = next(place for place, slide in enumerate(told) if "Different without it" in slide)
    assert family < causes
    assert not any("resolution" in slide or "rescue" in slide for slide in told)


def test_a_near_miss_is_told_with_its_barriers_and_without_rescue_or_grade(built: Built) -> None:
    told = _told(built(NEAR_MISS, Use.REVIEW).deck)
    assert any("one held" in slide and "barriers" in slide for slide in told)
    assert not any("rescue" in slide or "graded" in slide or "Clavien" in slide for slide in told)
