"""A picture that may leave the building: pixels and nothing else."""

from __future__ import annotations

import hashlib
from typing import final

from mmbuilder.safe.mint import KEY, MintKey


@final
class SafeImage:
    """Pixels after covering and cropping; metadata and file names have no place to be.

    Attributes:
        width, height: in pixels.
        pixels: RGB, 8 bits a channel, row by row; `3 * width * height` bytes.
    """

    __slots__ = ("height", "pixels", "width")

    def __init__(self, key: MintKey, width: int, height: int, pixels: bytes) -> None:
        if key is not KEY:
            raise TypeError("a safe image is minted by the scrubber, not made by hand")
        if len(pixels) != 3 * width * height:
            raise ValueError("a safe image holds three bytes a pixel")
        self.width, self.height, self.pixels = width, height, pixels

    def digest(self) -> str:
        """Hash of size and pixels; equal for equal pictures."""
        head = f"{self.width}x{self.height}:".encode()
        return hashlib.sha256(head + self.pixels).hexdigest()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, SafeImage) and self.digest() == other.digest()

    def __hash__(self) -> int:
        return hash(self.digest())

    def __repr__(self) -> str:
        return f"SafeImage({self.width}x{self.height})"
