import io
from types import SimpleNamespace

import numpy as np
import pydicom
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydicom.datadict import dictionary_has_tag, keyword_for_tag, tag_for_keyword

from mmbuilder.errors import FileRefused, MissingDependency
from mmbuilder.scrub.containers import dicom as leaf
from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.containers._dicom import kept, profile, uids
from mmbuilder.scrub.containers.base import CleanText
from mmbuilder.scrub.containers.tools import Scrubber
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.images import again, regions
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import PixelBox
from mmbuilder.scrub.sweep import Known, sweep
from tests.scrub.containers.files import dicom, written
from tests.scrub.declared_list import DECLARED, SURNAME


@pytest.fixture(autouse=True)
def _no_finders(monkeypatch):
    """Pixel finders and the name model have tests of their own, and take their time."""
    monkeypatch.setattr(regions, "finders", lambda: ())
    monkeypatch.setattr(tools, "name_model", NoNameModel)


def scrubbed(data: bytes):
    scrubber = Scrubber(Index(DECLARED))
    scrubber.learn(leaf.texts(data))
    return leaf.scrub(data, scrubber)


def read(data: bytes) -> pydicom.Dataset:
    return pydicom.dcmread(io.BytesIO(data))


# Basic Profile actions of PS3.15 Table E.1-1 (2024e), rows of our reference list marked READ.
PUBLISHED = """
PatientName Z | PatientID Z/D | PatientBirthDate Z | PatientSex Z | PatientAge X | PatientSize X
PatientWeight X | EthnicGroup X | Occupation X | AdditionalPatientHistory X | PatientComments X
AccessionNumber Z | StudyDate Z | StudyTime Z | SeriesDate X/D | AcquisitionDate X/Z | ContentDate Z/D
TimezoneOffsetFromUTC X | StudyID Z | SOPInstanceUID U | StudyInstanceUID U | SeriesInstanceUID U
FrameOfReferenceUID U | InstitutionName X/Z/D | InstitutionAddress X | InstitutionalDepartmentName X
ReferringPhysicianName Z | OperatorsName X/Z/D | PerformingPhysicianName X | PersonName D
VerifyingObserverName D | StudyDescription X | SeriesDescription X | ProtocolName X/D
DeviceSerialNumber X/Z/D | StationName X/Z/D | UDISequence X | UniqueDeviceIdentifier X
GraphicAnnotationSequence D | ContentSequence D | DigitalSignaturesSequence X | OriginalAttributesSequence X
"""
ROWS = [tuple(row.split()) for row in PUBLISHED.replace("\n", "|").split("|") if row.strip()]


@pytest.mark.parametrize(("name", "told"), ROWS)
def test_the_table_is_the_published_one(name, told):
    assert dict(profile.rows())[f"{tag_for_keyword(name):08X}"] == told


def test_repeating_groups_and_private_attributes_are_removed():
    for tag in (0x60003000, 0x60023000, 0x60FE4000, 0x50003000, 0x50020005, 0x00110010, 0x7FE11001):
        assert profile.action(tag) is profile.Action.REMOVE
    assert profile.action(0x00280010) is None


def test_every_row_has_the_name_the_standard_gives_it():
    lines = (profile.Path(profile.__file__).parent / "profile.txt").read_text().splitlines()
    for line in lines:
        tag, _, name = line.split(maxsplit=2) if not line.startswith("#") else ("x", "", "")
        if "x" not in tag:
            assert keyword_for_tag(int(tag, 16)).lower() == "".join(
                c for c in name.lower().replace("'s", "") if c.isalnum()
            )


def test_what_is_kept_is_in_the_standard_and_not_in_the_table():
    for name in kept.NUMBERS | set(kept.WORDS) | kept.SEQUENCES | kept.AS_THEY_ARE:
        tag = tag_for_keyword(name)
        assert tag is not None, name
        assert dictionary_has_tag(tag)
        assert profile.action(tag) is None


def test_no_canary_is_left_anywhere():
    data = dicom()
    assert data.count(SURNAME.encode()) > 15
    made = scrubbed(data)
    assert SURNAME.lower().encode() not in made.data.lower()
    assert sweep("a", made.data, Known.from_declared(DECLARED)) == ()
    for date in (b"20240314", b"19340314", b"091Y", b"101500"):
        assert date not in made.data
    kinds = {finding.kind for finding in made.findings}
    assert {"identifying attribute", "private attribute", "overlay", "curve"} <= kinds
    assert SURNAME not in repr(made)


def test_each_row_of_the_profile_is_applied():
    after = read(scrubbed(dicom()).data)
    for name, told in ROWS:
        if told == "X" or name.endswith("Sequence"):
            assert name not in after
        elif told == "Z":
            assert not after.get(name, "")
    assert after.PatientID == after.InstitutionName == after.StationName == "REMOVED"
    assert after.ContentDate == after.SeriesDate == "19000101"
    assert after.SOPInstanceUID.startswith("2.25.")
    assert after.SOPInstanceUID.is_valid
    assert after.file_meta.MediaStorageSOPInstanceUID == after.SOPInstanceUID
    assert after.preamble == b"\0" * 128


def test_what_the_picture_needs_is_kept():
    grey = np.arange(40 * 60, dtype=np.uint16).reshape(40, 60)
    after = read(scrubbed(dicom(grey)).data)
    assert (after.pixel_array == grey).all()
    assert (after.WindowCenter, after.WindowWidth, after.InstanceNumber) == (100, 200, 3)
    assert (after.Modality, after.Laterality, list(after.ImageType)) == ("XC", "R", ["DERIVED", "PRIMARY"])
    inner = after.SharedFunctionalGroupsSequence[0].PixelMeasuresSequence[0]
    assert list(inner.PixelSpacing) == [0.5, 0.5]
    assert "ImageComments" not in inner


def test_a_name_in_a_field_meant_for_something_else_is_dropped():
    after = read(scrubbed(dicom(Laterality=SURNAME.upper(), PatientOrientation=["A", "QUILL"])).data)
    assert "Laterality" not in after
    assert after.PatientOrientation == "A"


def test_a_number_as_long_as_a_record_s_is_no_place_in_a_series():
    long = {"InstanceNumber": "7314181", "SeriesNumber": "01632960417", "SliceThickness": "20240314"}
    after = read(scrubbed(dicom(**long, AcquisitionNumber="812", WindowCenter="-1024.5")).data)
    assert not [name for name in long if name in after]
    assert (int(after.AcquisitionNumber), float(after.WindowCenter)) == (812, -1024.5)


def test_a_film_is_refused_as_one():
    made = read(dicom())
    made.PixelData = pydicom.encaps.encapsulate([b"\0\0\1\xb3" + bytes(60)])
    made["PixelData"].is_undefined_length = True
    made.file_meta.TransferSyntaxUID = pydicom.uid.MPEG4HP41
    out = io.BytesIO()
    made.save_as(out)
    with pytest.raises(FileRefused, match="holds a film"):
        scrubbed(out.getvalue())


def test_uids_are_the_same_for_the_same_and_other_in_another_run():
    first, second = read(scrubbed(dicom()).data), read(scrubbed(dicom(SOPInstanceUID="1.2.3.4.6")).data)
    assert first.StudyInstanceUID == second.StudyInstanceUID != first.SOPInstanceUID != second.SOPInstanceUID
    assert uids.new("1.2.3", b"one") != uids.new("1.2.3", b"another")
    assert len(uids.new("1.2.3")) <= 64  # PS3.5 section 9.1


def test_it_is_marked_as_de_identified_and_claims_no_more(monkeypatch):
    after = read(scrubbed(dicom(BurnedInAnnotation="YES")).data)
    assert after.PatientIdentityRemoved == "YES"
    assert after.LongitudinalTemporalInformationModified == "REMOVED"
    assert [item.CodeValue for item in after.DeidentificationMethodCodeSequence] == ["113100"]
    assert "BurnedInAnnotation" not in after
    monkeypatch.setattr(regions, "unchecked", lambda: ())
    after = read(scrubbed(dicom()).data)
    assert after.BurnedInAnnotation == "NO"
    assert [item.CodeValue for item in after.DeidentificationMethodCodeSequence] == ["113100", "113101"]


SHAPES = {
    "grey": np.full((40, 60), 50, np.uint8),
    "signed": np.linspace(-1000, 1000, 2400).reshape(40, 60).astype(np.int16),
    "frames": np.full((3, 40, 60), 900, np.uint16),
    "colours": np.full((40, 60, 3), 90, np.uint8),
    "coloured frames": np.full((2, 40, 60, 3), 90, np.uint8),
}


@pytest.mark.parametrize("kind", SHAPES)
def test_a_region_is_covered_in_every_frame_and_nothing_else_is(kind, monkeypatch):
    before = SHAPES[kind].copy()
    place = (
        (..., slice(5, 15), slice(10, 30), slice(None))
        if before.shape[-1] == 3
        else (..., slice(5, 15), slice(10, 30))
    )
    marks = np.random.default_rng(1).integers(0, 200, before[place].shape)
    before[place] = marks.astype(before.dtype)
    monkeypatch.setattr(regions, "finders", lambda: (SimpleNamespace(LOOKS_FOR=regions.PIXEL_RISKS),))
    monkeypatch.setattr(again, "_remembered", lambda image, *_: (PixelBox(10, 5, 30, 15, "text"),))
    made = scrubbed(dicom(before))
    after = read(made.data).pixel_array
    assert after.dtype == before.dtype
    assert [finding.box for finding in made.findings if finding.box] == [(10, 5, 30, 15)]
    flat = after.reshape(-1, 40, 60, 3 if before.shape[-1] == 3 else 1)
    assert all(len(np.unique(frame[5:15, 10:30])) == 1 for frame in flat)
    after[place] = before[place]
    assert (after == before).all()


def test_an_overlay_in_spare_bits_is_cleared():
    grey = np.full((40, 60), 100, np.uint16)
    grey[5:15, 10:30] |= 0x8000  # drawn in bit 15, above the 12 bits stored
    made = read(dicom(grey))
    made.BitsStored, made.HighBit = 12, 11
    after = read(scrubbed(written(made)).data)
    raw = np.frombuffer(after.PixelData, np.uint16)
    assert (raw == 100).all()
    assert after.BitsStored == 12


def test_packed_pixels_are_unpacked_and_the_same():
    made = read(dicom(np.arange(2400, dtype=np.uint8).reshape(40, 60)))
    before = made.pixel_array.copy()
    made.compress(pydicom.uid.RLELossless)
    out = io.BytesIO()
    made.save_as(out)
    after = read(scrubbed(out.getvalue()).data)
    assert after.file_meta.TransferSyntaxUID == pydicom.uid.ExplicitVRLittleEndian
    assert (after.pixel_array == before).all()


def test_no_picture_no_library_and_too_much_are_refused(monkeypatch):
    made = read(dicom())
    del made.PixelData
    with pytest.raises(FileRefused, match="no picture"):
        scrubbed(written(made))
    with pytest.raises(FileRefused, match="unpacks to"):
        scrubbed(dicom(NumberOfFrames=10**6))
    with pytest.raises(FileRefused, match=r"damaged|no picture"):
        scrubbed(dicom()[:-900])
    with pytest.raises(FileRefused, match=r"damaged|no picture"):
        scrubbed(b"\0" * 128 + b"DICM")
    import sys

    monkeypatch.setitem(sys.modules, "pydicom", None)
    with pytest.raises(MissingDependency, match=r"mmbuilder\[dicom\]"):
        scrubbed(b"\0" * 128 + b"DICM")


SOUND = dicom()


@given(st.integers(128, len(SOUND) - 1), st.binary(min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_a_spoilt_object_is_refused_or_clean(at, junk):
    data = SOUND[:at] + junk + SOUND[at + len(junk) :]
    try:
        made = scrubbed(data)
    except (FileRefused, MissingDependency):  # a spoilt kind of packing asks for another library
        return
    assert sweep("a", made.data, Known.from_declared(DECLARED)) == ()


def test_looking_tells_what_scrubbing_removes_and_nothing_of_a_result():
    scrubber = Scrubber(Index(DECLARED))
    told = {finding.kind for finding in leaf.look(dicom(), scrubber)}
    assert {"declared name", "private attribute", "overlay", "identifying attribute"} <= told
    assert list(leaf.look(scrubbed(dicom()).data, scrubber)) == []


def test_the_words_of_a_result_are_no_finding_however_a_finder_takes_them(monkeypatch):
    scrubber = Scrubber(Index(DECLARED))
    asked = []
    monkeypatch.setattr(scrubber, "text", lambda text: asked.append(text) or CleanText(text))
    assert list(leaf.look(scrubbed(dicom()).data, scrubber)) == []
    assert asked == []


def test_a_number_that_passes_for_a_kind_of_object_is_refused():
    with pytest.raises(FileRefused, match="does not list"):
        scrubbed(dicom(SOPClassUID="1.2.840.10008.404176"))
