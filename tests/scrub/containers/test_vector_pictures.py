"""EMF and WMF pictures of Office files: never passed through, and told by what they are.

Heads of the forms: [MS-EMF] 2.3.4.2 (header record, signature " EMF") and [MS-WMF] 2.3.2.3 (placeable key), from memory.
"""

from __future__ import annotations

import io
import struct

import pytest

from mmbuilder.scrub.containers import docx, pptx
from mmbuilder.scrub.containers._ooxml.pictures import UNREADABLE
from mmbuilder.scrub.containers.base import Result
from mmbuilder.scrub.inspect import inspect
from tests.scrub.containers import office_kit as kit

SPOKEN = kit.NAME.encode("utf-16-le")
EMF = struct.pack("<II", 1, 108) + bytes(32) + b" EMF" + bytes(64) + struct.pack("<II", 84, 76) + SPOKEN
WMF = b"\xd7\xcd\xc6\x9a" + bytes(18) + kit.NAME.encode()
PARTS = {"pptx": "ppt/media/image1.png", "docx": "word/media/image1.png"}


def _file(kind: str, vector: bytes, ending: str) -> bytes:
    """A slide or a page with a picture, and the picture's part with a vector form in it instead."""
    out = io.BytesIO()
    if kind == "pptx":
        from pptx import Presentation

        show = Presentation()
        show.slides.add_slide(show.slide_layouts[6]).shapes.add_picture(io.BytesIO(kit.png()), 0, 0)
        show.save(out)
    else:
        from docx import Document

        letter = Document()
        letter.add_picture(io.BytesIO(kit.png()))
        letter.save(out)
    files = kit.parts(out.getvalue())
    name = PARTS[kind]
    files[name.replace("png", ending)] = vector
    del files[name]
    for part in [part for part in files if part.endswith(".rels") or part == "[Content_Types].xml"]:
        said = files[part].decode().replace("media/image1.png", f"media/image1.{ending}")
        files[part] = said.replace(
            'Extension="png" ContentType="image/png"', f'Extension="{ending}" ContentType="image/x-{ending}"'
        ).encode()
    return kit.packed(files)


@pytest.mark.parametrize(("vector", "ending"), [(EMF, "emf"), (WMF, "wmf")], ids=["EMF", "WMF"])
@pytest.mark.parametrize("kind", PARTS)
def test_it_becomes_a_placeholder_and_is_told(kind: str, vector: bytes, ending: str) -> None:
    data = _file(kind, vector, ending)
    result: Result = {"pptx": pptx, "docx": docx}[kind].scrub(data, kit.SmallScrubber())
    assert not kit.leaks(result.data)
    assert not any(name.endswith(ending) for name in kit.parts(result.data))
    assert vector not in kit.parts(result.data).values()
    assert UNREADABLE in result.notes
    assert "picture of a kind that is not read" in {finding.kind for finding in result.findings}


@pytest.mark.parametrize(("vector", "ending"), [(EMF, "emf"), (WMF, "wmf")], ids=["EMF", "WMF"])
def test_inspect_says_that_it_could_not_look_into_it(vector: bytes, ending: str, tmp_path) -> None:
    (tmp_path / "a.pptx").write_bytes(_file("pptx", vector, ending))
    assert any("neither text nor a picture" in note for note in inspect(tmp_path / "a.pptx").notes)
