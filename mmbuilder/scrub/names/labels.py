"""The 35 labels of the model, in its own order."""

from __future__ import annotations

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
