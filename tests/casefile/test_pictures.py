"""Pictures known by their first bytes; every size is compared with Pillow's."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from mmbuilder.casefile.files import FileFault
from mmbuilder.casefile.pictures import MOST_PIXELS, images_probe

KINDS = {"PNG": ".png", "JPEG": ".jpg", "GIF": ".gif", "BMP": ".bmp", "TIFF": ".tif", "WebP": ".webp"}


def saved(path: Path, kind: str, **options: object) -> Path:
    Image.new("RGB", (64, 48), (120, 30, 20)).save(path, format=kind.upper(), **options)
    return path


@pytest.mark.parametrize("kind", KINDS)
def test_size_is_what_pillow_says(tmp_path: Path, kind: str) -> None:
    probe = images_probe(saved(tmp_path / f"a{KINDS[kind]}", kind))
    assert (probe.kind, probe.width, probe.height, probe.mislabelled) == (kind, 64, 48, False)


def test_progressive_jpeg(tmp_path: Path) -> None:
    assert images_probe(saved(tmp_path / "a.jpg", "JPEG", progressive=True)).width == 64


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WebP"])
@pytest.mark.parametrize("turn", range(1, 9))
def test_size_is_as_seen_upright(tmp_path: Path, kind: str, turn: int) -> None:
    """Exif orientation 5 to 8 swap width and height (tag 0x0112); Pillow's exif_transpose is the witness."""
    from PIL import ImageOps

    exif = Image.Exif()
    exif[0x0112] = turn
    path = saved(tmp_path / f"a{KINDS[kind]}", kind, exif=exif)
    with Image.open(path) as image:
        upright = ImageOps.exif_transpose(image).size
    probe = images_probe(path)
    assert (probe.width, probe.height) == upright


def test_a_wrong_ending_is_understood(tmp_path: Path) -> None:
    probe = images_probe(saved(tmp_path / "a.png", "JPEG"))
    assert (probe.kind, probe.mislabelled) == ("JPEG", True)


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
@pytest.mark.parametrize("keep", [0.3, 0.6, 0.95])
def test_pictures_cut_short_are_told(tmp_path: Path, kind: str, keep: float) -> None:
    path = saved(tmp_path / f"a{KINDS[kind]}", kind)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * keep)])
    with pytest.raises(FileFault) as refused:
        images_probe(path)
    assert refused.value.code == "picture-damaged"


def _bomb(width: int, height: int) -> bytes:
    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


def test_decompression_bombs_are_refused_from_their_header(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    path.write_bytes(_bomb(60_000, 60_000))
    with pytest.raises(FileFault) as refused:
        images_probe(path)
    assert refused.value.code == "picture-too-large"
    path.write_bytes(_bomb(10_000, MOST_PIXELS // 10_000))
    assert images_probe(path).width == 10_000


@pytest.mark.parametrize("kind", ["GIF", "BMP"])
def test_bombs_of_other_kinds(tmp_path: Path, kind: str) -> None:
    path = saved(tmp_path / f"a{KINDS[kind]}", kind)
    data = bytearray(path.read_bytes())
    at, form = (6, "<HH") if kind == "GIF" else (18, "<ii")
    data[at : at + struct.calcsize(form)] = struct.pack(form, 60_000, 60_000)
    path.write_bytes(bytes(data))
    with pytest.raises(FileFault) as refused:
        images_probe(path)
    assert refused.value.code == "picture-too-large"


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b"%PDF-1.7", "PDF"),
        (b"\0" * 128 + b"DICM", "DICOM"),
        (b"\0\0\0\x18ftypheic", "HEIC"),
        (b"\0\0\0\x18ftypisom", "a video"),
        (b"PK\x03\x04", "a zip archive or an office file"),
        (b"<svg xmlns=", "SVG"),
        (b"plain words", "no kind of picture"),
        (b"", "no kind of picture"),
    ],
)
def test_what_is_no_picture(tmp_path: Path, data: bytes, found: str) -> None:
    (tmp_path / "a.png").write_bytes(data)
    with pytest.raises(FileFault) as refused:
        images_probe(tmp_path / "a.png")
    assert (refused.value.code, refused.value.found) == ("picture-kind", found)
