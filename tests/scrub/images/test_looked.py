"""What was looked at before it was covered holds for the finished picture, and for no other."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from mmbuilder.scrub.images import again, looked, regions
from mmbuilder.scrub.images.areas import Area
from mmbuilder.scrub.images.cover import cover
from mmbuilder.scrub.plan import Decision, PixelBox
from mmbuilder.scrub.stills import _as_shown, _back, scaled

BOXES = (PixelBox(37, 21, 180, 55), PixelBox(301, 199, 333, 240))


@pytest.fixture(autouse=True)
def _kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))


def noisy(size: tuple[int, int], seed: int = 3) -> Image.Image:
    """Noise on a slope: every block of it is changed by any change of its pixels."""
    rng = np.random.default_rng(seed)
    slope = np.linspace(0, 120, size[0])[None, :, None]
    return Image.fromarray((slope + rng.integers(0, 120, (size[1], size[0], 3))).astype(np.uint8))


@pytest.mark.parametrize("size", [(640, 480), (643, 477), (2561, 1200), (4000, 3000)])
def test_encoding_changes_nothing_but_the_blocks_of_a_cover(size: tuple[int, int]) -> None:
    """ISO/IEC 10918-1, A.2.4: the reference is the library that encodes, on noise, whole and made smaller."""
    seen = noisy(size)
    shown = _as_shown(seen)
    boxes = _back(BOXES, shown, seen)
    now = scaled(boxes, (0, 0, *seen.size), shown.size)
    finished = _as_shown(seen, boxes)
    assert finished.tobytes() != shown.tobytes()
    looked.remember(shown, now, (b"code",))
    assert looked.looked_at(finished, now, (b"code",))


@pytest.mark.parametrize("change", ["pixel", "fewer covers", "other code", "kept"])
def test_what_differs_was_not_looked_at(change: str) -> None:
    shown = _as_shown(noisy((640, 480)))
    looked.remember(shown, BOXES, (b"code",))
    finished, boxes, code = cover(shown, BOXES), BOXES, b"code"
    if change == "pixel":
        finished.putpixel((600, 400), (1, 2, 3))
    elif change == "fewer covers":
        boxes = BOXES[:1]
    elif change == "kept":
        boxes = (BOXES[0], PixelBox(301, 199, 333, 240, decision=Decision.KEEP))
    else:
        code = b"newer"
    assert not looked.looked_at(finished, boxes, (code,))


def test_a_finished_picture_is_looked_at_round_its_covers_and_a_changed_one_whole(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    parts_seen: list[list[Area]] = []

    class Parts:
        NAME, LOOKS_FOR, EXTRA, NEEDS = "parts", ("faces",), "", ()

        def find(self, image: Image.Image) -> tuple[PixelBox, ...]:
            return BOXES

        def find_again(self, image: Image.Image, parts: list[Area]) -> tuple[PixelBox, ...]:
            parts_seen.append(parts)
            return ()

    monkeypatch.setattr(regions, "finders", lambda: (Parts(),))
    shown = _as_shown(noisy((1600, 900)))
    again.looked_through(shown, BOXES)
    finished = cover(shown, BOXES)
    assert again.still_found(finished, BOXES) == ()
    finished.putpixel((1500, 800), (0, 0, 0))
    assert again.still_found(finished, BOXES) == ()
    assert parts_seen == [again.surroundings(BOXES, 1600, 900), [(0, 0, 1600, 900)]]
