"""Paper without its rules, and traces that hang askew: what is written on either is covered, the paper and the trace are not."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images.finders import _traces, text
from mmbuilder.scrub.images.finders._ruled import without_rules
from mmbuilder.scrub.plan import Decision
from tests.scrub.images.extras import need

PAPER, RULE, PEN = (236, 240, 246), (160, 185, 215), (70, 70, 90)


@pytest.fixture
def ocr() -> None:
    need("ocr", "onnxruntime", "cv2")


@pytest.fixture
def seeing() -> None:
    need("ocr", "cv2")


def squared(every: int = 24) -> Image.Image:
    """Paper that is squared and lies half in a shadow."""
    paper = np.full((720, 1280, 3), PAPER, float)
    for thick in (0, 1):
        paper[every // 2 + thick :: every] = RULE
        paper[:, every // 2 + thick :: every] = RULE
    return Image.fromarray((paper * np.linspace(0.75, 1, 1280)[None, :, None]).astype(np.uint8))


def beats(*, level: int, across: int, high: int = 46) -> list[tuple[float, float]]:
    """A trace that is level between its beats."""
    columns = np.arange(across)
    beat = columns / 60 % 1
    rows = level - high * np.exp(-(((beat - 0.5) / 0.08) ** 2))
    return [*zip(columns.tolist(), rows.tolist(), strict=True)]


def screen(words: str = "") -> Image.Image:
    """A screen with three traces that hangs askew on a wall, and words on the middle one."""
    shown = Image.new("RGB", (700, 420), (8, 10, 14))
    draw = ImageDraw.Draw(shown)
    for level, colour in ((110, (60, 230, 90)), (230, (240, 220, 60)), (350, (80, 190, 255))):
        draw.line(beats(level=level, across=520), fill=colour, width=2)
    draw.text((150, 196), words, fill=(235, 235, 235), font=ImageFont.truetype(fonts.path(), 30))
    wall = np.random.default_rng(5).normal(120, 5, (720, 1280, 1)).repeat(3, 2).clip(0, 255)
    room = Image.fromarray(wall.astype(np.uint8))
    there = Image.new("L", shown.size, 255).rotate(-11, Image.Resampling.BICUBIC, expand=True)
    room.paste(shown.rotate(-11, Image.Resampling.BICUBIC, expand=True), (240, 90), there)
    return room


def covered(picture: Image.Image) -> np.ndarray:
    mask = np.zeros((picture.height, picture.width), bool)
    for box in text.find(picture):
        if box.decision is Decision.REPLACE:
            mask[box.top : box.bottom, box.left : box.right] = True
    return mask


def changed(before: Image.Image, after: Image.Image) -> np.ndarray:
    return np.abs(np.asarray(after).astype(int) - np.asarray(before)).max(2) > 20


@pytest.mark.usefixtures("seeing")
@pytest.mark.parametrize("every", [8, 12, 24, 40])
def test_rules_are_taken_out_and_a_stroke_across_them_is_not(every):
    paper = squared(every)
    drawn = paper.copy()
    ImageDraw.Draw(drawn).line((300, 80, 420, 600), fill=PEN, width=4)
    stroke = changed(paper, drawn)
    before, after = np.asarray(drawn).astype(int), without_rules(np.asarray(drawn)).astype(int)
    shadow = np.array(PAPER) * np.linspace(0.75, 1, 1280)[None, :, None]
    apart = np.abs(after - shadow).max(2)
    assert (apart[~stroke] > 30).mean() < 0.01 < (np.abs(before - shadow).max(2)[~stroke] > 30).mean()
    assert (apart[stroke] > 30).mean() > 0.95


@pytest.mark.usefixtures("seeing")
def test_screen_with_level_traces_and_frames_has_no_rules():
    picture = Image.new("RGB", (1280, 720), (8, 10, 14))
    for row in range(6):
        ImageDraw.Draw(picture).line(beats(level=90 + 110 * row, across=900), fill=(60, 230, 90), width=2)
        ImageDraw.Draw(picture).rectangle((940, 30 + 110 * row, 1260, 120 + 110 * row), outline=(70, 74, 80))
    pixels = np.asarray(picture)
    assert without_rules(pixels) is pixels


@pytest.mark.usefixtures("seeing")
def test_level_line_of_a_trace_on_ruled_paper_is_no_rule():
    picture = squared(16)
    before = picture.copy()
    ImageDraw.Draw(picture).line(beats(level=352, across=1280), fill=(20, 20, 40), width=2)
    trace = np.asarray(picture).max(2) < 60
    assert trace.any()
    assert not (np.asarray(before).max(2) < 60).any()
    assert (without_rules(np.asarray(picture)).max(2)[trace] < 90).mean() > 0.9


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize(("at", "ink"), [((500, 302), (150, 158, 150)), ((840, 440), (250, 252, 252))])
def test_small_faint_name_on_squared_paper_is_covered_and_the_paper_is_not(at, ink):
    paper = squared()
    assert covered(paper).mean() < 0.002
    written = paper.copy()
    ImageDraw.Draw(written).text(at, "Quendleby Tharsko", fill=ink, font=ImageFont.truetype(fonts.path(), 13))
    assert covered(written)[changed(paper, written)].mean() > 0.9


@pytest.mark.usefixtures("ocr")
def test_traces_on_a_screen_that_hangs_askew_stay_in_sight_and_a_name_on_one_does_not():
    bare, named = screen(), screen("QUENDLEBY Tharsko")
    assert covered(bare).mean() < 0.005
    assert covered(named)[changed(bare, named)].mean() > 0.9


@pytest.mark.usefixtures("seeing")
def test_line_that_is_a_trace_is_a_recording_and_with_letters_on_it_it_is_not():
    laid = Image.new("RGB", (400, 60), (8, 10, 14))
    ImageDraw.Draw(laid).line(beats(level=54, across=400), fill=(60, 230, 90), width=2)
    assert _traces.recording(np.asarray(laid))
    for ink in ((60, 230, 90), (90, 90, 90)):
        written = laid.copy()
        ImageDraw.Draw(written).text(
            (120, 20), "Tharsko", fill=ink, font=ImageFont.truetype(fonts.path(), 26)
        )
        assert not _traces.recording(np.asarray(written))


@pytest.mark.usefixtures("seeing")
def test_curve_that_ends_in_a_rectangle_is_alone_there_but_for_what_is_known():
    picture = Image.new("RGB", (400, 80), (8, 10, 14))
    ImageDraw.Draw(picture).line(beats(level=66, across=350), fill=(60, 230, 90), width=2)
    curve = (np.asarray(picture)[..., 1] > 60).astype(np.uint8)
    assert _traces.only_curve(curve, np.asarray(picture), 0, 0, 400, 80)
    ImageDraw.Draw(picture).text(
        (200, 8), "SpO2", fill=(230, 230, 230), font=ImageFont.truetype(fonts.path(), 16)
    )
    known = np.zeros((80, 400), bool)
    assert not _traces.only_curve(curve, np.asarray(picture), 0, 0, 400, 80, known)
    known[4:32, 190:260] = True
    assert _traces.only_curve(curve, np.asarray(picture), 0, 0, 400, 80, known)


@pytest.mark.usefixtures("seeing")
@pytest.mark.parametrize("words", ["minimum nunn", "Quendleby", "lllllll"])
def test_joined_words_are_no_recording(words):
    font = ImageFont.truetype(fonts.path(), 40)
    left, top, right, bottom = font.getbbox(words)
    laid = Image.new("RGB", (round(right - left) + 6, round(bottom - top) + 6), PAPER)
    draw = ImageDraw.Draw(laid)
    draw.text((3 - left, 3 - top), words, fill=PEN, font=font)
    draw.line((0, laid.height - 5, laid.width, laid.height - 5), fill=PEN, width=3)
    assert not _traces.recording(np.asarray(laid))
