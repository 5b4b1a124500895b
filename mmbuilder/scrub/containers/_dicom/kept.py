"""The few attributes that are kept: what is needed to draw the pixels right, and to put slices in order.

Numbers, and words of closed lists. A value that is neither is dropped with its attribute, so that
no name can travel in a field that is meant for something else.

Source: DICOM PS3.3 (modules named beside the lines) and PS3.6 (tags); from memory, the tags
checked against a library's dictionary in the tests.
"""

from __future__ import annotations

_NUMBERS = """
    SamplesPerPixel PlanarConfiguration Rows Columns BitsAllocated BitsStored HighBit PixelRepresentation
    PixelAspectRatio NumberOfFrames SmallestImagePixelValue LargestImagePixelValue PixelPaddingValue
    PixelPaddingRangeLimit
    WindowCenter WindowWidth RescaleIntercept RescaleSlope
    PixelSpacing ImagerPixelSpacing NominalScannedPixelSpacing SliceThickness SpacingBetweenSlices
    SliceLocation ImagePositionPatient ImageOrientationPatient GantryDetectorTilt ReconstructionDiameter
    InstanceNumber SeriesNumber AcquisitionNumber
    FrameTime FrameTimeVector CineRate RecommendedDisplayFrameRate FrameDelay StartTrim StopTrim
    PreferredPlaybackSequencing ActualFrameDuration
    KVP XRayTubeCurrent ExposureTime Exposure RepetitionTime EchoTime FlipAngle MagneticFieldStrength
    LossyImageCompressionRatio
    InStackPositionNumber TemporalPositionIndex DimensionIndexValues
"""
"""Image Pixel, VOI and Modality LUT, Image Plane, Cine; settings of CT and MR (PS3.3 C.7.6, C.8, C.11)."""

_WORDS: dict[str, str] = {
    "ImageType": "ORIGINAL DERIVED PRIMARY SECONDARY OTHER",
    "Modality": "AR AU BI BMD CR CT DG DX ECG EPS ES GM HC IO IVOCT IVUS KER LEN LS MG MR NM OAM OCT OP OPM "
    "OPT OPTBSV OPV OT PT PX RF RG SM SMR TG US VA XA XC",
    "PhotometricInterpretation": "MONOCHROME1 MONOCHROME2 RGB",
    "PresentationLUTShape": "IDENTITY INVERSE",
    "VOILUTFunction": "LINEAR LINEAR_EXACT SIGMOID",
    "RescaleType": "OD HU US MGML Z_EFF ED EDW HU_MOD PCT",
    "Laterality": "R L",
    "ImageLaterality": "R L U B",
    "FrameLaterality": "R L U B",
    "PatientPosition": "HFP HFS HFDR HFDL FFDR FFDL FFP FFS LFP LFS RFP RFS AFDR AFDL PFDR PFDL",
    "PatientOrientation": "A P R L H F AR AL PR PL AH AF PH PF RH RF LH LF",
    "LossyImageCompression": "00 01",
    "LossyImageCompressionMethod": "ISO_10918_1 ISO_14495_1 ISO_15444_1 ISO_13818_2",
}

SEQUENCES = frozenset(
    (
        "SharedFunctionalGroupsSequence",
        "PerFrameFunctionalGroupsSequence",
        "PixelMeasuresSequence",
        "PlanePositionSequence",
        "PlaneOrientationSequence",
        "FrameVOILUTSequence",
        "PixelValueTransformationSequence",
        "FrameContentSequence",
        "FrameAnatomySequence",
    )
)
"""Kept with only such attributes in their items as are kept anywhere (PS3.3 C.7.6.16)."""

LEAST_RECORD = 1_000_000
"""A number from here on may be somebody's: a record's, a telephone's, a date written as one."""
NUMBERS = frozenset(_NUMBERS.split())
WORDS = {name: frozenset(words.split()) for name, words in _WORDS.items()}
"""Attributes whose values are words, and the words that are kept; others of their values go."""

AS_THEY_ARE = frozenset({"SOPClassUID"})
"""The kind of object: the standard's own identifier (root 1.2.840.10008), nobody's."""
