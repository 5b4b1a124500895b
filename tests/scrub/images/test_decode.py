import os
import struct
import zlib
from contextlib import suppress
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, ImageFile

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images import decode as decoding
from mmbuilder.scrub.images.decode import decode, upright_size
from tests.scrub.images.files import EVERY, TURNABLE, picture, saved


@pytest.mark.parametrize("kind", EVERY)
def test_every_format_is_known_by_its_bytes(kind, tmp_path):
    lying = tmp_path / "report.txt"
    lying.write_bytes(EVERY[kind])
    decoded = decode(lying)
    assert (decoded.kind, decoded.image.mode, decoded.image.size) == (kind, "RGB", (64, 48))
    assert decoded.image.info == {}


def turned(image: Image.Image, orientation: int) -> Image.Image:
    """Store a picture so that it is seen upright with this orientation.

    Source: EXIF 2.32 (CIPA DC-008-2019), tag 274: where row 0 and column 0 of the stored picture lie
    as it is seen; from memory.
    """
    pixels = np.asarray(image)
    stored = {
        1: pixels,
        2: pixels[:, ::-1],
        3: pixels[::-1, ::-1],
        4: pixels[::-1],
        5: pixels.transpose(1, 0, 2),
        6: pixels.transpose(1, 0, 2)[::-1],
        7: pixels[::-1, ::-1].transpose(1, 0, 2),
        8: pixels.transpose(1, 0, 2)[:, ::-1],
    }[orientation]
    return Image.fromarray(np.ascontiguousarray(stored))


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", TURNABLE)
def test_pictures_are_stood_upright(kind, orientation):
    exif = Image.Exif()
    exif[0x0112] = orientation
    stored = turned(picture(), orientation)
    options = {"PNG": {}, "TIFF": {}, "WebP": {"lossless": True}, "JPEG": {"quality": 100, "subsampling": 0}}[
        kind
    ]
    data = saved(stored, kind.upper(), exif=exif, **options)
    seen = decode(data).image
    assert upright_size(data) == seen.size == (64, 48)
    # The middle of each quarter: away from the edges a JPEG rings at.
    for x, y in ((16, 12), (48, 12), (16, 36), (48, 36)):
        assert np.abs(np.subtract(seen.getpixel((x, y)), picture().getpixel((x, y)))).max() <= 2


@pytest.mark.parametrize(
    ("longest", "seen"),
    [(640, (640, 480)), (639, (640, 480)), (320, (320, 240)), (100, (160, 120)), (9, (80, 60))],
)
@pytest.mark.parametrize("orientation", [1, 6])
def test_a_jpeg_of_which_fewer_pixels_are_enough(orientation, longest, seen):
    """A half, a quarter or an eighth, never fewer than asked for; as Pillow's own reduction by area sees it.

    Source: scaled inverse transforms of libjpeg by 1/2, 1/4, 1/8; from memory.
    """
    exif = Image.Exif()
    exif[0x0112] = orientation
    data = saved(turned(picture(640, 480), orientation), "JPEG", exif=exif, quality=95)
    small = decode(data, longest=longest).image
    assert small.size == seen
    wanted = picture(640, 480).reduce(640 // seen[0])
    for x, y in ((1, 1), (3, 1), (1, 3), (3, 3)):
        at = (seen[0] * x // 4, seen[1] * y // 4)
        assert np.abs(np.subtract(small.getpixel(at), wanted.getpixel(at))).max() <= 3


@pytest.mark.parametrize("kind", sorted(set(EVERY) - {"JPEG"}))
def test_other_kinds_are_unpacked_whole(kind):
    assert decode(EVERY[kind], longest=10).image.size == (64, 48)


def test_orientation_in_editing_data_alone_is_not_followed_as_no_viewer_does():
    xmp = b'<x xmlns:tiff="http://ns.adobe.com/tiff/1.0/" tiff:Orientation="6"/>'
    assert decode(saved(picture(), "JPEG", xmp=xmp)).image.size == (64, 48)


# --- colour -----------------------------------------------------------------------------------


def profile(red: str, green: str, blue: str, gamma: float) -> bytes:
    """A display profile of three colorants (hexadecimal s15Fixed16 X, Y, Z) and one gamma.

    Source: ICC.1:2022, clause 7 (header, tag table), 10.6 (curveType), 10.31 (XYZType); from memory.
    """
    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256)) + b"\0\0"
    blobs = {b"rXYZ": red, b"gXYZ": green, b"bXYZ": blue, b"wtpt": "0000F6D600010000 0000D32D"}
    tags = {name: b"XYZ \0\0\0\0" + bytes.fromhex(value.replace(" ", "")) for name, value in blobs.items()}
    tags |= dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve)
    tags[b"desc"] = b"desc\0\0\0\0" + struct.pack(">I", 2) + b"x\0" + b"\0" * 78
    table, body, start = b"", b"", 128 + 4 + 12 * len(tags)
    for name, blob in tags.items():
        table += name + struct.pack(">II", start + len(body), len(blob))
        body += blob + b"\0" * (-len(blob) % 4)
    head = bytearray(128)
    head[8:12] = b"\x02\x10\0\0"
    head[12:24] = b"mntrRGB XYZ "
    head[36:40] = b"acsp"
    head[68:80] = bytes.fromhex("0000F6D6000100000000D32D")
    whole = bytes(head) + struct.pack(">I", len(tags)) + table + body
    return struct.pack(">I", len(whole)) + whole[4:]


# Adobe RGB (1998) Color Image Encoding, version 2005-05, section 4.3.1.1 and annex B: primaries
# R 0.64 0.33, G 0.21 0.71, B 0.15 0.06, white D65, gamma 2.19921875; colorants as adapted to D50:
# X Y Z of red .60974 .31111 .01947, green .20528 .62567 .06087, blue .14919 .06322 .74457. From memory.
def fixed(*xyz: float) -> str:
    return "".join(f"{round(value * 65536):08X}" for value in xyz)


ADOBE = profile(
    fixed(0.60974, 0.31111, 0.01947),
    fixed(0.20528, 0.62567, 0.06087),
    fixed(0.14919, 0.06322, 0.74457),
    2.19921875,
)


def expected(rgb: tuple[int, int, int]) -> np.ndarray:
    """Adobe RGB to sRGB by the two standards' own equations; both are D65, so no adaptation.

    Source: matrices of Adobe RGB (1998) 4.3.5.3 and IEC 61966-2-1:1999 (XYZ to sRGB); from memory.
    """
    to_xyz = [[0.57667, 0.18556, 0.18823], [0.29734, 0.62736, 0.07529], [0.02703, 0.07069, 0.99134]]
    to_srgb = [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
    linear = np.array(to_srgb) @ np.array(to_xyz) @ (np.array(rgb) / 255) ** 2.19921875
    linear = linear.clip(0, 1)
    return 255 * np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)


@pytest.mark.parametrize(
    "swatch", [(150, 90, 80), (128, 128, 128), (60, 100, 160), (200, 180, 60), (255, 255, 255)]
)
def test_colour_is_right_after_the_profile_is_dropped(swatch):
    data = saved(Image.new("RGB", (8, 8), swatch), "PNG", icc_profile=ADOBE)
    seen = decode(data).image.getpixel((4, 4))
    assert np.abs(np.array(seen) - expected(swatch)).max() <= 1.5


def test_the_swatch_check_would_notice_a_profile_left_out():
    assert np.abs(np.array((150, 90, 80)) - expected((150, 90, 80))).max() > 5


def test_a_profile_with_red_and_green_exchanged_is_obeyed():
    exchanged = profile(
        fixed(0.20528, 0.62567, 0.06087),
        fixed(0.60974, 0.31111, 0.01947),
        fixed(0.14919, 0.06322, 0.74457),
        2.2,
    )
    red, green, _ = decode(
        saved(Image.new("RGB", (8, 8), (200, 0, 0)), "PNG", icc_profile=exchanged)
    ).image.getpixel((4, 4))
    assert green > 150 > red


def test_a_broken_profile_is_told_and_colours_stay():
    decoded = decode(
        saved(Image.new("RGB", (8, 8), (9, 99, 199)), "PNG", icc_profile=b"no profile at all" * 20)
    )
    assert decoded.image.getpixel((4, 4)) == (9, 99, 199)
    assert any("colour profile" in note for note in decoded.notes)


@pytest.mark.parametrize(
    ("image", "kind", "seen"),
    [
        (Image.new("RGBA", (4, 4), (10, 20, 30, 0)), "PNG", (255, 255, 255)),
        (Image.new("RGBA", (4, 4), (0, 0, 0, 128)), "PNG", (127, 127, 127)),
        (Image.new("LA", (4, 4), (0, 0)), "PNG", (255, 255, 255)),
        (Image.new("L", (4, 4), 77), "PNG", (77, 77, 77)),
        (Image.new("1", (4, 4), 1), "PNG", (255, 255, 255)),
        (Image.new("1", (4, 4), 1), "TIFF", (255, 255, 255)),
        (Image.new("RGB", (4, 4), (250, 0, 0)).quantize(4), "GIF", (250, 0, 0)),
        (Image.new("RGB", (4, 4), (1, 2, 250)).quantize(4), "BMP", (1, 2, 250)),
        (Image.fromarray(np.full((4, 4), 65535, np.uint16)), "PNG", (255, 255, 255)),
        (Image.fromarray(np.full((4, 4), 257 * 100, np.uint16)), "TIFF", (100, 100, 100)),
        (Image.new("CMYK", (4, 4), (0, 0, 0, 0)), "JPEG", (255, 255, 255)),
        (Image.new("CMYK", (4, 4), (0, 0, 0, 255)), "TIFF", (0, 0, 0)),
    ],
)
def test_every_kind_of_pixel_becomes_plain_rgb(image, kind, seen):
    assert decode(saved(image, kind)).image.getpixel((2, 2)) == seen


def test_lab_pixels_are_read_as_the_colour_they_mean():
    # CIE L*a*b* (50, 0, 0) is sRGB 119: CIE 15 lightness and IEC 61966-2-1, worked by hand (Y = 0.1842).
    image = ImageCms.profileToProfile(
        Image.new("RGB", (4, 4), (119, 119, 119)),
        ImageCms.createProfile("sRGB"),
        ImageCms.createProfile("LAB"),
        outputMode="LAB",
    )
    seen = decode(saved(image, "TIFF")).image.getpixel((1, 1))
    assert np.abs(np.array(seen) - 119).max() <= 2


def test_transparent_palette_is_white_and_its_hidden_colour_gone():
    image = Image.new("P", (4, 4), 1)
    image.putpalette([0, 0, 0, 200, 10, 10])
    assert decode(saved(image, "PNG", transparency=1)).image.getpixel((1, 1)) == (255, 255, 255)


def test_floating_point_pixels_are_refused_in_words():
    with pytest.raises(FileRefused, match="floating-point"):
        decode(saved(Image.new("F", (4, 4), 0.5), "TIFF"))


# --- bounds and hostile files -----------------------------------------------------------------


def test_a_bomb_is_refused_before_it_is_unpacked():
    head = struct.pack(">IIBBBBB", 60000, 60000, 8, 2, 0, 0, 0)
    blocks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 10)), (b"IEND", b"")]
    data = b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        for name, body in blocks
    )
    with pytest.raises(FileRefused, match=r"million pixels|over \d+ million"):
        decode(data)


def test_a_webp_bomb_is_refused_before_its_decoder_takes_memory():
    canvas = b"\0\0\0\0" + (16382).to_bytes(3, "little") + (16382).to_bytes(3, "little")
    body = b"WEBPVP8X" + struct.pack("<I", 10) + canvas
    with pytest.raises(FileRefused, match="268 million pixels"):
        decode(b"RIFF" + struct.pack("<I", len(body)) + body)


def test_pixels_just_over_the_bound_are_refused_and_just_under_are_not(monkeypatch):
    monkeypatch.setattr(decoding, "MAX_PIXELS", 64 * 48)
    assert decode(saved(picture(), "PNG")).image.size == (64, 48)
    with pytest.raises(FileRefused, match="Export it smaller"):
        decode(saved(picture(65, 48), "PNG"))


def test_a_file_over_the_bound_is_refused_unread(monkeypatch, tmp_path):
    monkeypatch.setattr(decoding, "MAX_BYTES", 100)
    path = tmp_path / "a.png"
    path.write_bytes(saved(picture(), "PNG"))
    with pytest.raises(FileRefused, match="MB"):
        decode(path)


@pytest.mark.parametrize("kind", EVERY)
def test_a_picture_cut_short_is_refused(kind):
    clean = saved(picture(200, 200).rotate(20), kind.upper())
    with pytest.raises(FileRefused, match=r"cut short|damaged"):
        decode(clean[: len(clean) // 2])


@pytest.mark.parametrize(
    ("head", "name"),
    [
        (b"\0\0\0\x18ftypheic" + b"\0" * 30, "HEIC picture is (cut short|damaged)"),
        (b"%PDF-1.7\n", "PDF document"),
        (b"\0" * 128 + b"DICM", "DICOM object"),
        (b"8BPS\0\1", "Photoshop document"),
        (b"PK\x03\x04" + b"\0" * 30, "zip file or Office document"),
        (b"", "the file is empty"),
        (b"just words", "no picture of a kind that is known"),
    ],
)
def test_other_kinds_are_named_in_the_refusal(head, name):
    with pytest.raises(FileRefused, match=name):
        decode(head)


def test_pipes_and_folders_are_refused_without_waiting(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    for place in (tmp_path / "pipe", tmp_path):
        with pytest.raises(FileRefused, match=r"no plain file|cannot be opened"):
            decode(place)


def test_a_missing_file_is_refused_without_its_name(tmp_path):
    with pytest.raises(FileRefused) as refused:
        decode(tmp_path / "Zquillmarkton.png")
    assert "Zquillmarkton" not in str(refused.value)


def test_more_pages_are_told():
    frames = [picture(), picture().rotate(90)]
    out = BytesIO()
    frames[0].save(out, "TIFF", save_all=True, append_images=frames[1:])
    gif = BytesIO()
    frames[0].save(gif, "GIF", save_all=True, append_images=frames[1:], duration=90)
    for data in (out.getvalue(), gif.getvalue()):
        assert decode(data).notes == ("the file holds 2 pictures; only the first is used",)


HEADS = [data[:size] for data in EVERY.values() for size in (12, 60, 400)]


@given(st.sampled_from([b"", *HEADS]), st.binary(max_size=300))
@settings(max_examples=150, deadline=None)
def test_junk_is_refused_and_nothing_else_is_raised(head, tail):
    with suppress(FileRefused):
        assert decode(head + tail).image.mode == "RGB"


@given(st.sampled_from(sorted(EVERY)), st.data())
@settings(max_examples=120, deadline=None)
def test_a_flipped_byte_is_refused_or_read_and_nothing_else_is_raised(kind, data):
    broken = bytearray(EVERY[kind])
    for _ in range(3):
        broken[data.draw(st.integers(0, len(broken) - 1))] = data.draw(st.integers(0, 255))
    with suppress(FileRefused):
        assert decode(bytes(broken)).image.mode == "RGB"


@pytest.mark.parametrize("kind", EVERY)
def test_no_pixel_is_unpacked_before_the_size_is_checked(kind, monkeypatch):
    def unpack(self):
        raise AssertionError("unpacked")

    monkeypatch.setattr(decoding, "MAX_PIXELS", 64 * 48 - 1)
    monkeypatch.setattr(Image.Image, "load", unpack)
    monkeypatch.setattr(ImageFile.ImageFile, "load", unpack)
    with pytest.raises(FileRefused, match="Export it smaller"):
        decode(EVERY[kind])
