"""What a line of readings measures, where its unit alone does not say: a gas and an artery share mmHg.

Lines of one unit are drawn on one scale only if they measure the same; what falls in one of them would be
flat on the scale of another. By the name of the line, as it is written on monitors and charts. From memory.
"""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from mmbuilder.safe.text import SafeText


class Quantity(NamedTuple):
    """What is measured.

    Attributes:
        names: what stands in the name of such a line.
        windows: what its strip shows at least, by unit in small letters; see `strips.bounds`.
    """

    names: re.Pattern[str]
    windows: dict[str, tuple[float, float]]


def _called(names: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![^\W\d_])(?:{names})")


_LOW = {"mmhg": (0.0, 40.0), "cmh2o": (0.0, 40.0)}

QUANTITIES: dict[str, Quantity] = {
    "carbon dioxide": Quantity(
        _called(
            r"(?:p|pa|pv|et|pet|fi)?[ -]?co2|carbon dioxide|capno(?!peri)|end[- ]tidal|kohlen(?:stoff)?dioxid"
        ),
        {"mmhg": (0.0, 60.0), "kpa": (0.0, 8.0), "%": (0.0, 8.0)},
    ),
    "oxygen tension": Quantity(
        _called(r"p[av]?o2|oxygen tension|sauerstoffpartial"), {"mmhg": (0.0, 120.0), "kpa": (0.0, 16.0)}
    ),
    "inspired gas": Quantity(_called(r"fio2|feo2|inspired|mac\b|sevo|desflu|isoflu"), {"%": (0.0, 100.0)}),
    "filling pressure": Quantity(
        _called(r"cvp|central venous|wedge|pcwp|paop|pulmonary|right atrial|zvd|zentralven"), _LOW
    ),
    "pressure in the skull": Quantity(_called(r"icp|intracranial|hirndruck"), _LOW),
    "pressure in the eye": Quantity(_called(r"iop|intra-?ocular|eye pressure|augen"), {"mmhg": (0.0, 60.0)}),
    "pressure in the airway": Quantity(
        _called(r"airway|p?[ _]?peak|plateau|p[ _]?plat|p[ _]?insp|peep|pip\b|p\.?aw\b|ventilat|atemweg"),
        _LOW,
    ),
    "pressure in the belly": Quantity(
        _called(r"pneumoperi|insufflat|intra-?abdominal|capnoperi|iap\b|belly"), _LOW
    ),
    "breathing": Quantity(
        _called(r"resp|breath|rr\b|atem"),
        {"/min": (0.0, 40.0), "bpm": (0.0, 40.0), "breaths/min": (0.0, 40.0)},
    ),
}
"""In order: the first whose name stands in the line's. What has none of these is told by its unit."""


_MEANS = _called(r"mean\b|map\b|n?ibp m|mittel|mad\b")


def is_mean(name: SafeText) -> bool:
    """Whether a pressure of this name is a mean one; beside others it is drawn with them."""
    return bool(_MEANS.search(unicodedata.normalize("NFKC", name.reveal()).casefold()))


def quantity(name: SafeText) -> str:
    """Return what a line of this name measures; empty where its unit is all that is known."""
    called = unicodedata.normalize("NFKC", name.reveal()).casefold()
    return next((what for what, one in QUANTITIES.items() if one.names.search(called)), "")
