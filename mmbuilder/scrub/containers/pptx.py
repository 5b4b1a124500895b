"""PowerPoint presentations (ECMA-376 PresentationML): known parts made anew, everything else left out.

Hidden slides, hidden shapes and shapes outside the slide are removed; speaker notes stay,
scrubbed; charts keep what they show and lose the workbook behind; embedded documents, sound
and video leave their picture.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from mmbuilder.scrub.containers._ooxml.kinds import drawn, holds, office
from mmbuilder.scrub.containers._ooxml.links import relink
from mmbuilder.scrub.containers._ooxml.neighbours import scrub_neighbours
from mmbuilder.scrub.containers._ooxml.package import opened
from mmbuilder.scrub.containers._ooxml.paragraphs import scrub_paragraphs
from mmbuilder.scrub.containers._ooxml.pictures import scrub_pictures
from mmbuilder.scrub.containers._ooxml.recorder import texts_of
from mmbuilder.scrub.containers._ooxml.shapes import SLIDE, clean_shapes, flatten_links, media_first
from mmbuilder.scrub.containers._ooxml.smartart import flatten_smartart
from mmbuilder.scrub.containers._ooxml.structure import prepare, steps
from mmbuilder.scrub.containers._ooxml.values import clean_values
from mmbuilder.scrub.containers._ooxml.work import Kind, Scene, Work, main_part
from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES, Element, q, qs, remove
from mmbuilder.scrub.containers.base import Result, Tools

NAME = "PowerPoint presentation"
SUFFIXES = (".pptx",)
PARTS_NOT_READ = (
    "pictures in EMF, WMF or SVG form, sound, video, ink, embedded documents and workbooks behind charts: "
    "left out, not read",
    "what a shape covers, or the form a picture is cut to (an oval), is still in the picture below",
    "a name or number whose parts stand in different boxes, unless two short boxes beside or under each other hold it",
)
_WHAT = "presentation"
_TYPE = "application/vnd.openxmlformats-officedocument.presentationml"
_MAIN = f"{_TYPE}.presentation.main+xml"
_EMPTY = {
    "presProps": f'<p:presentationPr xmlns:p="{NAMESPACES["p"]}"/>'.encode(),
    "viewProps": f'<p:viewPr xmlns:p="{NAMESPACES["p"]}"/>'.encode(),
}
"""Settings of the program, empty: without these parts PowerPoint calls a file damaged."""

_KEPT = qs("p:sldMasterIdLst p:notesMasterIdLst p:sldIdLst p:sldSz p:notesSz p:defaultTextStyle")
_KEPT_SETTINGS = frozenset({"firstSlideNum", "rtl", "showSpecialPlsOnTitleSld"})


def sniff(head: bytes, data: bytes) -> bool:
    """Whether it is a package that holds a presentation."""
    return head.startswith(b"PK") and holds(data, "ppt/")


def texts(data: bytes) -> Iterator[str]:
    """Every text in it."""
    yield from texts_of(data, scrub)


def scrub(data: bytes, tools: Tools) -> Result:
    """Make the presentation anew.

    Raises:
        FileRefused: locked, damaged, with macros, or beyond the bounds.
    """
    package = opened(data, _WHAT)
    main = main_part(package, {_MAIN: "a .pptx"}, _WHAT)
    work = Work(package, tools, _KINDS)
    return work.run(main, _DECK)


def _presentation(scene: Scene) -> None:
    prepare(scene)
    for name in [name for name in scene.tree.attrib if name not in _KEPT_SETTINGS]:
        del scene.tree.attrib[name]
    for child in list(scene.tree):
        if child.tag not in _KEPT:
            remove(child)
    scene.work.shared[SLIDE] = _size(scene.tree.find(q("p:sldSz")))
    _without_hidden(scene)
    for kind in ("presProps", "viewProps"):
        scene.work.add(f"ppt/{kind}.xml", f"{_TYPE}.{kind}+xml", _EMPTY[kind])
        scene.relate(kind, f"ppt/{kind}.xml")
    relink(scene)
    clean_values(scene)


def _size(node: Element | None) -> str:
    """Width and height in EMU; 10 by 7.5 inches where none is said (ECMA-376-1, 19.2.1.39 sldSz)."""
    sides = [node.get(side, "") if node is not None else "" for side in ("cx", "cy")]
    return " ".join(sides) if all(map(str.isdecimal, sides)) else "9144000 6858000"


def _without_hidden(scene: Scene) -> None:
    """Hidden slides are removed: nobody in the room sees them, and whoever gets the file would."""
    for node in list(scene.tree.iter(q("p:sldId"))):
        relation = scene.sources.get(node.get(q("r:id"), ""))
        if relation and relation.target in scene.work.package.parts:
            slide = scene.work.package.tree(relation.target)
            if slide.get("show") in ("0", "false"):
                scene.work.refused.add(relation.target)
                scene.found("hidden slide")
                remove(node)


_shown = steps(
    media_first,
    flatten_smartart,
    prepare,
    clean_shapes,
    flatten_links,
    scrub_pictures,
    relink,
    scrub_neighbours,
    scrub_paragraphs,
    clean_values,
)
_DECK = office(
    "presentation",
    "presentationml.presentation.main",
    "ppt/presentation.xml",
    _presentation,
    "theme tableStyles",
)
_KINDS: Mapping[str, Kind] = {
    **drawn("ppt"),
    "slide": office(
        "slide", "presentationml.slide", "ppt/slides/slide{}.xml", _shown, "slideLayout notesSlide"
    ),
    "slideLayout": office(
        "layout", "presentationml.slideLayout", "ppt/slideLayouts/slideLayout{}.xml", _shown, "slideMaster"
    ),
    "slideMaster": office(
        "master", "presentationml.slideMaster", "ppt/slideMasters/slideMaster{}.xml", _shown, "theme"
    ),
    "notesSlide": office(
        "notes", "presentationml.notesSlide", "ppt/notesSlides/notesSlide{}.xml", _shown, "notesMaster slide"
    ),
    "notesMaster": office(
        "notes master", "presentationml.notesMaster", "ppt/notesMasters/notesMaster{}.xml", _shown, "theme"
    ),
    "tableStyles": office("table styles", "presentationml.tableStyles", "ppt/tableStyles.xml"),
}
