"""Every picture of a finished deck, looked at again as it stands there: the last step of the sweep.

The deck is opened as a stranger would open it. A picture in it is one of the stills, known by its
pixels, or the raster twin of a drawing, whose words the sweep reads in the drawing itself; there
is no third kind.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from posixpath import basename
from typing import TYPE_CHECKING

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import IdentifierInOutput
from mmbuilder.safe.case import Frame, ScrubbedCase
from mmbuilder.scrub.plan import PixelBox, RedactionPlan
from mmbuilder.scrub.stills import scaled, visible

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

ALIKE = 8.0
"""Mean difference of two pictures, 0 to 255, up to which one is the other, encoded: JPEG at quality 92
changes a picture by 1 to 3."""

_MEDIA = re.compile(r"ppt/media/.+\.(?:jpe?g|png|gif|bmp|tiff?|webp)", re.IGNORECASE)
_SLIDE = re.compile(r"ppt/slides/([^/]+\.xml)")
_TWIN = re.compile(r'<a:blip\b[^>]*?r:embed="([^"]+)"[^>]*>(?:(?!</a:blip>).)*?<asvg:svgBlip\b', re.DOTALL)
_RELATED = re.compile(r"<Relationship\b[^>]*>")


def look_again(deck: bytes, case: ScrubbedCase, folder: CaseFolder, plan: RedactionPlan) -> None:
    """Look at every picture of a finished deck.

    Raises:
        IdentifierInOutput: something is found that the plan neither covers nor keeps, or a picture
            is in the deck that is none of the case.
    """
    with zipfile.ZipFile(io.BytesIO(deck)) as archive:
        for picture in _pictures(archive):
            look_at(picture, case, folder, plan)


def look_at(picture: bytes, case: ScrubbedCase, folder: CaseFolder, plan: RedactionPlan) -> None:
    """Look at one picture file of a finished deck.

    Raises:
        IdentifierInOutput: as for `look_again`.
    """
    from mmbuilder.scrub.images.again import still_found
    from mmbuilder.scrub.images.decode import decode

    image = decode(picture).image
    frame = _frame(image, case.frames)
    found = still_found(image, _boxes(image, folder, frame.number, plan))
    if found:
        kinds = " and ".join(sorted({box.kind for box in found}))
        raise IdentifierInOutput(
            f"still {frame.number}, looked at in the finished deck, shows what the plan neither covers nor "
            f"keeps ({kinds}); nothing was written. Draw a `cover` box over it, or a `keep` box round it "
            "if it is to stay"
        )


def _pictures(archive: zipfile.ZipFile) -> Iterator[bytes]:
    twins = {name for slide in archive.namelist() for name in _twins(archive, slide)}
    for name in sorted(archive.namelist()):
        if _MEDIA.fullmatch(name) and basename(name) not in twins:
            yield archive.read(name)


def _twins(archive: zipfile.ZipFile, slide: str) -> Iterator[str]:
    """Yield the file names of the raster twins of the drawings on a slide."""
    named = _SLIDE.fullmatch(slide)
    rels = f"ppt/slides/_rels/{named[1]}.rels" if named else ""
    if rels not in archive.namelist():
        return
    targets = dict(_relation(found[0]) for found in _RELATED.finditer(archive.read(rels).decode()))
    for found in _TWIN.finditer(archive.read(slide).decode()):
        yield basename(targets.get(found[1], ""))


def _relation(element: str) -> tuple[str, str]:
    facts = dict(re.findall(r'(\w+)="([^"]*)"', element))
    return facts.get("Id", ""), facts.get("Target", "")


def _frame(image: Image, frames: Sequence[Frame]) -> Frame:
    """Return the still that a picture shows."""
    import numpy as np

    pixels = np.asarray(image.convert("RGB"), np.int16)
    far = {frame.number: _difference(pixels, frame) for frame in frames}
    nearest = min(frames, key=lambda frame: far[frame.number], default=None)
    if nearest is None or far[nearest.number] > ALIKE:
        raise IdentifierInOutput(
            "a picture is in the finished deck that is no still of the case and no drawing; nothing was "
            "written. Take it out of the template"
        )
    return nearest


def _difference(pixels: NDArray[np.int16], frame: Frame) -> float:
    import numpy as np

    shown = frame.image
    if pixels.shape[:2] != (shown.height, shown.width):
        return float("inf")
    other = np.frombuffer(shown.pixels, np.uint8).reshape(pixels.shape)
    return float(np.abs(pixels - other).mean())


def _boxes(image: Image, folder: CaseFolder, number: int, plan: RedactionPlan) -> tuple[PixelBox, ...]:
    """Return the boxes of a still in pixels of the picture shown: cropped, and smaller if it was large."""
    view = visible(folder, folder.case.frames[number - 1])
    return scaled(plan.images.get(number, ()), view, image.size)
