"""Findings in words: decided, taken back, put on the private list; what is decided is what is built."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from mmbuilder.case.decided import text_hash
from mmbuilder.page import Desk
from mmbuilder.page.findings import findings
from mmbuilder.page.parts._listed import KINDS
from mmbuilder.page.parts._twice import fits
from tests.page.conftest import ended, let_in

STORY = (
    "Seen with Mordaunt Pellyvane on the ward; letter to quill@tidehall.example.org about the Kocher clamp."
)


@pytest.fixture
def client(desk: Desk, seen: Path) -> FlaskClient:
    desk.change(lambda tree: tree.update(background=STORY), desk.revision())
    return let_in(desk)


def shown(client: FlaskClient) -> str:
    """The page, once the search has ended."""
    return ended(client, "/words/")


def asked(page: str) -> list[str]:
    """The words that are to be decided."""
    return re.findall(r'<h3 id="f\d+"><mark>(.+?)</mark>', page)


def post(client: FlaskClient, desk: Desk, address: str, **form: str) -> int:
    return int(client.post(address, data={"revision": desk.revision(), **form}).status_code)


def test_what_nobody_decided_is_asked(client: FlaskClient) -> None:
    page = shown(client)
    assert "quill@tidehall.example.org" in asked(page)
    assert "Mordaunt Pellyvane" in asked(page)
    assert "Kocher" not in asked(page)
    assert "[e-mail address]" in page


def test_a_due_day_is_promised_as_the_room_will_see_it(client: FlaskClient, desk: Desk) -> None:
    """`crossing.due`: a slide tells its month, and of another date among the words of the action nothing."""

    def change(tree: dict[str, list[dict[str, str]]]) -> None:
        tree["actions"][0]["due"] = tree["actions"][1]["due"] = "14 August 2025"
        tree["actions"][0]["review"] = "October 2025"
        tree["actions"][1]["measure"] = "lists since 1 June 2025"

    desk.change(change, desk.revision())
    page = shown(client)
    shows = re.findall(r">Action (\d): Due</a>.*?becomes ([^<]*)</p>", page, re.DOTALL)
    assert shows[0] == ("1", "August, on slides")
    assert "becomes October, on paper</p>" in page
    assert re.search(r"lists since <mark>1 June 2025</mark></p>\s*<p[^>]*>becomes \[date\]</p>", page)


def test_a_finding_leads_to_its_field_and_reasons_are_offered(client: FlaskClient) -> None:
    page = shown(client)
    (address,) = set(re.findall(r'<a href="(/write/[a-z-]+/)#at-background">Background</a>', page))
    assert 'id="at-background"' in client.get(address).text
    offered = re.findall(r'<option value="([^"]+)"></option>', page.split('<datalist id="reasons">')[1])
    assert "a word, not a name" in offered
    assert 'name="why" list="reasons"' in page


def test_a_decision_counts_at_once_and_is_taken_back(client: FlaskClient, desk: Desk) -> None:
    before = asked(shown(client))
    word = "quill@tidehall.example.org"
    assert post(client, desk, "/words/decide", words=word, ruling="remove") == 303
    page = client.get("/words/").text  # no new search for a decision
    assert "data-waiting" not in page
    assert set(before) - set(asked(page)) == {word}
    assert post(client, desk, "/words/back", words=word) == 303
    assert asked(client.get("/words/").text) == before


def test_what_goes_and_what_stays_are_told_by_words_of_their_own(client: FlaskClient, desk: Desk) -> None:
    page = shown(client)
    assert ">Leave in" in page
    assert (
        post(client, desk, "/words/decide", words="Mordaunt Pellyvane", ruling="keep", why="a clamp") == 303
    )
    page = client.get("/words/").text
    assert "<td>left in</td>" in page
    assert "Keep" not in page


def test_the_name_of_a_file_is_no_finding(client: FlaskClient, desk: Desk) -> None:
    """It is opened and shown nowhere; the sweep looks for it in what is built."""
    (desk.root / "images" / "plate-ready.jpg").rename(desk.root / "images" / "still-1.jpg")
    text = desk.text().replace("images/plate-ready.jpg", "images/still-1.jpg")
    desk.rewrite(lambda _: text, desk.revision())
    page = shown(client)
    assert "still-1" not in page
    assert "images/" not in page


def test_what_is_kept_has_a_reason(client: FlaskClient, desk: Desk) -> None:
    shown(client)
    word = "Mordaunt Pellyvane"
    assert post(client, desk, "/words/decide", words=word, ruling="keep") == 400
    assert post(client, desk, "/words/decide", words=word, ruling="keep", why="the name of a clamp") == 303
    folder, search = desk.checked().folder, desk.words()
    assert folder is not None
    assert search.value is not None
    assert [group.words for group in findings(folder, search.value).decided_kept] == [word]


def test_a_person_goes_on_the_private_list_and_goes_everywhere(client: FlaskClient, desk: Desk) -> None:
    shown(client)
    assert post(client, desk, "/words/list", words="Mordaunt Pellyvane", kind="people: nurse") == 303
    assert desk.tree("identifiers.yaml")["people"][-1] == {"name": "Mordaunt Pellyvane", "role": "nurse"}
    page = shown(client)
    assert "Mordaunt Pellyvane" not in asked(page)
    folder, search = desk.checked().folder, desk.words()
    assert folder is not None
    assert search.value is not None
    declared = {group.words: group.places[0].stand_in for group in findings(folder, search.value).declared}
    assert declared["Mordaunt Pellyvane"].startswith("the nurse") or "nurse" in declared["Mordaunt Pellyvane"]


def test_somebody_told_by_one_letter_goes_on_the_list_and_is_asked_no_more(
    client: FlaskClient, desk: Desk
) -> None:
    """A person who took a story through the page put `Dr A` on the list twice, and was asked all the same."""
    desk.change(lambda tree: tree.update(background="Then Dr A said it was a bleed."), desk.revision())
    assert "Dr A" in asked(shown(client))
    for _ in range(2):
        assert post(client, desk, "/words/list", words="Dr A", kind="people: anaesthetist") == 303
    people = desk.tree("identifiers.yaml")["people"]
    assert [one["name"] for one in people].count("Dr A") == 1
    page = shown(client)
    assert "Dr A" not in asked(page)
    assert re.search("becomes (the )?anaesthetist", page)


def test_a_name_may_be_the_same_as_somebody_on_the_list(client: FlaskClient, desk: Desk) -> None:
    desk.change(
        lambda tree: tree["people"].append({"name": "Callum Drewick", "role": "surgeon"}),
        desk.revision(),
        "identifiers.yaml",
    )
    desk.change(lambda tree: tree.update(background="Then Mr D said it was a bleed."), desk.revision())
    page = shown(client)
    assert "Mr D" in asked(page)
    assert '<option value="same: Callum Drewick">the same as Callum Drewick</option>' in page
    assert post(client, desk, "/words/list", words="Mr D", kind="same: Nobody Here") == 400
    assert post(client, desk, "/words/list", words="Mr D", kind="same: Callum Drewick") == 303
    people = desk.tree("identifiers.yaml")["people"]
    assert people[-1] == {"name": "Callum Drewick", "role": "surgeon", "also": ["Mr D"]}
    assert "Mr D" not in asked(shown(client))


@pytest.mark.parametrize(
    ("words", "same"),
    [
        ("Mr D", True),
        ("Drewick", True),
        ("Miss Drewick", True),
        ("CD", True),
        ("Cal", True),
        ("Mr B", False),
        ("D", False),
        ("Ca", False),
        ("Lum", False),
    ],
)
def test_a_surname_a_short_form_or_an_initial_fits_somebody_on_the_list(words: str, same: bool) -> None:
    listed = {"people": [{"name": "Callum Drewick", "role": "surgeon"}, {"name": "Drew", "role": "nurse"}]}
    assert fits(listed, words) == (["Callum Drewick"] if same else [])


@pytest.mark.parametrize("words", ["A", "q"])
def test_what_is_too_short_to_be_looked_for_is_not_listed(
    client: FlaskClient, desk: Desk, words: str
) -> None:
    before = desk.text("identifiers.yaml")
    reply = client.post(
        "/words/list", data={"revision": desk.revision(), "words": words, "kind": "people: nurse"}
    )
    assert reply.status_code == 400
    assert "too short to be looked for" in reply.text
    assert desk.text("identifiers.yaml") == before


@pytest.mark.parametrize("kind", ["numbers: number", "other: "])
def test_a_finding_that_the_list_would_not_settle_is_told(client: FlaskClient, desk: Desk, kind: str) -> None:
    """Of a number the figures are looked for, and an address is told as one: its card would stay."""
    shown(client)
    before, word = desk.text("identifiers.yaml"), "quill@tidehall.example.org"
    listed = {"revision": desk.revision(), "words": word, "kind": kind}
    reply = client.post("/words/list", data=listed)
    assert reply.status_code == 400
    assert "would still be asked about where they stand" in reply.text
    assert desk.text("identifiers.yaml") == before


def test_what_was_left_in_can_be_removed(client: FlaskClient, desk: Desk) -> None:
    shown(client)
    folder, search = desk.checked().folder, desk.words()
    assert folder is not None
    assert search.value is not None
    left = findings(folder, search.value).left[0]
    assert post(client, desk, "/words/decide", words=left.words, ruling="remove") == 303
    folder, search = desk.checked().folder, desk.words()
    assert folder is not None
    assert search.value is not None
    gone = [group.words.casefold() for group in findings(folder, search.value).decided_gone]
    assert left.words.casefold() in gone


def test_a_decision_for_one_text_leaves_the_other(client: FlaskClient, desk: Desk) -> None:
    word = "quill@tidehall.example.org"
    desk.change(lambda tree: tree.update(asked=f"Write to {word} before noon."), desk.revision())
    shown(client)
    folder, search = desk.checked().folder, desk.words()
    assert folder is not None
    assert search.value is not None
    group = next(one for one in findings(folder, search.value).open if one.words == word)
    assert len(group.places) == 2
    post(client, desk, "/words/decide", words=word, ruling="remove", only_in=group.places[0].only_in)
    search = desk.words()
    folder = desk.checked().folder
    assert folder is not None
    assert search.value is not None
    again = next(one for one in findings(folder, search.value).open if one.words == word)
    assert [place.only_in for place in again.places] == [group.places[1].only_in]


def test_agreeing_decides_everything_open(client: FlaskClient, desk: Desk) -> None:
    assert asked(shown(client))
    assert post(client, desk, "/words/agree", words="-") == 303
    assert "Nothing is left to decide" in client.get("/words/").text


@pytest.mark.parametrize(
    "form",
    [
        {"words": "", "ruling": "remove"},
        {"words": "x", "ruling": "burn"},
        {"words": "x" * 600, "ruling": "remove"},
    ],
)
def test_nonsense_is_refused_and_nothing_is_written(
    client: FlaskClient, desk: Desk, form: dict[str, str]
) -> None:
    before = desk.revision()
    assert post(client, desk, "/words/decide", **form) == 400
    assert desk.revision() == before


def test_an_old_tab_does_not_decide(client: FlaskClient, desk: Desk) -> None:
    old = desk.revision()
    desk.change(lambda tree: tree.update(title="Another"), old)
    answer = client.post("/words/decide", data={"revision": old, "words": "x", "ruling": "remove"})
    assert answer.status_code == 409


def test_every_kind_of_the_private_list_can_be_chosen(client: FlaskClient, desk: Desk) -> None:
    kinds = re.findall(r'<option value="(\w+: [^"]*)">', shown(client).split('id="missed-kind"')[1])
    assert len(kinds) == sum(len(one) for _, _, one in KINDS) + 1
    for number, kind in enumerate(kinds):
        assert post(client, desk, "/words/list", words=f"Qwertz{number}99", kind=kind) == 303
    assert desk.checked().folder is not None


TIMES = "Clip slipped, done 14:38; the list starts daily at 08:30."
"""By hand: the index event of the eye case is at 14:20."""


def times_told(page: str) -> list[tuple[str, str]]:
    """Each time of day in a sentence, and what becomes of it."""
    section = page.split("Times of day in sentences", 1)[-1].split("</details>")[0]
    return re.findall(r"<mark>([^<]*)</mark>.*?<p class=\"soft\">(.*?)</p>", section, re.DOTALL)


def test_a_time_of_day_is_told_from_the_index_event_or_why_it_stays(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.update(background=TIMES), desk.revision())
    told = dict(times_told(shown(client)))
    assert told["14:38"] == "becomes <strong>T+0:18</strong>"
    assert told["08:30"] == "stays: the words beside it could tell another day"


def test_a_time_of_day_is_left_in_with_a_reason_or_removed(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.update(background=TIMES), desk.revision())
    shown(client)
    here = text_hash(TIMES)
    assert post(client, desk, "/words/decide", words="14:38", ruling="keep", only_in=here) == 400
    for words, ruling in (("14:38", "keep"), ("08:30", "remove")):
        why = {"why": "the hour itself is the lesson"} if ruling == "keep" else {}
        assert post(client, desk, "/words/decide", words=words, ruling=ruling, only_in=here, **why) == 303
    page = client.get("/words/").text
    assert not {"08:30"} & dict(times_told(page)).keys()
    folder, search = desk.checked().folder, desk.words()
    assert folder is not None
    assert search.value is not None
    kept, gone = (findings(folder, search.value).decided_kept, findings(folder, search.value).decided_gone)
    assert [group.words for group in kept] == ["14:38"]
    assert [(group.words, group.places[0].stand_in) for group in gone] == [("08:30", "[time]")]


def test_for_readers_elsewhere_no_time_of_day_is_left_in(client: FlaskClient, desk: Desk) -> None:
    def change(tree: dict[str, object]) -> None:
        tree.update(background=TIMES, use="case report", governance={"publication consent": "given"})

    desk.change(change, desk.revision())
    page = shown(client)
    assert dict(times_told(page))["08:30"] == "becomes <strong>[time]</strong>"
    assert "reasons-of-times" not in page.split("Times of day in sentences")[1].split("</details>")[0]


def test_figures_that_are_perhaps_a_time_are_asked_about(client: FlaskClient, desk: Desk) -> None:
    story = "By the wall clock the surgeon came 1438"
    desk.change(lambda tree: tree.update(background=story), desk.revision())
    page = shown(client)
    assert "1438" in asked(page)
    assert "1438" not in dict(times_told(page))
    assert "If it goes: <strong>[time]</strong>" in page
    assert post(client, desk, "/words/decide", words="1438", ruling="keep", why="no time of day") == 303
    assert "1438" not in asked(client.get("/words/").text)
