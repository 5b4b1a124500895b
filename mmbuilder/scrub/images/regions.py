"""Where in a picture somebody could be recognised, and what nothing has looked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from typing import TYPE_CHECKING, Protocol, cast, runtime_checkable

from mmbuilder.errors import MissingDependency
from mmbuilder.registry import discover
from mmbuilder.scrub.images.areas import Area
from mmbuilder.scrub.plan import PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

PIXEL_RISKS = ("text in the picture", "faces", "bar codes and QR codes")
"""What a person can be recognised by in pixels, as far as a program could look for it."""


class RegionFinder(Protocol):
    """Something that looks at pixels; a module in `finders/`."""

    NAME: str
    LOOKS_FOR: tuple[str, ...]
    EXTRA: str
    NEEDS: tuple[str, ...]

    def find(self, image: Image) -> tuple[PixelBox, ...]:
        """Boxes in pixels of the picture given."""
        ...


@runtime_checkable
class LooksAgain(Protocol):
    """A finder that can look at parts of a picture: what of it changed when it was covered."""

    def find_again(self, image: Image, parts: Sequence[Area]) -> tuple[PixelBox, ...]:
        """Boxes in pixels of the whole picture given."""
        ...


@runtime_checkable
class Reads(Protocol):
    """A finder that tells what it found by what it says."""

    def find_read(
        self, image: Image, passes: Callable[[str], str], unread: Callable[[PixelBox], str]
    ) -> tuple[PixelBox, ...]:
        """Boxes in pixels of the picture given; those whose words pass may stay, with the reason."""
        ...


def every_finder() -> tuple[RegionFinder, ...]:
    """Every finder there is, by name of its file, whether or not it can run here."""
    leaves = discover("mmbuilder.scrub.images.finders", "NAME", "LOOKS_FOR", "EXTRA", "NEEDS", "find")
    return tuple(cast(RegionFinder, leaf) for leaf in leaves.values())


def finders() -> tuple[RegionFinder, ...]:
    """Every finder whose optional part is installed."""
    return tuple(finder for finder in every_finder() if not _lacks(finder.NEEDS))


def get_ready() -> None:
    """Load what the finders need: a process that is begun for them can do so before there is a picture."""
    for name in {name for finder in finders() for name in finder.NEEDS}:
        import_module(name)


@cache
def _lacks(modules: tuple[str, ...]) -> bool:
    return any(find_spec(name) is None for name in modules)


def find_regions(image: Image) -> tuple[PixelBox, ...]:
    """What all finders found, sorted; some boxes may be there only to be kept, with the reason.

    Raises:
        Exception: a finder failed. Nobody may take that for "found nothing".
    """
    return tuple(sorted(box for finder in finders() for box in finder.find(image)))


def find_read(
    image: Image, passes: Callable[[str], str], unread: Callable[[PixelBox], str] = lambda box: ""
) -> tuple[PixelBox, ...]:
    """What all finders found in a finished picture, sorted; what is read and passes may stay, with the reason.

    Args:
        image: the upright picture.
        passes: told what a line says, returns why it may stay; nothing if it may not.
        unread: told where a line is, returns why it may stay whatever it says; nothing if it has to be read.

    Raises:
        Exception: a finder failed.
    """
    told = (
        finder.find_read(image, passes, unread) if isinstance(finder, Reads) else finder.find(image)
        for finder in finders()
    )
    return tuple(sorted(box for boxes in told for box in boxes))


def find_again(image: Image, parts: Sequence[Area]) -> tuple[PixelBox, ...]:
    """What all finders still find in parts of a covered picture, sorted.

    A finder that cannot look at parts looks at the whole picture.

    Raises:
        Exception: a finder failed.
    """
    return tuple(sorted(box for finder in finders() for box in _again(finder, image, parts)))


def _again(finder: RegionFinder, image: Image, parts: Sequence[Area]) -> tuple[PixelBox, ...]:
    return finder.find_again(image, parts) if isinstance(finder, LooksAgain) else finder.find(image)


def unchecked() -> tuple[str, ...]:
    """What no finder looks for, in words for the report."""
    looked = {risk for finder in finders() for risk in finder.LOOKS_FOR}
    return tuple(f"{risk}: not looked for" for risk in PIXEL_RISKS if risk not in looked)


def require(risks: Sequence[str] = PIXEL_RISKS) -> None:
    """Refuse to go on unless each of these is looked for.

    Raises:
        MissingDependency: an optional part is not installed; says which, and how to install it.
    """
    looked = {risk for finder in finders() for risk in finder.LOOKS_FOR}
    missing = [risk for risk in risks if risk not in looked]
    if missing:
        raise MissingDependency(
            f"not installed: what looks for {' and '.join(missing)} in pictures; it was asked for, so "
            f"nothing was written. Install it with: pip install 'mmbuilder[{','.join(_extras(missing))}]'"
        )


def _extras(risks: Iterable[str]) -> tuple[str, ...]:
    wanted = set(risks)
    return tuple(
        sorted({leaf.EXTRA for leaf in every_finder() if leaf.EXTRA and wanted & set(leaf.LOOKS_FOR)})
    )
