"""Where in a picture somebody could be recognised, and what nothing has looked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, cast

from mmbuilder.registry import discover
from mmbuilder.scrub.plan import PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

PIXEL_RISKS = ("text in the picture", "faces", "bar codes and QR codes")
"""What a person can be recognised by in pixels, as far as a program could look for it."""


class RegionFinder(Protocol):
    """Something that looks at pixels; a module in `finders/`."""

    NAME: str
    LOOKS_FOR: tuple[str, ...]

    def find(self, image: Image) -> tuple[PixelBox, ...]:
        """Boxes in pixels of the picture given."""
        ...


def finders() -> tuple[RegionFinder, ...]:
    """Every finder there is, by name."""
    leaves = discover("mmbuilder.scrub.images.finders", "NAME", "LOOKS_FOR", "find")
    return tuple(cast(RegionFinder, leaf) for leaf in leaves.values())


def find_regions(image: Image) -> tuple[PixelBox, ...]:
    """What all finders found, sorted."""
    return tuple(sorted(box for finder in finders() for box in finder.find(image)))


def unchecked() -> tuple[str, ...]:
    """What no finder looks for, in words for the report."""
    looked = {risk for finder in finders() for risk in finder.LOOKS_FOR}
    return tuple(f"{risk}: not looked for" for risk in PIXEL_RISKS if risk not in looked)
