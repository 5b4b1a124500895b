from __future__ import annotations

import io
import re
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest
from PIL import Image

from mmbuilder.analysis import Chart, build_timeline
from mmbuilder.figures import Drawing, draw
from tests.figures import samples

CASES = ("eye", "ward", "vitals")


@pytest.fixture
def no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", "")


def drawing(name: str, until: float | None = None) -> Drawing:
    return draw(Chart(build_timeline(getattr(samples, name)()), until, brackets=True), 31, 12.5)


@pytest.mark.usefixtures("no_cache")
@pytest.mark.parametrize("name", CASES)
def test_the_same_chart_gives_the_same_bytes(name: str) -> None:
    assert drawing(name) == drawing(name)


@pytest.mark.usefixtures("no_cache")
def test_charts_drawn_at_one_time_are_as_they_are_drawn_alone() -> None:
    alone = [drawing(name) for name in CASES] * 2
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-5)  # threads take turns within a drawing
    try:
        with ThreadPoolExecutor(len(CASES)) as beside:
            assert list(beside.map(drawing, CASES * 2)) == alone
    finally:
        sys.setswitchinterval(before)


@pytest.mark.usefixtures("no_cache")
@pytest.mark.parametrize("name", CASES)
def test_svg_keeps_its_text_at_fourteen_points_and_tells_no_date_or_program(name: str) -> None:
    svg = drawing(name).svg.decode()
    sizes = [float(size) for size in re.findall(r"(?:font-size: |font: (?:bold |700 )?)([\d.]+)px", svg)]
    assert len(sizes) == svg.count("<text")
    assert min(sizes) >= 14
    assert "Calibri" in svg
    assert "Carlito" in svg
    assert not re.search(r"dc:date|matplotlib v|Matplotlib v", svg)
    for words in ("FIRST SIGN", "RECOGNITION", "RESPONSE", "T+0 ="):
        assert words in svg


@pytest.mark.usefixtures("no_cache")
def test_png_is_the_size_of_the_slide_at_150_dots_an_inch_without_text_chunks() -> None:
    with Image.open(io.BytesIO(drawing("eye").png)) as picture:
        assert picture.size == (round(31 / 2.54 * 150), round(12.5 / 2.54 * 150))
        assert set(picture.info) <= {"dpi"}
        colours = picture.convert("RGB").getcolors(1 << 20)
    assert colours is not None
    assert max(colours)[1] == (255, 255, 255)


@pytest.mark.usefixtures("no_cache")
def test_a_cut_svg_has_none_of_the_later_words() -> None:
    svg = drawing("vitals", until=20).svg.decode()
    assert "Airway pressure 31" in svg
    for later in ("91 %", "Tube blocked", "Adrenaline", "Crisis", "RECOGNITION", "cuff", "probe"):
        assert later not in svg


# practice.md (a): nothing of what is to come is on an earlier slide. Where it stops stands far to the right:
# an axis that were drawn to the end would be mostly blank, and tell how long the story goes on.
@pytest.mark.usefixtures("no_cache")
@pytest.mark.parametrize(("name", "until"), [("ward", 2000), ("eye", 25), ("vitals", 20)])
def test_the_axis_of_a_cut_grows_with_the_story_and_ends_soon_after_it_stops(name: str, until: int) -> None:
    whole, part = drawing(name).svg.decode(), drawing(name, until).svg.decode()
    assert not place_of("here", whole)
    right = float(place_of("here", part).split()[0])
    assert right > 0.75 * 31 * 72 / 2.54


@pytest.mark.usefixtures("no_cache")
def test_a_cut_is_drawn_alike_whatever_comes_after_it() -> None:
    story = samples.Story()
    for minute in (0, 12, 25):
        story.add(samples.K.STEP, "step", minute)
    short = draw(Chart(build_timeline(story.case("start")), 30), 31, 12.5)
    story.add(samples.K.COMPLICATION, "harm", 45)
    story.add(samples.K.NOTE, "home", 9 * 24 * 60)
    assert draw(Chart(build_timeline(story.case("start")), 30), 31, 12.5) == short


@pytest.mark.usefixtures("no_cache")
def test_a_chart_that_has_little_to_tell_is_drawn_larger_and_one_that_is_full_is_not() -> None:
    story = samples.Story()
    for minute in (0, 12, 25):
        story.add(samples.K.STEP, "step", minute)
    little = draw(Chart(build_timeline(story.case("start")), 30), 31, 12.5).svg.decode()
    assert smallest(little) == 14 * 1.5
    assert smallest(drawing("eye").svg.decode()) == 14


def smallest(svg: str) -> float:
    return min(float(size) for size in re.findall(r"(?:font-size: |font: (?:bold |700 )?)([\d.]+)px", svg))


def place_of(label: str, svg: str) -> str:
    found = re.search(r"<text[^>]*translate\(([^)]*)\)[^>]*>" + re.escape(label) + "<", svg)
    return found[1] if found else ""


def test_a_kept_drawing_is_the_one_that_was_drawn(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    first = drawing("eye")
    monkeypatch.setattr("mmbuilder.figures.timeline.compose", None)
    assert drawing("eye") == first


def test_a_size_of_its_own_is_drawn_anew(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    chart = Chart(build_timeline(samples.eye()))
    assert draw(chart, 31, 12.5) != draw(chart, 30, 12.5)
