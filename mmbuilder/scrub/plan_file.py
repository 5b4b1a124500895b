"""A plan kept beside its case: places and decisions as JSON, no text, and only for that case."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan, Span
from mmbuilder.scrub.surrogates import is_stand_in
from mmbuilder.scrub.walk import Texts, digest

FORMAT = 1
LIMIT = 20 * 2**20
"""Bytes a plan may have."""


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, hide_input_in_errors=True)


class _Span(_Strict):
    start: int = Field(ge=0)
    end: int = Field(gt=0)
    kind: str
    letter: str = Field(pattern="^[A-R]$")
    stand_in: str
    confidence: float = Field(ge=0, le=1)
    layer: Layer
    group: int | None
    decision: Decision
    reason: str


class _Box(_Strict):
    left: int
    top: int
    right: int
    bottom: int
    kind: str
    layer: Layer
    decision: Decision
    reason: str


class _Text(_Strict):
    path: tuple[str | int, ...]
    spans: tuple[_Span, ...]


class _Image(_Strict):
    frame: int = Field(ge=1)
    boxes: tuple[_Box, ...]


class _Plan(_Strict):
    mmbuilder_plan: int
    case: str
    detectors: tuple[str, ...]
    unchecked: tuple[str, ...]
    reviewed_by: str
    texts: tuple[_Text, ...]
    images: tuple[_Image, ...]


def save_plan(plan: RedactionPlan, path: Path) -> None:
    """Write a plan as JSON. Texts are named by their place in the case."""
    body = {
        "mmbuilder_plan": FORMAT,
        "case": plan.case,
        "detectors": plan.detectors,
        "unchecked": plan.unchecked,
        "reviewed_by": plan.reviewed_by,
        "texts": [
            {"path": where, "spans": [asdict(s) for s in spans]} for where, spans in plan.texts.items()
        ],
        "images": [{"frame": n, "boxes": [asdict(b) for b in boxes]} for n, boxes in plan.images.items()],
    }
    path.write_text(json.dumps(body, indent=1) + "\n", encoding="utf-8")


def load_plan(path: Path, folder: CaseFolder) -> RedactionPlan:
    """Read a plan back, for the case it was made for and no other.

    Raises:
        FileRefused: it is no plan, holds words that are none of our stand-ins, or belongs to
            another case or to an earlier state of this one.
    """
    read = _read(path)
    if read.case != digest(folder, Texts(folder.case, folder.previous)):
        raise FileRefused(
            "this plan was made for another case, or the case has changed since; "
            "every place in it may be wrong, so it is not used. Make a new one: mmbuilder build proposes it"
        )
    return RedactionPlan(
        texts=_texts(read),
        images={image.frame: tuple(PixelBox(**dict(box)) for box in image.boxes) for image in read.images},
        detectors=read.detectors,
        unchecked=read.unchecked,
        reviewed_by=read.reviewed_by,
        case=read.case,
    )


def _read(path: Path) -> _Plan:
    data = path.read_bytes() if path.stat().st_size <= LIMIT else b""
    try:
        read = TypeAdapter(_Plan).validate_json(data)
    except ValidationError as fault:
        raise FileRefused(f"this is not a redaction plan ({fault.error_count()} faults in it)") from None
    if read.mmbuilder_plan != FORMAT:
        raise FileRefused(f"this plan has format {read.mmbuilder_plan}; this version reads format {FORMAT}")
    return read


def _texts(read: _Plan) -> Mapping[tuple[str | int, ...], tuple[Span, ...]]:
    texts = {text.path: tuple(Span(**dict(span)) for span in text.spans) for text in read.texts}
    if any(not is_stand_in(span.stand_in) for spans in texts.values() for span in spans):
        raise FileRefused(
            "this plan replaces something by words that are none of our stand-ins; "
            "words typed into a plan could name somebody, so it is not used"
        )
    return texts
