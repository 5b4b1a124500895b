"""Data written out as letters in a text go from first line to last, and nothing else of it does."""

from __future__ import annotations

import base64
from io import BytesIO

import pytest
from PIL import Image

from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.containers.tools import Scrubber
from mmbuilder.scrub.layers import NoNameModel


@pytest.fixture(autouse=True)
def _patterns_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tools, "name_model", NoNameModel)


def _scrubbed(text: str, suffix: str) -> str:
    return Scrubber().file(suffix, text.encode()).data.decode()


def _photograph() -> str:
    out = BytesIO()
    Image.effect_noise((120, 90), 60).save(out, "JPEG", comment=b"Quenby Vellacott")
    return base64.b64encode(out.getvalue()).decode()


def test_a_picture_in_markdown_goes_and_the_words_stay() -> None:
    text = f"The leak was seen.\n\n![scan](data:image/jpeg;base64,{_photograph()})\n\nDay 3 was calm.\n"
    assert _scrubbed(text, ".md") == "The leak was seen.\n\n![scan]([removed])\n\nDay 3 was calm.\n"


def test_what_a_mail_carries_goes_line_by_line() -> None:
    carried = base64.encodebytes(b"Seen by Quenby Vellacott in theatre 3. " * 8).decode()
    scrubbed = _scrubbed(f"Attached\n{carried}End\n", ".txt")
    assert scrubbed == "Attached\n" + "[removed]\n" * carried.count("\n") + "End\n"


@pytest.mark.parametrize("heading", ["Surname", "Consultant", "Ward"])
def test_a_table_scrubbed_before_stays_as_it_is(heading: str) -> None:
    once = _scrubbed(f"{heading},Pressure\nVellacott,18\nQuenby Vellacott,21\n", ".csv")
    assert "Vellacott" not in once
    assert _scrubbed(once, ".csv") == once
