from __future__ import annotations

import pytest

from mmbuilder.formats import deck_pptx
from mmbuilder.formats._pptx import chart
from tests.formats import boards


@pytest.fixture(autouse=True)
def plain_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw charts by a stand-in and keep nothing between runs: the writer is tested here, not the drawing."""
    monkeypatch.setattr(chart.figures, "draw", boards.stand_in)
    monkeypatch.setenv("MMBUILDER_CACHE", "")


@pytest.fixture(scope="session")
def sample() -> bytes:
    """Return the deck with one slide of every block."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chart.figures, "draw", boards.stand_in)
        patch.setenv("MMBUILDER_CACHE", "")
        return deck_pptx.write(boards.every_block())
