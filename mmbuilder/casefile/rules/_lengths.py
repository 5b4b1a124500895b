"""Counting words the way a reader does."""

from __future__ import annotations

import re

from mmbuilder.case.freetext import FreeText


def words(text: FreeText) -> list[str]:
    """Return the words of a text; figures count, dashes and other signs on their own do not."""
    return re.findall(r"\w[\w'’.,/-]*", text.value)
