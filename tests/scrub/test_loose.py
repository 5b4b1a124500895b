import csv
import io
import os
import signal
import zipfile
from pathlib import Path

import docx
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw, ImageFont

from mmbuilder.errors import CaseInvalid
from mmbuilder.scrub import loose, textfile
from mmbuilder.scrub.containers.tools import Scrubber
from mmbuilder.scrub.images.metadata import kinds
from mmbuilder.scrub.loose import Job, plan_files, read_declared, scrub_file
from mmbuilder.scrub.many import DIED, in_processes, scrub_files
from mmbuilder.scrub.plan import Decision, PixelBox
from tests.scrub.declared_list import DECLARED, SURNAME
from tests.scrub.images.extras import need
from tests.scrub.images.files import CANARY, EVERY, heic, jpeg, picture, saved
from tests.scrub.images.seeing import nobody_looks, one_looks

NOTE = (
    f"Seen by Dr {SURNAME} on 14 March 2024.\r\nHand movements at 1 m, 6/9 later.\r\n\r\n"
    "Ring 01632 960417.\r\n"
)


@pytest.fixture(autouse=True)
def _nobody_looks_at_pictures(monkeypatch):
    nobody_looks(monkeypatch)


def scrubbed(tmp_path, name: str, data: bytes, **options) -> tuple[loose.Outcome, bytes]:
    source = tmp_path / "in" / name
    source.parent.mkdir(parents=True, exist_ok=True)
    source.write_bytes(data)
    outcome = scrub_file(source, tmp_path / "out", DECLARED, **options)
    assert source.read_bytes() == data
    return outcome, outcome.written.read_bytes() if outcome.written else b""


def test_a_note_keeps_all_but_its_identifiers(tmp_path):
    outcome, data = scrubbed(tmp_path, "note.txt", NOTE.encode())
    assert data.decode() == (
        "Seen by the surgeon on [date].\r\nHand movements at 1 m, 6/9 later.\r\n\r\nRing [phone number].\r\n"
    )
    assert outcome.written == tmp_path / "out" / "note.txt"
    assert [NOTE[found.start : found.end] for found in outcome.findings] == [
        f"Dr {SURNAME}",
        "14 March 2024",
        "01632 960417",
    ]
    assert [found.where for found in outcome.findings] == ["line 1", "line 1", "line 4"]


def test_findings_hold_no_text(tmp_path):
    outcome, _ = scrubbed(tmp_path, "note.txt", NOTE.encode())
    told = outcome.as_dict()
    assert set(told) >= {"file", "findings"}
    assert all(
        set(found) == {"kind", "where", "start", "end", "box", "layer", "confidence", "kept"}
        for found in told["findings"]
    )
    assert SURNAME not in repr(told)
    assert SURNAME not in repr(outcome)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings_and_their_marks_are_kept(tmp_path, encoding):
    text = f"Größe: 3 mm\r\nby Dr {SURNAME}\r\n"
    _, data = scrubbed(tmp_path, "a.md", text.encode(encoding))
    assert data == "Größe: 3 mm\r\nby the surgeon\r\n".encode(encoding)


def test_a_table_keeps_its_quoting_and_other_cells(tmp_path):
    text = (
        'time;note;by\r\n09:30;"said ""no""; stopped";x\r\n'
        f'09:31;"asked Dr {SURNAME}; then ""yes""";Ulla Hand\r\n09:32;;\r\n'
    )
    outcome, data = scrubbed(tmp_path, "a.csv", text.encode())
    assert data.decode() == (
        'time;note;by\r\n09:30;"said ""no""; stopped";x\r\n'
        '09:31;"asked the surgeon; then ""yes""";The nurse\r\n09:32;;\r\n'
    )
    assert [text[found.start : found.end] for found in outcome.findings] == [f"Dr {SURNAME}", "Ulla Hand"]


def test_offsets_after_doubled_quotes_are_those_of_the_file(tmp_path):
    text = f'note\n"the ""old"" scar, says Dr {SURNAME}"\n'
    outcome, _ = scrubbed(tmp_path, "a.csv", text.encode())
    (found,) = outcome.findings
    assert text[found.start : found.end] == f"Dr {SURNAME}"


@pytest.mark.parametrize(
    ("table", "stays"),
    [
        (
            "| Case | Patient | MRN |\n|---|:--|--:|\n| 1 | Vashimburth | 7319944 |\n\nThe cornea was clear.\n",
            "| 1 |",
        ),
        (
            "Case\tPatient\tMRN\tPressure\n1\tVashimburth\t7319944\t24\n2\tVashimburth\t7319944\t18\n",
            "\t24\n2\t",
        ),
        (
            "Case   Patient       MRN      Pressure\n1      Vashimburth   7319944  24\n",
            "  24\n",
        ),
        (
            "Zi | Pat | MRN | Dx\n12 | Vashimburth | 7319944 | TAPP\n14 | Vashimburth | 7319945 | ERCP\n",
            "| TAPP\n",
        ),
        ("Eye | Patient\r\n--- | ---\r\nleft | Vashimburth\r\nright ||\r\n", "right ||\r\n"),
    ],
)
def test_a_heading_tells_what_a_cell_of_a_table_in_a_text_is(tmp_path, table, stays):
    outcome, result = scrubbed(tmp_path, "a.md", table.encode())
    assert b"Vashimburth" not in result
    assert b"7319944" not in result
    assert stays.encode() in result
    assert all(table.encode()[found.start : found.end].strip() for found in outcome.findings)


def test_what_stands_under_no_heading_of_a_person_stays():
    for table in (
        b"Finding | Drug\n---|---\nFlare | Moxifloxacin\nclear | none\n",
        b"Finding\tDrug\tDose\nFlare\tMoxifloxacin\t1\nclear\tnone\t2\n",
        b"The patient was seen.  The eye  was red.\nMoxifloxacin was  given.  It  helped.\n",
        b"",
        b"\n\n|\n||\n  \n\t\t\n",
    ):
        assert textfile.plain(table.decode(), Scrubber().look)[0] == table.decode()


def test_words_in_the_cells_of_a_table_stay(tmp_path):
    table = b"time,Response,status,Colour,Stain\n0905,Good,open,Brown,TTF-1\n0912,slow,Done,green,CK20\n"
    assert scrubbed(tmp_path, "a.csv", table)[1] == table


def test_marks_inside_a_line_do_not_part_a_declared_name(tmp_path):
    _, result = scrubbed(tmp_path, "a.md", b"By Mr <b>Quill</b>markton; Hb <7 and <i>never</i> >9.\n")
    assert result == b"By Mr <b>the surgeon; Hb <7 and <i>never</i> >9.\n"


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.csv", "Name,Ward,Surgeon,Hb\nYoung,Curlew,West,82\nHope,4A,Ng,91\n"),
        ("a.txt", "Name\tWard\tSurgeon\tHb\nYoung\tCurlew\tWest\t82\nHope\t4A\tNg\t91\n"),
        (
            "a.md",
            "| Name | Ward | Surgeon | Hb |\n|---|---|---|---|\n| Young | Curlew | West | 82 |\n| Hope | 4A | Ng | 91 |\n",
        ),
    ],
)
def test_a_heading_tells_who_stands_below_it(name: str, text: str, tmp_path: Path) -> None:
    """Which headings tables have is common practice, no source."""
    _, data = scrubbed(tmp_path, name, text.encode())
    told = data.decode()
    assert not [word for word in ("Young", "Curlew", "West", "Hope", "4A", "Ng") if word in told]
    assert [word for word in ("Name", "Ward", "Surgeon", "82", "91") if word in told] == [
        "Name",
        "Ward",
        "Surgeon",
        "82",
        "91",
    ]


def test_a_heading_tells_what_a_cell_is(tmp_path):
    _, data = scrubbed(tmp_path, "a.csv", b"MRN,sbp\n4471902,120\n4471903,118\n")
    assert data == b"MRN,sbp\n[record number],120\n[record number],118\n"


TABLES = st.lists(
    st.lists(st.text(st.characters(codec="ascii", categories=["L", "N", "P", "Zs"])), min_size=2, max_size=4),
    min_size=1,
    max_size=5,
)


@given(TABLES, st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL]))
@settings(max_examples=60, deadline=None)
def test_cells_are_those_the_standard_library_reads(table, quoting):
    out = io.StringIO()
    csv.writer(out, quoting=quoting).writerows(table)
    text = out.getvalue()
    rows: dict[int, list[str]] = {}
    for cell in textfile.cells(text, ","):
        assert text[cell.start : cell.start + len(cell.raw)] == cell.raw
        rows.setdefault(cell.row, []).append(cell.says)
    assert [rows[number] for number in sorted(rows)][: len(table)] == list(
        csv.reader(io.StringIO(text, newline=""))
    )


def test_yaml_keeps_comments_and_its_meaning(tmp_path):
    text = (
        f"# by Dr {SURNAME}\ncase: 3   # a comment\nday zero: 14 March 2024  # the day\n"
        f"who: asked {SURNAME} twice\n"
        'list:\n  - 14 March 2024\n  - "call 01632 960417"\n  - [1, 2]\n'
    )
    _, data = scrubbed(tmp_path, "a.yaml", text.encode())
    assert SURNAME not in data.decode()
    assert "# by the surgeon\n" in data.decode()
    assert "3   # a comment\n" in data.decode()
    assert yaml.safe_load(data) == {
        "case": 3,
        "day zero": "[date]",
        "who": "asked the surgeon twice",
        "list": ["[date]", "call [phone number]", [1, 2]],
    }


@pytest.mark.parametrize("kind", EVERY)
def test_pictures_are_written_anew_in_their_own_format(tmp_path, kind):
    outcome, data = scrubbed(tmp_path, f"sub.{kind.lower()}", EVERY[kind])
    assert outcome.written is not None
    assert kinds(data) == ()
    assert CANARY.encode() not in data
    assert Image.open(io.BytesIO(data)).format == kind.upper()
    assert {found.kind for found in outcome.findings} == set(kinds(EVERY[kind]))
    assert any("text in the picture: not looked for" in note for note in outcome.notes)


def test_what_was_looked_for_is_not_said_to_be_unlooked(tmp_path, monkeypatch):
    one_looks(monkeypatch)
    assert not [note for note in scrubbed(tmp_path, "a.png", EVERY["PNG"])[0].notes if "not looked" in note]


def test_boxes_of_a_finder_are_covered_and_told(tmp_path, monkeypatch):
    finder = one_looks(monkeypatch, PixelBox(2, 3, 20, 9, "text"))
    outcome, data = scrubbed(tmp_path, "a.png", saved(picture(), "PNG"))
    assert [found.box for found in outcome.findings] == [(2, 3, 20, 9)]
    assert outcome.as_dict()["findings"][0]["box"] == [2, 3, 20, 9]
    assert Image.open(io.BytesIO(data)).getpixel((10, 5)) == (64, 64, 64)
    assert len(finder.sizes) == 2  # and again after covering


def test_what_may_stay_is_told_apart_with_its_reason(tmp_path, monkeypatch):
    keep = PixelBox(2, 3, 20, 9, "text", decision=Decision.KEEP, reason="scale bar")
    one_looks(monkeypatch, keep)
    outcome, data = scrubbed(tmp_path, "a.png", saved(picture(), "PNG"))
    assert outcome.findings == ()
    assert [(found.kind, found.kept, found.box) for found in outcome.kept] == [
        ("text", "scale bar", (2, 3, 20, 9))
    ]
    assert Image.open(io.BytesIO(data)).getpixel((10, 5)) == (200, 40, 40)
    assert outcome.as_dict()["kept"][0]["kept"] == "scale bar"


def test_a_picture_in_which_something_is_always_found_is_refused(tmp_path, monkeypatch):
    finder = one_looks(monkeypatch)
    finder.sees = lambda image: (PixelBox(len(finder.sizes) * 5, 0, len(finder.sizes) * 5 + 4, 9, "text"),)
    outcome, _ = scrubbed(tmp_path, "a.png", saved(picture(), "PNG"))
    assert outcome.written is None
    assert "still found" in outcome.refused


def test_words_in_a_picture_are_covered_by_the_parts_that_are_installed(tmp_path, monkeypatch):
    need("ocr", "onnxruntime", "cv2")
    monkeypatch.undo()
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    image = Image.new("RGB", (640, 240), (20, 20, 20))
    ImageDraw.Draw(image).text((60, 90), SURNAME, (240, 240, 240), font=ImageFont.load_default(36))
    outcome, data = scrubbed(tmp_path, "a.png", saved(image, "PNG"))
    (found,) = outcome.findings
    assert found.layer == "model"
    assert Image.open(io.BytesIO(data)).convert("L").crop((55, 85, 400, 140)).getextrema()[1] <= 64


def test_a_large_photograph_keeps_its_size(tmp_path):
    _, data = scrubbed(tmp_path, "a.png", saved(Image.new("RGB", (3000, 20)), "PNG"))
    assert Image.open(io.BytesIO(data)).size == (3000, 20)


def test_a_picture_under_another_name_is_told(tmp_path):
    outcome, data = scrubbed(tmp_path, "a.jpg", saved(picture(), "PNG"))
    assert data.startswith(b"\x89PNG")
    assert any("PNG picture" in note for note in outcome.notes)


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.pdf", b"%PDF-1.7", "damaged or cut short"),
        ("a.pptx", b"PK\x03\x04", "damaged"),
        ("a.txt", b"%PDF-1.7 in disguise", "PDF document"),
        ("a.json", b"{}", "a file of this kind is not read"),
        ("a.mp4", b"\0\0\0\x18ftypisom", "video"),
        ("a.txt", b"\x00\x01\x02", "no plain text"),
        ("a.txt", b"", "empty"),
        ("a.png", b"", "empty"),
        ("a.docx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "locked|older|not read"),
        ("a.png", saved(picture(), "PNG")[:90], "cut short|damaged"),
        ("identifiers.yaml", b"people: []", "never copied"),
    ],
)
def test_what_cannot_be_read_is_refused_and_never_passed_on(tmp_path, name, data, words):
    outcome, _ = scrubbed(tmp_path, name, data)
    assert outcome.written is None
    assert any(part in outcome.refused for part in words.split("|"))
    assert not (tmp_path / "out" / name).exists()


def test_a_text_over_the_bound_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(textfile, "MAX_TEXT", 10)
    assert "MB" in scrubbed(tmp_path, "a.txt", b"x" * 11)[0].refused


def test_links_and_pipes_are_refused(tmp_path):
    (tmp_path / "real.txt").write_text("words")
    (tmp_path / "link.txt").symlink_to(tmp_path / "real.txt")
    os.mkfifo(tmp_path / "pipe.txt")
    assert "link" in scrub_file(tmp_path / "link.txt", tmp_path / "out").refused
    assert "no plain file" in scrub_file(tmp_path / "pipe.txt", tmp_path / "out").refused
    assert scrub_file(tmp_path / "none.txt", tmp_path / "out").refused


def test_the_source_is_never_written_to(tmp_path):
    source = tmp_path / "a.txt"
    source.write_text(SURNAME)
    assert "original" in scrub_file(source, tmp_path, DECLARED).refused
    (tmp_path / "out").symlink_to(tmp_path)
    assert "original" in scrub_file(source, tmp_path / "out", DECLARED).refused
    assert source.read_text() == SURNAME
    hard = tmp_path / "hard" / "a.txt"
    hard.parent.mkdir()
    hard.hardlink_to(source)
    assert "original" in scrub_file(source, hard.parent, DECLARED).refused


def test_nothing_is_written_outside_the_output_folder(tmp_path):
    source = tmp_path / "a.txt"
    source.write_text("words")
    (tmp_path / "else").mkdir()
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "sub").symlink_to(tmp_path / "else")
    assert "leads out" in scrub_file(Job(source, loose.Path("../b.txt")), tmp_path / "out").refused
    assert "leads out" in scrub_file(Job(source, loose.Path("sub/b.txt")), tmp_path / "out").refused
    assert list((tmp_path / "else").iterdir()) == []


def test_a_failed_write_leaves_what_was_there(tmp_path, monkeypatch):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "a.txt").write_text("old")

    def full(self, target):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(loose.Path, "replace", full)
    outcome, _ = scrubbed(tmp_path, "a.txt", b"new words")
    assert "No space left" in outcome.refused
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["a.txt"]
    assert (tmp_path / "out" / "a.txt").read_text() == "old"


def open_document() -> bytes:
    """Its first member is stored and says the kind (OpenDocument 1.2 part 3, 2.2.4, from memory)."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.text")
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "data", "kind"),
    [
        ("a.txt", rb"{\rtf1\ansi Seen by Dr \'54arnvolk}", "Rich Text document"),
        ("a.odt", open_document(), "OpenDocument file"),
        ("a.ppt", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "old Office document"),
    ],
)
def test_what_an_office_program_can_save_again_is_refused_with_that_advice(tmp_path, name, data, kind):
    """A Rich Text document writes letters as figures, so no search of its bytes as text would find them."""
    outcome, _ = scrubbed(tmp_path, name, data)
    assert outcome.refused.startswith(f"a file of this kind ({kind}) is not read; ")
    assert outcome.refused.endswith("save it as .docx, .pptx or .xlsx without a password")
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("ending", ["docm", "dotx"])
def test_a_template_or_one_with_macros_is_told_to_be_saved_not_renamed(tmp_path, ending):
    made = io.BytesIO()
    docx.Document().save(made)
    outcome, _ = scrubbed(tmp_path, f"a.{ending}", made.getvalue())
    assert "open it and save it as .docx" in outcome.refused
    assert "give it" not in outcome.refused


def test_a_fault_of_ours_is_that_files_refusal_and_quotes_nothing(tmp_path, monkeypatch):
    def broken(text, look):
        raise ValueError(text)

    monkeypatch.setitem(textfile.KINDS, ".txt", broken)
    outcome, _ = scrubbed(tmp_path, "a.txt", f"by {SURNAME}".encode())
    assert "a fault of the program itself (ValueError at mmbuilder." in outcome.refused
    assert SURNAME not in outcome.refused
    assert not (tmp_path / "out").exists()


def several(tmp_path, count: int = 5):
    for number in range(count):
        (tmp_path / "in").mkdir(exist_ok=True)
        (tmp_path / "in" / f"{number}.txt").write_text(f"Seen by Dr {SURNAME}, {number} times.")
    (tmp_path / "in" / "2.txt").write_bytes(b"%PDF-1.7")
    return plan_files([tmp_path / "in"])


def test_several_processes_give_what_one_gives_and_one_bad_file_stops_nothing(tmp_path):
    jobs, told = several(tmp_path), []
    names = tmp_path / "names.yaml"
    names.write_text(f"people:\n  - name: {SURNAME}\n    role: surgeon\n")
    alone = scrub_files(jobs, tmp_path / "one", names)
    shared = scrub_files(jobs, tmp_path / "two", names, processes=2, done=told.append)
    assert [bool(outcome.refused) for outcome in shared] == [False, False, True, False, False]
    assert len(told) == 5
    assert [(one.file, one.findings, one.refused) for one in alone] == [
        (one.file, one.findings, one.refused) for one in shared
    ]
    for outcome in alone:
        if outcome.written:
            assert (tmp_path / "two" / outcome.written.name).read_bytes() == outcome.written.read_bytes()


def dies(job: Job) -> loose.Outcome:
    """Work for a process that is killed by one of its files."""
    if job.path.name == "3.txt":
        os.kill(os.getpid(), signal.SIGKILL)
    return loose.Outcome(job.path)


def test_a_process_that_dies_is_told_as_its_files_refusal(tmp_path):
    refused = {job.path.name: outcome.refused for job, outcome in in_processes(several(tmp_path), dies, 2)}
    assert refused == {"0.txt": "", "1.txt": "", "2.txt": "", "3.txt": DIED, "4.txt": ""}


def test_stand_ins_are_told_only_if_asked(tmp_path):
    text = f"by Dr {SURNAME}".encode()
    assert scrubbed(tmp_path, "a.txt", text)[0].stand_ins == {}
    outcome, _ = scrubbed(tmp_path, "a.txt", text, keep_stand_ins=True)
    assert outcome.stand_ins == {"the surgeon": [f"Dr {SURNAME}"]}
    assert SURNAME not in repr(outcome)
    assert SURNAME not in repr(outcome.as_dict())


def test_a_leak_in_the_result_stops_it(tmp_path, monkeypatch):
    monkeypatch.setitem(textfile.KINDS, ".txt", lambda text, look: (text, []))
    outcome, _ = scrubbed(tmp_path, "a.txt", f"by {SURNAME}".encode())
    assert "still holds" in outcome.refused
    assert SURNAME not in outcome.refused
    assert not (tmp_path / "out" / "a.txt").exists()


def test_folders_keep_their_names_below(tmp_path):
    for name in ("in/b/x.txt", "in/a.txt", "other/a.txt"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("words")
    (tmp_path / "in" / "loop").symlink_to(tmp_path / "in")
    names = [str(job.relative) for job in plan_files([tmp_path / "in"])]
    assert names == ["a.txt", "b/x.txt"]
    both = [
        str(job.relative)
        for job in plan_files([tmp_path / "in", tmp_path / "other", tmp_path / "in/b/x.txt"])
    ]
    assert both == ["in/a.txt", "b/x.txt", "other/a.txt", "x.txt"]


def test_no_two_results_share_a_name_and_results_are_no_sources(tmp_path):
    for name in ("a/x/n.txt", "b/x/n.txt", "out/n.txt"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("words")
    jobs = plan_files([tmp_path / "a" / "x", tmp_path / "b" / "x"])
    assert [str(job.relative) for job in jobs] == ["x/n.txt", "x/n 2.txt"]
    assert [str(job.relative) for job in plan_files([tmp_path], tmp_path / "out")] == [
        "a/x/n.txt",
        "b/x/n.txt",
    ]


def test_a_new_ending_takes_no_other_files_place(tmp_path):
    for name in ("a.heic", "a.jpg"):
        (tmp_path / name).write_bytes(heic() if name == "a.heic" else jpeg())
    jobs = plan_files([tmp_path / "a.heic", tmp_path / "a.jpg"])
    assert [one.written.name for one in scrub_files(jobs, tmp_path / "out")] == ["a.heic.jpg", "a.jpg"]
    assert scrub_file(tmp_path / "a.heic", tmp_path / "alone").written.name == "a.jpg"


def test_names_are_scrubbed_only_when_asked(tmp_path):
    name = f"{SURNAME}_left_eye.txt"
    assert scrubbed(tmp_path, name, b"words")[0].written.name == name
    renamed = scrubbed(tmp_path, name, b"words", rename=True)[0].written.name
    assert SURNAME.lower() not in renamed.lower()
    assert renamed.endswith("left eye 1.txt")
    assert scrubbed(tmp_path, "notes_1.txt", b"words", rename=True)[0].written.name == "notes_1.txt"


def test_a_name_that_stays_and_may_identify_is_noted(tmp_path):
    kept = scrubbed(tmp_path, f"Dr {SURNAME}.txt", b"words")[0]
    assert kept.written.name == f"Dr {SURNAME}.txt"
    assert loose.NAMED in kept.notes
    assert loose.NAMED not in scrubbed(tmp_path, "left eye_1.txt", b"words")[0].notes
    assert loose.NAMED not in scrubbed(tmp_path, f"Dr {SURNAME}.txt", b"words", rename=True)[0].notes


def test_a_private_list_is_read_from_anywhere_or_told_whole(tmp_path):
    path = tmp_path / "mine.yaml"
    path.write_text(f"people:\n  - name: {SURNAME}\n    role: surgeon\n")
    assert len(read_declared(path).people) == 1
    path.write_text(f"people:\n  - name: {SURNAME}\n    role: sorgeon\nnumbrs: []\n")
    with pytest.raises(CaseInvalid) as raised:
        read_declared(path)
    assert len(raised.value.problems) >= 2
    assert SURNAME not in "".join(map(repr, raised.value.problems))
