"""Pictures made for tests, with a canary in every place a format has."""

from __future__ import annotations

import base64
import struct
import zlib
from io import BytesIO

from PIL import Image, ImageCms, ImageDraw
from PIL.PngImagePlugin import PngInfo

CANARY = "Zquillmarkton"
SECRET = CANARY.encode()
XMP = f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf creator="{CANARY}"/></x:xmpmeta>'.encode()


def picture(width: int = 64, height: int = 48) -> Image.Image:
    """Four quarters of different colours, so that any turn or mirror shows."""
    image = Image.new("RGB", (width, height), (200, 40, 40))
    draw = ImageDraw.Draw(image)
    draw.rectangle((width // 2, 0, width, height // 2 - 1), fill=(40, 200, 40))
    draw.rectangle((0, height // 2, width // 2 - 1, height), fill=(40, 40, 200))
    draw.rectangle((width // 2, height // 2, width, height), fill=(200, 200, 40))
    return image


def exif(orientation: int = 1) -> Image.Exif:
    """Camera data with the canary in text, position, maker note and user comment."""
    made = Image.Exif()
    made[0x0112] = orientation
    made[0x010E] = CANARY
    made[0x013B] = CANARY
    made.get_ifd(0x8825)[29] = CANARY
    made.get_ifd(0x8825)[1] = "N"
    inner = made.get_ifd(0x8769)
    inner[0x927C] = b"MAKER " + SECRET
    inner[0x9286] = b"ASCII\0\0\0" + SECRET
    return made


def with_thumbnail(block: bytes) -> bytes:
    """The same camera data with a second directory that holds a small JPEG with the canary in it."""
    head, body = block[:6], bytearray(block[6:])
    order = "<" if body[:2] == b"II" else ">"
    (first,) = struct.unpack_from(order + "I", body, 4)
    (count,) = struct.unpack_from(order + "H", body, first)
    out = BytesIO()
    picture(16, 12).save(out, "JPEG", comment=SECRET)
    struct.pack_into(order + "I", body, first + 2 + 12 * count, len(body))
    start = len(body) + 2 + 24 + 4
    body += struct.pack(order + "H", 2)
    body += struct.pack(order + "HHII", 513, 4, 1, start)
    body += struct.pack(order + "HHII", 514, 4, 1, len(out.getvalue()))
    body += struct.pack(order + "I", 0) + out.getvalue()
    return head + bytes(body)


def profile() -> bytes:
    """An sRGB profile with the canary in its description."""
    made = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    body = bytearray(made)
    # Over the words of the copyright tag, which are UTF-16 and longer.
    place = made.index("No copyright".encode("utf-16-be"))
    body[place : place + 2 * len(CANARY)] = CANARY.encode("utf-16-be")
    return bytes(body)


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def jpeg(orientation: int = 1) -> bytes:
    iptc = b"Photoshop 3.0\x008BIM\x04\x04\0\0" + struct.pack(">I", len(SECRET) + 5)
    iptc += b"\x1c\x02\x50" + struct.pack(">H", len(SECRET)) + SECRET
    data = saved(
        picture(),
        "JPEG",
        quality=95,
        exif=with_thumbnail(exif(orientation).tobytes()),
        comment=SECRET,
        xmp=XMP,
        icc_profile=profile(),
    )
    other = b"\xff\xed" + struct.pack(">H", len(iptc) + 2) + iptc
    other += b"\xff\xeb" + struct.pack(">H", len(SECRET) + 2) + SECRET
    return data[:2] + other + data[2:] + b"after the end " + SECRET


def png(orientation: int = 1) -> bytes:
    info = PngInfo()
    info.add_text("Author", CANARY)
    info.add_text("Description", CANARY * 3, zip=True)
    info.add_itxt("Title", CANARY, lang="en", tkey=CANARY)
    info.add_itxt("Comment", CANARY * 3, zip=True)
    info.add_itxt("XML:com.adobe.xmp", XMP.decode())
    info.add_text("Raw profile type iptc", f"\niptc\n{len(SECRET)}\n{SECRET.hex()}\n")
    data = saved(picture(), "PNG", pnginfo=info, exif=exif(orientation).tobytes(), icc_profile=profile())
    body = b"prVt" + SECRET
    private = struct.pack(">I", len(SECRET)) + body + struct.pack(">I", zlib.crc32(body))
    end = data.rindex(b"IEND") - 4
    return data[:end] + private + data[end:] + SECRET


def tiff(orientation: int = 1) -> bytes:
    tags = exif(orientation)
    tags[700] = XMP
    tags[33723] = SECRET
    tags[305] = CANARY
    tags[40093] = CANARY.encode("utf-16-le")
    return saved(picture(), "TIFF", exif=tags, icc_profile=profile()) + SECRET


def webp(orientation: int = 1) -> bytes:
    made = saved(picture(), "WEBP", lossless=True, exif=exif(orientation), xmp=XMP, icc_profile=profile())
    return made + SECRET


def gif() -> bytes:
    data = saved(picture(), "GIF", comment=SECRET)
    place = data.index(b"\x2c", 13 + 3 * 2 ** ((data[10] & 7) + 1))
    xmp = b"\x21\xff\x0bXMP DataXMP" + XMP + bytes([1, *range(255, -1, -1), 0])
    return data[:place] + xmp + data[place:] + SECRET


def bmp() -> bytes:
    return saved(picture(), "BMP") + SECRET


# The picture above with the canary as its artist, made by libheif's heif-enc 1.15.1 (no Python
# library that is free of the GPL writes this format).
_HEIC = (
    "AAAAHGZ0eXBoZWljAAAAAG1pZjFoZWljbWlhZgAAAeFtZXRhAAAAAAAAACFoZGxyAAAAAAAAAABwaWN0AAAAAAAAAAAAAAAAAAAA"
    "AA5waXRtAAAAAAACAAAAEGlkYXQAAAAAAEAAMAAAAExpbG9jAQAAAERAAAMAAQAAAAAAAAIFAAEAAAAAAAAAlQACAAEAAAAAAAAA"
    "AQAAAAAAAAAIAAMAAAAAAAACmgABAAAAAAAAADgAAABNaWluZgAAAAAAAwAAABVpbmZlAgAAAQABAABodmMxAAAAABVpbmZlAgAA"
    "AAACAABncmlkAAAAABVpbmZlAgAAAQADAABFeGlmAAAAANVpcHJwAAAAs2lwY28AAABzaHZjQwEDcAAAAAAAAAAAAB7wAPz9+PgA"
    "AA8DIAABABhAAQwB//8DcAAAAwCQAAADAAADAB66AkAhAAEAJ0IBAQNwAAADAJAAAAMAAAMAHqAggQWW6uSmubAgAAADACAAAAMA"
    "ISIAAQAGRAHBc8CJAAAAFGlzcGUAAAAAAAAAQAAAAEAAAAAUaXNwZQAAAAAAAABAAAAAMAAAABBwaXhpAAAAAAMICAgAAAAaaXBt"
    "YQAAAAAAAAACAAECgQIAAgIDhAAAAChpcmVmAAAAAAAAAA5kaW1nAAIAAQABAAAADmNkc2MAAwABAAIAAADVbWRhdAAAAJEoAa8J"
    "4CM1Lf/rX//43PIeNZkdO7vygf/s7U1NY1ZOVpVBqoXOi5fXGs2X03LDjBoRhjcy2WJPZrXfrSjjqj8N3WMYKrhzr40s0tm1JaSv"
    "3ufTVa7/TlM/2kTvAUutf7Mw2xcCFMQ0712XPbZzTZRYse31B89PrXY8R4PCueVrzuzUAJo1X5i7cSa4VxHVwQfgAAAAAE1NACoA"
    "AAAIAAIBOwACAAAADQAAACaShgABAAAAAAAAAAAAAAAAUXVpbGxtYXJrdG9uAAA="
)


def heic() -> bytes:
    return base64.b64decode(_HEIC)


EVERY = {
    "JPEG": jpeg(),
    "PNG": png(),
    "TIFF": tiff(),
    "WebP": webp(),
    "GIF": gif(),
    "BMP": bmp(),
}
"""Made here byte by byte, so that everything in them is known."""

READABLE = EVERY | {"HEIC": heic()}
TURNABLE = {"JPEG": jpeg, "PNG": png, "TIFF": tiff, "WebP": webp}
