"""What a figure looks like, and one that stands alone, without a unit."""

from __future__ import annotations

import re

NUMBER = r"\d+(?:[.,]\d+)*"
FIGURE = rf"{NUMBER}(?:\s*(?:-|–|to)\s*{NUMBER})?"
"""A number, or a range."""
BARE = re.compile(rf"\s*[~≈<>≤≥]?\s*{FIGURE}\s*")
