"""From an empty folder to a signed final deck, in a real browser, without a mouse."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.page.conftest import Program

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

NAME = "Mordaunt Pellyvane"
WRITTEN = {
    "story": {
        "title": "A short stop after the first cut",
        "situation": f"Man, 61, planned hernia repair; the first cut bled more than expected, seen by {NAME}.",
        "asked": "Agree who checks the anticoagulant list on the morning.",
        "presenter-role": "registrar in general surgery",
    },
    "patient": {"patient-age": "61"},
    "plan": {"plan-procedure": "Open repair of a right inguinal hernia"},
    "outcome": {"outcome-summary": "Went home on Day 1, well."},
    "learning": {"take_away": "Ask for the last tablet, and write down the answer, before the knife."},
}


@pytest.fixture
def case(tmp_path: Path) -> Path:
    return tmp_path / "new-case"


@pytest.fixture
def served(program: Program) -> Program:
    """The whole way is gone in the program itself."""
    return program


def write(page: Page, place: str, words: str) -> None:
    """Go to a field and type, with the keys alone."""
    field = page.locator(f"#at-{place}")
    field.focus()
    if field.evaluate("field => field.tagName") == "SELECT":
        page.keyboard.type(words)
    else:
        page.keyboard.press("Control+A")
        page.keyboard.type(words)
    page.keyboard.press("Tab")


def press(page: Page, button: str, within: Any = None) -> None:
    (within or page).get_by_role("button", name=button, exact=True).first.focus()
    page.keyboard.press("Enter")


def kept(page: Page) -> None:
    page.locator("#said:not(:empty)").wait_for()


def go(page: Page, served: Program, place: str) -> None:
    """Follow the link to a page, with the keys; what was typed last is kept first."""
    link = page.locator(f'a[href="{place}"]:visible')
    if link.count():
        link.first.focus()
        page.keyboard.press("Enter")
        page.wait_for_url(f"**{place}")
    else:
        page.goto(f"{served.base}{place}")


def section(page: Page, served: Program, name: str) -> None:
    go(page, served, f"/write/{name}/")


def waited(page: Page) -> None:
    from playwright.sync_api import expect

    expect(page.locator("[data-waiting]")).to_have_count(0, timeout=180_000)


def test_from_an_empty_folder_to_a_signed_deck(
    page: Page, served: Program, case: Path, tmp_path: Path
) -> None:
    page.locator("#code").focus()
    page.keyboard.type("hernia-01")
    page.locator("#specialty").focus()
    page.keyboard.type("general")
    press(page, "Begin")
    page.wait_for_url("**/note/**")

    for name, fields in WRITTEN.items():
        section(page, served, name)
        for place, words in fields.items():
            write(page, place, words)
        kept(page)
    section(page, served, "clocks")
    press(page, "Add a clock")
    page.wait_for_selector("#at-clocks-0-name")
    write(page, "clocks-0-name", "theatre clock")
    write(page, "clocks-0-kind", "wall clock")
    write(page, "clocks-0-reference", "yes")
    section(page, served, "events")
    for number, (when, kind, what) in enumerate(
        (
            ("0912", "step", "Knife to skin"),
            ("09:20", "recognition", "Bleeding named"),
            ("~0931", "response", "Pressure, the consultant called at 09:25"),
        )
    ):
        press(page, "Add an event")
        page.wait_for_selector(f"#at-timeline-events-{number}-when")
        write(page, f"timeline-events-{number}-when", when)
        write(page, f"timeline-events-{number}-kind", kind)
        write(page, f"timeline-events-{number}-what", what)
        if number == 0:
            more = page.locator("details.entry[open] details.more > summary").first
            more.focus()
            page.keyboard.press("Enter")
            write(page, "timeline-events-0-id", "skin")
    section(page, served, "timeline")
    write(page, "timeline-index_event", "skin")
    kept(page)

    go(page, served, "/start/")
    assert page.get_by_text("What stops it").count() == 0, page.locator("main").inner_text()
    text = (case / "case.yaml").read_text("utf-8")
    assert "0912" in text  # as it was typed
    assert "~0931" in text

    go(page, served, "/words/")
    waited(page)
    assert page.locator("h3 mark").all_inner_texts() == [NAME]
    card = page.locator("section.finding").first
    card.locator("select").focus()
    page.keyboard.type("nurse")
    press(page, f"Put on the private list ({NAME})", card)
    waited(page)
    page.get_by_text("Nothing is left to decide").wait_for(timeout=180_000)
    page.get_by_text("Times of day in sentences (1)").focus()
    page.keyboard.press("Enter")
    page.get_by_text("becomes T+0:13").wait_for()  # by hand: 13 min after the knife at 09:12

    go(page, served, "/sign/")
    waited(page)
    for box in page.locator("input[type=checkbox]").all():
        box.focus()
        page.keyboard.press("Space")
    page.locator("#role").focus()
    page.keyboard.type("consultant")
    press(page, "Sign for department review")
    page.get_by_text("Identifiers removed, reviewed by consultant.").wait_for()

    go(page, served, "/get/")
    waited(page)
    with page.expect_download() as taken:
        page.get_by_role("link", name="Everything as one .zip").focus()
        page.keyboard.press("Enter")
    taken.value.save_as(tmp_path / "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        names = archive.namelist()
        assert "hernia-01-department-review.pptx" in names
        assert not [name for name in names if "DRAFT" in name]
        archive.extractall(tmp_path / "all")
    told = ""
    with zipfile.ZipFile(tmp_path / "all" / "hernia-01-department-review.pptx") as deck:
        told = "".join(deck.read(one).decode("utf-8", "ignore") for one in deck.namelist())
    assert "the nurse" in told
    assert "Pellyvane" not in told
    assert "the consultant called at T+0:13" in told
    assert "09:25" not in told


def test_two_tabs_do_not_overwrite_each_other(page: Page, served: Program, case: Path) -> None:
    page.locator("#code").focus()
    page.keyboard.type("hernia-01")
    press(page, "Begin")
    page.get_by_role("link", name="Write the case in the form").press("Enter")  # there is no note
    page.wait_for_url("**/write/**")
    other = page.context.new_page()
    other.goto(f"{served.base}/write/story/")
    write(page, "title", "From the first tab")
    kept(page)
    write(other, "title", "From the second tab")
    other.locator("#moved").wait_for()
    assert "title: From the first tab" in (case / "case.yaml").read_text("utf-8")
    assert other.locator("#at-title").input_value() == "From the second tab"


def test_a_killed_program_loses_nothing_that_was_kept(page: Page, served: Program, case: Path) -> None:
    page.locator("#code").focus()
    page.keyboard.type("hernia-01")
    press(page, "Begin")
    page.get_by_role("link", name="Write the case in the form").press("Enter")  # there is no note
    page.wait_for_url("**/write/**")
    write(page, "title", "Kept before the crash")
    kept(page)
    page.locator("#at-situation").focus()
    page.keyboard.type("Half a sen")
    served.process.kill()
    served.process.wait()
    page.keyboard.press("Tab")
    page.get_by_text("does not answer").or_(page.get_by_text("has stopped")).first.wait_for()
    assert "title: Kept before the crash" in (case / "case.yaml").read_text("utf-8")
    assert not list(case.glob(".writing-*"))
    again = Program(case)
    try:
        page.goto(again.address)
        page.goto(f"{again.base}/write/story/")
        assert page.locator("#at-title").input_value() == "Kept before the crash"
        press(page, "Undo")
        page.locator("#redo:not([disabled])").wait_for()
        assert "Kept before" not in (case / "case.yaml").read_text("utf-8")
    finally:
        again.stop()
