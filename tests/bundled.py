"""The bundled cases by their kind of story, and which of their uses the slow tests open.

Three are complications with a rescue, told with stills. A near miss and a death are told in words alone: what
they show anew stands in the review and on its papers, so that is what is opened in other programs; their other
uses are made and read where that costs little.
"""

from __future__ import annotations

from mmbuilder import resources
from mmbuilder.safe.terms import Use

CASES = resources.bundled_cases()
ILLUSTRATED = tuple(root for root in CASES if (root / "images").is_dir())
IN_WORDS = tuple(root for root in CASES if root not in ILLUSTRATED)
NEAR_MISS, DEATH = (
    next(root for root in IN_WORDS if root.name == name) for name in ("knee-replacement", "aorta-graft")
)

MAY_BE_TOLD = [(root, use) for root in CASES for use in Use if (root, use) != (DEATH, Use.REPORT)]
"""Every use of every case; the coroner has the death, so no report of it may leave the department."""

OPENED = [(root, use) for root, use in MAY_BE_TOLD if root in ILLUSTRATED or use is Use.REVIEW]
"""What is built whole and opened."""
