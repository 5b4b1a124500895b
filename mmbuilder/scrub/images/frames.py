"""A picture file with all its pages or frames -> the same file with what identifies covered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from mmbuilder.scrub.findings import Finding, of_box
from mmbuilder.scrub.images import regions, sniff
from mmbuilder.scrub.images.again import propose_boxes
from mmbuilder.scrub.images.cover import Crop, cover, cut
from mmbuilder.scrub.images.decode import Decoded, decode_all
from mmbuilder.scrub.images.encode import encode_all
from mmbuilder.scrub.images.scrub import mint
from mmbuilder.scrub.plan import PixelBox

Fractions = tuple[float, float, float, float]
"""left, top, right, bottom: parts of width and height that are cut off."""


@dataclass(frozen=True)
class Covered:
    """The new file, what was covered or kept in it, what was not looked for, and its new ending if it has one."""

    data: bytes = field(repr=False)
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    suffix: str = ""


def scrub_frames(data: bytes, crop: Fractions | None = None) -> Covered:
    """Cover every page and frame, cut, and write them in their own format (HEIC: as JPEG).

    Raises:
        FileRefused: it cannot be decoded safely, the crop leaves nothing, or something is still
            found in it after it was covered.
    """
    leaf = sniff.container(data[: sniff.HEAD])
    frames = decode_all(data)
    assert leaf is not None  # decode_all refuses what no leaf knows
    boxes = [propose_boxes(frame.image, (), ()) for frame in frames]
    made = [
        mint(cut(cover(frame.image, found), _pixels(frame, crop)))
        for frame, found in zip(frames, boxes, strict=True)
    ]
    pillow, suffix = getattr(leaf, "WRITES", leaf.PILLOW), getattr(leaf, "WRITES_SUFFIX", "")
    written = encode_all(made, pillow, [frame.shown for frame in frames])
    notes = [note for frame in frames for note in frame.notes] + list(regions.unchecked())
    if suffix:
        notes.append(f"a {leaf.NAME} picture is written anew as {pillow}, with the ending {suffix}")
    return Covered(written, tuple(_told(boxes)), tuple(dict.fromkeys(notes)), suffix)


def _pixels(frame: Decoded, crop: Fractions | None) -> Crop | None:
    if crop is None:
        return None
    left, top, right, bottom = crop
    width, height = frame.image.size
    return (left * width, top * height, (1 - left - right) * width, (1 - top - bottom) * height)


def _told(boxes: Sequence[Sequence[PixelBox]]) -> Iterator[Finding]:
    for number, found in enumerate(boxes, 1):
        where = f"picture {number}" if len(boxes) > 1 else "picture"
        yield from (of_box(box, where) for box in found)
