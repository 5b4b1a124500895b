"""Invented people, places and numbers for the scrubber's tests; surnames that are found nowhere else."""

from __future__ import annotations

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index

DECLARED = Declared.model_validate(
    {
        "people": [
            {"name": "Jane Kerry Oskavarn-Tullmere", "role": "patient"},
            {"name": "Mr Peter Velkonar", "role": "surgeon", "also": "Velko"},
            {"name": "Anna Hand", "role": "nurse"},
            {"name": "Dr Tom Foley", "role": "anaesthetist"},
            {"name": "May Quillorne", "role": "relative"},
            {"name": "Jürgen van der Brüskell", "role": "surgeon"},
            {"name": "Siobhan O'Drellan", "role": "trainee"},
            {"name": "Zebulanthe, Corrick", "role": "technician"},
        ],
        "places": [
            {"name": "St Orvane's Hospital", "kind": "hospital"},
            {"name": "Rose Ward", "kind": "ward"},
            {"name": "Quenbyford", "kind": "town"},
        ],
        "numbers": [
            {"value": "00482913", "kind": "record number"},
            {"value": "999 000 0018", "kind": "national number"},
            {"value": "07700 900456", "kind": "phone number"},
            {"value": "GTS-4471902", "kind": "serial number"},
        ],
        "other": ["the swimming champion"],
        "keep": ["hand"],
    }
)

INDEX = Index(DECLARED)


def scrubbed(text: str, index: Index = INDEX) -> str:
    """The text with every declared thing replaced."""
    for span in reversed(index.find(text)):
        text = text[: span.start] + span.stand_in + text[span.end :]
    return text
