"""A presentation with an identifier in every place where one can hide (ECMA-376; check-values.md H3)."""

from __future__ import annotations

import io
import struct
import urllib.parse
import zlib

import docx
import openpyxl
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from pptx import Presentation
from pptx.chart.data import CategoryChartData
from pptx.enum.chart import XL_CHART_TYPE
from pptx.util import Inches

from tests.leaks.attack import Package, Plant

P = "http://schemas.openxmlformats.org/presentationml/2006/main"
A = "http://schemas.openxmlformats.org/drawingml/2006/main"
R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
X = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
C = "http://schemas.openxmlformats.org/drawingml/2006/chart"
DGM = "http://schemas.openxmlformats.org/drawingml/2006/diagram"
DSP = "http://schemas.microsoft.com/office/drawing/2008/diagram"
NS = f'xmlns:p="{P}" xmlns:a="{A}" xmlns:r="{R}"'
MS = "http://schemas.microsoft.com/office"
TYPE = "application/vnd.openxmlformats-officedocument.presentationml"
SLIDE, HIDDEN, PRES = "ppt/slides/slide1.xml", "ppt/slides/slide2.xml", "ppt/presentation.xml"
CHART = "ppt/charts/chart1.xml"
COMPOUND = bytes.fromhex("d0cf11e0a1b11ae1")


def shape(
    text: str, number: int, *, at: str = "914400", head: str = "", run: str = "", name: str = "Box"
) -> str:
    return (
        f'<p:sp {NS}><p:nvSpPr><p:cNvPr id="{number}" name="{name}" {head}/><p:cNvSpPr/><p:nvPr/></p:nvSpPr>'
        f'<p:spPr><a:xfrm><a:off x="{at}" y="914400"/><a:ext cx="914400" cy="914400"/></a:xfrm>'
        '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr>'
        f'<p:txBody><a:bodyPr/><a:p><a:r><a:rPr lang="en-GB">{run}</a:rPr><a:t>{text}</a:t></a:r></a:p></p:txBody></p:sp>'
    )


def parted(text: str) -> str:
    """The text with a soft hyphen, a zero-width space and a mark of direction in it."""
    middle = len(text) - 4
    return f"{text[: middle - 2]}\u00ad{text[middle - 2 : middle]}\u200b{text[middle:-2]}\u200e{text[-2:]}"


def compound(text: str) -> bytes:
    """A compound file as OLE embeds one: words in UTF-16, a path, and a document within."""
    inner = io.BytesIO()
    letter = docx.Document()
    letter.add_paragraph(text)
    letter.save(inner)
    return (
        COMPOUND
        + bytes(504)
        + f"C:\\Users\\{text}\\x".encode("utf-16-le").ljust(512, b"\0")
        + inner.getvalue()
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(p: Plant, size: tuple[int, int] = (120, 80)) -> bytes:
    """A PNG with words in each kind of chunk, and behind its end."""
    info = PngInfo()
    info.add_text("Comment", p("picture: PNG tEXt"))
    info.add_text("Author", p("picture: PNG zTXt"), zip=True)
    info.add_itxt("Title", p("picture: PNG iTXt"))
    info.add_itxt(
        "XML:com.adobe.xmp", f"<x:xmpmeta xmlns:x='adobe:ns:meta/'>{p('picture: PNG XMP')}</x:xmpmeta>"
    )
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = p("picture: PNG eXIf")
    Image.new("RGB", size, "navy").save(out, "PNG", pnginfo=info, exif=exif)
    data, end = out.getvalue()[:-12], out.getvalue()[-12:]
    profile = _chunk(b"prVt", p("picture: PNG private chunk").encode())
    return data + profile + end + p("picture: bytes behind a PNG").encode()


def jpeg(p: Plant) -> bytes:
    """A JPEG with words in EXIF (its thumbnail and maker's note too), XMP, IPTC, its comment and behind its end."""
    exif = Image.Exif()
    exif[0x013B] = p("picture: EXIF artist")
    inside = exif.get_ifd(0x8769)
    inside[0x9286] = b"ASCII\0\0\0" + p("picture: EXIF comment").encode()
    inside[0x927C] = p("picture: EXIF maker's note").encode()
    gps = exif.get_ifd(0x8825)
    gps[0x1B] = p("picture: EXIF GPS").encode()
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "teal").save(
        out, "JPEG", exif=exif, comment=p("picture: JPEG comment").encode()
    )
    data = out.getvalue()
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x>" + p("picture: JPEG XMP").encode() + b"</x>"
    record = p("picture: IPTC by-line").encode()
    iptc = (
        b"Photoshop 3.0\x008BIM\x04\x04\0\0"
        + struct.pack(">I", len(record) + 5)
        + b"\x1c\x02\x50"
        + struct.pack(">H", len(record))
        + record
    )
    marks = b"".join(
        mark + struct.pack(">H", len(body) + 2) + body
        for mark, body in ((b"\xff\xe1", xmp), (b"\xff\xed", iptc))
    )
    first = 4 + int.from_bytes(data[4:6], "big")  # python-docx knows a JPEG by its first segment
    return data[:first] + marks + data[first:] + p("picture: bytes behind a JPEG").encode()


def gif(p: Plant) -> bytes:
    out = io.BytesIO()
    Image.new("P", (20, 20)).save(out, "GIF", comment=p("picture: GIF comment").encode())
    return out.getvalue()


def workbook(p: Plant, place: str) -> bytes:
    """A workbook as it lies behind a chart: a cell, a hidden sheet and properties."""
    book = openpyxl.Workbook()
    book.active["A1"] = p(f"{place}: cell")
    hidden = book.create_sheet("old")
    hidden.sheet_state = "hidden"
    hidden["A1"] = p(f"{place}: hidden sheet")
    book.properties.creator = p(f"{place}: properties")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def build(p: Plant, *, hostile: bool = True) -> bytes:
    """The presentation; `hostile` adds what no program writes."""
    box = Package.of(_drawn(p))
    for step in (
        _in_text,
        _in_slide,
        _linked,
        _around_slide,
        _around_deck,
        _in_chart,
        _smartart,
        _of_the_zip,
    ):
        step(box, p)
    if hostile:
        _misplaced(box, p)
    return box.packed()


def _drawn(p: Plant) -> bytes:
    show = Presentation()
    for layout in list(show.slide_layouts)[7:] + list(show.slide_layouts)[:5]:
        show.slide_layouts.remove(layout)
    about = show.core_properties
    for name in ("author", "last_modified_by", "title", "subject", "keywords", "category", "comments", "content_status", "identifier", "version", "language"):  # fmt: skip
        setattr(about, name, p(f"core property {name}"))
    first, hidden = (show.slides.add_slide(show.slide_layouts[0]) for _ in range(2))
    first.shapes.title.text = p("title")
    first.notes_slide.notes_text_frame.text = p("notes")
    hidden.shapes.title.text = p("hidden slide")
    hidden.notes_slide.notes_text_frame.text = p("notes of a hidden slide")
    hidden._element.set("show", "0")
    table = first.shapes.add_table(2, 2, Inches(1), Inches(2), Inches(4), Inches(1)).table
    table.cell(0, 0).text, table.cell(1, 1).text = p("head of a table"), p("cell of a table")
    group = first.shapes.add_group_shape().shapes.add_group_shape()
    group.shapes.add_textbox(0, 0, Inches(1), Inches(1)).text = p("text in a group in a group")
    cut = first.shapes.add_picture(io.BytesIO(png(p)), Inches(5), Inches(2))
    cut.crop_left, cut.crop_bottom = 0.25, 0.5
    cut._element.nvPicPr.cNvPr.set("descr", f"IMG_{p('file name as alt text')}.jpg")
    first.shapes.add_picture(io.BytesIO(jpeg(p)), Inches(6), Inches(2))
    first.shapes.add_picture(io.BytesIO(gif(p)), Inches(7), Inches(2))
    data = CategoryChartData()
    data.categories = [p("chart: category"), "After"]
    data.add_series(p("chart: series"), (20.0, 12.5))
    first.shapes.add_chart(XL_CHART_TYPE.COLUMN_CLUSTERED, Inches(1), Inches(4), Inches(4), Inches(3), data)
    out = io.BytesIO()
    show.save(out)
    return out.getvalue()


def _in_text(box: Package, p: Plant) -> None:
    word = p("text split across runs")
    middle = len(word) // 2 + 1
    split = f'{word[:middle]}</a:t></a:r><a:r><a:rPr b="1"/><a:t>{word[middle:]}'
    entities = "".join(f"&#{ord(sign)};" for sign in p("text in XML entities"))
    white = '<a:solidFill><a:srgbClr val="FFFFFF"><a:alpha val="0"/></a:srgbClr></a:solidFill>'
    shapes = [
        shape(split, 901),
        shape(entities, 902),
        shape(p("text parted by line breaks").replace(" ", "</a:t></a:r><a:br/><a:r><a:t>"), 912),
        shape(p("text parted by no-break spaces").replace(" ", "\u00a0"), 913),
        shape(parted(p("text parted by signs that show nothing")), 914),
        shape("x", 915, head=f'descr="{parted(p("alt text parted by signs that show nothing"))}"'),
        shape(p("shape outside the slide"), 903, at="-9000000"),
        shape(p("hidden shape"), 904, head='hidden="1"'),
        shape(p("text without a colour"), 905, run=white),
        shape("x", 906, head=f'descr="{p("alt text")}" title="{p("alt title")}"'),
        shape("x", 907, name=p("shape name")),
        shape(f"[{p('text in brackets')}]", 908),
        shape(p("text in capitals").upper(), 909),
        shape("x</a:t></a:r><a:r><a:t>y", 910, run=f'<a:latin typeface="{p("font")}"/>'),
    ]
    field = f'<a:fld id="{{AAAAAAAA-0000-0000-0000-00000000000A}}" type="datetime1"><a:rPr/><a:t>{p("date field")}</a:t></a:fld>'
    box.before(SLIDE, "</p:spTree>", "".join(shapes) + shape(" today", 911).replace("<a:r>", f"{field}<a:r>"))


def _in_slide(box: Package, p: Plant) -> None:
    box.swap(SLIDE, "<p:cSld", f'<p:cSld name="{p("slide name")}"')
    extension = (
        f'<p:extLst><p:ext uri="{{AAAAAAAA-0000-0000-0000-000000000000}}"><s:x xmlns:s="urn:s" n="{p("extension")}">'
        f"{p('text of an extension')}</s:x></p:ext></p:extLst>"
    )
    picked = (
        '<mc:AlternateContent xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"><mc:Choice '
        f'xmlns:s="urn:s" Requires="s">{shape(p("alternative that is not taken"), 920)}</mc:Choice><mc:Fallback>'
        f"{shape(p('alternative that is taken'), 921)}</mc:Fallback></mc:AlternateContent>"
    )
    inside = f"<!-- {p('XML comment')} --><?note {p('processing instruction')}?>{picked}"
    box.before(SLIDE, "</p:spTree>", inside)
    timing = (
        f'<p:timing><p:tnLst><p:par><p:cTn id="1" evtFilter="{p("animation")}"/></p:par></p:tnLst></p:timing>'
    )
    box.before(SLIDE, "</p:sld>", f"{timing}{extension}")


def _linked(box: Package, p: Plant) -> None:
    def clicked(number: int, target: str, words: str = "here", tip: str = "") -> str:
        key = box.link(SLIDE, target, "hyperlink")
        return shape(words, number, run=f'<a:hlinkClick r:id="{key}" tooltip="{tip}"/>')

    outside = box.link(SLIDE, f"file:///S:/{urllib.parse.quote(p('link to a picture outside'))}.png", "image")
    picture = (
        f'<p:pic {NS}><p:nvPicPr><p:cNvPr id="930" name="P"/><p:cNvPicPr/><p:nvPr/></p:nvPicPr><p:blipFill>'
        f'<a:blip r:link="{outside}"/><a:stretch><a:fillRect/></a:stretch></p:blipFill><p:spPr><a:xfrm>'
        '<a:off x="1" y="1"/><a:ext cx="9" cy="9"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr></p:pic>'
    )
    shapes = [
        clicked(931, f"file:///C:/Users/{urllib.parse.quote(p('link to a file'))}/a.docx"),
        clicked(932, f"mailto:{urllib.parse.quote(p('link to mail'))}"),
        clicked(
            933, f"https://example.org/?id={urllib.parse.quote(p('link to a page'))}", tip=p("tip of a link")
        ),
        shape("x", 934, run=f'<a:hlinkClick r:id="" action="ppaction://program?{p("action of a link")}"/>'),
        shape(
            "x", 935, run=f'<a:hlinkMouseOver r:id="" action="ppaction://macro?name={p("action on hover")}"/>'
        ),
    ]
    box.before(SLIDE, "</p:spTree>", picture + "".join(shapes))


def _around_slide(box: Package, p: Plant) -> None:
    def add(name: str, data: str | bytes, kind: str, relation: str) -> str:
        return box.add(name, data, kind, SLIDE, relation)

    add("ppt/comments/comment1.xml", f'<p:cmLst {NS}><p:cm authorId="0" dt="2024-03-14T00:00:00"><p:text>{p("comment")}</p:text></p:cm></p:cmLst>', f"{TYPE}.comments+xml", "comments")  # fmt: skip
    modern = f'<p188:cmLst xmlns:p188="{MS}/powerpoint/2018/8/main" {NS}><p188:cm><p188:txBody><a:p><a:r><a:t>{p("comment of today")}</a:t></a:r></a:p></p188:txBody></p188:cm></p188:cmLst>'
    add(
        "ppt/comments/modernComment_1.xml",
        modern,
        "application/vnd.ms-powerpoint.comments+xml",
        f"{MS}/2018/10/relationships/comments",
    )
    tag = add(
        "ppt/tags/tag1.xml",
        f'<p:tagLst {NS}><p:tag name="A" val="{p("tag of an add-in")}"/></p:tagLst>',
        f"{TYPE}.tags+xml",
        "tags",
    )
    box.before(SLIDE, "</p:cSld>", f'<p:custDataLst><p:tags r:id="{tag}"/></p:custDataLst>')
    ole = add(
        "ppt/embeddings/oleObject1.bin",
        compound(p("OLE document")),
        "application/vnd.openxmlformats-officedocument.oleObject",
        "oleObject",
    )
    letter = docx.Document()
    letter.add_paragraph(p("embedded document"))
    letter.core_properties.author = p("author of an embedded document")
    out = io.BytesIO()
    letter.save(out)
    word = add(
        "ppt/embeddings/Document1.docx",
        out.getvalue(),
        "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
        "package",
    )
    add(
        "ppt/embeddings/Book9.xlsx",
        workbook(p, "embedded workbook"),
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        "package",
    )
    box.before(SLIDE, "</p:spTree>", _ole(ole, 940, p("name of an OLE object")) + _ole(word, 941, "Document"))
    tagged = b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom\0\0\0\x40udta\xa9nam" + p("tags of a video").encode()
    add("ppt/media/media1.mp4", tagged, "video/mp4", "video")
    sound = b"RIFF\x40\0\0\0WAVELIST\x30\0\0\0INFOINAM" + p("tags of a sound").encode()
    add("ppt/media/media2.wav", sound, "audio/wav", "audio")
    svg = add(
        "ppt/media/second.svg",
        f'<svg xmlns="http://www.w3.org/2000/svg"><text>{p("second form of a picture")}</text></svg>',
        "image/svg+xml",
        "image",
    )
    second = f'<a:extLst><a:ext uri="{{96DAC541-7B7A-43D3-8B79-37D633B846F1}}"><asvg:svgBlip xmlns:asvg="{MS}/drawing/2016/SVG/main" r:embed="{svg}"/></a:ext></a:extLst>'
    text = box.parts[SLIDE].decode()
    start = text.index("<a:blip ")
    blip = text[start : text.index("/>", start) + 2]
    box.swap(SLIDE, blip, f"{blip[:-2]}>{second}</a:blip>")
    add(
        "ppt/media/hdphoto1.wdp",
        p("original of an edited picture"),
        "image/vnd.ms-photo",
        f"{MS}/2007/relationships/hdphoto",
    )
    add(
        "ppt/ink/ink1.xml",
        f'<inkml:ink xmlns:inkml="http://www.w3.org/2003/InkML">{p("ink")}</inkml:ink>',
        "application/inkml+xml",
        "customXml",
    )
    add(
        "ppt/drawings/vmlDrawing1.vml",
        f'<xml xmlns:v="urn:schemas-microsoft-com:vml"><v:shape alt="{p("old drawing")}"/></xml>',
        "application/vnd.openxmlformats-officedocument.vmlDrawing",
        "vmlDrawing",
    )
    add("ppt/activeX/activeX1.xml", f'<x v="{p("control")}"/>', "application/xml", "control")
    add(
        "ppt/slideUpdateInfo/u.xml",
        f'<p:sldSyncPr {NS} serverSldId="{p("slide of a server")}"/>',
        f"{TYPE}.slideUpdateInfo+xml",
        "slideUpdateInfo",
    )
    add(
        "ppt/unheardof.xml",
        f"<x>{p('part of an unknown kind')}</x>",
        "application/vnd.unheard-of+xml",
        "urn:unheard-of",
    )
    add("ppt/wrong.xml", f"<x>{p('known relationship to a wrong kind')}</x>", "application/xml", "chart")


def _ole(key: str, number: int, name: str) -> str:
    return (
        f'<p:graphicFrame {NS}><p:nvGraphicFramePr><p:cNvPr id="{number}" name="O"/><p:cNvGraphicFramePr/><p:nvPr/>'
        '</p:nvGraphicFramePr><p:xfrm><a:off x="1" y="1"/><a:ext cx="9" cy="9"/></p:xfrm><a:graphic><a:graphicData uri='
        f'"http://schemas.openxmlformats.org/presentationml/2006/ole"><p:oleObj name="{name}" progId="{name}" r:id="{key}">'
        "<p:embed/></p:oleObj></a:graphicData></a:graphic></p:graphicFrame>"
    )


def _around_deck(box: Package, p: Plant) -> None:
    def add(name: str, data: str | bytes, kind: str, relation: str, source: str = PRES) -> str:
        return box.add(name, data, kind, source, relation)

    words = (
        "Company",
        "Manager",
        "Template",
        "HyperlinkBase",
        "PresentationFormat",
        "AppVersion",
        "Application",
    )
    app = "".join(f"<{word}>{p(f'app property {word}')}</{word}>" for word in words)
    titles = f'<TitlesOfParts><vt:vector xmlns:vt="{R[:-13]}/docPropsVTypes" size="1" baseType="lpstr"><vt:lpstr>{p("titles of parts")}</vt:lpstr></vt:vector></TitlesOfParts>'
    box.parts["docProps/app.xml"] = (
        f'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">{app}{titles}</Properties>'.encode()
    )
    custom = f'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"><property name="{p("name of a custom property")}"><v>{p("custom property")}</v></property></Properties>'
    add(
        "docProps/custom.xml",
        custom,
        "application/vnd.openxmlformats-officedocument.custom-properties+xml",
        "custom-properties",
        "",
    )
    out = io.BytesIO()
    Image.new("RGB", (16, 12), "red").save(out, "JPEG", comment=p("thumbnail").encode())
    box.parts["docProps/thumbnail.jpeg"] = out.getvalue()
    add(
        "_xmlsignatures/sig1.xml",
        f"<Signature>{p('signature')}</Signature>",
        "application/vnd.openxmlformats-package.digital-signature-xmlsignature+xml",
        "http://schemas.openxmlformats.org/package/2006/relationships/digital-signature/signature",
        "",
    )
    add(
        "ppt/commentAuthors.xml",
        f'<p:cmAuthorLst {NS}><p:cmAuthor id="0" name="{p("comment author")}" initials="{p("initials of a comment author")}"/></p:cmAuthorLst>',
        f"{TYPE}.commentAuthors+xml",
        "commentAuthors",
    )
    add(
        "ppt/authors.xml",
        f'<p188:authorLst xmlns:p188="{MS}/powerpoint/2018/8/main"><p188:author name="{p("author of today")}" userId="S::{p("user id of an author")}"/></p188:authorLst>',
        "application/vnd.ms-powerpoint.authors+xml",
        f"{MS}/2018/10/relationships/authors",
    )
    add("customXml/item1.xml", f"<x>{p('custom XML')}</x>", "application/xml", "customXml")
    add(
        "customXml/itemProps1.xml",
        f'<x uri="{p("properties of custom XML")}"/>',
        "application/vnd.openxmlformats-officedocument.customXmlProperties+xml",
        "customXmlProps",
        "customXml/item1.xml",
    )
    add(
        "ppt/changesInfos/changesInfo1.xml",
        f'<x name="{p("changes")}"/>',
        "application/vnd.ms-powerpoint.changesinfo+xml",
        f"{MS}/2016/11/relationships/changesInfo",
    )
    add(
        "ppt/revisionInfo.xml",
        f'<x name="{p("revisions")}"/>',
        "application/vnd.ms-powerpoint.revisioninfo+xml",
        f"{MS}/2015/10/relationships/revisionInfo",
    )
    add(
        "ppt/printerSettings/printerSettings9.bin",
        p("printer settings").encode("utf-16-le"),
        f"{TYPE}.printerSettings",
        "printerSettings",
    )
    add("ppt/fonts/font1.fntdata", p("embedded font"), "application/x-fontdata", "font")
    add(
        "ppt/handoutMasters/handoutMaster1.xml",
        f"<p:handoutMaster {NS}>{shape(p('handout master'), 2)}</p:handoutMaster>",
        f"{TYPE}.handoutMaster+xml",
        "handoutMaster",
    )
    add(
        "ppt/webextensions/taskpanes.xml",
        f'<x id="{p("add-in of the web")}"/>',
        "application/vnd.ms-office.webextensiontaskpanes+xml",
        f"{MS}/2011/relationships/webextensiontaskpanes",
        "",
    )
    add(
        "ppt/presProps9.xml",
        f'<p:presentationPr {NS}><p:htmlPubPr title="{p("settings of the show")}"/></p:presentationPr>',
        f"{TYPE}.presProps+xml",
        "presProps",
    )
    add(
        "ppt/viewProps9.xml",
        f'<p:viewPr {NS} lastView="{p("settings of the view")}"/>',
        f"{TYPE}.viewProps+xml",
        "viewProps",
    )
    sections = f'<p:extLst><p:ext uri="{{521415D9-36F7-43E2-AB2F-B90AF26B5E84}}"><p14:sectionLst xmlns:p14="{MS}/powerpoint/2010/main"><p14:section name="{p("section name")}"/></p14:sectionLst></p:ext></p:extLst>'
    shows = f'<p:custShowLst><p:custShow name="{p("custom show")}" id="0"><p:sldLst/></p:custShow></p:custShowLst>'
    locked = f'<p:modifyVerifier algorithmName="{p("lock against changes")}"/>'
    box.before(PRES, "</p:presentation>", f"{shows}{locked}{sections}")
    for part, place in (("slideMasters/slideMaster1", "slide master"), ("slideLayouts/slideLayout6", "layout"), ("slideLayouts/slideLayout7", "layout that no slide uses"), ("notesMasters/notesMaster1", "notes master")):  # fmt: skip
        box.before(f"ppt/{part}.xml", "</p:spTree>", shape(p(place), 950))
    box.swap("ppt/slideLayouts/slideLayout6.xml", '<p:cSld name="', f'<p:cSld name="{p("layout name")} ')
    box.swap(
        "ppt/slideLayouts/slideLayout6.xml",
        "<p:sldLayout ",
        f'<p:sldLayout matchingName="{p("matching name of a layout")}" ',
    )
    box.swap("ppt/theme/theme1.xml", ' name="', f' name="{p("theme name")} ')
    box.before(
        "ppt/theme/theme1.xml",
        "</a:theme>",
        f'<a:custClrLst><a:custClr name="{p("name of a colour")}"><a:srgbClr val="FF0000"/></a:custClr></a:custClrLst>',
    )
    box.swap(
        "ppt/tableStyles.xml",
        "/>",
        f'><a:tblStyle styleId="{{AAAAAAAA-0000-0000-0000-000000000001}}" styleName="{p("name of a table style")}"/></a:tblStyleLst>',
    )


def _in_chart(box: Package, p: Plant) -> None:
    box.swap(CHART, "<c:formatCode>General", f'<c:formatCode>"{p("chart: number format")}"0')
    box.swap(CHART, "<c:f>Sheet1!", f"<c:f>'{p('chart: sheet')}'!")
    box.swap(CHART, "<c:v>20.0</c:v>", f"<c:v>{p('chart: number')}</c:v>")
    box.before(
        CHART,
        "</c:chart>",
        f'<c:extLst><c:ext uri="u"><s:x xmlns:s="urn:s">{p("chart: extension")}</s:x></c:ext></c:extLst>',
    )
    title = f"<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:r><a:t>{p('chart: title')}</a:t></a:r></a:p></c:rich></c:tx></c:title>"
    box.after(CHART, "<c:chart>", title)
    number = p("chart: number under a head")
    second = (
        '<c:ser><c:idx val="1"/><c:order val="1"/><c:tx><c:strRef><c:f>Sheet1!$C$1</c:f><c:strCache><c:ptCount val="1"/>'
        '<c:pt idx="0"><c:v>MRN</c:v></c:pt></c:strCache></c:strRef></c:tx><c:trendline><c:name>'
        f'{p("chart: name of a trend")}</c:name><c:trendlineType val="linear"/></c:trendline><c:val><c:numRef>'
        '<c:f>Sheet1!$C$2:$C$2</c:f><c:numCache><c:formatCode>General</c:formatCode><c:ptCount val="1"/><c:pt idx="0">'
        f"<c:v>{number.removeprefix('MRN ').replace(' ', '')}</c:v></c:pt></c:numCache></c:numRef></c:val></c:ser>"
    )
    box.after(CHART, "</c:ser>", second)
    outside = box.link(
        CHART, f"file:///C:/{urllib.parse.quote(p('chart: link to its workbook'))}.xlsx", "oleObject"
    )
    start = box.parts[CHART].decode().index("<c:externalData")
    text = box.parts[CHART].decode()
    box.swap(CHART, text[start : text.index(">", start) + 1], f'<c:externalData r:id="{outside}">')
    name = next(name for name in box.parts if name.startswith("ppt/embeddings/Microsoft"))
    box.parts[name] = workbook(p, "workbook behind a chart")
    user = f'<c:userShapes xmlns:c="{C}" xmlns:a="{A}" xmlns:cdr="http://schemas.openxmlformats.org/drawingml/2006/chartDrawing"><cdr:relSizeAnchor><cdr:from><cdr:x>0.1</cdr:x><cdr:y>0.1</cdr:y></cdr:from><cdr:to><cdr:x>0.2</cdr:x><cdr:y>0.2</cdr:y></cdr:to><cdr:sp textlink="{p("chart: cell behind a shape")}"><cdr:nvSpPr><cdr:cNvPr id="2" name="n"/><cdr:cNvSpPr/></cdr:nvSpPr><cdr:spPr/><cdr:txBody><a:bodyPr/><a:p><a:r><a:rPr><a:hlinkClick xmlns:r="{R}" r:id="" action="ppaction://program?{p("chart: action of a link")}"/></a:rPr><a:t>{p("chart: shape drawn on it")}</a:t></a:r></a:p></cdr:txBody></cdr:sp></cdr:relSizeAnchor></c:userShapes>'
    key = box.add(
        "ppt/drawings/drawing1.xml",
        user,
        "application/vnd.openxmlformats-officedocument.drawingml.chartshapes+xml",
        CHART,
        "chartUserShapes",
    )
    box.before(CHART, "</c:chartSpace>", f'<c:userShapes xmlns:r="{R}" r:id="{key}"/>')
    box.add(
        "ppt/charts/style1.xml",
        f'<x n="{p("chart: style")}"/>',
        "application/vnd.ms-office.chartstyle+xml",
        CHART,
        f"{MS}/2011/relationships/chartStyle",
    )


def _smartart(box: Package, p: Plant) -> None:
    drawn = f'<dsp:drawing xmlns:dsp="{DSP}" xmlns:a="{A}"><dsp:spTree><dsp:nvGrpSpPr><dsp:cNvPr id="0" name=""/><dsp:cNvGrpSpPr/></dsp:nvGrpSpPr><dsp:grpSpPr/><dsp:sp modelId="1"><dsp:nvSpPr><dsp:cNvPr id="0" name="{p("SmartArt: shape name")}" descr="{p("SmartArt: alt text")}"/><dsp:cNvSpPr/></dsp:nvSpPr><dsp:spPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="900" cy="900"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></dsp:spPr><dsp:txBody><a:bodyPr/><a:p><a:r><a:t>{p("SmartArt: drawing")}</a:t></a:r></a:p></dsp:txBody></dsp:sp></dsp:spTree></dsp:drawing>'
    drawing = box.add(
        "ppt/diagrams/drawing1.xml",
        drawn,
        "application/vnd.ms-office.drawingml.diagramDrawing+xml",
        SLIDE,
        f"{MS}/2007/relationships/diagramDrawing",
    )
    data = f'<dgm:dataModel xmlns:dgm="{DGM}" xmlns:a="{A}"><dgm:ptLst><dgm:pt modelId="1"><dgm:t><a:p><a:r><a:t>{p("SmartArt: data")}</a:t></a:r></a:p></dgm:t></dgm:pt></dgm:ptLst><dgm:extLst><a:ext uri="u"><dsp:dataModelExt xmlns:dsp="{DSP}" relId="{drawing}" minVer="x"/></a:ext></dgm:extLst></dgm:dataModel>'
    key = box.add(
        "ppt/diagrams/data1.xml",
        data,
        "application/vnd.openxmlformats-officedocument.drawingml.diagramData+xml",
        SLIDE,
        "diagramData",
    )
    others = [
        box.add(f"ppt/diagrams/{kind}1.xml", f'<x title="{p(f"SmartArt: {kind}")}"/>', f"application/vnd.openxmlformats-officedocument.drawingml.diagram{kind}+xml", SLIDE, f"diagram{kind}")
        for kind in ("Layout", "QuickStyle", "Colors")
    ]  # fmt: skip
    ids = f'<dgm:relIds xmlns:dgm="{DGM}" r:dm="{key}" r:lo="{others[0]}" r:qs="{others[1]}" r:cs="{others[2]}"/>'
    frame = f'<p:graphicFrame {NS}><p:nvGraphicFramePr><p:cNvPr id="960" name="D" descr="{p("SmartArt: alt text of its frame")}"/><p:cNvGraphicFramePr/><p:nvPr/></p:nvGraphicFramePr><p:xfrm><a:off x="914400" y="914400"/><a:ext cx="914400" cy="914400"/></p:xfrm><a:graphic><a:graphicData uri="{DGM}">{ids}</a:graphicData></a:graphic></p:graphicFrame>'
    box.before(SLIDE, "</p:spTree>", frame)


def _misplaced(box: Package, p: Plant) -> None:
    """What no program writes and one that attacks does: known elements where their own steps do not look."""
    bullet = shape("x", 970).replace(
        "<a:p>", f'<a:p><a:pPr><a:buChar char="{p("sign of a bullet")}"/></a:pPr>'
    )
    uri = f"http://schemas.example/{p('kind of a frame').replace(' ', '')}"
    frame = _ole("x", 973, "O").replace("http://schemas.openxmlformats.org/presentationml/2006/ole", uri)
    frame = frame[: frame.index("<p:oleObj")] + frame[frame.index("</a:graphicData") :]
    outside = shape("x", 971).replace("<a:p>", f"<a:t>{p('text outside a paragraph')}</a:t><a:p>")
    space = shape("x", 972).replace("<a:t>", f'<a:t xml:space="{p("space attribute")}">')
    foreign = (
        f"<p:sp {NS}>{p('text where none belongs')}</p:sp>"
        f'<x:sheet xmlns:x="{X}" name="{p("name of a sheet in a slide")}"/><x:v xmlns:x="{X}">{p("cell in a slide")}</x:v>'
        f'<c:v xmlns:c="{C}">{p("chart value in a slide")}</c:v><w:pStyle xmlns:w="{W}" w:val="{p("style in a slide")}"/>'
        f'<w:instrText xmlns:w="{W}">{p("field code in a slide")}</w:instrText>'
    )
    box.before(SLIDE, "</p:spTree>", bullet + frame + outside + space + foreign)
    box.before(CHART, "</c:numCache>", f"<c:v>{p('chart: value outside a point')}</c:v>")
    box.before(
        "ppt/theme/theme1.xml",
        "</a:theme>",
        f'<a:hlinkClick r:id="" xmlns:r="{R}" action="{p("link in a theme")}"/>',
    )
    box.before("ppt/tableStyles.xml", "</a:tblStyleLst>", f"<a:t>{p('text in table styles')}</a:t>")


def _of_the_zip(box: Package, p: Plant) -> None:
    box.parts[f"ppt/slides/{p('name of a part')}.xml"] = b"<x/>"
    box.parts["ppt/orphan.xml"] = f"<x>{p('part that nothing refers to')}</x>".encode()
    box.parts["notes.txt"] = p("extra member").encode()
    box.comment = p("comment of the zip").encode()
    box.behind = p("bytes behind the zip").encode()
    box.loud = p("comment and extra field of a member")
