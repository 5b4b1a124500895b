"""DICOM pictures of one or more frames: header by allow-list and Basic Profile, pixels covered, UIDs new.

Source: DICOM PS3.15 (2024e) Annex E, and PS3.10 section 7 (file format). Stricter than the
profile: what neither the profile's rows nor the list of needed attributes name is dropped.
The optional library pydicom (MIT) reads and writes; python-gdcm (Apache-2.0) unpacks more kinds.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any

from mmbuilder.errors import FileRefused, MissingDependency, MMBuilderError
from mmbuilder.scrub.containers._dicom import header, pixels
from mmbuilder.scrub.containers.base import Result, Tools
from mmbuilder.scrub.findings import Finding, of_box
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.again import propose_boxes
from mmbuilder.scrub.plan import PixelBox

NAME = "DICOM object"
SUFFIXES = (".dcm", ".dicom", ".dic")
PARTS_NOT_READ = (
    "DICOM: text that no finder for pictures looks for; a face that could be drawn from slices of a head"
)

_METHOD = "PS3.15 Basic Profile, and all but needed attributes dropped"
_TEXT = regions.PIXEL_RISKS[0]
PROFILE, CLEAN_PIXELS = "113100", "113101"
"""Codes of PS3.16 CID 7050 for what was done, from memory."""
_SCHEME = "DCM"
_MEANS = {PROFILE: "Basic Application Confidentiality Profile", CLEAN_PIXELS: "Clean Pixel Data Option"}
_OURS = frozenset({_METHOD, _SCHEME, header.REMOVED, *_MEANS, *_MEANS.values()})
"""What the header of a result says: words of ours, and no name or number of anybody."""


def sniff(head: bytes, data: bytes) -> bool:
    """Whether it is a DICOM file, by the mark after its preamble."""
    return head[128:132] == b"DICM"


def texts(data: bytes) -> Iterator[str]:
    """Every value of the header that is words.

    Raises:
        FileRefused: damaged.
        MissingDependency: pydicom is not installed.
    """
    with _reading():
        found = header.texts(_read(data))
    yield from found


def scrub(data: bytes, tools: Tools) -> Result:
    """Make the object anew.

    Raises:
        FileRefused: damaged, without a picture, of a kind of its maker's own, or too large.
        MissingDependency: a library that it needs is not installed.
    """
    with _reading():
        dataset = _read(data)
        stored = pixels.frames(dataset)
        boxes = _boxes(dataset, stored)
        made = header.clean(dataset)
        if "SOPClassUID" not in made.dataset:
            raise FileRefused(
                "the DICOM object is of a kind that the standard does not list; export its picture as PNG"
            )
        _put(made.dataset, pixels.covered(stored, boxes), dataset)
        _mark(made.dataset)
        written = _written(made.dataset)
    found = [Finding(kind, "header") for kind, count in sorted(made.gone.items()) for _ in range(count)]
    return Result(written, (*found, *_told(boxes)), regions.unchecked())


def look(data: bytes, tools: Tools) -> Iterator[Finding]:
    """Find without writing: attributes that identify, and regions of the pixels.

    Raises:
        FileRefused, MissingDependency: as for `scrub`.
    """
    with _reading():
        dataset = _read(data)
        gone = header.clean(dataset).gone
        boxes = _boxes(dataset, pixels.frames(dataset)) if "PixelData" in dataset else ()
        words = [text for text in header.texts(dataset) if text not in _OURS]
    for kind, count in sorted(gone.items()):
        if kind != header.UNNEEDED:
            yield from (Finding(kind, "header") for _ in range(count))
    yield from (Finding(span.kind, "header") for text in words for span in tools.text(text).spans)
    yield from _told(boxes)


@contextmanager
def _reading() -> Iterator[None]:
    """Turn whatever a reader raises into a refusal, and keep its warnings quiet: both may quote."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    except MMBuilderError:
        raise
    except Exception:
        raise FileRefused(
            "the DICOM object is damaged or cut short and cannot be read; send it again"
        ) from None


def _read(data: bytes) -> Any:
    try:
        import pydicom
    except ImportError:
        raise MissingDependency(
            "DICOM objects need the library pydicom: pip install 'mmbuilder[dicom]' (a wheel; works offline "
            "once installed)"
        ) from None
    import logging

    logging.getLogger("pydicom").setLevel(logging.CRITICAL)
    return pydicom.dcmread(BytesIO(data))


def _boxes(dataset: Any, stored: pixels.Frames) -> tuple[PixelBox, ...]:
    """What is to be covered in every frame: found in any of them, as shown in any way, and looked at again."""
    found = (
        box
        for views in pixels.shown(stored, dataset)
        for view in views
        for box in propose_boxes(view, (), ())
    )
    return tuple(dict.fromkeys(found))


def _told(boxes: tuple[PixelBox, ...]) -> tuple[Finding, ...]:
    return tuple(of_box(box, "picture") for box in boxes)


def _put(made: Any, stored: pixels.Frames, original: Any) -> None:
    """Put the pixels in, unpacked, and say how they lie."""
    colours, bits = stored.ndim == 4, stored.dtype.itemsize * 8
    made.NumberOfFrames = stored.shape[0]
    made.Rows, made.Columns = stored.shape[1:3]
    made.SamplesPerPixel = 3 if colours else 1
    made.BitsAllocated = bits
    made.BitsStored = bits if colours else int(original.get("BitsStored") or bits)
    made.HighBit = made.BitsStored - 1
    if colours:
        made.PhotometricInterpretation, made.PlanarConfiguration = "RGB", 0
        made.PixelRepresentation = 0
    if stored.shape[0] == 1 and "NumberOfFrames" not in original:
        del made.NumberOfFrames
    packed = stored.astype(stored.dtype.newbyteorder("<")).tobytes()
    made.add_new(0x7FE00010, "OW" if bits > 8 else "OB", packed + b"\0" * (len(packed) % 2))


def _mark(made: Any) -> None:
    """Say what was done (PS3.15 E.1, E.3.1, from memory).

    That no annotation is burned in is said only where something has looked for text.
    """
    from pydicom.dataset import Dataset

    read = not any(note.startswith(_TEXT) for note in regions.unchecked())
    made.PatientIdentityRemoved = "YES"
    made.DeidentificationMethod = _METHOD
    made.LongitudinalTemporalInformationModified = "REMOVED"
    codes = [PROFILE]
    if read:
        made.BurnedInAnnotation = "NO"
        codes.append(CLEAN_PIXELS)
    made.DeidentificationMethodCodeSequence = [Dataset() for _ in codes]
    for item, code in zip(made.DeidentificationMethodCodeSequence, codes, strict=True):
        item.CodeValue, item.CodingSchemeDesignator, item.CodeMeaning = code, _SCHEME, _MEANS[code]


def _written(made: Any) -> bytes:
    from pydicom import dcmwrite
    from pydicom.dataset import FileMetaDataset
    from pydicom.uid import ExplicitVRLittleEndian

    made.file_meta = FileMetaDataset()
    made.file_meta.TransferSyntaxUID = ExplicitVRLittleEndian
    made.file_meta.MediaStorageSOPClassUID = made.SOPClassUID
    made.file_meta.MediaStorageSOPInstanceUID = made.SOPInstanceUID
    out = BytesIO()
    dcmwrite(out, made, enforce_file_format=True)
    return out.getvalue()
