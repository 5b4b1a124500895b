"""What Word keeps behind its pages: tracked changes, fields, content controls, bookmarks, names of styles."""

from __future__ import annotations

import re

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, above, local, named, q, qs, remove, several, unwrap

_ACCEPTED = "w:ins w:moveTo"
_REJECTED = "w:del w:moveFrom w:delText w:delInstrText"
_MARKS = """w:rPrChange w:pPrChange w:sectPrChange w:tblPrChange w:tcPrChange w:trPrChange w:tblGridChange
    w:tblPrExChange w:numberingChange w:cellIns w:cellDel w:cellMerge w:moveFromRangeStart w:moveFromRangeEnd
    w:moveToRangeStart w:moveToRangeEnd w:customXmlInsRangeStart w:customXmlInsRangeEnd
    w:customXmlDelRangeStart w:customXmlDelRangeEnd w:bookmarkStart w:bookmarkEnd w:lastRenderedPageBreak
    w:dayShort w:dayLong w:monthShort w:monthLong w:yearShort w:yearLong"""
_COUNTING = frozenset({"PAGE", "NUMPAGES", "SECTIONPAGES"})
"""Fields that stay fields."""

_SHOWN = frozenset(
    {"HYPERLINK", "TOC", "REF", "PAGEREF", "SEQ", "NOTEREF", "FORMTEXT", "XE", "QUOTE", "SYMBOL", "="}
)
"""Fields whose words stay, as plain text; of all others (author, file name, date, mail merge) they go."""

_REFERENCES = "w:pStyle w:rStyle w:tblStyle w:basedOn w:next w:link w:numStyleLink w:styleLink"
STYLE = "style "
"""Before the old id of a style in `Work.shared`, which gives the new one."""

_BUILT_IN = re.compile(
    r"(?i)(?=\D*(?:\d\D*){0,2}$)(?:(?:normal|heading|title|subtitle|default|paragraph|font|table|no|list|header|footer|grid|text|body|"
    r"caption|toc|hyperlink|footnote|endnote|reference|balloon|strong|emphasis|quote|intense|subtle|book|index|plain|"
    r"light|medium|dark|shading|accent|colorful|number|bullet|continue|char|web|page|line|spacing|indent|first|"
    r"contents|of|figures|placeholder|annotation|subject|\d)[ ()]*)+"
)


def built_in(name: str) -> bool:
    """Whether a style is called as Word calls its own, by name or by id (`ListBullet2`)."""
    return _BUILT_IN.fullmatch(re.sub(r"(?<=[a-z])(?=[A-Z\d])", " ", name)) is not None


def settle_changes(scene: Scene) -> None:
    """Take insertions for good, take deletions out, and leave no mark of either."""
    if next(scene.tree.iter(*qs(f"{_ACCEPTED} {_REJECTED}")), None) is not None:
        scene.found("tracked changes (insertions accepted, deletions removed)")
    for node in named(scene.tree, _REJECTED):
        remove(node)
    for node in named(scene.tree, _ACCEPTED):
        unwrap(node)
    for node in named(scene.tree, _MARKS):
        remove(node)


def open_controls(scene: Scene) -> None:
    """Leave the words of content controls, links and smart tags, without what they are bound to."""
    for node in named(scene.tree, "w:sdtPr w:sdtEndPr w:smartTagPr w:customXmlPr"):
        remove(node)
    for node in named(scene.tree, "w:sdt w:sdtContent w:smartTag w:customXml w:hyperlink w:dir w:bdo"):
        if node.tag == q("w:hyperlink"):
            scene.found("link")
        unwrap(node)


def plain_fields(scene: Scene) -> None:
    """Keep page numbers as fields; others become the words they show, or nothing."""
    for node in named(scene.tree, "w:fldSimple"):
        word = _word(node.get(q("w:instr"), ""))
        if word in _COUNTING:
            _set(scene, node, "w:instr", word)
            continue
        if word not in _SHOWN:
            _blank(scene, list(node.iter(q("w:t"))))
        unwrap(node)
    _complex_fields(scene)


def _complex_fields(scene: Scene) -> None:
    """Fields in pieces: begin, instruction, separator, words, end; one can stand in another."""
    stack: list[tuple[list[Element], list[Element], list[Element]]] = []
    for node in named(scene.tree, "w:fldChar w:instrText w:t"):
        if node.tag == q("w:fldChar") and node.get(q("w:fldCharType")) == "begin":
            stack.append(([node], [], []))
        elif stack:
            marks, instructions, words = stack[-1]
            {q("w:fldChar"): marks, q("w:instrText"): instructions, q("w:t"): words}[node.tag].append(node)
            if node.get(q("w:fldCharType")) == "end":
                _settle(scene, *stack.pop())
        elif node.tag != q("w:t"):
            remove(node)
    for unended in stack:
        _settle(scene, *unended)


def _settle(scene: Scene, marks: list[Element], instructions: list[Element], words: list[Element]) -> None:
    word = _word("".join(node.text or "" for node in instructions))
    if word in _COUNTING and instructions:
        instructions[0].text = f" {word} "
        scene.vouch(instructions[0])
        for node in instructions[1:]:
            remove(node)
        for node in marks:
            for child in list(node):
                node.remove(child)
        return
    for node in (*marks, *instructions):
        remove(node)
    if word not in _SHOWN:
        _blank(scene, words)


def _word(instruction: str) -> str:
    found = re.match(r"\s*(=|\w+)", instruction)
    return found[1].upper() if found else ""


def _blank(scene: Scene, words: list[Element]) -> None:
    scene.found("field that shows a name, date or file")
    for node in words:
        node.text = ""


def rename_styles(scene: Scene) -> None:
    """Give every style that is not one of Word's own a neutral name, here and where it is used."""
    _learn(scene)
    for node in named(scene.tree, "w:latentStyles"):
        remove(node)
    for node in named(scene.tree, _REFERENCES):
        new = scene.work.shared.get(STYLE + node.get(q("w:val"), ""))
        if new is None:
            remove(node)
        else:
            _set(scene, node, "w:val", new)
    for node in named(scene.tree, "w:style"):
        new = scene.work.shared.get(STYLE + node.get(q("w:styleId"), ""))
        if new is None:
            remove(node)
            continue
        _set(scene, node, "w:styleId", new)
        for name in node.findall(q("w:name")):
            own = name.get(q("w:val"), "")
            _set(scene, name, "w:val", own if _BUILT_IN.fullmatch(own) else new)
        for other in named(node, "w:aliases w:rsid"):
            remove(other)
    for node in named(scene.tree, "w:name"):
        if above(node, "w:style") is None:
            remove(node)


def _set(scene: Scene, node: Element, name: str, value: str) -> None:
    node.set(q(name), value)
    scene.vouch(node, q(name))


def _learn(scene: Scene) -> None:
    shared, package = scene.work.shared, scene.work.package
    if STYLE in shared:
        return
    shared[STYLE] = ""
    for relation in scene.sources.values():
        if relation.type == "styles" and relation.target in package.parts:
            for number, node in enumerate(named(package.tree(relation.target), "w:style"), 1):
                old = node.get(q("w:styleId"), "")
                shared.setdefault(STYLE + old, old if built_in(old) else f"Style{number}")


_SETTINGS = several(
    """zoom mirrorMargins alignBordersAndEdges bordersDoNotSurroundHeader defaultTabStop autoHyphenation
    consecutiveHyphenLimit hyphenationZone evenAndOddHeaders drawingGridHorizontalSpacing
    characterSpacingControl footnotePr endnotePr compat themeFontLang clrSchemeMapping decimalSymbol
    listSeparator"""
)


def plain_settings(scene: Scene) -> None:
    """Keep what changes the look of a page."""
    for child in list(scene.tree):
        if local(child.tag) not in _SETTINGS:
            remove(child)
    for node in named(scene.tree, "w:compatSetting"):
        if node.get(q("w:name")) != "compatibilityMode":
            remove(node)
        scene.vouch(node, q("w:name"))


def plain_fonts(scene: Scene) -> None:
    """Leave no embedded font and no second name."""
    for node in named(scene.tree, "w:altName w:embedRegular w:embedBold w:embedItalic w:embedBoldItalic"):
        remove(node)


def without_hidden(scene: Scene) -> None:
    """Take out text and drawings that are set to be hidden."""
    for node in named(scene.tree, "w:vanish w:webHidden"):
        run = above(node, "w:r")
        if (
            node.get(q("w:val")) not in ("0", "false", "off")
            and run is not None
            and node.tag == q("w:vanish")
        ):
            scene.found("hidden text")
            remove(run)
    for node in named(scene.tree, "wp:docPr"):
        drawing = above(node, "w:drawing")
        if node.get("hidden") in ("1", "true") and drawing is not None:
            scene.found("hidden shape")
            remove(drawing)
