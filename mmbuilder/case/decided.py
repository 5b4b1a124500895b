"""What a reviewer decided about findings in words, in `decisions.yaml`; private, as it repeats them."""

from __future__ import annotations

import hashlib
from typing import Annotated

from pydantic import Field, StringConstraints

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Part
from mmbuilder.safe.terms import Word

Hash = Annotated[str, StringConstraints(pattern=r"[0-9a-f]{16}")]


class Ruling(Word):
    """What is to be done with a finding."""

    REMOVE = "remove"
    KEEP = "keep"


class Decided(Part):
    """One decision: about these words everywhere, or in one text only."""

    words: FreeText
    """As they stand in the case; capitals do not matter."""
    ruling: Ruling
    why: FreeText | None = None
    """Why the words stay."""
    only_in: Hash | None = None
    """Hash of the one text it was decided for; when that text changes, the decision falls away."""


class Decisions(Part):
    """Everything that was decided about findings in words."""

    findings: tuple[Decided, ...] = Field(default=())


def text_hash(text: str) -> str:
    """Return what `only in` calls a text by."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]
