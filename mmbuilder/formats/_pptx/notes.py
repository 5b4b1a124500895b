"""What the presenter says, with the time it may take: `0:45` and then the script."""

from __future__ import annotations

from pptx.slide import Slide as DeckSlide

from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.shapes import Ids, frame, properties, run
from mmbuilder.formats._pptx.xml import Element, el
from mmbuilder.formats._sink import plain
from mmbuilder.labels import say
from mmbuilder.safe.text import SafeText


def budget(seconds: int) -> str:
    """Return minutes and seconds, as a stopwatch shows them."""
    return f"{seconds // 60}:{seconds % 60:02d}"


def write(slide: DeckSlide, said: tuple[SafeText, ...], seconds: int) -> None:
    """Put the script into the slide's notes."""
    tree = slide.notes_slide.shapes._spTree
    for shape in list(slide.notes_slide.shapes):
        tree.remove(shape.element)
    ids = Ids()
    tree.append(_image(ids))
    lines = (say("Time: {clock}").format(clock=budget(seconds)), *filter(None, map(plain, said)))
    tree.append(_script(ids, lines))


def _image(ids: Ids) -> Element:
    locks = el("a:spLocks", noGrp=1, noRot=1, noChangeAspect=1)
    return el(
        "p:sp",
        el(
            "p:nvSpPr",
            properties(ids, "Slide image"),
            el("p:cNvSpPr", locks),
            el("p:nvPr", el("p:ph", type="sldImg", idx=2)),
        ),
        el("p:spPr", frame(Box(54, 54, 432, 243))),
    )


def _script(ids: Ids, lines: tuple[str, ...]) -> Element:
    return el(
        "p:sp",
        el(
            "p:nvSpPr",
            properties(ids, "Script"),
            el("p:cNvSpPr", el("a:spLocks", noGrp=1)),
            el("p:nvPr", el("p:ph", type="body", sz="quarter", idx=3)),
        ),
        el("p:spPr"),
        el(
            "p:txBody",
            el("a:bodyPr"),
            el("a:lstStyle"),
            *(el("a:p", run(line, 14, bold=not place)) for place, line in enumerate(lines)),
        ),
    )
