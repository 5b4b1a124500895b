"""What every deck and paper says of itself."""

from __future__ import annotations

from mmbuilder.safe.text import wording

CAUTION = wording(
    "Not a medical device. For review of a past case, not for treatment: check every dose and figure "
    "against the record. Local policy and information governance come first."
)
