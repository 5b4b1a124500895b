"""The private list: whom, what and where the author knows to be named in the notes.

It is read from `identifiers.yaml` beside the case, and it never leaves: nothing copies,
logs or caches it. What stands in for each entry comes from closed lists, so the stand-in
cannot name anybody.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, BeforeValidator

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Lines, Part
from mmbuilder.case.refuse import refusal
from mmbuilder.safe.terms import Word


class PersonRole(Word):
    """What a person is in the story."""

    PATIENT = "patient"
    RELATIVE = "relative"
    SURGEON = "surgeon"
    ASSISTANT = "assistant"
    ANAESTHETIST = "anaesthetist"
    TRAINEE = "trainee"
    NURSE = "nurse"
    MIDWIFE = "midwife"
    TECHNICIAN = "technician"
    COLLEAGUE = "colleague"


class PlaceKind(Word):
    """What a place is."""

    HOSPITAL = "hospital"
    WARD = "ward"
    THEATRE = "theatre"
    TOWN = "town"
    EMPLOYER = "employer"
    PLACE = "place"


class NumberKind(Word):
    """What a number is for."""

    RECORD = "record number"
    NATIONAL = "national number"
    ACCESSION = "accession number"
    INCIDENT = "incident number"
    PHONE = "phone number"
    SERIAL = "serial number"
    LOT = "lot number"
    OTHER = "number"


class Person(Part):
    """Somebody, with every form their name takes in the notes."""

    name: FreeText
    role: PersonRole
    also: Lines = ()


class Place(Part):
    """A hospital, ward, town, employer ..."""

    name: FreeText
    kind: PlaceKind = PlaceKind.PLACE
    also: Lines = ()


LEAST_SIGNS = 3
"""Letters and figures that a number must have to be looked for."""


def _long_enough(value: FreeText) -> FreeText:
    if sum(sign.isalnum() for sign in value.value) >= LEAST_SIGNS:
        return value
    raise refusal(
        "number-too-short",
        "this number has too few signs to be looked for; three are the least",
        found="a number of fewer than three letters and figures",
        expected="at least three letters and figures",
        why="one so short stands in every text by chance, so it would not be looked for",
        example="{value: H9990417, kind: record number}",
    )


class Number(Part):
    """A number that points to somebody or something."""

    value: Annotated[FreeText, AfterValidator(_long_enough)]
    kind: NumberKind = NumberKind.OTHER


def _list(value: object) -> object:
    return value if isinstance(value, list) else [value]


class Declared(Part):
    """Everything the author declared."""

    people: Annotated[tuple[Person, ...], BeforeValidator(_list)] = ()
    places: Annotated[tuple[Place, ...], BeforeValidator(_list)] = ()
    numbers: Annotated[tuple[Number, ...], BeforeValidator(_list)] = ()
    other: Lines = ()
    """Anything else that must not appear, word for word."""
    keep: Lines = ()
    """Clinical words that look like a declared name (Hand, Young ...): left alone where in lower case."""
