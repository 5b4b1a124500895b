"""The pixels of a DICOM object: unpacked, looked at as they would be shown, covered, packed again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from mmbuilder.errors import FileRefused, MissingDependency
from mmbuilder.scrub.images.cover import COVER, clamped
from mmbuilder.scrub.images.decode import to_srgb
from mmbuilder.scrub.plan import Decision, PixelBox

if TYPE_CHECKING:
    import numpy as np
    from PIL.Image import Image

    Frames = np.ndarray[Any, np.dtype[Any]]

MAX_BYTES = 400 * 2**20
"""Unpacked, over all frames."""


def frames(dataset: Any) -> Frames:
    """Unpack all pixels: frame, row, column and, for colours, sample (RGB). Spare bits are cleared.

    Raises:
        FileRefused: no pixels, too many, of a form that is not read, or damaged.
        MissingDependency: they are packed in a way that needs another library.
    """
    _check(dataset)
    stored = _unpacked(dataset)
    colours = int(dataset.get("SamplesPerPixel", 1)) > 1 or _palette(dataset)
    if _palette(dataset):
        from pydicom.pixels.processing import apply_color_lut

        stored = apply_color_lut(stored, dataset)
    else:
        stored = _only_stored(stored, dataset)
    shape = stored.shape if not colours else stored.shape[:-1]
    made = stored.reshape((1, *stored.shape)) if len(shape) == 2 else stored
    return _calibrated(made, dataset) if colours else made


def _palette(dataset: Any) -> bool:
    return str(dataset.get("PhotometricInterpretation", "")) == "PALETTE COLOR"


def _check(dataset: Any) -> None:
    if "PixelData" not in dataset:
        raise FileRefused(
            "the DICOM object holds no picture (a report, a waveform or a document); only pictures are read"
        )
    try:
        rows, columns = int(dataset.Rows), int(dataset.Columns)
        count = int(dataset.get("NumberOfFrames") or 1)
        samples, bits = int(dataset.get("SamplesPerPixel", 1)), int(dataset.BitsAllocated)
    except (AttributeError, TypeError, ValueError):
        raise FileRefused(
            "the DICOM picture does not tell its size; send it again from the archive"
        ) from None
    if bits not in (8, 16, 32) or samples not in (1, 3) or min(rows, columns, count) < 1:
        raise FileRefused("the DICOM picture has pixels of a form that is not read; export it as PNG")
    size = rows * columns * count * samples * bits // 8
    if size > MAX_BYTES:
        raise FileRefused(
            f"the DICOM picture unpacks to {size / 2**20:.0f} MB; at most {MAX_BYTES // 2**20} MB are "
            "read. Send fewer frames"
        )


def _unpacked(dataset: Any) -> Frames:
    from pydicom.pixels.utils import pixel_array

    if _packing(dataset) in _films():
        raise FileRefused("the DICOM object holds a film; only still pictures are read. Export its stills")
    try:
        return pixel_array(dataset)
    except Exception as fault:  # decoders raise a dozen types, whose words may quote the header
        lacking = "missing dependencies" in str(fault) or isinstance(fault, NotImplementedError)
    if lacking:
        raise MissingDependency(
            "this DICOM picture is packed in a way that needs the library python-gdcm: "
            "pip install 'mmbuilder[dicom]' (a wheel); or send it unpacked from the archive"
        )
    raise FileRefused("the pixels of the DICOM object are damaged or cut short; send it again")


def _packing(dataset: Any) -> str:
    return str(getattr(dataset.file_meta, "TransferSyntaxUID", ""))


def _films() -> Sequence[str]:
    from pydicom.uid import MPEGTransferSyntaxes

    return MPEGTransferSyntaxes


def _only_stored(stored: Frames, dataset: Any) -> Frames:
    """Clear the bits above those of the pixel: old overlays are kept there (PS3.5 8.1.2, retired)."""
    bits, allocated = int(dataset.get("BitsStored") or dataset.BitsAllocated), stored.dtype.itemsize * 8
    if not 1 <= bits <= allocated or int(dataset.get("HighBit", bits - 1)) != bits - 1:
        raise FileRefused("the DICOM picture has pixels of a form that is not read; export it as PNG")
    spare = allocated - bits
    return (stored << spare) >> spare if spare else stored.copy()


def _calibrated(colours: Frames, dataset: Any) -> Frames:
    """Apply the object's colour profile, which is then dropped; deep colours to 8 bits."""
    import numpy as np
    from PIL.Image import fromarray

    shallow = colours if colours.dtype.itemsize == 1 else (colours >> 8 * (colours.dtype.itemsize - 1))
    shallow = np.ascontiguousarray(shallow.astype(np.uint8))
    profile = dataset.get("ICCProfile")
    if not profile:
        return shallow
    return np.stack(
        [np.asarray(to_srgb(fromarray(frame), bytes(profile), lambda note: None)) for frame in shallow]
    )


def shown(stored: Frames, dataset: Any) -> Iterator[tuple[Image, ...]]:
    """Each frame as a viewer shows it: by its window, and over its whole range, where something may hide."""
    from PIL.Image import fromarray

    for frame in stored:
        if stored.ndim == 4:
            yield (fromarray(frame),)
        else:
            yield tuple(_grey(view, dataset) for view in _views(frame, dataset))


def _views(frame: Frames, dataset: Any) -> Iterator[Frames]:
    yield frame.astype("float32")
    if "WindowCenter" in dataset or "VOILUTSequence" in dataset:
        from pydicom.pixels.processing import apply_modality_lut, apply_voi_lut

        try:
            yield apply_voi_lut(apply_modality_lut(frame, dataset), dataset).astype("float32")
        except (ValueError, TypeError, AttributeError, KeyError, IndexError, NotImplementedError):
            return  # a window that cannot be used hides nothing: the whole range is looked at


def _grey(view: Frames, dataset: Any) -> Image:
    from PIL.Image import fromarray

    low, high = float(view.min()), float(view.max())
    level = (view - low) * (255 / (high - low)) if high > low else view * 0
    if str(dataset.get("PhotometricInterpretation", "")) == "MONOCHROME1":
        level = 255 - level
    return fromarray(level.round().astype("uint8")).convert("RGB")


def covered(stored: Frames, boxes: Sequence[PixelBox]) -> Frames:
    """Fill each box in every frame: text that devices print stands in all of them."""
    made = stored.copy()
    for box in boxes:
        area = clamped(box, stored.shape[2], stored.shape[1])
        if area is None or box.decision is Decision.KEEP:
            continue
        left, top, right, bottom = area
        for frame in made:
            frame[top:bottom, left:right] = COVER if made.ndim == 4 else _fill(frame)
    return made


def _fill(frame: Frames) -> int:
    low, high = int(frame.min()), int(frame.max())
    return low + (high - low) // 4
