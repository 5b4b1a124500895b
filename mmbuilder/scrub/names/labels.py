"""The 35 labels of the model, in its own order, and the four groups of them that we use."""

from __future__ import annotations

from typing import Literal

Kind = Literal["person", "place", "address"]

_ENTITIES = [
    "GIVEN_NAME",
    "SURNAME",
    "EMAIL",
    "PHONE",
    "URL",
    "TAX_ID",
    "BANK_ACCOUNT",
    "ROUTING_NUMBER",
    "GOVERNMENT_ID",
    "PASSPORT",
    "DRIVERS_LICENSE",
    "BUILDING_NUMBER",
    "STREET_NAME",
    "SECONDARY_ADDRESS",
    "CITY",
    "STATE",
    "ZIP_CODE",
]
LABELS = ("O", *(f"{part}-{entity}" for entity in _ENTITIES for part in "BI"))

# Numbers, mail addresses and the like have exact patterns of their own; on clinical text the model's
# guess at them (a lens serial as a bank account) only does harm.
_ENTITIES_OF: dict[Kind, tuple[str, ...]] = {
    "person": ("GIVEN_NAME", "SURNAME"),
    "place": ("CITY", "STATE"),
    "address": ("STREET_NAME", "SECONDARY_ADDRESS"),
}
COLUMNS: dict[Kind, tuple[int, ...]] = {
    kind: tuple(i for i, label in enumerate(LABELS) if label[2:] in entities)
    for kind, entities in _ENTITIES_OF.items()
}
