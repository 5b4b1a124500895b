"""What the results say before anybody looks at them."""

from __future__ import annotations

import io
from concurrent.futures import Future
from typing import Any

import pytest
from flask.testing import FlaskClient
from pptx import Presentation

from mmbuilder.page import Desk
from tests.page.conftest import ended, let_in


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


def test_the_steps_keep_to_the_use_that_is_shown(client: FlaskClient) -> None:
    steps = client.get("/sign/?use=case%20report").text.partition("</nav>")[0]
    assert 'href="/get/?use=case%20report"' in steps
    assert 'href="/words/"' in steps  # a page of the whole case
    assert 'href="/get/"' in client.get("/words/").text.partition("</nav>")[0]
