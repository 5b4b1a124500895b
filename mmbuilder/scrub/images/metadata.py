"""What kinds of metadata a picture carries: kinds, never the content."""

from __future__ import annotations

from mmbuilder.scrub.images.chunk import Kind
from mmbuilder.scrub.images.sniff import HEAD, container


def kinds(data: bytes) -> tuple[str, ...]:
    """Name each kind of metadata once, in the order of `Kind`; nothing for a file that is no picture.

    A file that carries none can still identify by its pixels.
    """
    leaf = container(data[:HEAD])
    if leaf is None:
        return ()
    found = {chunk.kind for chunk in leaf.chunks(data)}
    return tuple(kind.value for kind in Kind if kind in found)
