"""Nothing ahead of a pause gives the answer away: proven on the finished decks of every bundled case."""

from __future__ import annotations

import re
import zipfile
from functools import cache
from pathlib import Path

import pytest

from mmbuilder import apply, compose, load_case, propose
from mmbuilder.formats import deck_pptx
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.terms import Use
from mmbuilder.storyboard.blocks import Storyboard
from mmbuilder.storyboard.timing import timing
from tests.bundled import CASES, MAY_BE_TOLD
from tests.storyboard.telling import answers, explains, told

pytestmark = pytest.mark.usefixtures("seen")


@cache
def scrubbed(root: Path) -> ScrubbedCase:
    folder = load_case(root)
    return apply(folder, propose(folder))


@cache
def made(root: Path, use: Use) -> tuple[ScrubbedCase, Storyboard]:
    case = scrubbed(root)
    return case, compose(case, use)


@cache
def written(root: Path, use: Use) -> bytes:
    return deck_pptx.write(made(root, use)[1])


def _slide_files(deck: bytes) -> list[str]:
    """Everything each slide brings: its own XML, its notes, and the drawings it refers to, as text."""
    import io

    from pptx import Presentation

    presentation = Presentation(io.BytesIO(deck))
    archive = zipfile.ZipFile(io.BytesIO(deck))
    texts = []
    for slide in presentation.slides:
        parts = [slide.part, *(rel.target_part for rel in slide.part.rels.values() if not rel.is_external)]
        names = [str(part.partname).lstrip("/") for part in parts]
        own = [name for name in names if name.endswith((".xml", ".svg")) and "Layout" not in name]
        texts.append(_plain(" ".join(archive.read(name).decode("utf-8") for name in own)) + " ".join(names))
    return texts


def _plain(markup: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", markup)).replace("&amp;", "&")


@pytest.mark.parametrize(("root", "use"), MAY_BE_TOLD, ids=lambda value: getattr(value, "name", str(value)))
def test_no_slide_before_a_pause_holds_its_answer(root: Path, use: Use) -> None:
    case, board = made(root, use)
    for place, slide in enumerate(board.slides):
        if slide.pause and slide.kind != "questions":
            so_far = told(board.slides[: place + 1])
            found = [answer[:30] for answer in answers(case, board, place) if answer in so_far]
            assert found == [], f"{slide.kind} at {place}"


@pytest.mark.parametrize(("root", "use"), MAY_BE_TOLD, ids=lambda value: getattr(value, "name", str(value)))
def test_no_slide_takes_longer_to_tell_than_its_budget(root: Path, use: Use) -> None:
    """The rates are common practice, no source (`timing`)."""
    timed = timing(made(root, use)[1])
    assert [(one.slide.kind, one.slide.seconds, one.needs) for one in timed.slides if one.over] == []
    assert timed.to_cut == ()


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_words_held_back_are_in_no_file_of_a_slide_before_the_first_is_explained(root: Path) -> None:
    case, board = made(root, Use.REVIEW)
    deck = written(root, Use.REVIEW)
    assert case.hold_back, "a bundled case has something to hold back"
    explained = next(  # without stills, the whole timeline is the first to tell the recognition
        text
        for slide, text in zip(board.slides, _flowed(board, deck), strict=True)
        if explains(slide) or slide.kind == "timeline_whole"
    )
    before: list[str] = []
    for text in _slide_files(deck):
        if _plain(explained)[:40] in text:
            break
        before.append(text.lower())
    assert before
    for words in case.hold_back:
        assert not any(words.reveal().lower() in text for text in before), "a word held back came too early"


def _flowed(board: Storyboard, deck: bytes) -> list[str]:
    return [slide.headline.reveal() for slide in board.slides]


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_no_event_after_a_pause_is_in_the_files_of_a_slide_before_it(root: Path) -> None:
    case, board = made(root, Use.TEACHING)
    deck = written(root, Use.TEACHING)
    cut = next(slide for slide in board.slides if slide.kind == "timeline_before")
    chart = cut.blocks[0].chart  # type: ignore[union-attr]
    assert chart.until is not None
    # What T+0 is called stands under every chart, though a decision may come before it.
    later = [
        event
        for event in case.events
        if event.at.lo is not None and event.at.lo > chart.until and event.what != case.zero
    ]
    assert later
    files = _slide_files(deck)
    place = next(number for number, text in enumerate(files) if cut.headline.reveal() in text)
    for event in later:
        assert event.what.reveal() not in files[place]
        if event.label:
            assert event.label.reveal() not in files[place]
