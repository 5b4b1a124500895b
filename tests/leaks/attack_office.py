"""A document, a workbook and a zip of them with an identifier in every place where one can hide (ECMA-376)."""

from __future__ import annotations

import io
import urllib.parse
import zipfile

import docx
import openpyxl
from docx.shared import Inches
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image as SheetImage
from openpyxl.formatting.rule import CellIsRule, FormulaRule
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.table import Table

from tests.leaks import attack_pptx
from tests.leaks.attack import Package, Plant
from tests.leaks.attack_pptx import MS, A, C, R, W, X, compound, jpeg, parted, png, workbook

CORE = ("author", "last_modified_by", "title", "subject", "keywords", "category", "comments", "content_status", "identifier", "version", "language")  # fmt: skip
WTYPE = "application/vnd.openxmlformats-officedocument.wordprocessingml"
XTYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml"
DOC, SETTINGS, STYLES, NUMBERING = (
    f"word/{name}.xml" for name in ("document", "settings", "styles", "numbering")
)
BOOK, SHEET = "xl/workbook.xml", "xl/worksheets/sheet1.xml"
MC = "http://schemas.openxmlformats.org/markup-compatibility/2006"
V = "urn:schemas-microsoft-com:vml"


def bare(p: Plant, place: str) -> str:
    """The figures alone of a number that its neighbour names."""
    return p(place).removeprefix("MRN ").replace(" ", "")


# Word.


def build_docx(p: Plant, *, hostile: bool = True) -> bytes:
    box = Package.of(_written(p))
    for step in (_in_paragraphs, _changed_and_computed, _in_drawings, _around_document, _word_settings):
        step(box, p)
    if hostile:
        _misplaced_in_word(box, p)
    _of_the_zip(box, p)
    return box.packed()


def _written(p: Plant) -> bytes:
    letter = docx.Document()
    for name in CORE:
        setattr(letter.core_properties, name, p(f"core property {name}"))
    letter.add_heading(p("heading"), 1)
    letter.add_paragraph("ANCHOR")
    table = letter.add_table(2, 2)
    table.cell(0, 0).text, table.cell(1, 0).text = "MRN", bare(p, "number under a head")
    table.cell(1, 1).text = p("cell of a table")
    section = letter.sections[0]
    section.header.paragraphs[0].text, section.footer.paragraphs[0].text = p("header"), p("footer")
    section.different_first_page_header_footer = True
    section.first_page_header.paragraphs[0].text = p("header of the first page")
    letter.add_picture(io.BytesIO(png(p)), width=Inches(1))
    letter.add_picture(io.BytesIO(jpeg(p)), width=Inches(1))
    out = io.BytesIO()
    letter.save(out)
    return out.getvalue()


def run(text: str, properties: str = "") -> str:
    return f'<w:r><w:rPr>{properties}</w:rPr><w:t xml:space="preserve">{text}</w:t></w:r>'


def paragraph(inner: str) -> str:
    return f'<w:p xmlns:w="{W}" xmlns:r="{R}">{inner}</w:p>'


def put(box: Package, *paragraphs: str) -> None:
    box.before(DOC, "<w:tbl>", "".join(map(paragraph, paragraphs)))


def field(instruction: str, shown: str) -> str:
    def mark(kind: str, inner: str = "") -> str:
        return f'<w:r><w:fldChar w:fldCharType="{kind}">{inner}</w:fldChar></w:r>'

    return f"{mark('begin')}<w:r><w:instrText>{instruction}</w:instrText></w:r>{mark('separate')}{run(shown)}{mark('end')}"


def _in_paragraphs(box: Package, p: Plant) -> None:
    word = p("text split across runs")
    middle = len(word) // 2 + 1
    put(
        box,
        run(p("text")),
        run(word[:middle]) + run(word[middle:], "<w:b/>"),
        run(p("hidden text"), "<w:vanish/>"),
        run(p("text parted by tabs").replace(" ", "</w:t><w:tab/><w:t>")),
        run(p("text parted by line breaks").replace(" ", "</w:t><w:br/><w:t>")),
        run(
            p("text parted by aligned tabs").replace(
                " ", '</w:t><w:ptab w:relativeTo="margin" w:alignment="left" w:leader="none"/><w:t>'
            )
        ),
        run(p("text parted by no-break spaces").replace(" ", "\u00a0")),
        run(parted(p("text parted by signs that show nothing"))),
        run(p("text parted by soft hyphens")[:-3] + "</w:t><w:softHyphen/><w:t>" + p.last[-3:]),
        run(p("white text"), '<w:color w:val="FFFFFF"/>'),
        run("".join(f"&#x{ord(sign):X};" for sign in p("text in XML entities"))),
        f'<w:sdt><w:sdtPr><w:alias w:val="{p("title of a control")}"/><w:tag w:val="{p("tag of a control")}"/><w:placeholder>'
        f'<w:docPart w:val="{p("placeholder of a control")}"/></w:placeholder><w:dataBinding w:xpath="{p("binding of a control")}"/>'
        f'<w:dropDownList><w:listItem w:displayText="{p("choice of a control")}" w:value="1"/></w:dropDownList></w:sdtPr>'
        f"<w:sdtContent>{run(p('text of a control'))}</w:sdtContent></w:sdt>",
        f'<w:bookmarkStart w:id="9" w:name="{p("bookmark")}"/><w:bookmarkEnd w:id="9"/>{run("x")}',
        f'<w:smartTag w:uri="{p("smart tag")}" w:element="x"><w:smartTagPr><w:attr w:name="a" w:val="{p("value of a smart tag")}"/></w:smartTagPr>{run("x")}</w:smartTag>',
        f'<w:r><w:ruby><w:rubyPr><w:rubyAlign w:val="center"/><w:hps w:val="10"/><w:hpsRaise w:val="10"/><w:hpsBaseText w:val="20"/><w:lid w:val="ja-JP"/></w:rubyPr><w:rt>{run(p("ruby text"))}</w:rt><w:rubyBase>{run("x")}</w:rubyBase></w:ruby></w:r>',
        f"<!-- {p('XML comment')} --><?note {p('processing instruction')}?>{run('x')}",
        f'<m:oMath xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math"><m:r><m:t>{p("formula")}</m:t></m:r></m:oMath>',
        run(p("font").join(('</w:t></w:r><w:r><w:rPr><w:rFonts w:ascii="', '"/></w:rPr><w:t>x'))),
    )
    key = box.link(DOC, f"file:///C:/{urllib.parse.quote(p('link to a file'))}.docx", "hyperlink")
    put(
        box,
        f'<w:hyperlink r:id="{key}" w:tooltip="{p("tip of a link")}" w:docLocation="{p("place of a link")}">{run("see")}</w:hyperlink>',
    )
    box.before(
        DOC,
        "</w:tblPr>",
        f'<w:tblCaption w:val="{p("title of a table")}"/><w:tblDescription w:val="{p("alt text of a table")}"/>',
    )


def _changed_and_computed(box: Package, p: Plant) -> None:
    put(
        box,
        f'<w:ins w:id="7" w:author="{p("author of an insertion")}" w:date="2024-03-14T00:00:00Z">{run(p("insertion"))}</w:ins>',
        f'<w:del w:id="8" w:author="{p("author of a deletion")}"><w:r><w:delText>{p("deletion")}</w:delText></w:r></w:del>{run("x")}',
        f'<w:moveFrom w:id="10" w:author="A">{run(p("text moved away"))}</w:moveFrom>{run("x")}',
        f'<w:r><w:rPr><w:rPrChange w:id="11" w:author="{p("author of a change of looks")}"><w:rPr/></w:rPrChange></w:rPr><w:t>x</w:t></w:r>',
        field(f' HYPERLINK "mailto:{p("field code")}" ', p("words of a link field")),
        field(" AUTHOR ", p("field of the author")),
        field(f" INCLUDETEXT {p('field code that includes')} ", "x"),
        field(" PAGE ", p("words of a page field")),
        f'<w:fldSimple w:instr=" NUMPAGES \\* {p("switch of a page field")} ">{run("3")}</w:fldSimple>',
        f'<w:fldSimple w:instr=" FILENAME {p("simple field code")} ">{run(p("simple field"))}</w:fldSimple>',
        f'<w:r><w:fldChar w:fldCharType="begin"><w:ffData><w:name w:val="{p("name of a form field")}"/><w:statusText w:val="{p("help of a form field")}"/>'
        f'<w:textInput><w:default w:val="{p("default of a form field")}"/></w:textInput></w:ffData></w:fldChar></w:r><w:r><w:instrText> FORMTEXT '
        f'</w:instrText></w:r><w:r><w:fldChar w:fldCharType="separate"/></w:r>{run(p("text of a form field"))}<w:r><w:fldChar w:fldCharType="end"/></w:r>',
    )


def _in_drawings(box: Package, p: Plant) -> None:
    box.swap(DOC, "<wp:docPr ", f'<wp:docPr descr="{p("alt text")}" title="{p("alt title")}" ')
    text = box.parts[DOC].decode()
    name = text.index('name="', text.index("<wp:docPr "))
    box.parts[DOC] = f'{text[:name]}name="{p("name of a shape")} {text[name + 6 :]}'.encode()
    box.swap(DOC, "<pic:cNvPr ", f'<pic:cNvPr descr="{p("file name as alt text")}.jpg" ')
    key = box.link(DOC, f"file:///S:/{urllib.parse.quote(p('link to a picture outside'))}.png", "image")
    old = (
        f'<w:r><w:pict xmlns:v="{V}" xmlns:o="urn:schemas-microsoft-com:office:office"><v:shape id="{p("id of an old shape")}" alt="{p("alt text of an old shape")}" '
        f'title="{p("title of an old shape")}" href="{p("link of an old shape")}" target="{p("target of an old shape")}" style="width:9pt;{p("style of an old shape")}">'
        f'<v:imagedata r:id="{key}" o:title="{p("title of an old picture")}"/><v:textpath string="{p("word art")}"/>'
        f"<v:textbox><w:txbxContent>{paragraph(run(p('old text box')))}</w:txbxContent></v:textbox></v:shape></w:pict></w:r>"
    )
    anchor = (
        f'<w:r><mc:AlternateContent xmlns:mc="{MC}"><mc:Choice xmlns:wps="{MS}/word/2010/wordprocessingShape" Requires="wps"><w:drawing>'
        '<wp:inline xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" distT="0" distB="0" distL="0" distR="0">'
        f'<wp:extent cx="914400" cy="914400"/><wp:docPr id="77" name="B"><a:hlinkClick xmlns:a="{A}" r:id="" action="ppaction://program?{p("action of a shape")}"/></wp:docPr>'
        f'<a:graphic xmlns:a="{A}"><a:graphicData uri="{MS}/word/2010/wordprocessingShape"><wps:wsp><wps:cNvSpPr/><wps:spPr/><wps:txbx><w:txbxContent>'
        f"{paragraph(run(p('text box')))}</w:txbxContent></wps:txbx><wps:bodyPr/></wps:wsp></a:graphicData></a:graphic></wp:inline></w:drawing></mc:Choice>"
        f"<mc:Fallback>{old}</mc:Fallback></mc:AlternateContent></w:r>"
    )
    put(box, anchor, _old_alone(p))


def _old_alone(p: Plant) -> str:
    """An old shape that is no fallback, so that it is taken."""
    return (
        f'<w:r><w:pict xmlns:v="{V}"><v:shape id="{p("id of an old shape alone")}" alt="{p("alt text of an old shape alone")}" '
        f'target="{p("target of an old shape alone")}" class="{p("class of an old shape alone")}" style="width:9pt;height:9pt"><v:textbox><w:txbxContent>'
        f"{paragraph(run(p('old text box alone')))}</w:txbxContent></v:textbox></v:shape></w:pict></w:r>"
    )


def _around_document(box: Package, p: Plant) -> None:
    def add(name: str, data: str | bytes, kind: str, relation: str, source: str = DOC) -> str:
        return box.add(name, data, kind, source, relation)

    def notes(kind: str) -> str:
        return f'<w:{kind}s xmlns:w="{W}" xmlns:r="{R}"><w:{kind} w:id="1">{paragraph(run(p(kind)))}</w:{kind}></w:{kind}s>'

    add("word/footnotes.xml", notes("footnote"), f"{WTYPE}.footnotes+xml", "footnotes")
    add("word/endnotes.xml", notes("endnote"), f"{WTYPE}.endnotes+xml", "endnotes")
    put(box, '<w:r><w:footnoteReference w:id="1"/></w:r><w:r><w:endnoteReference w:id="1"/></w:r>')
    comment = f'<w:comments xmlns:w="{W}"><w:comment w:id="1" w:author="{p("author of a comment")}" w:initials="{p("initials of a comment")}">{paragraph(run(p("comment")))}</w:comment></w:comments>'
    box.parts.pop("word/comments.xml", None)
    add("word/comments9.xml", comment, f"{WTYPE}.comments+xml", "comments")
    put(
        box,
        f'<w:commentRangeStart w:id="1"/>{run("x")}<w:commentRangeEnd w:id="1"/><w:r><w:commentReference w:id="1"/></w:r>',
    )
    add(
        "word/commentsExtended.xml",
        f'<x n="{p("thread of comments")}"/>',
        f"{WTYPE}.commentsExtended+xml",
        f"{MS}/2011/relationships/commentsExtended",
    )
    add(
        "word/people.xml",
        f'<w15:people xmlns:w15="{MS}/word/2012/wordml"><w15:person w15:author="{p("people")}"/></w15:people>',
        f"{WTYPE}.people+xml",
        f"{MS}/2011/relationships/people",
    )
    add(
        "word/glossary/document.xml",
        f'<w:glossaryDocument xmlns:w="{W}"><w:docParts><w:docPart><w:docPartBody>{paragraph(run(p("building block")))}</w:docPartBody></w:docPart></w:docParts></w:glossaryDocument>',
        f"{WTYPE}.document.glossary+xml",
        "glossaryDocument",
    )
    chunk = add("word/chunk.html", f"<p>{p('inserted file')}</p>", "text/html", "aFChunk")
    box.before(DOC, "<w:tbl>", f'<w:altChunk r:id="{chunk}"/>')
    add("customXml/item9.xml", f"<x>{p('custom XML')}</x>", "application/xml", "customXml")
    add(
        "docProps/custom.xml",
        f'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"><property name="{p("name of a custom property")}"><v>{p("custom property")}</v></property></Properties>',
        "application/vnd.openxmlformats-officedocument.custom-properties+xml",
        "custom-properties",
        "",
    )
    words = "".join(
        f"<{word}>{p(f'app property {word}')}</{word}>"
        for word in ("Company", "Manager", "Template", "HyperlinkBase", "Application")
    )
    box.parts["docProps/app.xml"] = (
        f'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">{words}</Properties>'.encode()
    )
    box.parts["docProps/thumbnail.jpeg"] = p("thumbnail").encode()
    book = add("word/embeddings/Book1.xlsx", workbook(p, "embedded workbook"), f"{XTYPE}.sheet", "package")
    ole = add(
        "word/embeddings/oleObject1.bin",
        compound(p("OLE document")),
        "application/vnd.openxmlformats-officedocument.oleObject",
        "oleObject",
    )
    for number, key in enumerate((book, ole)):
        put(
            box,
            f'<w:r><w:object><v:shape xmlns:v="{V}" id="o{number}" style="width:9pt;height:9pt"/><o:OLEObject xmlns:o="urn:schemas-microsoft-com:office:office" Type="Embed" ProgID="{p(f"program of OLE object {number}")}" r:id="{key}"/></w:object></w:r>',
        )
    add(
        "word/printerSettings/p.bin",
        p("printer settings").encode("utf-16-le"),
        f"{WTYPE}.printerSettings",
        "printerSettings",
    )
    add(
        "word/fonts/font1.odttf",
        p("embedded font"),
        "application/vnd.openxmlformats-officedocument.obfuscatedFont",
        "font",
        "word/fontTable.xml",
    )
    add(
        "word/diagrams/data1.xml",
        f'<x n="{p("SmartArt data")}"/>',
        "application/vnd.openxmlformats-officedocument.drawingml.diagramData+xml",
        "diagramData",
    )


def _word_settings(box: Package, p: Plant) -> None:
    template = box.link(
        SETTINGS, f"file:///N:/{urllib.parse.quote(p('attached template'))}.dotx", "attachedTemplate"
    )
    inner = (
        f'<w:attachedTemplate xmlns:r="{R}" r:id="{template}"/><w:documentProtection w:edit="readOnly" w:algorithmName="{p("protection")}"/>'
        f'<w:rsids><w:rsidRoot w:val="{p("rsid")}"/></w:rsids><w:docVars><w:docVar w:name="{p("name of a variable")}" w:val="{p("variable")}"/></w:docVars>'
        f'<w:mailMerge><w:connectString w:val="{p("mail merge")}"/></w:mailMerge><w:captions><w:caption w:name="{p("caption")}"/></w:captions>'
    )
    box.before(SETTINGS, "</w:settings>", inner)
    style = f'<w:style w:type="paragraph" w:customStyle="1" w:styleId="{p("id of a style")}"><w:name w:val="{p("name of a style")}"/><w:aliases w:val="{p("alias of a style")}"/></w:style>'
    box.before(STYLES, "</w:styles>", style)
    level = (
        f'<w:abstractNum xmlns:w="{W}" w:abstractNumId="99"><w:name w:val="{p("name of a list")}"/><w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="decimal"/>'
        f'<w:lvlText w:val="{p("label of a list")} %1"/></w:lvl><w:lvl w:ilvl="1"><w:start w:val="1"/><w:lvlText w:val="{p("label in small letters").lower()}"/></w:lvl></w:abstractNum>'
    )
    box.before(NUMBERING, "<w:num ", level)
    box.before(
        "word/fontTable.xml",
        "</w:fonts>",
        f'<w:font w:name="{p("name of a font")}"><w:altName w:val="{p("other name of a font")}"/></w:font>',
    )


def _misplaced_in_word(box: Package, p: Plant) -> None:
    """What no program writes and one that attacks does."""
    put(box, f'<w:r><w:t xml:space="{p("space attribute")}">x</w:t></w:r>')
    open_field = paragraph(
        f'<w:r><w:fldChar w:fldCharType="begin"/><w:instrText>{p("field code without an end")}</w:instrText></w:r>'
    )
    box.before(DOC, "<w:sectPr", open_field)
    loose = f'<w:r xmlns:w="{W}"><w:t>{p("text outside a paragraph")}</w:t></w:r><w:style xmlns:w="{W}" w:styleId="{p("style in the text")}"/><x:v xmlns:x="{X}">{p("cell in a document")}</x:v><c:v xmlns:c="{C}">{p("chart value in a document")}</c:v>'
    box.before(DOC, "<w:tbl>", loose)
    box.after(
        SETTINGS,
        "<w:compat>",
        f'<w:pStyle w:val="{p("style in the settings")}"/><w:name w:val="{p("name in the settings")}"/><w:compatSetting w:name="{p("name of a compatibility setting")}" w:val="1"/><w:t>{p("text in the settings")}</w:t>',
    )
    box.before(
        STYLES,
        "</w:styles>",
        f"<w:p><w:r><w:instrText>{p('field code in the styles')}</w:instrText></w:r></w:p>",
    )


# Excel.


def build_xlsx(p: Plant, *, hostile: bool = True) -> bytes:
    box = Package.of(_filled(p))
    for step in (_in_cells, _around_sheet, _around_book):
        step(box, p)
    if hostile:
        _misplaced_in_excel(box, p)
    _of_the_zip(box, p)
    return box.packed()


def _filled(p: Plant) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = p("name of a sheet")[:31]
    sheet.append(["MRN", "Finding", "Value"])
    number = bare(p, "number under a head")
    sheet.append([int(number) if number.isdecimal() else number, p("cell"), 18])
    sheet.append([1, p("cell in a hidden row"), 2])
    sheet.row_dimensions[3].hidden = True
    sheet["F1"] = p("cell in a hidden column")
    sheet.column_dimensions["F"].hidden = True
    sheet["B5"] = p("white cell")
    sheet["B5"].font = openpyxl.styles.Font(color="FFFFFFFF")
    sheet["B6"] = "x"
    sheet["B6"].comment = Comment(p("comment"), p("author of a comment"))
    sheet["B7"].value, sheet["B7"].hyperlink = "see", f"mailto:{urllib.parse.quote(p('link to mail'))}"
    sheet["B7"].hyperlink.tooltip = p("tip of a link")
    sheet["C2"].number_format = f'"{p("number format")}" 0'
    sheet["B8"] = f'=CONCATENATE("{p("formula")}","x")'
    for place, title in (("A10", "Month"), ("B10", "Count"), ("A11", p("category of a chart")), ("B11", 4)):
        sheet[place] = title
    chart = BarChart()
    chart.title = p("title of a chart")
    chart.add_data(Reference(sheet, min_col=2, min_row=10, max_row=11), titles_from_data=True)
    sheet.add_chart(chart, "H2")
    sheet.add_image(SheetImage(io.BytesIO(png(p))), "H20")
    sheet.oddHeader.center.text, sheet.oddFooter.left.text = p("header"), p("footer")
    rule = DataValidation(type="list", formula1=f'"{p("choices of a check")}"', showErrorMessage=True)
    rule.error, rule.prompt, rule.promptTitle = (
        p("words of a check"),
        p("prompt of a check"),
        p("title of a prompt")[:32],
    )
    rule.add("B2")
    sheet.add_data_validation(rule)
    sheet.conditional_formatting.add("B2:B5", FormulaRule(formula=[f'$B2="{p("formula of a rule")}"']))
    sheet.conditional_formatting.add(
        "A2:A5", CellIsRule(operator="equal", formula=[bare(p, "number of a rule").upper()])
    )
    sheet.add_table(Table(displayName="T1", name="T1", ref="A10:B11", comment=p("comment of a table")))
    sheet.auto_filter.ref = "A1:C2"
    sheet.auto_filter.add_filter_column(1, [p("filter")])
    for name, state in (("hidden", "hidden"), ("very hidden", "veryHidden")):
        other = book.create_sheet(p(f"name of a {name} sheet")[:31])
        other.sheet_state = state
        other["A1"] = p(f"cell of a {name} sheet")
    book.defined_names.add(
        DefinedName("n1", attr_text=f'"{p("defined name")}"', comment=p("comment of a defined name"))
    )
    style = openpyxl.styles.NamedStyle(p("name of a cell style"))
    sheet["B9"].value, sheet["B9"].style = "x", style
    for name, own in (("creator", "creator"), ("lastModifiedBy", "last modified by"), ("title", "title"), ("subject", "subject"), ("keywords", "keywords"), ("category", "category"), ("description", "description"), ("identifier", "identifier"), ("contentStatus", "status"), ("version", "version")):  # fmt: skip
        setattr(book.properties, name, p(f"core property {own}"))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _in_cells(box: Package, p: Plant) -> None:
    word = p("rich text split across runs")
    middle = len(word) // 2 + 1
    rich = f'<c r="B12" t="inlineStr"><is><r><t>{word[:middle]}</t></r><r><rPr><b/></rPr><t>{word[middle:]}</t></r><rPh sb="0" eb="1"><t>{p("reading aid of a cell")}</t></rPh></is></c>'
    rows = (
        f'<row r="12">{rich}</row><row r="13"><c r="B13" t="str"><f>A1</f><v>{p("value of a formula")}</v></c></row>'
        f'<row r="14"><c r="B14" t="e"><v>{p("value of an error")}</v></c><c r="C14" t="n"><v>{p("words as a number")}</v></c></row>'
        f'<row r="15"><c r="A15" t="inlineStr"><is><t>MRN</t></is></c><c r="B15"><v>{bare(p, "number beside its head")}</v></c></row>'
    )
    rows += '<row r="16"><c r="B16" t="s"><v>0</v></c></row>'
    box.before(SHEET, "</sheetData>", rows)
    strings = "".join(
        f"<si><t>{p(place)}</t></si>" for place in ("shared string", "shared string that no cell shows")
    )
    box.add(
        "xl/sharedStrings.xml",
        f'<sst xmlns="{X}">{strings}</sst>',
        f"{XTYPE}.sharedStrings+xml",
        BOOK,
        "sharedStrings",
    )


def _around_sheet(box: Package, p: Plant) -> None:
    def add(name: str, data: str | bytes, kind: str, relation: str, source: str = SHEET) -> str:
        return box.add(name, data, kind, source, relation)

    threads = f'<ThreadedComments xmlns="{MS}/spreadsheetml/2018/threadedcomments"><threadedComment ref="B6"><text>{p("threaded comment")}</text></threadedComment></ThreadedComments>'
    add(
        "xl/threadedComments/threadedComment1.xml",
        threads,
        "application/vnd.ms-excel.threadedcomments+xml",
        f"{MS}/2017/10/relationships/threadedComment",
    )
    add(
        "xl/printerSettings/printerSettings1.bin",
        p("printer settings").encode("utf-16-le"),
        f"{XTYPE}.printerSettings",
        "printerSettings",
    )
    add(
        "xl/queryTables/queryTable1.xml",
        f'<queryTable xmlns="{X}" name="{p("query")}"/>',
        f"{XTYPE}.queryTable+xml",
        "queryTable",
    )
    add(
        "xl/pivotTables/pivotTable1.xml",
        f'<pivotTableDefinition xmlns="{X}" name="{p("pivot table")}"/>',
        f"{XTYPE}.pivotTable+xml",
        "pivotTable",
    )
    add(
        "xl/customProperty1.bin", p("custom property of a sheet"), f"{XTYPE}.customProperty", "customProperty"
    )
    ole = add(
        "xl/embeddings/oleObject1.bin",
        compound(p("OLE document")),
        "application/vnd.openxmlformats-officedocument.oleObject",
        "oleObject",
    )
    box.before(
        SHEET,
        "</worksheet>",
        f'<oleObjects xmlns:r="{R}"><oleObject progId="{p("program of an OLE object")}" shapeId="1" r:id="{ole}"/></oleObjects>',
    )
    extension = f'<extLst><ext uri="u"><x14:sparklineGroups xmlns:x14="{MS}/spreadsheetml/2009/9/main" displayEmptyCellsAs="{p("sparkline")}"/></ext></extLst>'
    box.before(SHEET, "</worksheet>", extension)
    box.swap(SHEET, "<sheetPr>", f'<sheetPr codeName="{p("code name of a sheet")}">')
    views = f'<customSheetViews><customSheetView guid="{p("view of a sheet")}"/></customSheetViews><scenarios><scenario name="{p("scenario")}" user="{p("user of a scenario")}"/></scenarios><protectedRanges><protectedRange name="{p("protected range")}" sqref="A1"/></protectedRanges>'
    box.after(SHEET, "</sheetData>", views)
    drawing = "xl/drawings/drawing1.xml"
    XDR = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
    shape = (
        f'<xdr:absoluteAnchor xmlns:xdr="{XDR}" xmlns:a="{A}" xmlns:r="{R}"><xdr:pos x="1" y="1"/><xdr:ext cx="9" cy="9"/><xdr:sp macro="{p("macro of a shape")}" textlink="{p("cell behind a shape")}">'
        f'<xdr:nvSpPr><xdr:cNvPr id="50" name="{p("name of a shape")}" descr="{p("alt text")}" title="{p("alt title")}"><a:hlinkClick r:id="" action="ppaction://program?{p("action of a shape")}"/></xdr:cNvPr><xdr:cNvSpPr/></xdr:nvSpPr>'
        f"<xdr:spPr/><xdr:txBody><a:bodyPr/><a:p><a:r><a:t>{p('text of a shape')}</a:t></a:r></a:p></xdr:txBody></xdr:sp><xdr:clientData/></xdr:absoluteAnchor>"
    )
    box.parts[drawing] = (
        box.parts[drawing]
        .replace(b"</wsDr>", shape.encode() + b"</wsDr>")
        .replace(b"</xdr:wsDr>", shape.encode() + b"</xdr:wsDr>")
    )
    assert b"absoluteAnchor" in box.parts[drawing]


def _around_book(box: Package, p: Plant) -> None:
    def add(name: str, data: str | bytes, kind: str, relation: str, source: str = BOOK) -> str:
        return box.add(name, data, kind, source, relation)

    other = add(
        "xl/externalLinks/externalLink1.xml",
        f'<externalLink xmlns="{X}"><externalBook><sheetNames><sheetName val="{p("sheet of another workbook")}"/></sheetNames><sheetDataSet><sheetData sheetId="0"><row r="1"><cell r="A1"><v>{p("cell of another workbook")}</v></cell></row></sheetData></sheetDataSet></externalBook></externalLink>',
        f"{XTYPE}.externalLink+xml",
        "externalLink",
    )
    box.link(
        "xl/externalLinks/externalLink1.xml",
        f"file:///S:/{urllib.parse.quote(p('path of another workbook'))}.xlsx",
        "externalLinkPath",
    )
    box.before(
        BOOK,
        "</workbook>",
        f'<externalReferences xmlns:r="{R}"><externalReference r:id="{other}"/></externalReferences>',
    )
    add(
        "xl/pivotCache/pivotCacheDefinition1.xml",
        f'<pivotCacheDefinition xmlns="{X}" refreshedBy="{p("user of a pivot cache")}"><cacheFields><cacheField name="a"><sharedItems><s v="{p("pivot cache")}"/></sharedItems></cacheField></cacheFields></pivotCacheDefinition>',
        f"{XTYPE}.pivotCacheDefinition+xml",
        "pivotCacheDefinition",
    )
    add(
        "xl/pivotCache/pivotCacheRecords1.xml",
        f'<pivotCacheRecords xmlns="{X}"><r><s v="{p("record of a pivot cache")}"/></r></pivotCacheRecords>',
        f"{XTYPE}.pivotCacheRecords+xml",
        "pivotCacheRecords",
        "xl/pivotCache/pivotCacheDefinition1.xml",
    )
    add(
        "xl/connections.xml",
        f'<connections xmlns="{X}"><connection name="{p("connection")}"><dbPr connection="{p("words of a connection")}" command="{p("query of a connection")}"/></connection></connections>',
        f"{XTYPE}.connections+xml",
        "connections",
    )
    add(
        "xl/persons/person.xml",
        f'<personList xmlns="{MS}/spreadsheetml/2018/threadedcomments"><person displayName="{p("person of a threaded comment")}" userId="{p("user id of a person")}"/></personList>',
        "application/vnd.ms-excel.person+xml",
        f"{MS}/2017/10/relationships/person",
    )
    add(
        "xl/revisions/userNames.xml",
        f'<users xmlns="{X}"><userInfo name="{p("user of a shared workbook")}"/></users>',
        f"{XTYPE}.userNames+xml",
        "usernames",
    )
    add("customXml/item1.xml", f"<x>{p('custom XML')}</x>", "application/xml", "customXml")
    add(
        "xl/slicers/slicer1.xml",
        f'<x caption="{p("slicer")}"/>',
        "application/vnd.ms-excel.slicer+xml",
        f"{MS}/2007/relationships/slicer",
        SHEET,
    )
    add(
        "xl/model/item.data",
        p("data model"),
        "application/vnd.openxmlformats-officedocument.model+data",
        f"{MS}/2011/relationships/powerPivotData",
    )
    words = "".join(
        f"<{word}>{p(f'app property {word}')}</{word}>" for word in ("Company", "Manager", "HyperlinkBase")
    )
    box.parts["docProps/app.xml"] = (
        f'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">{words}<TitlesOfParts>{p("titles of parts")}</TitlesOfParts></Properties>'.encode()
    )
    add(
        "docProps/custom.xml",
        f'<x name="{p("name of a custom property")}">{p("custom property")}</x>',
        "application/vnd.openxmlformats-officedocument.custom-properties+xml",
        "custom-properties",
        "",
    )
    path = f'<mc:AlternateContent xmlns:mc="{MC}"><mc:Choice xmlns:x15="{MS}/spreadsheetml/2010/11/main" Requires="x15"><x15ac:absPath xmlns:x15ac="{MS}/spreadsheetml/2010/11/ac" url="C:\\{p("path of the workbook")}\\"/></mc:Choice></mc:AlternateContent>'
    shared = f'<fileSharing userName="{p("user who reserved it")}"/>{path}<webPublishing characterSet="{p("publishing")}"/>'
    box.before(BOOK, "<sheets>", shared)
    box.swap(BOOK, "<workbookPr", f'<workbookPr codeName="{p("code name of the workbook")}"')
    box.before(
        "xl/styles.xml",
        "</styleSheet>",
        f'<extLst><ext uri="u"><x15:timelineStyles xmlns:x15="{MS}/spreadsheetml/2010/11/main" defaultTimelineStyle="{p("style of a timeline")}"/></ext></extLst>',
    )


def _misplaced_in_excel(box: Package, p: Plant) -> None:
    """What no program writes and one that attacks does."""
    loose = f'<row r="20"><v>{p("value outside a cell")}</v><is><t>{p("text outside a cell")}</t></is><c r="B20"><v>1</v><v>{p("second value of a cell")}</v></c></row><sheet name="{p("name of a sheet in a sheet")}"/>'
    box.before(SHEET, "</sheetData>", loose)
    box.before(
        "xl/styles.xml",
        "</styleSheet>",
        f'<t>{p("text in the styles")}</t><drawing xmlns:r="{R}" r:id="{p("relationship of the styles")}"/><oddHeader>{p("header in the styles")}</oddHeader>',
    )
    box.before(BOOK, "</sheets>", f"<formula>{p('formula in the workbook')}</formula>")
    box.before(
        SHEET,
        "</sheetData>",
        f'<row r="21"><c r="B21" t="inlineStr"><is><t xml:space="{p("space attribute")}">x</t></is></c></row>',
    )


def _of_the_zip(box: Package, p: Plant) -> None:
    box.parts[f"x/{p('name of a part')}.xml"] = b"<x/>"
    box.parts["orphan.xml"] = f"<x>{p('part that nothing refers to')}</x>".encode()
    box.comment = p("comment of the zip").encode()
    box.behind = p("bytes behind the zip").encode()
    box.loud = p("comment and extra field of a member")


# A zip of all of them.


class _Within(Plant):
    """Plants under a heading of its own, so that several files can name their places alike."""

    def __init__(self, plant: Plant, heading: str) -> None:
        super().__init__(plant.variant, plant.cores)
        self._heading = heading

    def __call__(self, place: str) -> str:
        return super().__call__(f"{self._heading}: {place}")


def build_zip(p: Plant) -> bytes:
    """A zip with each kind in it and a zip in it, with names of members, a comment and extra fields."""
    letter = build_docx(_Within(p, "inner document"), hostile=False)
    inner = _zipped({f"{p('name of an inner member')}.docx": letter}, p("comment of the inner zip"))
    members = {
        "a.pptx": attack_pptx.build(_Within(p, "presentation"), hostile=False),
        f"{p('name of a folder')}/b.docx": build_docx(_Within(p, "document"), hostile=False),
        "c.xlsx": build_xlsx(_Within(p, "workbook"), hostile=False),
        f"{p('name of a member')}.txt": f"Seen: {p('words of a text')}.".encode(),
        "inner.zip": inner,
        f"x.{p('ending of a member')}": b"?",
    }
    return _zipped(members, p("comment of the zip")) + p("bytes behind the zip").encode()


def _zipped(members: dict[str, bytes], comment: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.comment = comment.encode()
        for name, data in members.items():
            archive.writestr(name, data)
    return out.getvalue()
