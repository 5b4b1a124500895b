"""What a screen reader tells of a page, beyond what axe-core asks (`test_accessible`).

WCAG 2.2, 2.4.9 and 2.4.6: who lists the links or the buttons of a page hears their names alone.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from lxml import html

from mmbuilder import registry
from mmbuilder.page.app import PARTS
from mmbuilder.page.form.layout import sections
from tests.page.conftest import copied, ended

PAGES = [f"/{name}/" for name in registry.names(PARTS) if name != "get"] + ["/cover/1", "/cover/2"]
PAGES += [f"/write/{name}/" for name in sections()]


@pytest.fixture
def case(tmp_path: Path, seen: Path) -> Path:
    return copied("airway-prone", tmp_path)


def page(client: FlaskClient, address: str) -> html.HtmlElement:
    return html.fromstring(ended(client, address))


def name(one: html.HtmlElement) -> str:
    by = [one.getroottree().xpath(f"//*[@id='{id}']")[0] for id in (one.get("aria-labelledby") or "").split()]
    return " ".join((one.get("aria-label") or " ".join(each.text_content() for each in by or [one])).split())


def does(one: html.HtmlElement) -> tuple[str, ...]:
    """What a link or a button leads to: an address, or what its form sends."""
    if one.tag == "a":
        return (one.get("href").partition("#")[0] or one.get("href"),)
    sent = one.xpath("ancestor::form[1]//input[@type='hidden' and @name!='was']/@value")
    return (one.get("value") or "", *one.xpath("ancestor::form[1]/@action"), one.get("id") or "", *sent)


def test_no_two_links_or_buttons_of_a_page_have_one_name(client: FlaskClient) -> None:
    found: dict[str, dict[str, int]] = {}
    for address in PAGES:
        named: defaultdict[str, set[tuple[str, ...]]] = defaultdict(set)
        for one in page(client, address).xpath("//main//a[@href] | //main//button[not(@aria-hidden)]"):
            named[name(one)].add(does(one))
        if several := {words: len(what) for words, what in named.items() if len(what) > 1}:
            found[address] = several
    assert found == {}


def test_an_entry_says_which_it_is_on_the_way_into_it(client: FlaskClient) -> None:
    found = page(client, "/write/frames/")
    assert found.xpath("//*[@id='at-frames-1']/*[@role='group']/@aria-label") == ["Picture 2"]
    inner = found.xpath("//*[@id='at-frames-0-arrows-0']")[0]
    assert inner.xpath("./*[@role='group']/@aria-label") == ["Arrow 1"]
    assert [name(one) for one in inner.xpath(".//button")] == [
        f"{what} arrow 1 of picture 1{where}"
        for what, where in (("Move", " up"), ("Move", " down"), ("Remove", ""))
    ]


def test_a_drawing_that_comes_is_told_in_a_line_and_not_read_aloud(client: FlaskClient) -> None:
    """Its thirty marks have a name each; `timeline.js` says that it is there, or that it is not."""
    assert not page(client, "/timeline/").xpath(
        "//*[@id='drawing']/ancestor-or-self::*[@aria-live or @role='status']"
    )
