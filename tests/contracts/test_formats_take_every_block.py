"""Every format writes every block of the closed vocabulary, and its words can be found in what it wrote."""

from __future__ import annotations

import html
import io
import re
import zipfile
from dataclasses import replace
from typing import get_args

import pytest
from pypdf import PdfReader

from mmbuilder import registry
from mmbuilder.safe.text import wording
from mmbuilder.storyboard.blocks import Block, Slide
from tests.formats import boards

FORMATS = {
    name: leaf
    for name, leaf in registry.discover("mmbuilder.formats", "SUFFIX", "write").items()
    if not hasattr(leaf, "LOG")  # written from the rows of the action log, not from a storyboard
}
KINDS = {kind.__name__: kind for kind in get_args(Block)}


def _one_of(kind: type) -> Block:
    for slide in boards.every_block().slides:
        for block in slide.blocks:
            if isinstance(block, kind):
                return block
    raise AssertionError(f"the sample storyboard has no {kind.__name__}")


def _letters(data: bytes) -> str:
    """Return all text of a file, parts of a zip one after the other, without tags."""
    if data[:5] == b"%PDF-":
        return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    if data[:2] == b"PK":
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            data = b" ".join(archive.read(name) for name in archive.namelist() if name.endswith(".xml"))
    return html.unescape(re.sub(r"<[^>]*>", " ", data.decode("utf-8", "replace")))


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
@pytest.mark.parametrize("name", FORMATS)
def test_writes_the_block(name: str, kind: type, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("mmbuilder.figures.draw", boards.stand_in)
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    slide = Slide("held", wording("A sentence that stands above."), (_one_of(kind),))
    board = replace(boards.every_block(), slides=(slide,))
    written = FORMATS[name].write(board)
    assert written
    if name not in ("picture_png", "picture_svg"):  # pixels and outlines have no letters
        assert "A sentence that stands above." in _letters(written)


@pytest.mark.parametrize("name", FORMATS)
def test_suffix_is_a_suffix(name: str) -> None:
    assert re.fullmatch(r"\.[a-z]+", FORMATS[name].SUFFIX)
