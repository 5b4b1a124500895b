import base64
import gzip
import html
import io
import pickle
import quopri
import struct
import urllib.parse
import zipfile
from contextlib import suppress
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.identifiers import Declared
from mmbuilder.casefile import load
from mmbuilder.errors import FileRefused, IdentifierInOutput
from mmbuilder.resources import bundled_cases
from mmbuilder.scrub.printed import fixed
from mmbuilder.scrub.sweep import Known, dates, guard, known, parts, sweep
from mmbuilder.scrub.sweep.fold import fold, tokens
from mmbuilder.scrub.sweep.known import _name
from mmbuilder.scrub.sweep.raw import Forms
from tests.scrub.declared_list import CASE_DATES, KNOWN, SURNAME, packed


def found(text: str | bytes, name: str = "part.xml", known: Known = KNOWN) -> set[str]:
    data = text if isinstance(text, bytes) else text.encode()
    return {leak.kind for leak in sweep("deck.pptx", packed({name: data}), known)}


SURGEON, PATIENT = {"name of the surgeon"}, {"name of the patient"}
WAYS = {
    "plain": f"Operated by {SURNAME}.",
    "upper": f"<a:t>{SURNAME.upper()}</a:t>",
    "lower": f"<a:t>by {SURNAME.lower()} then</a:t>",
    "possessive": f"<a:t>{SURNAME}’s note</a:t>",
    "utf-16 little": ("\ufeff" + SURNAME).encode("utf-16-le"),
    "utf-16 big": ("\ufeff" + SURNAME).encode("utf-16-be"),
    "utf-16 unmarked": f"<a>{SURNAME}</a>".encode("utf-16-le"),
    "latin-1": f"<a>é {SURNAME}</a>".encode("latin-1"),
    "decimal entities": "".join(f"&#{ord(sign)};" for sign in SURNAME),
    "hex entities": "<a>" + "".join(f"&#x{ord(sign):x};" for sign in SURNAME) + "</a>",
    "entity in an entity": html.escape("".join(f"&#{ord(sign)};" for sign in SURNAME)),
    "percent": "".join(f"%{ord(sign):02X}" for sign in SURNAME),
    "percent, some": "https://example.org/?q=Quill%6Darkton",
    "quoted-printable": quopri.encodestring(f"Subject: é {SURNAME}".encode()).replace(b"kton", b"=6Bton"),
    "soft line break": b"Quillm=\r\narkton",
    "base64": base64.b64encode(f"<note>seen by {SURNAME}</note>".encode()),
    "base64 in lines": base64.encodebytes(f"{'x' * 50} seen by {SURNAME} {'y' * 50}".encode()),
    "base64 of utf-16": base64.b64encode(f"by {SURNAME}".encode("utf-16-le")),
    "split runs": "<a:p><a:r><a:t>Quill</a:t></a:r><a:r><a:rPr b='1'/><a:t>markton</a:t></a:r></a:p>",
    "split by three": "<w:p><w:t>Qu</w:t><w:t>illmar</w:t><w:t>kton</w:t></w:p>",
    "attribute": f'<p:cNvPr id="3" name="Picture 2" descr="{SURNAME}.jpg"/>',
    "another attribute": f'<x:y z="{SURNAME}"/>',
    "comment": f"<a><!-- {SURNAME} --></a>",
    "user name": f"a{SURNAME.lower()}@example.org",
    "path": f"C:\\Users\\dr{SURNAME.lower()}\\case",
    "camel case": f"{SURNAME}Eye.jpg",
    "run together": f"xx{SURNAME.lower()}xx",
    "combining accents": "Ondre\u0301a Quillmarkto\u0301n",
    "soft hyphen": "Quill\u00admark\u200bton",
    "javascript": "\\u0051uillmarkton",
    "office escape": "_x0051_uillmarkton",
    "json": f'{{"by": "{SURNAME}"}}',
}


@pytest.mark.parametrize("way", WAYS)
def test_a_surname_is_found_in_every_way_it_can_be_written(way):
    assert found(WAYS[way]) == SURGEON


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("seen by ONDREA QUILLMARKTON", SURGEON),
        ("Mrs Veldhoen went home", PATIENT),
        ("Brask Veldhoen", PATIENT),
        ("braskveldhoen.png", PATIENT),
        ("nurse Ulla Hand counted", {"name of the nurse"}),
        ("at St Yorricks", {"name of the hospital"}),
        ("NHS 9994765919", {"national number"}),
        ("999-476-5919", {"national number"}),
        ("<a:t>999 476</a:t><a:t> 5919</a:t>", {"national number"}),
        ("id0009994765919", {"national number"}),
        ("zx40417", {"record number"}),
        ("ZX 40417", {"record number"}),
        ("call 01632960417", {"phone number"}),
        ("asked The Lighthouse Keeper", {"declared word"}),
        ("on 14 March 2024", {"calendar date"}),
    ],
)
def test_variants_are_found(text, kinds):
    assert found(text) == kinds


@pytest.mark.parametrize(
    "text",
    [
        "The handle was on hand; hand movements at 1 m. Handling by hand.",
        "The team cooperated; cooperation helped, and a Cooper ligament repair followed.",
        "The lighthouse was dark and the keeper slept.",
        "Quill marks on the drape; Markton is a town elsewhere.",
        "9994765918 and 999476591 and 19994765 and 40417",
        '<a:off x="999476" y="5919000"/><a:ext cx="404170" cy="40417"/>',
        "Infirmary, saint and yorkshire",
        "T+0:14, Day 3, 14/24, 3.14, 2024 patients, 14 marches, version 14.3.24.1",
        "",
    ],
)
def test_nothing_fires_in_ordinary_words(text):
    assert found(text) == set()
    assert found(f"<a:p><a:r><a:t>{html.escape(text)}</a:t></a:r></a:p>") == set()


def test_the_tags_before_a_word_leave_it_at_the_head_of_its_sentence():
    """A name that is a word (`stone in the pole`) gets its capital from us where the words become a title."""
    known = Known.from_declared(
        Declared.model_validate({"people": [{"name": "Dr Stone", "role": "colleague"}]})
    )
    run = '<a:p><a:pPr marL="0" indent="0" algn="l"><a:buNone/></a:pPr><a:r><a:rPr lang="en-GB" sz="2800"/><a:t>'
    assert found(f"<a:sp>{run}Stone in the pole.</a:t></a:r></a:p></a:sp>", known=known) == set()
    assert found(f"<a:sp>{run}Seen by Stone.</a:t></a:r></a:p></a:sp>", known=known) == {
        "name of the colleague"
    }


@pytest.mark.parametrize(
    "written",
    [
        *(
            "14 March 2024",
            "14th March 2024",
            "14th of March, 2024",
            "March 14, 2024",
            "Mar 14 2024",
            "14-Mar-2024",
        ),
        *("14 Mar 24", "14.03.2024", "14/3/24", "3/14/2024", "2024-03-14", "2024:03:14 09:30:00", "20240314"),
        *("2024/3/14", "14 MARCH", "March 14th", "14-03-2024T09:30"),
    ],
)
def test_a_date_of_the_case_is_found_however_it_is_written(written):
    assert dates.holds(f"seen on {written} at noon", CASE_DATES)
    assert found(f"<a:t>{written}</a:t>") == {"calendar date"}


@pytest.mark.parametrize(
    "written", ["14 APR\u0130L 2024", "14 apr\u0131l 2024", "apr_14", "14th of april", "Apr14"]
)
def test_a_month_counts_with_either_i_and_with_a_day_right_behind_it(written):
    assert dates.holds(f"a margin of {written}", frozenset({date(2024, 4, 14)}))


@pytest.mark.parametrize(
    "written",
    ["15 March 2024", "2024-03-15", "14/04/2024", "14 March 2023", "114/03/2024", "2024031455", "99/99/9999"],
)
def test_other_dates_are_not_ours(written):
    assert not dates.holds(f"seen on {written}", CASE_DATES)


@given(
    st.dates(date(1950, 1, 1), date(2049, 12, 31)),
    st.sampled_from(["%d %B %Y", "%Y-%m-%d", "%d/%m/%y", "%b %d, %Y"]),
)
@settings(max_examples=80, deadline=None)
def test_any_date_is_found_as_python_writes_it(day, form):
    assert dates.holds(f"({day.strftime(form)})", frozenset([day]))


# --- where ------------------------------------------------------------------------------------


def test_leaks_name_part_kind_and_list_and_never_the_text():
    leaks = sweep("deck.pptx", packed({"ppt/slides/slide1.xml": f"<a:t>{SURNAME}</a:t>".encode()}), KNOWN)
    assert [(leak.part, leak.kind, leak.detector) for leak in leaks] == [
        ("ppt/slides/slide1.xml", "name of the surgeon", "declared")
    ]
    with pytest.raises(
        IdentifierInOutput,
        match=r"In deck\.pptx: the name of the surgeon in slide 1 \(person 1 of the private list\).*Words that stay",
    ) as raised:
        guard("deck.pptx", packed({"ppt/slides/slide1.xml": SURNAME.encode()}), KNOWN)
    assert SURNAME.lower() not in str(raised.value).lower()
    assert SURNAME not in repr(KNOWN)


def test_notes_are_told_by_their_slide_and_entries_by_their_place_on_the_list():
    deck = packed(
        {
            "ppt/notesSlides/notesSlide2.xml": b"<a:t>by B Veldhoen, ZX 40417</a:t>",
            "ppt/notesSlides/_rels/notesSlide2.xml.rels": b'<Relationship Target="../slides/slide11.xml"/>',
        }
    )
    with pytest.raises(IdentifierInOutput) as raised:
        guard("deck.pptx", deck, KNOWN)
    told = str(raised.value)
    assert "the name of the patient in the notes of slide 11 (person 2 of the private list)" in told
    assert "the record number in the notes of slide 11 (number 2 of the private list)" in told
    assert raised.value.entries == (("numbers", 1), ("people", 1))
    assert pickle.loads(pickle.dumps(raised.value)).entries == raised.value.entries  # from a process beside


def test_a_part_whose_name_leaks_is_told_by_its_place():
    leaks = sweep(
        "deck.pptx", packed({"ppt/media/image1.png": b"x", f"ppt/{SURNAME}.xml": SURNAME.encode()}), KNOWN
    )
    assert {leak.part for leak in leaks} == {
        "the file: part 2, its name",
        "the file: part 2",
        "the file: headers",
    }


def test_the_file_name_itself_is_searched():
    assert {leak.part for leak in sweep(f"{SURNAME}.pptx", packed({"a.xml": b"<a/>"}), KNOWN)} == {
        "file name"
    }


def test_nested_packages_comments_extra_fields_and_what_lies_around_are_searched():
    inner = packed({"word/document.xml": f"<w:t>{SURNAME}</w:t>".encode()})
    deeper = packed({"inner.docx": inner})
    places = {
        "nested": packed({"ppt/embeddings/a.xlsx": inner}),
        "nested twice": packed({"a.zip": deeper}),
        "comment": packed({"a.xml": b"<a/>"}, comment=SURNAME.encode()),
        "after the end": packed({"a.xml": b"<a/>"}) + b"\n" + SURNAME.encode(),
        "gzip": packed({"a.svgz": gzip.compress(f"<svg>{SURNAME}</svg>".encode())}),
        "in base64": packed({"a.html": b"<img src='data:x;base64," + base64.b64encode(inner) + b"'/>"}),
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as package:
        entry = zipfile.ZipInfo("a.xml")
        entry.extra = struct.pack("<HH", 0x7075, len(SURNAME)) + SURNAME.encode()
        package.writestr(entry, b"<a/>")
    places["extra field"] = out.getvalue()
    for place, data in places.items():
        assert {leak.kind for leak in sweep("deck.pptx", data, KNOWN)} == SURGEON, place


def test_a_part_that_the_directory_does_not_list_is_searched():
    whole = packed({"a.xml": b"<a/>", "b.xml": f"<a>{SURNAME} {SURNAME[::-1]}</a>".encode()})
    clean = packed({"a.xml": b"<a/>"})
    first, directory = whole.index(b"PK\x03\x04", 4), clean.index(b"PK\x01\x02")
    orphan = whole[first : whole.index(b"PK\x01\x02")]
    end = bytearray(clean[directory:])
    place = end.index(b"PK\x05\x06")
    end[place + 16 : place + 20] = struct.pack("<I", directory + len(orphan))
    data = clean[:directory] + orphan + bytes(end)
    assert zipfile.ZipFile(io.BytesIO(data)).namelist() == ["a.xml"]
    assert {leak.kind for leak in sweep("deck.pptx", data, KNOWN)} == SURGEON


def pdf(content, author=None):
    """A PDF of one page with this content, written by a library of somebody else's."""
    from pypdf import PdfWriter
    from pypdf.generic import NameObject, StreamObject

    writer, stream, body = PdfWriter(), StreamObject(), io.BytesIO()
    stream.set_data(content)
    page = writer.add_blank_page(200, 200)
    page[NameObject("/Contents")] = writer._add_object(stream.flate_encode())
    if author:
        writer.add_metadata({"/Author": author})
    writer.write(body)
    return body.getvalue()


def test_pdf_streams_and_kerned_text_are_searched():
    kerned = pdf(b"BT [(Quill) -20 (mark) 3.5 (ton)] TJ ET")
    assert {leak.kind for leak in sweep("a.pdf", kerned, KNOWN)} == SURGEON
    assert {leak.kind for leak in sweep("a.pdf", pdf(b"", SURNAME), KNOWN)} == SURGEON


def test_letters_by_the_number_of_their_shape_are_read_as_a_reader_shows_them():
    import typst

    page = typst.compile(f"Operated by {SURNAME}".encode(), format="pdf")
    assert SURNAME.encode() not in page
    assert {leak.kind for leak in sweep("a.pdf", page, KNOWN)} == SURGEON


def annotated(**said):
    """A PDF with a bookmark, a note on the page and a file in it, as a library of somebody else's writes them."""
    from pypdf import PdfWriter
    from pypdf.annotations import Text

    writer, body = PdfWriter(), io.BytesIO()
    writer.add_blank_page(200, 200)
    writer.add_outline_item(title=said.get("bookmark", "Start"), page_number=0)
    writer.add_annotation(page_number=0, annotation=Text(rect=(9, 9, 50, 50), text=said.get("note", "seen")))
    writer.add_attachment(filename="list.txt", data=said.get("file", b"nobody"))
    if "metadata" in said:
        writer.xmp_metadata = said["metadata"]
    writer.write(body)
    return body.getvalue()


XMP = (
    b'<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/">'
    b'<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about=""'
    b' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/">'
    b"<xmpMM:DocumentID>3/TJ/9+ET8BQ==</xmpMM:DocumentID><dc:language>en-TJ</dc:language>"
    b"<dc:title>%s</dc:title></rdf:Description></rdf:RDF></x:xmpmeta>"
)
NURSES = Known.from_declared(
    Declared.model_validate(
        {"people": [{"name": name, "role": "nurse"} for name in ("Tobin Jarrow", "Edda Tarn", "Bix Quell")]}
    )
)
NURSE = {"name of the nurse"}


@pytest.mark.parametrize(
    "holds",
    [
        pdf(b"(handed to TJ) Tj"),
        pdf(b"(handed to T\\112) Tj"),
        pdf(b"<68616E64656420746F20544A> Tj"),
        pdf(b"", "TJ"),
        pdf(b"/Span <</ActualText (by BQ)>> BDC EMC"),
        pdf(b"/Span <</Alt <FEFF0062007900200054004A>>> BDC EMC"),
        annotated(bookmark="Told by BQ"),
        annotated(note="ask BQ"),
        annotated(file=b"told by BQ"),
        annotated(file=packed({"list.txt": b"told by BQ"})),
        annotated(metadata=XMP % b"as BQ saw it"),
        pdf(b"% drawn for Tobin Jarrow"),
        pdf(b"/Tobin#20Jarrow gs"),
        pdf(b"(Jar) Tj 0 0 Td (row) Tj"),
        pdf(b"BI /W 1 /H 1 ID \x80Tobin Jarrow\x80 EI"),
    ],
)
def test_initials_and_names_in_what_a_pdf_says_are_found(holds):
    assert {leak.kind for leak in sweep("a.pdf", holds, NURSES)} == NURSE


@pytest.mark.parametrize(
    "holds",
    [
        pdf(b"q BT /TJ 9 Tf (hand) Tj [(ha) -20 (nd)] TJ ET B Q q B Q"),
        pdf(b"% ET\n/BQ <</TJ 1>> BDC (\\000T\\000J\\000 ) Tj EMC"),
        pdf(b"BI /W 1 /H 1 ID \x80 TJ BQ \x80 EI"),
        pdf(b"/CIDInit /ProcSet findresource begin begincmap 1 beginbfchar <00BA> <00ET> endbfchar endcmap"),
        annotated(),
        annotated(metadata=XMP % b"a hand"),
    ],
)
def test_commands_names_and_codes_of_a_pdf_are_nobody(holds):
    assert sweep("a.pdf", holds, NURSES) == ()


def test_no_two_letters_are_found_in_what_is_written_without_anybody():
    """All 676 pairs of initials at once: none is in commands, tags, styles, hashes, colours or packed bytes."""
    from string import ascii_uppercase as letters

    import typst

    everybody = [{"name": f"{one}qzxv {two}wvxqz", "role": "nurse"} for one in letters for two in letters]
    known = Known.from_declared(Declared.model_validate({"people": everybody}))
    colour = b"#box(fill: rgb(10%, 20%, 30%))[hand] = a heading"
    calendar = b"BEGIN:VCALENDAR\r\nPRODID:-//a//b//EN\r\nDTSTART;VALUE=DATE:20260201\r\nSUMMARY:hand\r\n"
    style = b'<html><style>p { font: 9pt "Segoe UI", serif; }</style><p>hand</p></html>'
    for data in (typst.compile(colour, format="pdf"), calendar, style, picture_of(bytes(range(256)) * 40)):
        assert sweep("a", data, known) == ()
    assert sweep("a", b"by XY", known)


def picture_of(noise):
    from PIL import Image

    out = io.BytesIO()
    Image.frombytes("L", (128, len(noise) // 128), noise).save(out, "PNG")
    return out.getvalue()


def test_a_name_that_a_sentence_of_ours_cites_stops_nothing():
    rows = next(words for words in fixed() if "Taylor-Adams" in words)
    known = Known.from_declared(
        Declared.model_validate({"people": [{"name": "Edda Taylor", "role": "nurse"}]})
    )
    assert sweep("a.html", f"<p>{rows}</p>".encode(), known) == ()
    assert sweep("a.txt", rows.replace(" ", "\r\n").encode(), known) == ()
    assert sweep("a.html", f"<p>{rows} Taylor came.</p>".encode(), known)
    assert sweep("a.html", b"<p>Taylor-Adams S</p>", known)


def test_a_pdf_that_cannot_be_opened_is_refused():
    with pytest.raises(FileRefused, match="damaged or locked"):
        sweep("a.pdf", b"%PDF-1.7\nnothing more", KNOWN)


def test_raw_bytes_among_noise_are_found_and_short_names_there_are_not():
    noise = bytes(range(256)) * 400
    assert found(noise + SURNAME.encode() + noise, "font.bin") == SURGEON
    assert found(noise + SURNAME.encode("utf-16-le") + noise, "font.bin") == SURGEON
    assert found(b"\0\1\2\x80Hand\0Jo\0" + noise, "font.bin") == set()


@given(st.binary(max_size=9000), st.binary(min_size=6, max_size=9), st.integers(0, 9000), st.booleans())
@settings(max_examples=60, deadline=None)
def test_forms_are_found_wherever_they_lie(noise, form, place, large):
    form = form.lower()
    noise = noise * 3 if large else noise
    data = noise[:place] + form.upper() + noise[place:]
    assert set(Forms({form: 4}).within(data)) == {4} or form not in data.lower()
    assert set(Forms({form: 4}).within(noise)) == ({4} if form in noise.lower() else set())


# --- any placement ----------------------------------------------------------------------------

AROUND = st.text(
    st.characters(
        codec="utf-8", exclude_categories=["Cs", "Cc", "L", "N", "M", "Cf"], exclude_characters="%&=\\<"
    ),
    max_size=30,
)
ENCODED = {
    "utf-8": str.encode,
    "utf-16": lambda text: text.encode("utf-16"),
    "entities": lambda text: text.encode("ascii", "xmlcharrefreplace"),
    "percent": lambda text: urllib.parse.quote(text).encode(),
    "base64": lambda text: b"value " + base64.b64encode(b"<some text> " + text.encode()) + b" end",
}


@given(AROUND, AROUND, st.sampled_from(sorted(ENCODED)), st.sampled_from([str, str.upper, str.lower]))
@settings(max_examples=150, deadline=None)
def test_any_placement_in_a_text_part_is_found(before, after, encoding, case):
    data = ENCODED[encoding](f"{before}{case(SURNAME)}{after}")
    assert found(data) >= SURGEON


@given(st.integers(1, len(SURNAME) - 1), st.sampled_from(["a:t", "w:t", "tspan"]))
def test_any_split_over_two_runs_is_found(place, tag):
    runs = f"<x><{tag}>by {SURNAME[:place]}</{tag}></x><x><{tag} b='1'>{SURNAME[place:]} then</{tag}></x>"
    assert found(f"<p>{runs}</p>") == SURGEON


@given(st.text())
def test_folding_is_stable(text):
    assert [fold(fold(word)) for word in tokens(text)] == [fold(word) for word in tokens(text)]


# --- hostile packages -------------------------------------------------------------------------


def test_a_zip_bomb_is_refused():
    bomb = packed({"a.xml": b"\0" * (30 * 2**20)})
    assert len(bomb) < 40_000
    with pytest.raises(FileRefused, match="zip bomb"):
        sweep("deck.pptx", bomb, KNOWN)


def test_packages_too_deep_too_many_or_too_large_are_refused(monkeypatch):
    data = b"<a/>"
    for _ in range(parts.MAX_DEPTH + 2):
        data = packed({"a.zip": data})
    with pytest.raises(FileRefused, match="deep"):
        sweep("deck.pptx", data, KNOWN)
    monkeypatch.setattr(parts, "MAX_TOTAL", 50)
    with pytest.raises(FileRefused, match="unpacks to over"):
        list(parts.pieces("f", packed({"a": b"12345" * 9, "b": b"123456"}), parts.Budget(50)))
    with pytest.raises(FileRefused, match="unpacks to over"):
        list(parts.pieces("f", packed({"a": b"1", "b": b"2"}), parts.Budget(50, 1)))


def test_damaged_and_locked_packages_are_refused_in_words():
    whole = packed({"a.xml": bytes(range(256)) * 90})
    with pytest.raises(FileRefused, match="damaged and cannot be opened"):
        sweep("deck.pptx", whole[: len(whole) // 2], KNOWN)
    broken = bytearray(whole)
    broken[60] ^= 0xFF
    with pytest.raises(FileRefused, match="part 1 is damaged"):
        sweep("deck.pptx", bytes(broken), KNOWN)
    locked = bytearray(whole)
    locked[whole.index(b"PK\x01\x02") + 8] |= 1
    with pytest.raises(FileRefused, match="locked"):
        sweep("deck.pptx", bytes(locked), KNOWN)


@given(
    st.binary(max_size=400),
    st.sampled_from([b"", b"PK\x03\x04", b"%PDF-1.4\n", b"\x1f\x8b\x08", b"\x89PNG\r\n\x1a\n"]),
)
@settings(max_examples=120, deadline=None)
def test_junk_is_swept_or_refused_and_nothing_else_is_raised(junk, head):
    with suppress(FileRefused):
        assert all(leak.kind for leak in sweep("a.bin", head + junk, KNOWN))


# --- what is known of a case ------------------------------------------------------------------


@pytest.fixture(scope="module")
def folder():
    root = bundled_cases()[0]
    case = load(root)
    files = {0: "IMG_20240314_4411.jpg", 1: "second-look.jpg", 2: "tear_at_edge.png"}
    frames = tuple(
        frame.model_copy(update={"file": FreeText(files[number])})
        for number, frame in enumerate(case.case.frames)
        if number in files
    )
    return replace(
        case, root=root.parent / "list_0317 Monday", case=case.case.model_copy(update={"frames": frames})
    )


def test_dates_names_of_files_and_of_the_folder_are_known(folder):
    looked_for = known(folder)
    assert looked_for.dates >= {folder.case.timeline.day_zero.date, folder.case.meeting.date}
    for text, kinds in {
        "IMG 20240314 4411": {"original file name"},
        "see Second-Look.JPG": {"original file name"},
        "a second-look operation; a second look": set(),
        "tear_at_edge": {"original file name"},
        "the tear at edge": set(),
        "list_0317 monday": {"name of the case folder"},
        f"on {folder.case.timeline.day_zero.date:%d %B %Y}": {"calendar date"},
    }.items():
        assert found(text, known=looked_for) == kinds, text


def test_every_declared_name_of_a_bundled_case_is_found_whole(folder):
    looked_for = known(folder)
    for person in folder.declared.people:
        assert f"name of the {person.role.value}" in found(
            f"<a:t>{person.name.value}</a:t>", known=looked_for
        )
    for number in folder.declared.numbers:
        assert number.kind.value in found(f"<a:t>{number.value.value}</a:t>", known=looked_for)


def test_nothing_generic_is_looked_for():
    assert list(_name("frame-01", "frame-01.png", "x")) == []
    assert list(_name("IMG_003", "IMG_003.jpg", "x")) == []


@pytest.mark.parametrize(
    "written",
    ["Quillmark-\nton", "quillmark-ton", "Quill_markton", "DrQuillmarkton", "drveldhoen", "Quillmarktonʼs"],
)
def test_a_broken_or_glued_name_is_found(written: str) -> None:
    assert sweep("deck.txt", f"then {written} left".encode(), KNOWN)


@pytest.mark.parametrize("written", ["患者王小明来了", "by 王小明 today", "王小明"])
def test_a_name_without_spaces_round_it_is_found(written: str) -> None:
    known = Known.from_declared(Declared.model_validate({"people": [{"name": "王小明", "role": "patient"}]}))
    assert sweep("deck.txt", written.encode(), known)
    assert not sweep("deck.txt", "患者来了".encode(), known)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("by Dr Quilmarkton then", SURGEON),
        ("<p><a:t>Quill </a:t><a:t>markton</a:t></p>", set()),
        ("seen with Quillmarktno", SURGEON),
        ("Q u i l l m a r k t o n", SURGEON),
        ("Quіllmаrktоn", SURGEON),
        ("opnotequillmarktonfinal", SURGEON),
        ("960417", {"phone number"}),
        ("<a:t>960 417</a:t>", {"phone number"}),
        ("999 476 59l9", {"national number"}),
        (b"Quillmarkton".hex(), SURGEON),
        (b"Quillmarkton".hex(" "), SURGEON),
        (base64.b64encode(b"Quillmarkton").decode(), SURGEON),
        ('<a:off x="960417" y="5919000"/><path d="M960 417 L 96 0417"/>', set()),
    ],
)
def test_the_finder_of_the_scrubber_reads_the_words_too(text, kinds):
    assert found(text) == kinds


def test_coordinates_of_a_drawing_are_no_numbers():
    assert sweep("a.pdf", pdf(b"960 417 m 96 0417 l S"), KNOWN) == ()
