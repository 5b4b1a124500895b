"""Draw the house template, `deck.pptx`, from nothing. Run by hand: `python templates/make_deck.py`.

Every part is written here, so there is no author, date, thumbnail or printer in it to clear.
Same script, same bytes. Lengths are points; the slide is 960 x 540 (33.867 x 19.05 cm).
"""

# ruff: noqa: E501 -- a line of XML is easier to check whole
from __future__ import annotations

import zipfile
from pathlib import Path

WIDTH, HEIGHT, EMU = 960, 540, 12700
LEFT, RIGHT = 54, 906
PAUSE_BAR = 84
PAUSE_LEFT = 114

NAMESPACES = (
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" '
    'xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main"'
)
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
TYPE = "application/vnd.openxmlformats-officedocument.presentationml"

# Contrast on white by the WCAG 2 formula: ink 16.3, accent1 7.0, accent2 (stamp) 7.2, accent4 (quiet) 6.2.
COLOURS = {
    "dk1": "17212B",  # ink
    "lt1": "FFFFFF",
    "dk2": "0E3048",  # the deep ground of first and last slide, and of the pause bar
    "lt2": "EEF3F6",
    "accent1": "005F8C",  # the one accent
    "accent2": "963A00",  # INCOMPLETE and DRAFT, always with the word
    "accent3": "FFD84D",  # marks on pictures, always on a dark halo
    "accent4": "56636E",  # quiet text
    "accent5": "C5D0D8",  # hairlines; quiet text on the deep ground
    "accent6": "9CCBE6",  # the accent on the deep ground
    "hlink": "005F8C",
    "folHlink": "56636E",
}


def xfrm(x: float, y: float, w: float, h: float) -> str:
    """Place and size, points to EMU."""
    left, top, wide, high = (round(value * EMU) for value in (x, y, w, h))
    return f'<a:xfrm><a:off x="{left}" y="{top}"/><a:ext cx="{wide}" cy="{high}"/></a:xfrm>'


def fill(colour: str) -> str:
    """Return a solid fill in a theme colour."""
    return f'<a:solidFill><a:schemeClr val="{colour}"/></a:solidFill>'


def shape(number: int, name: str, place: str, inside: str, *, holder: str = "", text: str = "") -> str:
    """Return one shape; `holder` makes it a placeholder."""
    locks, drawn = ('<a:spLocks noGrp="1"/>', "") if holder else ("", ' userDrawn="1"')
    return (
        f'<p:sp><p:nvSpPr><p:cNvPr id="{number}" name="{name}"/><p:cNvSpPr>{locks}</p:cNvSpPr>'
        f"<p:nvPr{drawn}>{holder}</p:nvPr></p:nvSpPr>"
        f'<p:spPr>{place}<a:prstGeom prst="rect"><a:avLst/></a:prstGeom>{inside}</p:spPr>{text}</p:sp>'
    )


def words(text: str, style: str = "", *, anchor: str = "t", field: str = "") -> str:
    """Return the text body of a shape, without insets, so that boxes are what is measured."""
    run = f'<a:fld id="{{7B3F1C52-0A64-4D8E-9C11-5E2D7A90B6F3}}" type="{field}"><a:rPr lang="en-GB"/><a:t>‹#›</a:t></a:fld>'
    inner = run if field else f'<a:r><a:rPr lang="en-GB"/><a:t>{text}</a:t></a:r>' if text else ""
    return (
        f'<p:txBody><a:bodyPr vert="horz" wrap="square" lIns="0" tIns="0" rIns="0" bIns="0" anchor="{anchor}">'
        f"<a:noAutofit/></a:bodyPr><a:lstStyle>{style}</a:lstStyle>"
        f'<a:p>{inner}<a:endParaRPr lang="en-GB"/></a:p></p:txBody>'
    )


def level(size: int, colour: str, *, bold: bool = False, align: str = "l") -> str:
    """Return the first-level paragraph style of a placeholder."""
    return (
        f'<a:lvl1pPr marL="0" indent="0" algn="{align}"><a:buNone/>'
        f'<a:defRPr sz="{size * 100}" b="{int(bold)}">{fill(colour)}</a:defRPr></a:lvl1pPr>'
    )


def title(
    x: float, y: float, w: float, h: float, style: str, *, kind: str = "title", anchor: str = "t"
) -> str:
    """Return the headline's placeholder."""
    text = words("Headline: a sentence", style, anchor=anchor)
    return shape(2, "Headline", xfrm(x, y, w, h), "", holder=f'<p:ph type="{kind}"/>', text=text)


def body(x: float, y: float, w: float, h: float, style: str, *, kind: str = "body") -> str:
    """Return the text placeholder."""
    holder = f'<p:ph type="{kind}" idx="1"/>'
    return shape(3, "Text", xfrm(x, y, w, h), "", holder=holder, text=words("Text", style))


def footer(left: float, colour: str, line: str) -> str:
    """Return hairline, confidentiality line (its right end holds the use) and slide number."""
    rule = shape(4, "Rule", xfrm(left, 500, RIGHT - left, 0.75), fill(line) + "<a:ln><a:noFill/></a:ln>")
    text = shape(
        5,
        "Footer",
        xfrm(left, 506, RIGHT - left - 60, 16),
        "",
        holder='<p:ph type="ftr" sz="quarter" idx="11"/>',
        text=words("", level(12, colour)),
    )
    number = shape(
        6,
        "Slide number",
        xfrm(RIGHT - 48, 506, 48, 16),
        "",
        holder='<p:ph type="sldNum" sz="quarter" idx="12"/>',
        text=words("", level(12, colour, bold=True, align="r"), field="slidenum"),
    )
    return rule + text + number


def tree(shapes: str, ground: str = "") -> str:
    """Return the common slide data around shapes."""
    paint = f"<p:bg><p:bgPr>{fill(ground)}<a:effectLst/></p:bgPr></p:bg>" if ground else ""
    return (
        f'{paint}<p:spTree><p:nvGrpSpPr><p:cNvPr id="1" name=""/><p:cNvGrpSpPr/><p:nvPr/></p:nvGrpSpPr>'
        '<p:grpSpPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/><a:chOff x="0" y="0"/>'
        f'<a:chExt cx="0" cy="0"/></a:xfrm></p:grpSpPr>{shapes}</p:spTree>'
    )


def layout(name: str, kind: str, shapes: str, ground: str = "") -> str:
    """Return one layout part. Master shapes are hidden: each layout draws its own footer."""
    kind = f' type="{kind}"' if kind else ""
    return (
        f'{HEAD}<p:sldLayout {NAMESPACES}{kind} showMasterSp="0" preserve="1"><p:cSld name="{name}">'
        f"{tree(shapes, ground)}</p:cSld><p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr></p:sldLayout>"
    )


HEADLINE = level(28, "tx1", bold=True)
TEXT = level(24, "tx1")


def plain_headline(left: float = LEFT) -> str:
    """Return the headline of an ordinary slide; the DRAFT mark has its place right of it."""
    return title(left, 32, 794 - left, 70, HEADLINE)


def pause_bar() -> str:
    """Return the thick bar with the two strokes of a pause, and the word: seen in grey and from afar."""
    deep, white = fill("tx2") + "<a:ln><a:noFill/></a:ln>", fill("bg1") + "<a:ln><a:noFill/></a:ln>"
    word = words("PAUSE", level(20, "bg1", bold=True, align="ctr"), anchor="ctr")
    return (
        shape(10, "Bar", xfrm(0, 0, PAUSE_BAR, HEIGHT), deep)
        + shape(11, "Stroke left", xfrm(27, 38, 10, 36), white)
        + shape(12, "Stroke right", xfrm(47, 38, 10, 36), white)
        + shape(13, "Word", xfrm(4, 80, PAUSE_BAR - 8, 26), "<a:noFill/>", text=word)
    )


def layouts() -> list[str]:
    """Return the five layouts, in the order of the template."""
    light, deep = footer(LEFT, "accent4", "accent5"), footer(LEFT, "accent5", "accent4")
    return [
        layout(
            "Title",
            "title",
            title(LEFT, 96, 852, 150, level(44, "bg1", bold=True), kind="ctrTitle", anchor="b")
            + shape(10, "Stroke", xfrm(LEFT, 266, 84, 5), fill("accent6") + "<a:ln><a:noFill/></a:ln>")
            + body(LEFT, 292, 700, 192, level(22, "bg1"), kind="subTitle")
            + deep,
            "tx2",
        ),
        layout("Headline and text", "tx", plain_headline() + body(LEFT, 116, 852, 370, TEXT) + light),
        layout("Headline only", "titleOnly", plain_headline() + light),
        layout(
            "Pause",
            "",
            pause_bar()
            + plain_headline(PAUSE_LEFT)
            + body(PAUSE_LEFT, 116, RIGHT - PAUSE_LEFT, 370, TEXT)
            + footer(PAUSE_LEFT, "accent4", "accent5"),
        ),
        layout(
            "Closing",
            "",
            title(LEFT, 32, 740, 70, level(24, "accent6", bold=True))
            + body(LEFT, 150, 780, 336, level(36, "bg1"))
            + deep,
            "tx2",
        ),
    ]


def master(count: int) -> str:
    """Return the slide master."""
    listed = "".join(f'<p:sldLayoutId id="{2147483649 + n}" r:id="rId{n + 1}"/>' for n in range(count))
    levels = "".join(
        f'<a:lvl{n}pPr marL="{(n - 1) * 304800}" indent="0" algn="l"><a:spcBef><a:spcPts val="0"/></a:spcBef>'
        f'<a:buNone/><a:defRPr sz="2400" kern="1200">{fill("tx1")}<a:latin typeface="+mn-lt"/>'
        f'<a:ea typeface="+mn-ea"/><a:cs typeface="+mn-cs"/></a:defRPr></a:lvl{n}pPr>'
        for n in range(1, 6)
    )
    heading = (
        f'<a:lvl1pPr algn="l"><a:spcBef><a:spcPts val="0"/></a:spcBef><a:buNone/><a:defRPr sz="2800" b="1" kern="1200">'
        f'{fill("tx1")}<a:latin typeface="+mj-lt"/><a:ea typeface="+mj-ea"/><a:cs typeface="+mj-cs"/>'
        "</a:defRPr></a:lvl1pPr>"
    )
    other = f'<a:lvl1pPr algn="l"><a:defRPr sz="2000">{fill("tx1")}</a:defRPr></a:lvl1pPr>'
    shapes = plain_headline() + body(LEFT, 116, 852, 370, "") + footer(LEFT, "accent4", "accent5")
    mapping = (
        '<p:clrMap bg1="lt1" tx1="dk1" bg2="lt2" tx2="dk2" accent1="accent1" accent2="accent2" accent3="accent3" '
        'accent4="accent4" accent5="accent5" accent6="accent6" hlink="hlink" folHlink="folHlink"/>'
    )
    return (
        f"{HEAD}<p:sldMaster {NAMESPACES}><p:cSld>{tree(shapes, 'bg1')}</p:cSld>{mapping}"
        f"<p:sldLayoutIdLst>{listed}</p:sldLayoutIdLst><p:txStyles><p:titleStyle>{heading}</p:titleStyle>"
        f"<p:bodyStyle>{levels}</p:bodyStyle><p:otherStyle>{other}</p:otherStyle></p:txStyles></p:sldMaster>"
    )


def notes_master() -> str:
    """Return the notes master: the slide above, the script below; no header, date or footer."""
    picture = (
        '<p:sp><p:nvSpPr><p:cNvPr id="2" name="Slide image"/><p:cNvSpPr>'
        '<a:spLocks noGrp="1" noRot="1" noChangeAspect="1"/></p:cNvSpPr>'
        '<p:nvPr><p:ph type="sldImg" idx="2"/></p:nvPr></p:nvSpPr>'
        f'<p:spPr>{xfrm(54, 54, 432, 243)}<a:prstGeom prst="rect"><a:avLst/></a:prstGeom>'
        '<a:noFill/><a:ln w="6350"><a:solidFill><a:schemeClr val="accent5"/></a:solidFill></a:ln></p:spPr></p:sp>'
    )
    script = shape(
        3,
        "Script",
        xfrm(54, 320, 432, 346),
        "",
        holder='<p:ph type="body" sz="quarter" idx="3"/>',
        text=words("Script"),
    )
    mapping = (
        '<p:clrMap bg1="lt1" tx1="dk1" bg2="lt2" tx2="dk2" accent1="accent1" accent2="accent2" accent3="accent3" '
        'accent4="accent4" accent5="accent5" accent6="accent6" hlink="hlink" folHlink="folHlink"/>'
    )
    style = (
        f'<p:notesStyle><a:lvl1pPr marL="0" algn="l"><a:spcAft><a:spcPts val="600"/></a:spcAft><a:defRPr sz="1400">'
        f'{fill("tx1")}<a:latin typeface="+mn-lt"/></a:defRPr></a:lvl1pPr></p:notesStyle>'
    )
    return (
        f"{HEAD}<p:notesMaster {NAMESPACES}><p:cSld>{tree(picture + script, 'bg1')}</p:cSld>{mapping}{style}"
        "</p:notesMaster>"
    )


def theme(name: str) -> str:
    """Return colours, faces and the plainest formats the schema allows."""
    colours = "".join(f'<a:{slot}><a:srgbClr val="{rgb}"/></a:{slot}>' for slot, rgb in COLOURS.items())
    face = '<a:latin typeface="Calibri"/><a:ea typeface=""/><a:cs typeface=""/>'
    paint = '<a:solidFill><a:schemeClr val="phClr"/></a:solidFill>'
    lines = "".join(f'<a:ln w="{w}">{paint}</a:ln>' for w in (9525, 12700, 19050))
    effects = "<a:effectStyle><a:effectLst/></a:effectStyle>" * 3
    return (
        f'{HEAD}<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" name="{name}">'
        f'<a:themeElements><a:clrScheme name="{name}">{colours}</a:clrScheme>'
        f'<a:fontScheme name="{name}"><a:majorFont>{face}</a:majorFont><a:minorFont>{face}</a:minorFont></a:fontScheme>'
        f'<a:fmtScheme name="{name}"><a:fillStyleLst>{paint * 3}</a:fillStyleLst><a:lnStyleLst>{lines}</a:lnStyleLst>'
        f"<a:effectStyleLst>{effects}</a:effectStyleLst><a:bgFillStyleLst>{paint * 3}</a:bgFillStyleLst></a:fmtScheme>"
        "</a:themeElements></a:theme>"
    )


def presentation() -> str:
    """Return the presentation part: size, master, notes master, no slides."""
    return (
        f'{HEAD}<p:presentation {NAMESPACES} saveSubsetFonts="1"><p:sldMasterIdLst>'
        '<p:sldMasterId id="2147483648" r:id="rId1"/></p:sldMasterIdLst>'
        '<p:notesMasterIdLst><p:notesMasterId r:id="rId2"/></p:notesMasterIdLst>'
        f'<p:sldSz cx="{WIDTH * EMU}" cy="{HEIGHT * EMU}"/><p:notesSz cx="6858000" cy="9144000"/>'
        f'<p:defaultTextStyle><a:lvl1pPr marL="0" algn="l"><a:defRPr sz="2000" kern="1200">{fill("tx1")}'
        '<a:latin typeface="+mn-lt"/><a:ea typeface="+mn-ea"/><a:cs typeface="+mn-cs"/></a:defRPr></a:lvl1pPr>'
        "</p:defaultTextStyle></p:presentation>"
    )


def relations(*pairs: tuple[str, str]) -> str:
    """Return a relationships part from (kind, target) pairs, numbered from rId1."""
    lines = "".join(
        f'<Relationship Id="rId{n}" Type="{OFFICE}/{kind}" Target="{target}"/>'
        for n, (kind, target) in enumerate(pairs, 1)
    )
    return f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">{lines}</Relationships>'


def content_types(parts: dict[str, str]) -> str:
    """Return the list of parts and their types."""
    lines = "".join(f'<Override PartName="/{name}" ContentType="{kind}"/>' for name, kind in parts.items())
    return (
        f'{HEAD}<Types xmlns="{PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="xml" ContentType="application/xml"/>{lines}</Types>'
    )


def package() -> dict[str, str]:
    """Return every part by name."""
    drawn = layouts()
    names = [f"ppt/slideLayouts/slideLayout{n}.xml" for n in range(1, len(drawn) + 1)]
    parts = {
        "ppt/presentation.xml": (f"{TYPE}.presentation.main+xml", presentation()),
        "ppt/slideMasters/slideMaster1.xml": (f"{TYPE}.slideMaster+xml", master(len(drawn))),
        **{name: (f"{TYPE}.slideLayout+xml", xml) for name, xml in zip(names, drawn, strict=True)},
        "ppt/notesMasters/notesMaster1.xml": (f"{TYPE}.notesMaster+xml", notes_master()),
    }
    for name, root in (("presProps", "presentationPr"), ("viewProps", "viewPr")):
        # Slide software offers to repair a deck that lacks these two, empty as they are.
        parts[f"ppt/{name}.xml"] = (f"{TYPE}.{name}+xml", f"{HEAD}<p:{root} {NAMESPACES}/>")
    for number, name in ((1, "House"), (2, "House notes")):
        kind = "application/vnd.openxmlformats-officedocument.theme+xml"
        parts[f"ppt/theme/theme{number}.xml"] = (kind, theme(name))
    written = {"[Content_Types].xml": content_types({name: kind for name, (kind, _) in parts.items()})}
    written["_rels/.rels"] = relations(("officeDocument", "ppt/presentation.xml"))
    written |= {name: xml for name, (_, xml) in parts.items()}
    listed = [("slideLayout", f"../slideLayouts/slideLayout{n}.xml") for n in range(1, len(drawn) + 1)]
    written["ppt/_rels/presentation.xml.rels"] = relations(
        ("slideMaster", "slideMasters/slideMaster1.xml"),
        ("notesMaster", "notesMasters/notesMaster1.xml"),
        ("theme", "theme/theme1.xml"),
        ("presProps", "presProps.xml"),
        ("viewProps", "viewProps.xml"),
    )
    written["ppt/slideMasters/_rels/slideMaster1.xml.rels"] = relations(
        *listed, ("theme", "../theme/theme1.xml")
    )
    written["ppt/notesMasters/_rels/notesMaster1.xml.rels"] = relations(("theme", "../theme/theme2.xml"))
    for number in range(1, len(drawn) + 1):
        name = f"ppt/slideLayouts/_rels/slideLayout{number}.xml.rels"
        written[name] = relations(("slideMaster", "../slideMasters/slideMaster1.xml"))
    return written


def save(path: Path) -> None:
    """Write the template, with one fixed date on every entry."""
    with zipfile.ZipFile(path, "w") as archive:
        for name, xml in package().items():
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.compress_type, entry.create_system = zipfile.ZIP_DEFLATED, 3
            archive.writestr(entry, xml.encode())


if __name__ == "__main__":
    save(Path(__file__).with_name("deck.pptx"))
