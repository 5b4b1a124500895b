"""A picture as a browser gets it: upright, nothing but pixels, in two sizes, within a bound.

EXIF orientation 6 means that the first row of the file is the right side as seen (EXIF 2.3, 4.6.4, from
memory; Pillow's own `exif_transpose` agrees).
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image, ImageOps

from mmbuilder.errors import FileRefused
from mmbuilder.page import pictures
from mmbuilder.page.pictures import AS_IT_IS, SCREEN, Pictures
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.plan import PixelBox


def taken(path: Path, width: int, height: int, turn: int = 1) -> Path:
    """A photograph with camera data that names somebody."""
    image = Image.linear_gradient("L").resize((width, height)).convert("RGB")
    exif = Image.Exif()
    exif[0x0112] = turn
    exif[0x013B] = "Orla Quennimore"  # artist
    exif[0x9C9C] = "Quennimore".encode("utf-16-le")
    image.save(path, "JPEG", quality=95, exif=exif, comment=b"Quennimore 7714")
    return path


def shown(sent: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(sent))
    image.load()
    return image


@pytest.mark.parametrize("size", ["screen", "full"])
def test_it_is_upright_and_holds_pixels_only(tmp_path: Path, size: pictures.Size) -> None:
    path = taken(tmp_path / "a.jpg", 300, 200, turn=6)
    sent = Pictures().before(path, size)
    assert b"Quennimore" in path.read_bytes()
    assert b"Quennimore" not in sent
    assert b"Exif" not in sent
    image = shown(sent)
    assert (image.size, dict(image.getexif()), image.info.get("comment")) == ((200, 300), {}, None)
    wanted = ImageOps.exif_transpose(Image.open(path)).convert("RGB")
    assert all(
        abs(a - b) <= 3
        for at in ((5, 150), (195, 150))
        for a, b in zip(image.getpixel(at), wanted.getpixel(at), strict=True)
    )


def test_two_sizes_of_a_large_picture(tmp_path: Path) -> None:
    path, made = taken(tmp_path / "a.jpg", 2700, 1800), Pictures()
    assert made.size(path) == (2700, 1800)
    assert shown(made.before(path, "screen")).size == (SCREEN, SCREEN * 1800 // 2700)
    assert shown(made.before(path, "full")).size == (2700, 1800)
    small = taken(tmp_path / "b.jpg", 300, 200)
    assert made.before(small, "full") is made.before(small, "screen")
    near = taken(tmp_path / "c.jpg", AS_IT_IS, 1600)
    assert shown(made.before(near, "screen")).size == (AS_IT_IS, 1600)
    assert made.before(near, "full") is made.before(near, "screen")


def test_a_changed_picture_is_made_anew(tmp_path: Path) -> None:
    import os

    path, made = taken(tmp_path / "a.jpg", 300, 200), Pictures()
    made.before(path, "screen")
    taken(path, 200, 300)
    os.utime(path, ns=(1, 1))
    assert shown(made.before(path, "screen")).size == (200, 300)


def test_memory_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    paths = [taken(tmp_path / f"{number}.jpg", 300, 200) for number in range(5)]
    made = Pictures()
    one = len(made.before(paths[0], "screen"))
    monkeypatch.setattr(pictures, "MOST", 2 * one + 10)
    for path in paths:
        made.before(path, "screen")
    assert len(made._kept) == 2
    made.forget()
    assert len(made._kept) == 0


def test_after_is_covered_and_cropped(tmp_path: Path) -> None:
    path = taken(tmp_path / "a.jpg", 300, 200)
    image = shown(Pictures().after(path, [PixelBox(100, 50, 200, 100)], (50.0, 20.0, 200.0, 150.0)))
    assert image.size == (200, 150)
    for at in ((60, 40), (140, 70)):
        assert all(abs(a - b) <= 2 for a, b in zip(image.getpixel(at), COVER, strict=True))


def test_what_is_no_picture_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    path.write_bytes(b"Quennimore")
    with pytest.raises(FileRefused, match="no picture"):
        Pictures().before(path, "screen")
