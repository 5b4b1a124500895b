"""What every detector needs to make a finding."""

from __future__ import annotations

import re

from mmbuilder.scrub.plan import Span


def span(
    found: re.Match[str],
    kind: str,
    letter: str,
    stand_in: str,
    confidence: float,
    group: str | int = 0,
) -> Span:
    """Return a finding for a match, or for one of its groups."""
    start, end = found.span(group)
    return Span(start, end, kind, letter, stand_in, confidence)


UNIT = (
    r"(?:mg|mcg|µg|μg|ug|g|kg|ng|ml|mL|l|L|litres?|mm|cm|m|mmHg|cmH2O|kPa|bar|units?|iu|IU|mmol|mol|mEq|Hz|bpm|cpm|rpm"
    r"|J|W|V|mA|s|sec|secs|seconds?|min|mins|minutes?|h|hrs?|hours?|days?|weeks?|months?|years?|D|Fr|G|gauge"
    r"|degrees?|microns?|µm|cc|drops?|puffs?|tablets?|times|fold|x)\b|%|°"
)
"""A unit after a figure: what it measures points to nobody."""

NOT_MEASURED = rf"(?!\s?(?:{UNIT}))"
