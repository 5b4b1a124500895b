"""Every feature of the drawings looks as it did; one that is not drawn any more is seen.

After a change that is meant: `pytest tests/figures/golden --force-regen`, then look at the pictures.
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from mmbuilder.figures import paint
from mmbuilder.figures.sheet import Sheet, Words
from tests.figures.golden.features import FEATURES
from tests.figures.golden.looks import MOST_BYTES, difference, hold, small

KEPT = Path(__file__).parent / "pictures"

PARTS = [(name, part) for name, feature in FEATURES.items() for part in feature.parts]


@pytest.mark.parametrize("name", FEATURES)
def test_it_looks_as_it_did(name: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    regenerate = bool(request.config.getoption("force_regen"))
    hold(small(FEATURES[name].sheet()), KEPT / f"{name}.png", tmp_path, regenerate=regenerate)


@pytest.mark.parametrize(("name", "part"), PARTS)
def test_a_part_that_is_not_drawn_is_seen(name: str, part: str) -> None:
    feature = FEATURES[name]
    whole, chosen = feature.sheet(), feature.parts[part]
    kept = tuple(item for item in whole.items if not chosen(item))
    assert 0 < len(whole.items) - len(kept) < len(whole.items), "the part points at some shapes, not all"
    apart = difference(small(whole), small(replace(whole, items=kept)))
    assert apart.first is not None, f"no place over its limit: {apart.local}"


@pytest.mark.parametrize("name", FEATURES)
def test_other_hinting_of_letters_and_a_hair_of_shift_are_no_change(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # What a new release of matplotlib or FreeType may bring: hinted letters, a quarter of a point
    # aside, and softer edges, a sixth of a pixel aside.
    sheet = FEATURES[name].sheet()
    before = small(sheet)
    png = paint.png
    monkeypatch.setattr(paint, "_SETTINGS", paint._SETTINGS | {"text.hinting": "native"})
    monkeypatch.setattr(paint, "png", lambda drawn: _softened(png(drawn)))
    after = difference(before, small(_nudged(sheet)))
    assert after.same, after


def _softened(painted: bytes) -> bytes:
    sixth, out = 1 / 6, io.BytesIO()
    with Image.open(io.BytesIO(painted)) as picture:
        moved = picture.transform(
            picture.size,
            Image.Transform.AFFINE,
            (1, 0, sixth, 0, 1, sixth),
            Image.Resampling.BILINEAR,
            fillcolor="white",
        )
    moved.save(out, "PNG")
    return out.getvalue()


def _nudged(sheet: Sheet) -> Sheet:
    items = (
        replace(item, x=item.x + 0.25, y=item.y + 0.125) if isinstance(item, Words) else item
        for item in sheet.items
    )
    return replace(sheet, items=tuple(items))


def test_the_pictures_are_small_and_all_of_them_are_held() -> None:
    found = {path.stem: path for path in KEPT.iterdir()}
    assert found.keys() == FEATURES.keys()
    for path in found.values():
        assert path.stat().st_size <= MOST_BYTES
        with Image.open(path) as picture:
            assert picture.mode == "RGB"
            assert max(picture.size) <= 500


def test_a_difference_saves_both_pictures_and_names_the_first_area(tmp_path: Path) -> None:
    kept, at = tmp_path / "plain.png", tmp_path / "out"
    at.mkdir()
    plain = Image.new("RGB", (100, 60), "white")
    plain.save(kept)
    hold(plain, kept, at, regenerate=False)
    blotted = plain.copy()
    blotted.paste("black", (40, 24, 47, 31))
    with pytest.raises(
        AssertionError, match=r"first difference in the shapes, 43 pixels across and 2[4-7] down"
    ):
        hold(blotted, kept, at, regenerate=False)
    assert {path.name for path in at.iterdir()} == {"plain-expected.png", "plain-found.png"}


def test_another_size_is_a_difference(tmp_path: Path) -> None:
    kept = tmp_path / "plain.png"
    Image.new("RGB", (100, 60), "white").save(kept)
    with pytest.raises(AssertionError, match=r"size: found \(100, 61\), expected \(100, 60\)"):
        hold(Image.new("RGB", (100, 61), "white"), kept, tmp_path, regenerate=False)


def test_a_picture_that_is_not_there_is_written_and_said(tmp_path: Path) -> None:
    kept = tmp_path / "kept" / "plain.png"
    with pytest.raises(AssertionError, match=r"plain\.png was not there, and was written: look at it"):
        hold(Image.new("RGB", (10, 10), "white"), kept, tmp_path, regenerate=False)
    hold(Image.new("RGB", (10, 10), "white"), kept, tmp_path, regenerate=False)
