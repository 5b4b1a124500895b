"""The stills as a browser gets them: upright pixels, encoded anew, nothing else of the file.

Two sizes: one for the screen, first, and the whole one for a closer look. The last ones are kept in
memory, within a bound; neighbours are made ready beside, one picture at a time, so that memory holds
one unpacked picture.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Literal

from mmbuilder.casefile.pictures import images_probe
from mmbuilder.errors import MMBuilderError
from mmbuilder.scrub.plan import PixelBox

Size = Literal["screen", "full"]
SCREEN = 1920
"""Pixels on the long side of the first version: a picture over the whole of a usual screen."""
AS_IT_IS = 2400
"""Pixels on the long side up to which a picture is not made smaller: that takes twice the time."""
MOST = 96 * 2**20
"""Bytes of encoded pictures kept."""

_State = tuple[str, int, int]
_Key = tuple[object, ...]


class Pictures:
    """Encoded pictures, the last used."""

    def __init__(self) -> None:
        self._kept: OrderedDict[_Key, bytes] = OrderedDict()
        self._sizes: dict[_State, tuple[int, int]] = {}
        self._lock, self._unpacking = threading.Lock(), threading.Lock()
        self._ahead: list[Path] = []
        self._thread: threading.Thread | None = None

    def size(self, path: Path) -> tuple[int, int]:
        """Return width and height of a picture, upright.

        Raises:
            FileFault: it is no picture, damaged or too large.
        """
        state = _state(path)
        if state not in self._sizes:
            probe = images_probe(path)
            self._sizes[state] = (probe.width, probe.height)
        return self._sizes[state]

    def before(self, path: Path, size: Size) -> bytes:
        """Return a picture as it is, as JPEG.

        Raises:
            FileRefused: it cannot be read.
        """
        if size == "full" and max(self.size(path)) <= AS_IT_IS:
            size = "screen"
        return self._made((_state(path), size), lambda: _encoded(path, size))

    def after(
        self, path: Path, boxes: Sequence[PixelBox], crop: tuple[float, float, float, float] | None
    ) -> bytes:
        """Return a picture as it will be in a deck: by the code that makes the deck's.

        Raises:
            FileRefused: it cannot be read, or the crop leaves nothing of it.
        """
        from mmbuilder.safe.jpeg import jpeg
        from mmbuilder.scrub.images.scrub import scrub_image

        return self._made((_state(path), tuple(boxes), crop), lambda: jpeg(scrub_image(path, boxes, crop)))

    def ready(self, paths: Sequence[Path]) -> None:
        """Have pictures made ready for the screen, beside; whatever was asked for before is dropped."""
        with self._lock:
            self._ahead = list(paths)
            if self._thread is None and self._ahead:
                self._thread = threading.Thread(target=self._make_ready, daemon=True)
                self._thread.start()

    def forget(self) -> None:
        """Forget every picture."""
        with self._lock:
            self._ahead = []
            self._kept.clear()
            self._sizes.clear()

    def _make_ready(self) -> None:
        while True:
            with self._lock:
                if not self._ahead:
                    self._thread = None
                    return
                path = self._ahead.pop(0)
            try:
                self.before(path, "screen")
            except (MMBuilderError, OSError):
                continue  # told when it is opened

    def _made(self, key: _Key, make: Callable[[], bytes]) -> bytes:
        if (kept := self._found(key)) is not None:
            return kept
        with self._unpacking:
            if (kept := self._found(key)) is not None:  # made while this waited
                return kept
            made = make()
        with self._lock:
            self._kept[key] = made
            while sum(map(len, self._kept.values())) > MOST and len(self._kept) > 1:
                self._kept.popitem(last=False)
        return made

    def _found(self, key: _Key) -> bytes | None:
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)


def _state(path: Path) -> _State:
    told = path.stat()
    return str(path), told.st_size, told.st_mtime_ns


def _encoded(path: Path, size: Size) -> bytes:
    from PIL.Image import Resampling

    from mmbuilder.safe.jpeg import encode
    from mmbuilder.scrub.images.decode import decode

    image = decode(path, longest=SCREEN if size == "screen" else None).image
    longest = max(image.size)
    if size == "screen" and longest > AS_IT_IS:
        small = [max(1, round(side * SCREEN / longest)) for side in image.size]
        # Whole blocks of pixels first, then the rest: as good to the eye, and several times faster.
        image = image.resize((small[0], small[1]), Resampling.BICUBIC, reducing_gap=2.0)
    return encode(image)
