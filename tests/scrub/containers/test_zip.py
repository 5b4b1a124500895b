import io
import stat
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.loose import scrub_file
from mmbuilder.scrub.sweep import Known, sweep
from tests.scrub.containers.files import dicom, laden_pdf
from tests.scrub.declared_list import DECLARED, SURNAME, packed
from tests.scrub.images.files import EVERY, READABLE


@pytest.fixture(autouse=True)
def _no_finders(monkeypatch):
    """Pixel finders and the name model have tests of their own, and take their time."""
    monkeypatch.setattr(regions, "finders", lambda: ())
    monkeypatch.setattr(tools, "name_model", NoNameModel)


def scrubbed(tmp_path, data: bytes, name: str = "a.zip"):
    source = tmp_path / "in" / name
    source.parent.mkdir(exist_ok=True)
    source.write_bytes(data)
    outcome = scrub_file(source, tmp_path / "out", DECLARED)
    return outcome, outcome.written.read_bytes() if outcome.written else b""


def members(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


NOTE = f"Seen by Dr {SURNAME}.\n".encode()


def test_members_of_every_kind_are_scrubbed_nested_ones_too(tmp_path):
    inner = packed({"deep.txt": NOTE, f"{SURNAME}.png": EVERY["PNG"]})
    data = packed(
        {
            f"{SURNAME}/note_1.md": NOTE,
            "a.pdf": laden_pdf(),
            "x.dcm": dicom(),
            "photo.heic": READABLE["HEIC"],
            "inner.zip": inner,
        },
        comment=SURNAME.encode(),
    )
    assert sweep("a", data, Known.from_declared(DECLARED))
    outcome, result = scrubbed(tmp_path, data)
    made = members(result)
    assert list(made) == ["The surgeon/note_1.md", "a.pdf", "x.dcm", "photo.jpg", "inner.zip"]
    assert made["The surgeon/note_1.md"] == b"Seen by the surgeon.\n"
    assert members(made["inner.zip"])["deep.txt"] == b"Seen by the surgeon.\n"
    assert sweep("a", result, Known.from_declared(DECLARED)) == ()
    assert {"comment of the archive", "name of a member", "declared name"} <= {
        finding.kind for finding in outcome.findings
    }


def test_nothing_of_the_archive_itself_is_carried_over(tmp_path):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        info = zipfile.ZipInfo("a.txt", (2024, 3, 14, 10, 15, 0))
        info.comment, info.extra = SURNAME.encode(), b"\xfe\xca\x04\x00abcd"
        info.external_attr = 0o640 << 16
        archive.writestr(info, "words")
    before = SURNAME.encode() + out.getvalue() + SURNAME.encode()
    # A self-extracting archive has a program before it: its bytes do not say zip, so it is refused.
    assert scrubbed(tmp_path, before)[0].refused
    _, result = scrubbed(tmp_path, out.getvalue() + SURNAME.encode(), "b.zip")
    with zipfile.ZipFile(io.BytesIO(result)) as archive:
        (info,) = archive.infolist()
        assert info.date_time == (1980, 1, 1, 0, 0, 0)
        assert (info.comment, info.extra, archive.comment) == (b"", b"", b"")
    assert SURNAME.encode() not in result
    assert scrubbed(tmp_path, out.getvalue(), "c.zip")[1] == result


def test_what_is_of_no_kind_that_is_read_is_left_out_and_said(tmp_path):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("a.txt", "words")
        archive.writestr(f"{SURNAME}.exe", b"MZ")
        archive.writestr("identifiers.yaml", f"people: [{SURNAME}]")
        link = zipfile.ZipInfo("link.txt")
        link.create_system, link.external_attr = 3, (stat.S_IFLNK | 0o777) << 16
        archive.writestr(link, f"/home/{SURNAME}")
        archive.writestr("broken.pdf", b"%PDF-1.7")
        archive.writestr("liar.txt", b"%PDF-1.7")
    outcome, result = scrubbed(tmp_path, out.getvalue())
    assert list(members(result)) == ["a.txt"]
    assert [part.partition(":")[0] for part in outcome.dropped] == [f"file {n}" for n in range(2, 7)]
    assert SURNAME not in repr(outcome.dropped)


def test_one_person_has_one_stand_in_through_all_members(tmp_path):
    data = packed(
        {
            "1.txt": b"Dr Ostravane and Dr Wilbernack spoke.",
            "2.txt": b"Dr Wilbernack left.",
            "3.csv": b"who\nDr Ostravane\n",
        }
    )
    made = members(scrubbed(tmp_path, data)[1])
    first = made["1.txt"].decode().split(" and ")
    second = first[1].removesuffix(" spoke.")
    assert made["2.txt"].decode().lower() == f"{second} left.".lower()
    assert made["3.csv"].decode().splitlines()[1].lower() == first[0].lower()
    assert first[0].lower() != second.lower()


def test_names_that_lead_out_or_meet_are_made_safe(tmp_path):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("../../etc/a.txt", "one")
        archive.writestr("C:\\x\\b.txt", "two")
        archive.writestr(f"{SURNAME}.txt", "three")
        archive.writestr("the surgeon.txt", "four")
    names = list(members(scrubbed(tmp_path, out.getvalue())[1]))
    assert len({name.lower() for name in names}) == 4
    assert not any(".." in name or ":" in name or name.startswith("/") for name in names)


def deep(levels: int) -> bytes:
    data = packed({"a.txt": NOTE})
    for _ in range(levels):
        data = packed({"inner.zip": data})
    return data


def test_bombs_and_depth_are_refused(tmp_path):
    bomb = packed({"a.txt": b"\n" * (8 * 2**20)})
    assert "zip bomb" in scrubbed(tmp_path, bomb)[0].refused
    assert "deep" in scrubbed(tmp_path, deep(7))[0].refused
    assert scrubbed(tmp_path, deep(3))[0].refused == ""


def test_locked_damaged_and_foreign_packages_are_refused(tmp_path):
    sound = bytearray(packed({"a.txt": NOTE * 50}))
    assert "damaged" in scrubbed(tmp_path, bytes(sound[: len(sound) // 2]))[0].refused
    locked = bytearray(sound)
    for mark, place in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        locked[locked.index(mark) + place] |= 1
    assert "password" in scrubbed(tmp_path, bytes(locked))[0].refused
    foreign = packed({"mimetype": b"application/vnd.oasis.opendocument.text", "content.xml": NOTE})
    assert "not read" in scrubbed(tmp_path, foreign)[0].refused
    assert "no member" in scrubbed(tmp_path, packed({"a.exe": b"MZ"}))[0].refused
    assert "right ending" in scrubbed(tmp_path, bytes(sound), "a.txt")[0].refused
    assert not list((tmp_path / "out").glob("*"))


SOUND = packed({"a.txt": NOTE, "b/c.csv": b"a,b\n1,2\n"})


@given(st.integers(0, len(SOUND) - 1), st.binary(min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_a_spoilt_archive_is_refused_or_clean(tmp_path_factory, at, junk):
    data = SOUND[:at] + junk + SOUND[at + len(junk) :]
    outcome, result = scrubbed(tmp_path_factory.mktemp("spoilt"), data)
    assert bool(outcome.refused) != bool(result)
    assert SURNAME not in outcome.refused
    assert not result or sweep("a", result, Known.from_declared(DECLARED)) == ()
