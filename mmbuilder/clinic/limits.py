"""What may stand before a figure: that it is only a limit of the value, or only near it."""

from __future__ import annotations

BELOW = ("<", "≤", "less than", "under", "below", "at most", "up to", "unter", "höchstens", "bis")
ABOVE = (">", "≥", "more than", "over", "above", "at least", "über", "mindestens")
ABOUT = ("about", "approximately", "~", "≈", "ca.", "circa", "etwa", "ungefähr")
