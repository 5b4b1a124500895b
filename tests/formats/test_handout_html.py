"""The page for a browser: opened in real Chromium, wide and on a phone, and looked at by axe-core.

Source: axe-core (Deque) with its rules for WCAG 2 and good practice; WCAG 2.2, 1.4.10 (no reading in two
directions, save for tables and drawings).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from mmbuilder import labels
from mmbuilder.casefile import load
from mmbuilder.formats import handout_html
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import Bullets
from tests.browser import axe_faults
from tests.bundled import ILLUSTRATED
from tests.formats import boards

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1366, "height": 768}


pytestmark = pytest.mark.usefixtures("seen")
"""What a still shows is not looked for again with each use."""


def pages(root: Path, language: str = labels.ENGLISH, uses: Iterable[Use] = Use) -> dict[str, bytes]:
    """Every page for a browser that goes with a case, by its use."""
    made: dict[str, bytes] = {}
    for use in uses:
        folder = load(root, use)
        case = apply(folder, propose(folder, names=NoNameModel()))
        with labels.speaking(language):
            for paper in compose_papers(case, compose(case, use), use):
                if handout_html.FORMAT in paper.formats:
                    made[use.value] = handout_html.write(paper.board, paper.sheet)
    return made


IN_TURN = [(root, labels.ENGLISH, tuple(Use)) for root in ILLUSTRATED] + [
    (ILLUSTRATED[at % len(ILLUSTRATED)], other, (Use.REVIEW,))
    for at, other in enumerate(one for one in labels.languages() if one != labels.ENGLISH)
]
"""Every case with stills in English, and every other language once: the rules are about structure, which neither language nor story changes."""


@pytest.mark.browser
@pytest.mark.parametrize(("root", "language", "uses"), IN_TURN, ids=lambda one: getattr(one, "name", None))
def test_axe_finds_nothing_on_a_desk_or_a_phone(
    root: Path, language: str, uses: tuple[Use, ...], browser: Any, tmp_path: Path
) -> None:
    made = pages(root, language, uses)
    assert made.keys() >= {"department review", "teaching", "case report"} & {use.value for use in uses}
    tab = browser.new_page(viewport=DESK)
    asked: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    for use, page in made.items():
        file = tmp_path / f"{use}.html"
        file.write_bytes(page)
        tab.goto(file.as_uri())
        for size in (DESK, PHONE):
            tab.set_viewport_size(size)
            assert axe_faults(tab) == [], use
            assert tab.evaluate("document.documentElement.scrollWidth") <= size["width"]
    tab.close()
    assert asked == [(tmp_path / f"{use}.html").as_uri() for use in made]  # self-contained


@pytest.mark.browser
def test_on_a_phone_the_sign_of_a_line_from_the_right_is_on_the_screen(browser: Any, tmp_path: Path) -> None:
    hebrew = boards.safe("המשאבה נמצאה עומדת")
    slide = boards.slide("learning", boards.safe("Learned"), Bullets((boards.safe("one"), hebrew)))
    file = tmp_path / "page.html"
    file.write_bytes(handout_html.write(replace(boards.every_block(), slides=(slide,))))
    tab = browser.new_page(viewport=PHONE)
    tab.goto(file.as_uri())
    wide = tab.evaluate("document.documentElement.scrollWidth")
    right = tab.evaluate("document.querySelector('li[dir=rtl]').getBoundingClientRect().right")
    whole = tab.evaluate("document.querySelector('main').getBoundingClientRect().right")
    tab.close()
    assert wide <= PHONE["width"]
    assert right < whole


@pytest.mark.browser
def test_on_a_phone_what_a_table_is_about_is_read_along_a_line(browser: Any, tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    file.write_bytes(pages(ILLUSTRATED[0], uses=[Use.REVIEW])["department review"])
    tab = browser.new_page(viewport=PHONE)
    tab.goto(file.as_uri())
    wide = tab.evaluate("[...document.querySelectorAll('caption')].map(one => one.offsetWidth)")
    tab.close()
    assert min(wide) > PHONE["width"] / 2


@pytest.mark.browser
def test_on_a_phone_a_cell_stands_beside_its_name_and_an_empty_one_takes_no_line(
    browser: Any, tmp_path: Path
) -> None:
    file = tmp_path / "page.html"
    file.write_bytes(pages(ILLUSTRATED[0], uses=[Use.REVIEW])["department review"])
    tab = browser.new_page(viewport=PHONE)
    tab.goto(file.as_uri())
    cells = tab.evaluate(
        """[...document.querySelectorAll('td')].map(td => {
            const [name, said] = td.children, [a, b] = [name, said].map(one => one.getBoundingClientRect());
            return [td.offsetHeight > 0, said.textContent.trim() !== '', a.top === b.top && a.right <= b.left];
        })"""
    )
    tab.close()
    assert {(shown, beside) for shown, said, beside in cells if said} == {(True, True)}
    assert {shown for shown, said, _ in cells if not said} == {False}


@pytest.mark.browser
def test_where_a_drawing_is_wider_than_the_screen_it_says_so(browser: Any, tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    file.write_bytes(pages(ILLUSTRATED[0], uses=[Use.REVIEW])["department review"])
    tab = browser.new_page()
    tab.goto(file.as_uri())
    told = set()
    for width in (390, 700, 1366):
        tab.set_viewport_size({"width": width, "height": 800})
        told |= {
            (width, *one)
            for one in map(
                tuple,
                tab.evaluate(
                    """[...document.querySelectorAll('figure')].map(one => [
                        one.scrollWidth > one.clientWidth, one.nextElementSibling.offsetHeight > 0])"""
                ),
            )
        }
    tab.close()
    assert told == {(390, True, True), (700, True, True), (1366, False, False)}


@pytest.mark.browser
def test_it_prints_on_the_sheet_it_was_made_for(browser: Any, tmp_path: Path) -> None:
    import io

    from pypdf import PdfReader

    file = tmp_path / "page.html"
    file.write_bytes(pages(ILLUSTRATED[0], uses=[Use.REVIEW])["department review"])
    tab = browser.new_page()
    tab.goto(file.as_uri())
    printed = PdfReader(io.BytesIO(tab.pdf(prefer_css_page_size=True)))
    sizes = {tuple(round(float(side)) for side in page.mediabox[2:]) for page in printed.pages}
    # ISO 216: A4 is 210 mm by 297 mm, 595 by 842 points.
    assert {(width in (595, 596), height in (841, 842)) for width, height in sizes} == {(True, True)}
    text = re.sub(r"\s", "", " ".join(page.extract_text() for page in printed.pages))
    assert "Ifyoukeeponething" in text
