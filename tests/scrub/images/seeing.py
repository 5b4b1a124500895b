"""Which finders look at pictures in a test, said outright: what is installed here decides nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import pytest
from PIL.Image import Image

from mmbuilder.scrub.images import regions
from mmbuilder.scrub.plan import PixelBox


@dataclass
class Looks:
    """A finder for a test.

    Attributes:
        sees: what it finds in a picture.
        sizes: of every picture it was shown.
    """

    sees: Callable[[Image], tuple[PixelBox, ...]]
    NAME: str = "a finder of the tests"
    LOOKS_FOR: tuple[str, ...] = regions.PIXEL_RISKS
    EXTRA: str = ""
    NEEDS: tuple[str, ...] = ()
    sizes: list[tuple[int, int]] = field(default_factory=list)

    def find(self, image: Image) -> tuple[PixelBox, ...]:
        self.sizes.append(image.size)
        return self.sees(image)


def nobody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where no optional part is installed."""
    monkeypatch.setattr(regions, "finders", tuple[regions.RegionFinder, ...])


def one_looks(monkeypatch: pytest.MonkeyPatch, *boxes: PixelBox) -> Looks:
    """As where every part is installed, and finds just these boxes. Nothing is remembered between tests."""
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    finder = Looks(lambda image: boxes)
    monkeypatch.setattr(regions, "finders", lambda: (finder,))
    return finder
