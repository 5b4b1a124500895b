"""An identifier in every hiding place of a presentation (check-values.md H3): none survives a scrub.

Places and their structure: ECMA-376-1 and the list H3; those of `_misplaced` are hostile, no
program writes them.
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pptx.enum.shapes import MSO_SHAPE_TYPE

from tests.leaks import attack_pptx
from tests.leaks.attack import (
    VARIANTS,
    Attacked,
    attacked,
    no_faults,
    nothing_beside,
    nothing_survives,
    places,
    tells_nothing,
)


@pytest.fixture(scope="module", params=VARIANTS)
def done(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Attacked:
    return attacked(attack_pptx.build, ".pptx", request.param, tmp_path_factory.mktemp("pptx"))


@pytest.mark.parametrize("place", places(attack_pptx.build))
def test_nothing_survives(done: Attacked, place: str) -> None:
    nothing_survives(done, place)


def test_the_command_tells_nothing(done: Attacked) -> None:
    tells_nothing(done)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Attacked:
    """What programs can write, scrubbed with the program's own last search on."""
    folder = tmp_path_factory.mktemp("whole")
    return attacked(lambda p: attack_pptx.build(p, hostile=False), ".pptx", "declared", folder, sweep=True)


def test_it_opens_and_shows_what_is_shown(whole: Attacked) -> None:
    from pptx import Presentation

    show = Presentation(io.BytesIO(whole.data))
    (slide,) = show.slides
    assert [shape for shape in slide.shapes if shape.has_chart]
    assert len([shape for shape in slide.shapes if shape.shape_type == MSO_SHAPE_TYPE.PICTURE]) == 4
    assert slide.has_notes_slide


def test_the_validators_find_nothing(whole: Attacked, tmp_path: Path) -> None:
    path = tmp_path / "deck.pptx"
    path.write_bytes(whole.data)
    no_faults(path)


def test_nothing_lies_beside_the_parts(done: Attacked) -> None:
    nothing_beside(done)
