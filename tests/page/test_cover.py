"""The pages of the part, by Flask's client; what the finders find is given, so that it can be counted."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from markupsafe import escape
from PIL import Image

from mmbuilder import uses
from mmbuilder.page import Desk, stills
from mmbuilder.page.ahead import Made
from mmbuilder.page.looking import Look, Looker
from mmbuilder.page.shown import course, on_slides
from mmbuilder.safe.terms import Use
from mmbuilder.scrub import outside_pictures
from mmbuilder.scrub.images.cover import COVER as COVERED
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan
from tests.page.conftest import let_in

KIND = "text in the picture"
FOUND = PixelBox(300, 400, 500, 440, KIND, Layer.MODEL, reason="looks like text; confidence 0.91")
FACE = PixelBox(600, 100, 700, 220, "face", Layer.MODEL, reason="confidence 0.80")
SCALE = PixelBox(700, 500, 760, 520, KIND, Layer.MODEL, Decision.KEEP, "scale: figures of a scale")
PROPOSAL = "proposal-300-400-200-40"
JSON = {"Accept": "application/json"}


class Given:
    """In the place of the process that looks."""

    def __init__(self) -> None:
        self.asked: list[tuple[Any, ...]] = []
        self.fault: Exception | None = None
        self.look = Look((FOUND, FACE, SCALE))

    def do(self, work: Callable[..., Any], *args: Any) -> Future[Any]:
        self.asked.append(args)
        done: Future[Any] = Future()
        if self.fault:
            done.set_exception(self.fault)
        else:
            done.set_result(self.look)
        return done

    def forget(self) -> None:
        pass


@pytest.fixture
def given(desk: Desk) -> Given:
    looker = Given()
    desk.looks = Looker(desk.root, looker)  # type: ignore[arg-type]
    return looker


@pytest.fixture
def client(desk: Desk, given: Given) -> FlaskClient:
    return let_in(desk)


def looked(client: FlaskClient, number: int = 1) -> dict[str, Any]:
    """What is told of a picture once it was looked at."""
    client.get(f"/cover/{number}")
    for _ in range(200):
        told: dict[str, Any] = client.get(f"/cover/{number}/boxes").get_json()
        if not told["looking"]:
            return told
    raise AssertionError("it is looked at for ever")


def send(client: FlaskClient, desk: Desk, number: int = 1, **body: Any) -> Any:
    return client.post(f"/cover/{number}", json={"revision": desk.revision(), **body}, headers=JSON)


def first(desk: Desk, number: int = 1) -> stills.Still:
    return stills.stills(desk.text())[number - 1]


def test_each_picture_is_listed_beside_what_it_shows(client: FlaskClient, desk: Desk) -> None:
    shown = client.get("/cover/").get_data(as_text=True)
    for still in stills.stills(desk.text()):
        assert f'src="/cover/{still.number}/picture"' in shown
        assert f"Picture {still.number}" in shown
        assert str(escape(still.shows)) in shown
    assert "tattoos" in shown  # what nothing looks for


def test_a_page_has_its_boxes_named_and_focusable(client: FlaskClient) -> None:
    looked(client)
    shown = client.get("/cover/1").get_data(as_text=True)
    assert 'tabindex="0" role="button" aria-label="C1, covered: name, number, date, theatre; left 0' in shown
    assert 'aria-label="P2, to decide: text in the picture; 91 % sure; left 300, top 400, width 200' in shown
    assert 'aria-label="K1, stays, your reason: side and orientation; left 22, top 556' in shown
    assert 'aria-label="S1, stays of itself: scale: figures of a scale; left 700, top 500' in shown
    assert "style=" not in shown


def test_a_proposal_keeps_its_number_when_another_is_decided(client: FlaskClient, desk: Desk) -> None:
    """Common practice, no source: what one is at work on is not called otherwise from one press to the next."""

    def numbers() -> dict[str, str]:
        found = re.findall(r'data-box="(proposal-[^"]*)".*?aria-label="(P\d+),', looked(client)["overlay"])
        return {key: label for key, label in found}

    before = numbers()
    assert before[PROPOSAL] == "P2"
    (other,) = before.keys() - {PROPOSAL}
    assert send(client, desk, action="accept", box=other).status_code == 200
    assert numbers() == {PROPOSAL: "P2"}
    desk.undo()
    assert numbers() == before


@pytest.mark.parametrize("address", ["/cover/1/picture", "/cover/1/picture?size=full", "/cover/1/after"])
def test_pixels_are_sent_and_never_kept(client: FlaskClient, address: str) -> None:
    answer = client.get(address)
    assert (answer.status_code, answer.mimetype) == (200, "image/jpeg")
    assert answer.headers["Cache-Control"] == "no-store"
    assert Image.open(io.BytesIO(answer.data)).size == (1280, 720)


@pytest.mark.parametrize(
    "address", ["/cover/0", "/cover/5", "/cover/5/picture", "/cover/0/after", "/cover/9/boxes"]
)
def test_there_is_no_other_picture(client: FlaskClient, address: str) -> None:
    assert client.get(address).status_code == 404


def test_a_picture_out_of_the_folder_is_not_shown(client: FlaskClient, desk: Desk, tmp_path: Path) -> None:
    Image.new("RGB", (640, 480)).save(tmp_path / "other.jpg")
    text = desk.text().replace("images/plate-ready.jpg", "../other.jpg")
    desk.rewrite(lambda _: text, desk.revision())
    assert client.get("/cover/1/picture").status_code == 400
    assert "leads out of the case folder" in client.get("/cover/1").get_data(as_text=True)
    assert "leads out of the case folder" in client.get("/cover/").get_data(as_text=True)


def test_what_the_room_sees_is_what_a_build_makes(client: FlaskClient, desk: Desk) -> None:
    from mmbuilder.safe.jpeg import jpeg
    from mmbuilder.scrub.images.scrub import scrub_image

    looked(client)
    made = jpeg(scrub_image(desk.root / "images" / "plate-ready.jpg", (FOUND, FACE, SCALE)))
    assert client.get("/cover/1/after").data == made


def test_a_proposal_is_covered(client: FlaskClient, desk: Desk) -> None:
    assert "P2" in looked(client)["panel"]
    told = send(client, desk, action="accept", box=PROPOSAL).get_json()
    assert first(desk).boxes("cover")[-1] == (300, 400, 200, 40)
    assert told["revision"] == desk.revision()
    assert PROPOSAL not in looked(client)["panel"]


def test_after_a_decision_comes_the_next_to_decide(client: FlaskClient, desk: Desk) -> None:
    looked(client)
    other = "proposal-600-100-100-120"
    assert send(client, desk, action="reject", box=PROPOSAL, why="scale bar").get_json()["box"] == other
    last = send(client, desk, action="accept", box=other).get_json()
    assert last["box"].startswith("cover-")  # nothing else is open


def test_all_proposals_are_covered(client: FlaskClient, desk: Desk) -> None:
    looked(client)
    send(client, desk, action="accept-all")
    assert first(desk).boxes("cover")[-2:] == ((600, 100, 100, 120), (300, 400, 200, 40))
    assert "Nothing is left to decide" in looked(client)["panel"]


def test_a_proposal_is_left_with_a_reason_only(client: FlaskClient, desk: Desk) -> None:
    looked(client)
    assert send(client, desk, action="reject", box=PROPOSAL, why=" ").status_code == 400
    send(client, desk, action="reject", box=PROPOSAL, why="scale bar")
    kept = first(desk).drawn[-1]
    assert (kept.kind, kept.box, kept.why) == ("keep", (300, 400, 200, 40), "scale bar")
    assert PROPOSAL not in looked(client)["panel"]


def test_boxes_are_drawn_moved_deleted_and_undone(client: FlaskClient, desk: Desk) -> None:
    before = desk.text()
    place = {"left": 10, "top": 20, "width": 30, "height": 40}
    told = send(client, desk, action="add", kind="cover", why="name", **place).get_json()
    assert (told["box"], first(desk).boxes("cover")[3]) == ("cover-3", (10, 20, 30, 40))
    send(client, desk, action="change", box="cover-3", **{**place, "left": 12})
    assert first(desk).boxes("cover")[3] == (12, 20, 30, 40)
    assert first(desk).drawn[3].why == "name"
    send(client, desk, action="remove", box="cover-3")
    assert desk.text() == before
    desk.undo()
    assert first(desk).boxes("cover")[3] == (12, 20, 30, 40)


@pytest.mark.parametrize(
    "box", [(0, 0, 0, 5), (-1, 0, 5, 5), (1279, 0, 2, 5), (0, 719, 5, 2), ("a", 0, 5, 5), (1.5, 0, 5, 5)]
)
def test_a_box_lies_on_the_picture(client: FlaskClient, desk: Desk, box: tuple[Any, ...]) -> None:
    before = desk.text()
    place = dict(zip(("left", "top", "width", "height"), box, strict=True))
    assert send(client, desk, action="add", kind="cover", **place).status_code == 400
    assert desk.text() == before


def test_the_last_that_stays_says_that_nothing_is_covered(client: FlaskClient, desk: Desk) -> None:
    """The page, the list, the overview and the sign-off say the same, and no other button is asked for."""
    for _ in range(3):
        send(client, desk, action="remove", box="cover-0")
    assert not first(desk).said
    told = looked(client)["panel"]
    assert 'id="nothing"' not in told
    assert "to decide" in told
    assert send(client, desk, action="nothing").status_code == 400
    assert send(client, desk, action="reject-all", why=" ").status_code == 400
    one = send(client, desk, action="reject", box=PROPOSAL, why="scale bar").get_json()
    assert one["said"] == "It stays in view."
    assert not first(desk).said  # another is still open
    left = send(client, desk, action="reject-all", why="scale bar").get_json()
    assert "left in view. With that, nothing is to be covered" in left["said"]
    assert {one.why for one in first(desk).drawn if one.kind == "keep"} >= {"scale bar"}
    assert first(desk).nothing
    assert "    cover: none\n" in desk.text()
    assert "Nothing is left to decide" in looked(client)["panel"]
    assert stills.NOT_SAID not in client.get("/cover/").text
    assert stills.unsaid(desk.text()) == ()


def test_a_cover_says_enough_and_what_stays_adds_nothing(client: FlaskClient, desk: Desk) -> None:
    looked(client)
    assert (
        send(client, desk, action="reject-all", why="scale bar").get_json()["said"].endswith("left in view.")
    )
    assert first(desk).said
    assert not first(desk).nothing


def test_nothing_to_cover_is_not_said_while_it_is_looked_at(
    client: FlaskClient, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    for _ in range(3):
        send(client, desk, action="remove", box="cover-0")
    looked(client)
    found = desk.looks.seen(stills.stills(desk.text())[0])
    assert found is not None
    monkeypatch.setattr(desk.looks, "seen", lambda still: replace(found, running=True))
    before = desk.text()
    assert 'id="nothing"' not in client.get("/cover/1").text
    assert stills.NOT_SAID not in client.get("/cover/").text
    assert send(client, desk, action="nothing").status_code == 400
    assert desk.text() == before
    # More may be found: the last that is known of does not say it.
    assert send(client, desk, action="reject-all", why="scale bar").get_json()["said"].endswith("in view.")
    assert not first(desk).said


def test_boxes_go_to_the_same_device_only_where_the_size_is_the_same(client: FlaskClient, desk: Desk) -> None:
    # Pictures 1 to 3 are of the recorder, 1280 x 720; picture 4 is a scan of another size or device.
    place = {"left": 10, "top": 20, "width": 30, "height": 40}
    send(client, desk, action="add", kind="cover", why="name", **place)
    told = send(client, desk, action="copy", box="cover-3", to=[2, 3]).get_json()
    assert told["said"] == "2 boxes put into picture 2 and 3."
    assert [first(desk, number).boxes("cover")[-1] == (10, 20, 30, 40) for number in (2, 3, 4)] == [
        True,
        True,
        False,
    ]
    shown = looked(client)["panel"]
    assert "Picture 2, same device" in shown
    assert "Picture 4, same device" not in shown
    Image.new("RGB", (640, 480)).save(desk.root / "images" / "tube-in.jpg")
    assert send(client, desk, action="copy", box="cover-0", to=[3]).status_code == 400


def test_a_form_without_script_comes_back_to_the_page(client: FlaskClient, desk: Desk) -> None:
    body = {"revision": desk.revision(), "action": "remove", "box": "cover-0"}
    answer = client.post("/cover/1", data=body)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/cover/1")
    assert client.post("/cover/1", data=body).status_code == 409  # made on what is no longer there


@pytest.mark.parametrize(
    "body", [{}, {"action": "x"}, {"action": "remove", "box": "x-1"}, {"action": "remove"}]
)
def test_what_is_not_understood_changes_nothing(
    client: FlaskClient, desk: Desk, body: dict[str, str]
) -> None:
    before = desk.text()
    assert send(client, desk, **body).status_code == 400
    assert desk.text() == before


def test_each_state_is_looked_at_once(client: FlaskClient, desk: Desk, given: Given) -> None:
    looked(client)
    looked(client)
    assert len([args for args in given.asked if args[1] == "images/plate-ready.jpg"]) == 1
    send(client, desk, action="remove", box="cover-0")
    looked(client)
    assert len([args for args in given.asked if args[1] == "images/plate-ready.jpg"]) == 2
    client.post("/forget")
    looked(client)
    assert len([args for args in given.asked if args[1] == "images/plate-ready.jpg"]) == 3


def test_a_finder_that_fails_is_not_taken_for_nothing_found(client: FlaskClient, given: Given) -> None:
    given.fault = ValueError("Quennimore")
    told = looked(client)
    assert "not looked at" in told["panel"]
    assert "Nothing is left" not in told["panel"]
    assert "Quennimore" not in told["panel"]
    assert "could not be looked at" in client.get("/cover/").get_data(as_text=True)


def test_a_picture_says_from_the_first_that_it_is_judged_by_itself(
    client: FlaskClient, desk: Desk, given: Given
) -> None:
    """Not only once it was looked at, nor before signing (common practice, no source)."""
    given.do = lambda *_: Future()  # type: ignore[method-assign]
    desk.change(lambda tree: tree["frames"][0].pop("cover"), desk.revision())
    assert stills.BY_ITSELF in client.get("/cover/").text.partition("Picture 2")[0]
    assert stills.BY_ITSELF.capitalize() in client.get("/cover/1").text
    assert stills.BY_ITSELF.capitalize() not in client.get("/cover/2").text  # somebody has said of it


def test_one_still_is_looked_at_as_a_build_looks(case: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The real finders' way, with one finder that says where it was asked to look."""
    from mmbuilder.casefile import load
    from mmbuilder.page.looking import look
    from mmbuilder.scrub import stills as scrubbed
    from mmbuilder.scrub.images import again

    monkeypatch.setenv("MMBUILDER_CACHE", "")  # nothing that was found before
    monkeypatch.setattr(
        again, "_remembered", lambda image, parts=None, _=(): (FOUND,) if parts is None else ()
    )
    folder = load(case)
    planned = scrubbed.boxes(folder)
    for still in stills.stills((case / "case.yaml").read_text()):
        found = look(case, still.file, still.crop, still.boxes("cover"), still.boxes("keep"))
        assert found.found == planned[still.number]


CLOCK = PixelBox(20, 20, 120, 60, "time of day", Layer.PATTERN)
"""Where the picture of the demo is light; in what the author keeps, as it were."""


@pytest.mark.parametrize(("use", "dark"), [("case report", True), ("department review", False)])
def test_a_kept_clock_is_covered_for_readers_elsewhere(
    client: FlaskClient, desk: Desk, given: Given, monkeypatch: pytest.MonkeyPatch, use: str, dark: bool
) -> None:
    """In the preview and in the plan that is signed; found when the picture was looked at, not when asked for.

    Where the clock stands is found by `outside_pictures.in_kept`, which has tests of its own.
    """

    def never(*_: Any) -> Any:
        raise AssertionError("no click waits for a process beside, or reads pictures itself")

    monkeypatch.setattr(desk.looker, "do", never)
    monkeypatch.setattr(outside_pictures, "in_kept", never)
    monkeypatch.setattr(desk, "words", lambda use=None: Made(RedactionPlan()))
    text = (desk.root / "case.yaml").read_text("utf-8")
    (desk.root / "case.yaml").write_text(text.replace("use: department review", f"use: {use}"), "utf-8")
    given.look = Look((PixelBox(0, 0, 1, 1),), (CLOCK,))
    looked(client)
    picture = Image.open(io.BytesIO(client.get("/cover/1/after").data)).convert("L")
    x, y = (CLOCK.left + CLOCK.right) // 2, (CLOCK.top + CLOCK.bottom) // 2
    assert (abs(picture.getpixel((x, y)) - COVERED[0]) < 8) is dark
    for still in stills.stills(desk.text()):
        looked(client, still.number)
    plan = desk.search().value
    assert plan is not None
    assert (CLOCK in plan.images[1]) is dark


# Which pictures come onto the slides


@pytest.mark.parametrize(
    ("pauses", "mechanism", "most", "told"),
    [
        ([False, False, False], None, 1, [0]),
        ([False, False, True], None, 1, [2]),
        ([False, True, True], 1, 1, [2]),
        ([False, True, False], None, 2, [1, 0]),
        ([], None, 1, []),
    ],
)
def test_a_pause_comes_first_then_the_order(
    pauses: list[bool], mechanism: int | None, most: int, told: list[int]
) -> None:
    assert course(pauses, mechanism, most) == told


def test_a_picture_that_no_slide_shows_is_told_and_can_be_chosen(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.update(use="case report"), desk.revision())
    tree = desk.tree()
    files = [frame["file"] for frame in tree["frames"]]
    shown = on_slides(tree, uses.load(Use.REPORT))
    assert 0 < len(shown) < len(files)
    page = client.get("/cover/").text
    assert f"The slides for case report show {len(shown)} of these {len(files)} pictures" in page
    hidden = next(place for place in range(len(files)) if place not in shown)
    sent = {"revision": desk.revision(), "number": str(hidden + 1)}
    assert client.post("/cover/first", data=sent).status_code == 303
    after = desk.tree()
    assert after["frames"][0]["file"] == files[hidden]
    assert 0 in on_slides(after, uses.load(Use.REPORT))
    for number, code in (("0", 404), ("99", 404), ("x", 400)):
        sent = {"revision": desk.revision(), "number": number}
        assert client.post("/cover/first", data=sent).status_code == code
    assert client.post("/cover/first", data={"revision": "old", "number": "1"}).status_code == 409
