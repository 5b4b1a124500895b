"""Word documents (ECMA-376 WordprocessingML): known parts made anew, everything else left out.

Insertions are accepted and deletions removed; comments go; fields but page numbers become
plain words; links, bookmarks, content controls and macros go; embedded documents leave their
picture.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.containers._ooxml.kinds import drawn, holds, office
from mmbuilder.scrub.containers._ooxml.links import relink
from mmbuilder.scrub.containers._ooxml.package import opened
from mmbuilder.scrub.containers._ooxml.paragraphs import scrub_paragraphs
from mmbuilder.scrub.containers._ooxml.pictures import scrub_pictures
from mmbuilder.scrub.containers._ooxml.recorder import texts_of
from mmbuilder.scrub.containers._ooxml.structure import prepare, steps
from mmbuilder.scrub.containers._ooxml.values import clean_values
from mmbuilder.scrub.containers._ooxml.words import (
    open_controls,
    plain_fields,
    plain_fonts,
    plain_settings,
    rename_styles,
    settle_changes,
    without_hidden,
)
from mmbuilder.scrub.containers._ooxml.work import Work, main_part
from mmbuilder.scrub.containers.base import Result, Tools

NAME = "Word document"
SUFFIXES = (".docx",)
PARTS_NOT_READ = (
    "pictures in EMF, WMF or SVG form, embedded documents, SmartArt, workbooks behind charts: left out",
    "what a shape covers, or the form a picture is cut to (an oval), is still in the picture below",
    "a name or number whose parts stand in different paragraphs",
)
_WHAT = "document"
_MAIN = "application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"


def sniff(head: bytes, data: bytes) -> bool:
    """Whether it is a package that holds a document."""
    return head.startswith(b"PK") and holds(data, "word/")


def texts(data: bytes) -> Iterator[str]:
    """Every text in it."""
    yield from texts_of(data, scrub)


def scrub(data: bytes, tools: Tools) -> Result:
    """Make the document anew.

    Raises:
        FileRefused: locked, damaged, with macros, or beyond the bounds.
    """
    package = opened(data, _WHAT)
    main = main_part(package, {_MAIN: "a .docx"}, _WHAT)
    return Work(package, tools, _KINDS).run(main, _DOCUMENT)


_written = steps(
    prepare,
    settle_changes,
    open_controls,
    without_hidden,
    plain_fields,
    rename_styles,
    scrub_pictures,
    relink,
    scrub_paragraphs,
    clean_values,
)
_styled = steps(prepare, rename_styles, plain_fonts, scrub_pictures, relink, clean_values)
_TYPE = "wordprocessingml"
_DOCUMENT = office(
    "document",
    f"{_TYPE}.document.main",
    "word/document.xml",
    _written,
    "styles numbering settings fontTable theme footnotes endnotes",
)
_KINDS = {
    **drawn("word"),
    "header": office("header", f"{_TYPE}.header", "word/header{}.xml", _written),
    "footer": office("footer", f"{_TYPE}.footer", "word/footer{}.xml", _written),
    "footnotes": office("footnotes", f"{_TYPE}.footnotes", "word/footnotes.xml", _written),
    "endnotes": office("endnotes", f"{_TYPE}.endnotes", "word/endnotes.xml", _written),
    "styles": office("styles", f"{_TYPE}.styles", "word/styles.xml", _styled),
    "numbering": office("numbering", f"{_TYPE}.numbering", "word/numbering.xml", _styled),
    "fontTable": office("fonts", f"{_TYPE}.fontTable", "word/fontTable.xml", _styled),
    "settings": office(
        "settings",
        f"{_TYPE}.settings",
        "word/settings.xml",
        steps(prepare, plain_settings, relink, clean_values),
    ),
}
