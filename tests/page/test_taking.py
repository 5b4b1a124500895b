"""A still is taken in for what it is, under a name that names nobody."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from PIL import Image

from mmbuilder.page import Desk
from mmbuilder.page.leftover import leftover
from mmbuilder.page.taking import MOST_AT_ONCE
from mmbuilder.safe.terms import Use
from mmbuilder.uses import load

SAID = {"shows": "The view 11 min after knife to skin", "caption": "A clip across the duct"}


def picture(kind: str = "PNG") -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (320, 200), (90, 30, 30)).save(made, kind)
    return made.getvalue()


def send(
    client: FlaskClient, desk: Desk, content: bytes, name: str = "Quennimore_Orla.png", **form: str
) -> int:
    told = {"revision": desk.revision(), **SAID, **form, "file": (io.BytesIO(content), name)}
    return int(client.post("/cover/take", data=told, content_type="multipart/form-data").status_code)


@pytest.mark.parametrize(
    ("kind", "suffix"), [("PNG", ".png"), ("JPEG", ".jpg"), ("TIFF", ".tif"), ("BMP", ".bmp")]
)
def test_a_picture_is_taken_in_under_a_new_name(
    client: FlaskClient, desk: Desk, kind: str, suffix: str
) -> None:
    before = len(desk.tree()["frames"])
    assert send(client, desk, picture(kind)) == 303
    frame = desk.tree()["frames"][before]
    assert frame["shows"] == SAID["shows"]
    assert "Quennimore" not in desk.text()
    path = desk.root / frame["file"]
    assert path.read_bytes() == picture(kind)
    assert path.suffix in (suffix, f"{suffix}f", ".jpeg")
    told = [problem.code for problem in desk.checked().problems]
    assert "cover-not-said" in told  # somebody has to look at it first
    assert not {"picture-kind", "picture-damaged", "file-not-used"} & set(told)


@pytest.mark.parametrize(
    "content", [b"", b"not a picture", b"%PDF-1.7", picture()[:60], b"<svg/>", b"MZ\x90"]
)
def test_what_is_no_picture_is_refused_and_nothing_written(
    client: FlaskClient, desk: Desk, content: bytes
) -> None:
    before, files = desk.revision(), sorted((desk.root / "images").iterdir())
    assert send(client, desk, content) == 400
    assert desk.revision() == before
    assert sorted((desk.root / "images").iterdir()) == files


def test_an_old_tab_takes_nothing_in(client: FlaskClient, desk: Desk) -> None:
    files = sorted((desk.root / "images").iterdir())
    assert send(client, desk, picture(), revision="0000") == 409
    assert sorted((desk.root / "images").iterdir()) == files


def test_something_is_said_of_it(client: FlaskClient, desk: Desk) -> None:
    assert send(client, desk, picture(), shows=" ") == 400


def test_the_event_and_the_pause_are_asked_where_it_is_taken_in(client: FlaskClient, desk: Desk) -> None:
    from mmbuilder.casefile.editing import edited

    desk.rewrite(
        lambda text: edited(text, lambda tree: tree["timeline"]["events"][4].pop("id", None)), desk.revision()
    )
    offered = client.get("/cover/").text
    assert '<option value="@4">event 5' in offered
    before = len(desk.tree()["frames"])
    assert send(client, desk, picture(), event="@4", pause="yes") == 303
    frame = desk.tree()["frames"][before]
    assert (frame["event"], frame["pause"]) == ("event 5", "yes")
    assert desk.tree()["timeline"]["events"][4]["id"] == "event 5"
    assert f"/write/frames/#at-frames-{before}" in client.get(f"/cover/{before + 1}").text
    client.post("/undo")  # all of it was one change
    assert len(desk.tree()["frames"]) == before
    assert "id" not in desk.tree()["timeline"]["events"][4]


def several(client: FlaskClient, desk: Desk, contents: list[bytes]) -> int:
    files = [(io.BytesIO(content), f"Quennimore {number}.png") for number, content in enumerate(contents)]
    told = {"revision": desk.revision(), "files": files}
    return int(client.post("/cover/several", data=told, content_type="multipart/form-data").status_code)


def test_several_are_taken_in_at_once_and_each_is_asked_about(client: FlaskClient, desk: Desk) -> None:
    before = len(desk.tree()["frames"])
    assert several(client, desk, [picture(), picture("JPEG"), picture("BMP")]) == 303
    frames = desk.tree()["frames"]
    assert len({frame["file"] for frame in frames[before:]}) == 3
    assert "Quennimore" not in desk.text()
    page = client.get("/cover/").text
    assert all(f'id="say-{before + place}"' in page for place in (1, 2, 3))
    number = before + 2
    said = {f"{key}-{number}": words for key, words in {**SAID, "event": "@4"}.items()}
    said |= {
        f"shows-{number + 1}": "The view after",
        f"pause-{number + 1}": "yes",
        "revision": desk.revision(),
    }
    assert f'name="pause-{number + 1}" value="yes"' in page
    assert client.post("/cover/say", data=said).status_code == 303
    frame = desk.tree()["frames"][number - 1]
    assert (frame["shows"], frame["caption"]) == (SAID["shows"], SAID["caption"])
    assert frame["event"] == desk.tree()["timeline"]["events"][4]["id"]
    listed = client.get("/cover/").text
    assert f'id="say-{number}"' not in listed
    assert f'src="/cover/{number}/picture"' in listed  # it is still seen beside its words
    assert (desk.tree()["frames"][number]["shows"], desk.tree()["frames"][number]["pause"]) == (
        "The view after",
        "yes",
    )
    assert "pause" not in frame
    page = client.get("/cover/").text
    assert f'id="say-{number + 1}"' in page
    assert f'name="pause-{number + 1}"' not in page  # it was said
    wrong = {f"event-{number + 1}": "@999", "revision": desk.revision()}
    assert client.post("/cover/say", data=wrong).status_code == 400
    client.post("/undo")
    client.post("/undo")  # the three were one change
    assert len(desk.tree()["frames"]) == before


def test_of_several_none_is_taken_where_one_is_no_picture(client: FlaskClient, desk: Desk) -> None:
    before, files = desk.revision(), sorted((desk.root / "images").iterdir())
    for contents in ([picture(), b"no picture"], [], [picture()] * (MOST_AT_ONCE + 1)):
        assert several(client, desk, contents) == 400
    assert desk.revision() == before
    assert sorted((desk.root / "images").iterdir()) == files


def test_how_many_are_shown_is_told_before_one_is_taken_in(client: FlaskClient) -> None:
    page = client.get("/cover/").text
    room = {use: load(use).planned("course") for use in Use}
    told = {use: f"{(one and one.frames) or 'none'}" for use, one in room.items()}
    own = told.pop(Use.REVIEW)
    others = ", ".join(f"{use.value} {most}" for use, most in told.items())
    assert f"have room for {own} in the course of the story ({others})." in page


def test_an_event_that_is_not_there_is_refused_and_nothing_written(client: FlaskClient, desk: Desk) -> None:
    before, files = desk.revision(), sorted((desk.root / "images").iterdir())
    assert send(client, desk, picture(), event="@999") == 400
    assert desk.revision() == before
    assert sorted((desk.root / "images").iterdir()) == files


def test_a_picture_that_an_undo_left_is_deleted(client: FlaskClient, desk: Desk) -> None:
    before = sorted((desk.root / "images").iterdir())
    assert 'id="leftover"' not in client.get("/cover/").text
    assert send(client, desk, picture()) == 303
    (left,) = set((desk.root / "images").iterdir()) - set(before)
    client.post("/undo")
    name = f"images/{left.name}"
    assert f'value="{name}"' in client.get("/cover/").text
    assert client.post("/cover/leftover", data={"revision": desk.revision(), "name": name}).status_code == 303
    assert sorted((desk.root / "images").iterdir()) == before


@pytest.mark.parametrize(
    "text", ["frames: {file: images/a.png}\n", "frames:\n  - file: ./images/a.png\n", "frames: [\n"]
)
def test_a_picture_that_may_be_named_is_not_offered(tmp_path: Path, text: str) -> None:
    """However it is written, and where the file cannot be read at all."""
    (tmp_path / "images").mkdir()
    (tmp_path / "images" / "a.png").write_bytes(picture())
    (tmp_path / "case.yaml").write_text(f"code: a\n{text}")
    assert leftover(Desk(tmp_path), "images") == []
