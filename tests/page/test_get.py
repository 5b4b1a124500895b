"""What the results say before anybody looks at them."""

from __future__ import annotations

import io
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from pptx import Presentation

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.page import Desk
from mmbuilder.page.parts.get import _unshown
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Picture
from tests.page.conftest import ended, let_in


@pytest.mark.usefixtures("seen")
@pytest.mark.parametrize("root", resources.bundled_cases(), ids=lambda path: str(path.name))
@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_what_stands_on_no_slide_is_said(root: Path, use: Use) -> None:
    """It agrees with the storyboard itself."""
    folder = load(root, use)
    case = apply(folder, propose(folder, names=NoNameModel()))
    slides = compose(case).slides
    told = list(_unshown(folder, use))
    kinds = {slide.kind for slide in slides}
    for words, written, shown_by in (
        ("the steps of the rescue", folder.case.rescue, {"rescue"}),
        ("learning points", folder.case.learning, {"learning", "held_and_learned"}),
    ):
        assert any(line.startswith(words) for line in told) == (bool(written) and not kinds & shown_by)
    shown = {block.image.digest() for slide in slides for block in slide.blocks if isinstance(block, Picture)}
    more = len(folder.case.frames) - len(shown)
    assert (f"{more} of {len(folder.case.frames)} pictures" in told) == (more > 0)
    choices = {decision.question for decision in case.decisions}
    asked = {decision for decision in choices if any(decision == slide.headline for slide in slides)}
    left = len(choices) - len(asked)
    assert (f"{left} of {len(choices)} decisions with their alternatives (on paper)" in told) == (left > 0)


def test_what_the_program_failed_to_build_is_tried_again(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[Future[Any]] = []

    def do(*_: object) -> Future[Any]:
        tried.append(Future())
        if len(tried) == 1:
            tried[0].set_exception(FileNotFoundError("secret/path"))
        return tried[-1]

    monkeypatch.setattr(desk.looker, "do", do)
    client = let_in(desk)
    page = client.get("/get/").text
    assert "a fault of the program itself (FileNotFoundError)" in page
    assert "secret" not in page
    assert ">Try again</button>" in client.get("/get/").text  # a look alone begins nothing
    assert len(tried) == 1
    answer = client.post("/get/again?use=department%20review")
    assert answer.status_code == 303
    assert "are being built" in client.get(answer.location).text
    assert len(tried) == 2
    client.post("/get/again?use=department%20review")  # under way: nothing is begun over
    client.get("/get/")
    assert len(tried) == 2


def look(client: FlaskClient, content: bytes) -> str:
    answer = client.post("/get/look", data={"file": (io.BytesIO(content), "Orla Quennimore.pptx")})
    assert answer.status_code == 303
    assert "Orla" not in answer.location
    return ended(client, answer.location)


def deck(title: str) -> bytes:
    made, out = Presentation(), io.BytesIO()
    slide = made.slides.add_slide(made.slide_layouts[5])
    slide.shapes.title.text = title
    made.save(out)
    return out.getvalue()


def test_a_changed_deck_is_looked_through_without_repeating_or_keeping_it(desk: Desk) -> None:
    desk.rewrite(
        lambda _: "people: [{name: Orla Quennimore, role: patient}]\n", desk.revision(), "identifiers.yaml"
    )
    client = let_in(desk)
    page = look(client, deck("Bleeding in Orla Quennimore"))
    assert "<td>slide 1, paragraph 1</td><td>declared name</td>" in page
    assert "ppt/" not in page.replace("ppt/printerSettings", "")
    assert "to look at before it is shown" in page
    assert "Quennimore" not in page
    assert not list(desk.aside.glob("look-*"))
    assert "Not looked through: this is no deck" in look(client, b"\0\1\2 no file that is read")
    assert client.post("/get/look", data={}).status_code == 400
    assert "No file is being looked through" in client.get("/get/looked?of=0000").text
