"""Documents with canaries in every place their format has, made by general libraries."""

from __future__ import annotations

import io
import warnings
from collections.abc import Sequence

import numpy as np
from pydicom.dataset import Dataset, FileMetaDataset
from pydicom.uid import ExplicitVRLittleEndian
from pypdf import PdfReader, PdfWriter
from pypdf.annotations import FreeText
from pypdf.generic import DictionaryObject, NameObject, TextStringObject
from reportlab.pdfgen.canvas import Canvas

from tests.scrub.declared_list import SURNAME

CAPTION = "Descemet membrane, 6/9, 27 G"


def pdf(lines: Sequence[str], *, pages: int = 1, author: str = "", rotate: int = 0) -> bytes:
    """A text page in Helvetica, 14 points, lines 40 points apart from the top."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(400, 300), invariant=1)
    if author:
        canvas.setAuthor(author)
    for _ in range(pages):
        canvas.setFont("Helvetica", 14)
        canvas.setPageRotation(rotate)
        for place, line in enumerate(lines):
            canvas.drawString(20, 250 - 40 * place, line)
        canvas.showPage()
    canvas.save()
    made = PdfReader(io.BytesIO(out.getvalue()))
    if author:
        return out.getvalue()
    writer = PdfWriter(clone_from=made)
    writer.metadata = None
    clean = io.BytesIO()
    writer.write(clean)
    return clean.getvalue()


def laden_pdf() -> bytes:
    """The surname in text, properties, XMP, annotation, attachment, bookmark, script and update."""
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(pdf([f"Seen by Dr {SURNAME}", CAPTION]))))
    writer.add_metadata({"/Author": SURNAME, "/Title": SURNAME})
    writer.xmp_metadata = f"<x:xmpmeta xmlns:x='adobe:ns:meta/'><a>{SURNAME}</a></x:xmpmeta>".encode()
    writer.add_attachment(f"{SURNAME}.txt", SURNAME.encode())
    writer.add_outline_item(title=SURNAME, page_number=0)
    script = DictionaryObject()
    script[NameObject("/S")] = NameObject("/JavaScript")
    script[NameObject("/JS")] = TextStringObject(f"app.alert('{SURNAME}')")
    writer.root_object[NameObject("/OpenAction")] = script
    writer.add_annotation(0, FreeText(text=SURNAME, rect=(20, 20, 200, 60)))
    out = io.BytesIO()
    writer.write(out)
    later = PdfWriter(io.BytesIO(out.getvalue()), incremental=True)
    later.add_metadata({"/Subject": f"{SURNAME} again"})
    update = io.BytesIO()
    later.write(update)
    return update.getvalue()


def dicom(pixels: np.ndarray | None = None, **attributes: object) -> bytes:
    """A secondary capture with canaries in names, comments, private data, sequences, overlay and preamble."""
    made = Dataset()
    made.SOPClassUID, made.SOPInstanceUID = "1.2.840.10008.5.1.4.1.1.7", "1.2.3.4.5"
    made.StudyInstanceUID, made.SeriesInstanceUID = "1.2.3.4", "1.2.3.4.1"
    made.FrameOfReferenceUID = "1.2.3.9"
    made.PatientName, made.PatientID, made.PatientBirthDate = f"{SURNAME}^ONDREA", "ZX-40417", "19340314"
    made.PatientSex, made.PatientAge = "F", "091Y"
    made.StudyDate, made.StudyTime, made.AccessionNumber = "20240314", "101500", "A-40417"
    made.SeriesDate, made.AcquisitionDate, made.ContentDate = "20240314", "20240314", "20240314"
    made.StudyDescription = made.SeriesDescription = made.ProtocolName = SURNAME
    made.ReferringPhysicianName = made.OperatorsName = made.PerformingPhysicianName = SURNAME
    made.InstitutionName = made.InstitutionAddress = made.StationName = made.DeviceSerialNumber = SURNAME
    made.PatientComments = made.ImageComments = made.AdditionalPatientHistory = f"Dr {SURNAME}"
    made.StudyID, made.Modality, made.Laterality = SURNAME[:16], "XC", "R"
    made.ImageType = ["DERIVED", SURNAME.upper(), "PRIMARY"]
    made.InstanceNumber, made.WindowCenter, made.WindowWidth = 3, 100, 200
    inner = Dataset()
    inner.PersonName = SURNAME
    made.ContentSequence = [inner]
    made.SharedFunctionalGroupsSequence = [Dataset()]
    measures = Dataset()
    measures.PixelSpacing = [0.5, 0.5]
    measures.ImageComments = SURNAME
    made.SharedFunctionalGroupsSequence[0].PixelMeasuresSequence = [measures]
    made.private_block(0x0011, SURNAME, create=True).add_new(1, "LO", SURNAME)
    made.add_new(0x60003000, "OW", SURNAME.encode() + b"\0" * (len(SURNAME) % 2))
    made.add_new(0x60004000, "LT", SURNAME)
    made.add_new(0x50003000, "OW", SURNAME.encode() + b"\0" * (len(SURNAME) % 2))
    made.add_new(0xFFFCFFFC, "OB", SURNAME.encode() + b"\0" * (len(SURNAME) % 2))
    pixels = np.arange(40 * 60, dtype=np.uint8).reshape(40, 60) if pixels is None else pixels
    put(made, pixels)
    for name, value in attributes.items():
        setattr(made, name, value)
    return written(made)


def put(made: Dataset, pixels: np.ndarray) -> None:
    colours = pixels.shape[-1] == 3
    frames = pixels.ndim - colours == 3
    made.SamplesPerPixel = 3 if colours else 1
    made.PhotometricInterpretation = "RGB" if colours else "MONOCHROME2"
    if colours:
        made.PlanarConfiguration = 0
    if frames:
        made.NumberOfFrames = pixels.shape[0]
    made.Rows, made.Columns = pixels.shape[frames : frames + 2]
    made.BitsAllocated = made.BitsStored = pixels.dtype.itemsize * 8
    made.HighBit, made.PixelRepresentation = made.BitsStored - 1, int(pixels.dtype.kind == "i")
    made.add_new(0x7FE00010, "OW" if made.BitsAllocated > 8 else "OB", pixels.tobytes())


def written(made: Dataset) -> bytes:
    made.file_meta = FileMetaDataset()
    made.file_meta.TransferSyntaxUID = ExplicitVRLittleEndian
    made.preamble = SURNAME.encode().ljust(128, b"\0")
    out = io.BytesIO()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        made.save_as(out, enforce_file_format=True)
    return out.getvalue()
