"""Kinds of parts that more than one format has, and a short way to write one down."""

from __future__ import annotations

import io
import zipfile

from mmbuilder.scrub.containers._ooxml.charts import scrub_chart
from mmbuilder.scrub.containers._ooxml.links import relink
from mmbuilder.scrub.containers._ooxml.paragraphs import scrub_paragraphs
from mmbuilder.scrub.containers._ooxml.pictures import scrub_pictures
from mmbuilder.scrub.containers._ooxml.structure import Step, prepare, steps
from mmbuilder.scrub.containers._ooxml.values import clean_values
from mmbuilder.scrub.containers._ooxml.work import Kind

_OFFICE = "application/vnd.openxmlformats-officedocument."

plain = steps(prepare, scrub_pictures, relink, scrub_paragraphs, clean_values)
"""What every part with nothing of its own goes through."""

_charted = steps(prepare, scrub_pictures, relink, scrub_chart, scrub_paragraphs, clean_values)


def office(name: str, content: str, path: str, clean: Step = plain, silent: str = "") -> Kind:
    """A kind whose content type is one of ECMA-376."""
    return Kind(name, f"{_OFFICE}{content}+xml", path, clean, tuple(silent.split()))


def drawn(folder: str) -> dict[str, Kind]:
    """Charts and themes, under the format's own folder; by type of relationship."""
    return {
        "theme": office("theme", "theme", f"{folder}/theme/theme{{}}.xml"),
        "chart": office("chart", "drawingml.chart", f"{folder}/charts/chart{{}}.xml", _charted),
        "chartUserShapes": office(
            "chart", "drawingml.chartshapes", f"{folder}/drawings/chartdrawing{{}}.xml"
        ),
    }


def holds(data: bytes, folder: str) -> bool:
    """Whether it is an Office package with parts in this folder."""
    if not data.startswith(b"PK"):
        return False
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            names = archive.namelist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        return False
    return "[Content_Types].xml" in names and any(name.lstrip("/").startswith(folder) for name in names)
