"""Days in a text, in any shape that is meant as a date."""

from __future__ import annotations

import re

from mmbuilder.case.dates import SHAPES

WEEKDAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_SHAPE = "|".join(f"(?:{shape})" for shape in SHAPES).replace(r"\1", "[-/.]")
DAY = re.compile(rf"(?:{WEEKDAY},? )?(?P<date>{_SHAPE})")
"""A day with its year, in tidied text; right or wrong."""
