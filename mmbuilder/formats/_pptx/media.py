"""Pictures as parts of the file: encoded from pixels, one part for equal pictures."""

from __future__ import annotations

import hashlib

from pptx.opc.constants import RELATIONSHIP_TYPE as RT
from pptx.opc.package import Part
from pptx.opc.packuri import PackURI
from pptx.package import Package
from pptx.parts.slide import SlidePart

from mmbuilder import cache
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.jpeg import ENCODING, jpeg

_TYPES = {"jpg": "image/jpeg", "png": "image/png", "svg": "image/svg+xml"}


class Media:
    """The media parts of one deck, named by number in order of use."""

    def __init__(self, package: Package) -> None:
        self._package = package
        self._parts: dict[str, Part] = {}

    def relate(self, slide: SlidePart, data: bytes, extension: str) -> str:
        """Return the relationship id of the part that holds these bytes, made if there is none."""
        name = hashlib.sha256(data).hexdigest()
        if name not in self._parts:
            uri = PackURI(f"/ppt/media/picture{len(self._parts) + 1}.{extension}")
            self._parts[name] = Part(uri, _TYPES[extension], self._package, data)
        return str(slide.relate_to(self._parts[name], RT.IMAGE))


def encoded(image: SafeImage) -> bytes:
    """Return a safe picture as JPEG: quality 92, colour at full resolution, no metadata."""
    return cache.kept(cache.key(ENCODING, image.digest()), lambda: jpeg(image))
