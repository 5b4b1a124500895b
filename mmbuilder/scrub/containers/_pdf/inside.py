"""What a PDF carries beside its pages, by the names its format has for it: kinds, never content.

Source: ISO 32000-1:2008, 7.5.6 (updates), 7.11.4 (embedded files), 12.3 (outlines), 12.6 (actions),
12.7 (forms), 14.3 (metadata); from memory.
"""

from __future__ import annotations

import re
from typing import Any

_MARKS = (
    (re.compile(rb"/EmbeddedFiles?\b|/Filespec\b"), "attached files"),
    (re.compile(rb"/AcroForm\b"), "form fields and what is filled in"),
    (re.compile(rb"/JavaScript\b|/JS\b"), "scripts"),
    (re.compile(rb"/Metadata\b|<x:xmpmeta|<rdf:RDF"), "metadata (XMP)"),
    (re.compile(rb"/Outlines\b"), "bookmarks"),
    (re.compile(rb"/OCGs\b"), "layers that can be hidden"),
    (re.compile(rb"/Launch\b|/URI\b|/GoToR\b"), "links out of the file"),
    (re.compile(rb"/PieceInfo\b"), "private data of a program"),
)


def carried(data: bytes, document: Any) -> tuple[str, ...]:
    """Name each kind of thing that the pages do not show and that a new file will not have."""
    from mmbuilder.scrub.sweep.parts import pieces

    seen = b"\n".join(piece.data for piece in pieces("the file", data))
    found = [kind for pattern, kind in _MARKS if pattern.search(seen)]
    if any(document.get_metadata_dict(skip_empty=True).values()):
        found.append("properties (author, title, dates)")
    if document.count_attachments() and "attached files" not in found:
        found.append("attached files")
    if data.count(b"%%EOF") > 1:
        found.append("earlier states of the file")
    return tuple(found)
