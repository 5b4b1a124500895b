"""Any picture file -> upright RGB pixels, within bounds, or a refusal in words.

The file is judged by its first bytes. Size is read and checked before any pixel is
unpacked. What comes out has the colours a calibrated screen shows (sRGB, IEC 61966-2-1),
stands as the camera was held, and has no transparency: what a viewer would never show is
gone, not carried along.
"""

from __future__ import annotations

import os
import stat
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from mmbuilder.errors import FileRefused, MissingDependency, MMBuilderError
from mmbuilder.scrub.images import sniff
from mmbuilder.scrub.images.containers import webp

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_PIXELS = 80_000_000
"""80 megapixels: more than any camera in a theatre; 240 MB once unpacked."""

MAX_BYTES = 200 * 2**20

MAX_FRAMES = 2000
MAX_FRAME_PIXELS = 120_000_000
"""Over all pages or frames of one file: 360 MB once unpacked."""

_ANIMATED = ("GIF", "WEBP", "TIFF")
"""Pillow's names of the formats whose pages and frames are kept."""

_ORIENTATION = 0x0112


@dataclass(frozen=True)
class Decoded:
    """An upright picture, mode RGB, with the format it came in and what was left unread.

    `shown` is how long a frame of an animation stands, in milliseconds; 0 where it does not move.
    """

    image: Image = field(repr=False)
    kind: str
    notes: tuple[str, ...] = ()
    shown: int = 0


def read(source: Path | bytes) -> bytes:
    """Return the bytes of a plain file of bounded size.

    Raises:
        FileRefused: no plain file, too large, or it cannot be opened.
    """
    if isinstance(source, bytes):
        return source
    with _opened(source) as file:
        size = os.fstat(file.fileno()).st_size
        if size > MAX_BYTES:
            raise FileRefused(_too_large(size))
        return file.read(MAX_BYTES + 1)


def _opened(source: Path) -> BinaryIO:
    try:
        # Not blocking: opening a named pipe must not wait for somebody to write into it.
        handle = os.open(source, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except OSError as fault:
        raise FileRefused(f"the file cannot be opened ({fault.strerror})") from None
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise FileRefused("this is no plain file (a folder, device or pipe); give a picture file")
    return os.fdopen(handle, "rb")


def decode(source: Path | bytes, *, longest: int | None = None) -> Decoded:
    """Unpack a picture.

    Args:
        source: the file, or its bytes.
        longest: pixels of its long side that are enough. A JPEG is then unpacked at a half, a quarter or
            an eighth, as long as that is no fewer; other kinds, and None, are unpacked whole.

    Raises:
        FileRefused: of no kind that is read, too large, damaged or cut short.
    """
    data = read(source)
    leaf = _known(data)
    with _refusing(leaf.NAME):
        opened = _open(data, leaf)
        if longest is not None and longest < max(opened.size):
            opened.draft(None, _within(opened.size, longest))
        return _decoded(opened, leaf, list(_unread(leaf.pages(data))))


def decode_all(source: Path | bytes) -> tuple[Decoded, ...]:
    """Unpack every page of a TIFF and every frame of a GIF or WebP; of other kinds the one picture.

    Raises:
        FileRefused: as for `decode`, or too many frames.
    """
    data = read(source)
    leaf = _known(data)
    count = leaf.pages(data)
    if leaf.PILLOW not in _ANIMATED or count < 2:
        return (decode(data),)
    if count > MAX_FRAMES:
        raise FileRefused(f"the file holds {count} pictures; at most {MAX_FRAMES} are read. Export fewer")
    with _refusing(leaf.NAME):
        opened = _open(data, leaf)
        return tuple(_frames(opened, leaf))


def _within(size: tuple[int, int], longest: int) -> tuple[int, int]:
    share = longest / max(size)
    return ceil(size[0] * share), ceil(size[1] * share)


def _frames(opened: Image, leaf: sniff.Container) -> Iterator[Decoded]:
    total = 0
    for place in range(getattr(opened, "n_frames", 1)):
        opened.seek(place)
        _check_pixels(*opened.size)
        total += opened.width * opened.height
        if place >= MAX_FRAMES or total > MAX_FRAME_PIXELS:
            raise FileRefused(
                f"its pictures have over {MAX_FRAME_PIXELS // 10**6} million pixels together; "
                "export fewer or smaller ones"
            )
        yield _decoded(opened, leaf, [])


def _decoded(opened: Image, leaf: sniff.Container, notes: list[str]) -> Decoded:
    opened.load()
    _check_pixels(*opened.size)
    shown = opened.info.get("duration", 0)
    image = _upright(_eight_bit(opened), leaf, notes.append)
    flat = _flat(image, notes.append)
    return Decoded(flat, leaf.NAME, tuple(notes), int(shown) if isinstance(shown, int | float) else 0)


def upright_size(source: Path | bytes) -> tuple[int, int]:
    """Width and height as seen upright, without unpacking the pixels.

    Raises:
        FileRefused: as for `decode`, as far as the head of the file shows it.
    """
    data = read(source)
    leaf = _known(data)
    with _refusing(leaf.NAME):
        opened = _open(data, leaf)
        width, height = opened.size
        turned = leaf.NAME != "TIFF" and _orientation(opened, lambda note: None) >= 5
        return (height, width) if turned else (width, height)


def _known(data: bytes) -> sniff.Container:
    if len(data) > MAX_BYTES:
        raise FileRefused(_too_large(len(data)))
    leaf = sniff.container(data[: sniff.HEAD])
    if leaf is None:
        raise FileRefused(_unknown(data))
    return leaf


def _unknown(data: bytes) -> str:
    found = f"this is a {sniff.other(data[: sniff.HEAD])}" if sniff.other(data[: sniff.HEAD]) else ""
    found = found or ("the file is empty" if not data else "this is no picture of a kind that is known")
    return f"{found}; JPEG, PNG, TIFF, GIF, WebP, HEIC and BMP are read. Export it as JPEG or PNG"


def _too_large(size: int) -> str:
    return (
        f"the file holds {size / 2**20:.0f} MB; at most {MAX_BYTES // 2**20} MB are read. Export it smaller"
    )


def _check_pixels(width: int, height: int) -> None:
    if width * height > MAX_PIXELS:
        raise FileRefused(_too_many(f"{width * height / 1e6:.0f} million"))


def _too_many(count: str) -> str:
    return (
        f"the picture has {count} pixels; at most {MAX_PIXELS // 10**6} million are read. Export it smaller"
    )


@contextmanager
def _refusing(name: str) -> Iterator[None]:
    """Turn whatever a decoder raises into a refusal, and keep its warnings quiet."""
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    except MMBuilderError:
        raise
    except Image.DecompressionBombError:
        raise FileRefused(_too_many(f"over {2 * (Image.MAX_IMAGE_PIXELS or 0) // 10**6} million")) from None
    except Exception as fault:
        # Decoders answer damaged data with a dozen exception types, and their words may quote the
        # file. `from None`: a traceback would show them.
        cut = "truncated" in str(fault) or isinstance(fault, EOFError)
        state = "cut short" if cut else "damaged"
        raise FileRefused(
            f"this {name} picture is {state} and cannot be read; save or copy it again"
        ) from None


def _open(data: bytes, leaf: sniff.Container) -> Image:
    from PIL import Image

    if leaf.NAME == "WebP" and (size := webp.size(data)):
        _check_pixels(*size)
    if leaf.PILLOW == "HEIF":
        _register_heif()
    opened = Image.open(BytesIO(data), formats=[leaf.PILLOW])
    _check_pixels(*opened.size)
    return opened


def _register_heif() -> None:
    try:
        from pi_heif import register_heif_opener
    except ImportError:
        raise MissingDependency(
            "HEIC photographs need the library pi-heif: pip install 'mmbuilder[heic]' (a wheel; works "
            "offline once installed), or export the photograph as JPEG"
        ) from None
    register_heif_opener(thumbnails=False)


def _unread(pages: int) -> Iterator[str]:
    if pages > 1:
        yield f"the file holds {pages} pictures; only the first is used"


def _eight_bit(image: Image) -> Image:
    """Deep grey scales to 8 bits: 16-bit by 257, so that white stays white."""
    if image.mode == "F":
        raise FileRefused("the picture has floating-point pixels; export it with 8 or 16 bits a channel")
    if not image.mode.startswith("I"):
        return image
    import numpy as np
    from PIL import Image as Images

    values = np.asarray(image).astype(np.int64)
    if values.size and (values.min() < 0 or values.max() > 65535):
        raise FileRefused("the picture has 32-bit pixels; export it with 8 or 16 bits a channel")
    shallow = Images.fromarray(((values + 128) // 257).astype(np.uint8))
    shallow.info = {key: image.info[key] for key in ("icc_profile", "exif") if key in image.info}
    return shallow


def _upright(image: Image, leaf: sniff.Container, note: Callable[[str], None]) -> Image:
    from PIL.Image import Transpose

    turns = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    if leaf.NAME == "TIFF":  # its decoder has turned it already
        return image
    turn = turns.get(_orientation(image, note))
    return image if turn is None else image.transpose(turn)


def _orientation(image: Image, note: Callable[[str], None]) -> int:
    """EXIF orientation, 1 to 8; 1 where there is none.

    Pillow falls back on the orientation in XMP, which viewers do not: boxes are measured on
    what a viewer shows, so XMP is put aside first.
    """
    for key in ("xmp", "XML:com.adobe.xmp"):
        image.info.pop(key, None)
    try:
        value = image.getexif().get(_ORIENTATION, 1)
    except Exception:  # as above: any type, from damaged data
        note("the camera data are damaged; the picture is taken to be upright")
        return 1
    return value if isinstance(value, int) and 1 <= value <= 8 else 1


def _flat(image: Image, note: Callable[[str], None]) -> Image:
    """Colours to sRGB by the picture's own profile; transparency onto white."""
    from PIL import Image as Images

    profile = image.info.get("icc_profile")
    base, alpha = _apart(image)
    colours = to_srgb(base, profile, note)
    if alpha is None:
        return colours
    flat = Images.new("RGB", colours.size, "white")
    flat.paste(colours, mask=alpha)
    return flat


def _apart(image: Image) -> tuple[Image, Image | None]:
    """(colours without transparency, how opaque each pixel is)."""
    if image.mode in ("RGBa", "La"):
        image = image.convert(image.mode.replace("a", "A"))
    clear = image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info
    alpha = image.convert("RGBA").getchannel("A") if clear else None
    if image.mode in ("P", "PA"):
        image = image.convert("RGBA" if clear else "RGB")
    if image.mode == "LA":
        return image.getchannel("L"), alpha
    if image.mode == "RGBA":
        return image.convert("RGB"), alpha
    return (image.convert("L") if image.mode == "1" else image), alpha


def to_srgb(image: Image, profile: bytes | None, note: Callable[[str], None]) -> Image:
    """Return RGB pixels as a calibrated screen shows them, by the picture's own colour profile."""
    from PIL import ImageCms

    if not profile and image.mode != "LAB":
        return _plain(image)
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile)) if profile else ImageCms.createProfile("LAB")
        turned = ImageCms.profileToProfile(
            image,
            source,
            ImageCms.createProfile("sRGB"),
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        note("the colour profile cannot be used; colours are taken as they are stored")
        return _plain(image)
    return _plain(turned if turned is not None else image)


def _plain(image: Image) -> Image:
    """Only pixels: `info` travels with an image from step to step, and holds what the file said."""
    plain = image.convert("RGB") if image.mode != "RGB" else image.copy()
    plain.info = {}
    return plain
