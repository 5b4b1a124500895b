"""The form in a real browser, by keyboard: kept at once, faults beside the field, two tabs."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from mmbuilder.casefile.checking import CASE
from tests.page.conftest import Served

if TYPE_CHECKING:
    from playwright.sync_api import Page, Route

pytestmark = pytest.mark.browser


def test_a_change_is_kept_by_leaving_the_field_and_its_fault_comes_and_goes(
    page: Page, served: Served, case: Path
) -> None:
    page.goto(f"{served.base}/write/events/")
    page.locator("#at-timeline-events-4 > summary").press("Enter")
    when = page.locator("#at-timeline-events-4-when")
    when.fill("25:99")
    when.press("Tab")
    page.get_by_text("Kept at").wait_for()
    assert "when: 25:99" in (case / CASE).read_text("utf-8")
    assert when.get_attribute("aria-invalid") == "true"
    assert "no clock shows this time" in page.locator("#at-timeline-events-4-when-faults").inner_text()
    page.locator("#at-timeline-events-4 > summary").press("Enter")
    page.locator("#write-top a").press("Enter")
    assert page.evaluate("document.activeElement.id") == "at-timeline-events-4-when"
    page.keyboard.press("Control+A")
    page.keyboard.type("1443")
    page.keyboard.press("Tab")
    page.locator("#write-top a").wait_for(state="detached")
    assert "when: 1443" in (case / CASE).read_text("utf-8")


def test_the_next_section_with_something_to_do_is_one_press_away(
    page: Page, served: Served, case: Path
) -> None:
    """Common practice, no source: what may stay empty is not walked through."""
    text = (case / CASE).read_text("utf-8")
    (case / CASE).write_text(text.replace("\ntake away:", "\n# take away:", 1), "utf-8")
    page.goto(f"{served.base}/write/events/")
    page.get_by_role("link", name="Next to do: Learning and take-away").press("Enter")
    page.wait_for_url("**/write/learning/")
    page.locator("#at-take_away").fill("Call before the second try")
    page.locator("#at-take_away").press("Tab")
    page.get_by_text("Kept at").wait_for()
    assert not page.get_by_role("link", name="Next to do").count()
    assert page.get_by_role("link", name="Next step").count() == 1


def test_what_is_the_same_for_every_action_is_said_once(page: Page, served: Served, case: Path) -> None:
    """Common practice, no source. What another action says itself stays."""
    text = (case / CASE).read_text("utf-8")
    bare = re.sub(r"(?m)^    (?:period|baseline|review): .*\n", "", text)
    (case / CASE).write_text(bare, "utf-8")
    page.goto(f"{served.base}/write/actions/")
    count = page.locator("#at-actions > details").count()
    for number, period in ((1, "a year"), (0, "three months")):
        page.locator(f"#at-actions-{number} > summary").press("Enter")
        page.locator(f"#at-actions-{number}-period").fill(period)
        page.locator(f"#at-actions-{number}-period").press("Tab")
        page.get_by_text("Kept at").wait_for()
    page.locator("#at-actions-0-baseline").fill("not counted")
    page.locator("#at-actions-0-baseline").press("Tab")
    page.get_by_role("button", name="as for action 1").press("Enter")
    page.get_by_text("Said of every other action").wait_for()
    assert page.locator("#at-actions-0").get_attribute("open") is not None
    kept = (case / CASE).read_text("utf-8")
    assert kept.count("period: three months") == count - 1
    assert kept.count("period: a year") == 1
    assert kept.count("baseline: not counted") == count


def test_what_is_typed_while_a_list_is_changed_is_kept(page: Page, served: Served, case: Path) -> None:
    """A machine that is slow to answer, and a hand that is not."""
    held: list[Route] = []

    def hold(route: Route) -> None:
        if "alike" in (route.request.post_data or ""):
            held.append(route)
        else:
            route.continue_()

    page.goto(f"{served.base}/write/actions/")
    page.locator("#at-actions-0 > summary").press("Enter")
    page.route("**/write/actions/", hold)
    with page.expect_request(lambda request: "alike" in (request.post_data or "")):
        page.get_by_role("button", name="as for action 1").press("Enter")
    page.locator("#at-actions-0-measure").fill("counted at noon")
    page.locator("#at-actions-0-measure").press("Tab")
    held[0].continue_()
    page.get_by_text(re.compile(r"Kept at \d")).wait_for()
    assert page.locator("#at-actions-0-measure").input_value() == "counted at noon"
    assert "counted at noon" in (case / CASE).read_text("utf-8")


def test_a_hint_is_told_where_one_writes_and_nothing_moves_for_it(page: Page, served: Served) -> None:
    """WCAG 2.2, 1.4.13: what comes with the focus can be dismissed; assistive technology has it all along."""
    page.goto(f"{served.base}/write/story/")
    hints = page.locator(".field .hint")
    assert hints.count() > 3
    assert hints.filter(visible=True).count() == 0
    before = page.locator("#at-background").bounding_box()
    page.locator("#at-asked").focus()
    (hint,) = hints.filter(visible=True).all_inner_texts()
    assert hint.startswith("What it should agree, decide or advise")
    assert page.locator("#at-background").bounding_box() == before
    assert "at-asked-hint" in (page.locator("#at-asked").get_attribute("aria-describedby") or "")
    page.keyboard.press("Escape")
    assert hints.filter(visible=True).count() == 0
    page.locator("#at-asked").fill("")
    page.keyboard.press("Tab")
    page.locator("#at-asked-faults li").wait_for()
    assert not page.locator("#at-asked-hint").is_visible()  # what is only not written yet is marked
    page.locator("#at-asked").focus()
    assert page.locator("#at-asked-hint").is_visible()


def test_a_folded_group_is_opened_by_keyboard_and_tells_what_it_holds(
    page: Page, served: Served, case: Path
) -> None:
    page.goto(f"{served.base}/write/outcome/")
    group = page.locator("#of-outcome-harm")
    died = page.locator("#at-outcome-harm-died")
    assert not died.is_visible()
    group.locator("summary").press("Enter")
    died.select_option("no")
    page.get_by_text("Kept at").wait_for()
    group.locator("summary").press("Enter")
    assert "died: no" in group.locator(".holds").inner_text()


def test_of_a_long_choice_what_is_chosen_is_in_sight(page: Page, served: Served) -> None:
    """Common practice, no source."""
    page.goto(f"{served.base}/write/causes/")
    page.locator("#at-factors-0 > summary").press("Enter")
    page.locator("#at-factors-0-more > summary").press("Enter")
    ticks = page.locator("#at-factors-0-events")
    assert ticks.get_by_role("checkbox").count() == 0
    ticks.locator("summary").press("Enter")
    assert ticks.get_by_role("checkbox").count() > 10
    ticks.get_by_role("checkbox").nth(1).press("Space")
    page.get_by_text("Kept at").wait_for()
    ticks.locator("summary").press("Enter")
    assert ticks.get_by_role("checkbox").count() == 1
    assert ticks.get_by_role("checkbox").is_checked()


def test_an_entry_stays_open_when_a_row_of_it_is_removed(page: Page, served: Served) -> None:
    page.goto(f"{served.base}/write/decisions/")
    page.locator("#at-decisions-0 > summary").press("Enter")
    page.locator("#at-decisions-0").get_by_role("button", name="Remove way forward 2").press("Enter")
    page.get_by_text("Removed way forward 2").wait_for()
    assert page.locator("#at-decisions-0").get_attribute("open") is not None


def test_an_entry_is_added_and_moved_by_keyboard(page: Page, served: Served, case: Path) -> None:
    page.goto(f"{served.base}/write/held/")
    page.get_by_role("button", name="Add an entry").press("Enter")
    page.locator("#at-held-3-what").wait_for()
    page.wait_for_function("document.activeElement.id === 'at-held-3-what'")
    page.keyboard.type("Second surgeon in theatre within 4 min")
    page.keyboard.press("Tab")
    page.get_by_text("Kept at").wait_for()
    page.get_by_role("button", name="Move entry 4 up").press("Enter")
    page.get_by_text("Entry 4 is now number 3.").wait_for()
    assert "Second surgeon" in page.locator("#at-held-2 .told").inner_text()
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Move entry 3 up"


def test_what_was_typed_survives_a_change_in_another_tab(page: Page, served: Served, case: Path) -> None:
    page.goto(f"{served.base}/write/patient/")
    other = page.context.new_page()
    other.goto(f"{served.base}/write/patient/")
    for tab, field, typed in ((other, "age", "75"), (page, "weight", "70 kg")):
        tab.locator(f"#at-patient-{field}").fill(typed)
        tab.locator(f"#at-patient-{field}").press("Tab")
        tab.wait_for_timeout(800)
    assert "Changed in another tab" in page.locator("#moved").inner_text()
    assert "weight: 71 kg" in (case / CASE).read_text("utf-8")
    page.get_by_role("button", name="keep what I typed").press("Enter")
    page.get_by_text("Kept at").wait_for()
    text = (case / CASE).read_text("utf-8")
    assert "age: 75" in text
    assert "weight: 70 kg" in text


def test_no_section_is_wider_than_the_window(page: Page, served: Served) -> None:
    for name in ("story", "events", "decisions", "names"):
        page.goto(f"{served.base}/write/{name}/")
        for width, height in ((1366, 768), (683, 384)):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, name


def test_what_was_typed_is_offered_at_once_in_the_field_that_chooses_from_it(
    page: Page, served: Served, case: Path
) -> None:
    """A way forward is chosen by its words, not by a number with nothing behind it."""
    page.goto(f"{served.base}/write/decisions/")
    page.locator("#at-decisions-0 > summary").press("Enter")
    way = page.locator("#at-decisions-0-options-1-option")
    way.fill("Wait two minutes and look again")
    way.press("Tab")
    offered = page.locator("#at-decisions-0-chosen option", has_text="Wait two minutes and look again")
    offered.wait_for(state="attached")


def test_the_section_that_is_shown_is_in_sight_in_the_list(page: Page, served: Served) -> None:
    page.set_viewport_size({"width": 1366, "height": 420})
    page.goto(f"{served.base}/write/names/")
    here = page.locator(".write-list [aria-current]").bounding_box()
    assert here is not None
    assert 0 <= here["y"] <= 420 - here["height"]


def test_an_action_is_named_by_keyboard_where_a_cause_asks_for_it(page: Page, served: Served) -> None:
    page.goto(f"{served.base}/write/causes/")
    page.locator("#at-factors-0 > summary").press("Enter")
    ticks = page.locator("#at-factors-0-actions")
    count = ticks.get_by_role("checkbox").count()
    ticks.get_by_role("textbox").fill("Weigh every swab")
    page.keyboard.press("Tab")
    made = ticks.get_by_role("checkbox", name="Weigh every swab")
    made.wait_for()
    assert made.is_checked()
    assert ticks.get_by_role("checkbox").count() == count + 1
    assert ticks.get_by_role("textbox").input_value() == ""
    page.get_by_text("Kept at").wait_for()
    assert page.evaluate("document.activeElement.id") == "at-factors-0-counterfactual"  # where Tab had led
    made.press("Space")
    page.wait_for_timeout(800)
    page.reload()
    assert not page.locator("#at-factors-0-actions").get_by_label("Weigh every swab").is_checked()


def test_an_action_is_tied_to_a_cause_where_it_is_written(page: Page, served: Served, case: Path) -> None:
    told = page.locator("#at-factors-6 > summary .told")
    text = (case / CASE).read_text("utf-8")
    before = "carried by the ceiling at time out\n    actions: [ceiling]\n"
    assert before in text
    (case / CASE).write_text(text.replace(before, before.partition("\n")[0] + "\n"), "utf-8")
    page.goto(f"{served.base}/write/causes/")
    assert "no action yet" in told.inner_text()
    page.goto(f"{served.base}/write/actions/")
    page.locator("#at-actions-0 > summary").press("Enter")
    ticks = page.locator("#at-actions-0-answers")
    box = ticks.get_by_role("checkbox").nth(6)
    assert not box.is_checked()
    box.press("Space")
    page.get_by_text("Kept at").wait_for()
    page.goto(f"{served.base}/write/causes/")
    assert "no action yet" not in told.inner_text()
