"""What may stand on the private list: the kinds an entry is chosen from, and how it is written there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from mmbuilder.case.identifiers import Declared, NumberKind, PersonRole, PlaceKind
from mmbuilder.errors import FileRefused
from mmbuilder.page.parts._twice import add_form
from mmbuilder.scrub.fold import fold

if TYPE_CHECKING:
    from mmbuilder.scrub.declared import Index

KINDS = (
    ("A person: replaced by the role", "people", tuple(role.value for role in PersonRole)),
    ("A place", "places", tuple(kind.value for kind in PlaceKind)),
    ("A number", "numbers", tuple(kind.value for kind in NumberKind)),
)
"""Heading, list and closed words of each kind; besides there is `other: `, words as they stand."""

MOST = 500
"""Characters of an entry."""
OTHER = "other: "
RECORD = "numbers: record number"
SAME = "same: "
"""The words are another form of somebody on the list."""
ASK = "people: "
"""Somebody whose role the author has to say."""
_PLAIN_NUMBER = "numbers: number"
_RANKS = frozenset({"cons", "consultant", "doctor", "boss"})
"""Words of a rank: a field beside them tells more (`anaes cons`)."""
_ALL = frozenset({f"{name}: {word}" for _, name, words in KINDS for word in words} | {OTHER})


def put(tree: Any, words: str, kind: str) -> None:
    """Put words on the list; what stands there already is not put there again.

    Args:
        tree: of the private list.
        words: as they stand in the notes.
        kind: one of `KINDS`, such as "people: surgeon"; or `SAME` and the name of somebody who stands there.

    Raises:
        FileRefused: there is no such kind, there are too many words, or nothing of them can be looked for.
    """
    whose = kind.removeprefix(SAME) if kind.startswith(SAME) else ""
    if index_of(words, kind).empty:
        raise FileRefused(
            "this is too short to be looked for by itself; put it on the list with what stands beside it, "
            "such as a title, or remove it where it stands"
        )
    if whose:
        add_form(tree, words, whose)
        return
    name, entry = _entry(words, kind)
    listed = tree.get(name)
    if not isinstance(listed, list):
        listed = tree[name] = [] if listed is None else [listed]
    if entry not in listed:
        listed.append(entry)


def index_of(words: str, kind: str) -> Index:
    """Return what is looked for with words on the list as a kind.

    Raises:
        FileRefused: as for `put`.
    """
    from mmbuilder.scrub.declared import Index

    name, entry = _entry(words, "people: colleague" if kind.startswith(SAME) else kind)
    try:
        return Index(Declared.model_validate({name: [entry]}))
    except ValidationError:  # of the private list the only such fault is a number too short
        return Index(Declared())


def _entry(words: str, kind: str) -> tuple[str, dict[str, str] | str]:
    """The list that words of a kind stand on, and what is written there."""
    if len(words) > MOST:
        raise FileRefused(f"an entry of the private list has at most {MOST} characters, such as a name")
    if kind not in _ALL:
        raise FileRefused("choose from the list what it is")
    name, _, word = kind.partition(": ")
    entries: dict[str, dict[str, str] | str] = {
        "people": {"name": words, "role": word},
        "places": {"name": words, "kind": word},
        "numbers": {"value": words, "kind": word},
        "other": words,
    }
    return name, entries[name]


def written(declared: Any) -> Iterator[tuple[str, str]]:
    """Yield the list and the words of every form that stands there as it was typed."""
    for name in ("people", "places", "numbers", "other"):
        listed = declared.get(name) if isinstance(declared, dict) else None
        for one in listed if isinstance(listed, list) else [listed]:
            if isinstance(one, dict):
                also = one.get("also")
                forms = [one.get("name"), one.get("value"), *(also if isinstance(also, list) else [also])]
                yield from ((name, str(form)) for form in forms if form)
            elif isinstance(one, str):
                yield name, one


# Words of the clinic for the kinds

_WORDS = {
    "people: patient": "patient pt dob",
    "people: relative": "relative wife husband partner spouse mother father mum dad daughter son parent carer"
    " kin",
    "people: surgeon": "surgeon surg operator urologist gynaecologist ophthalmologist orthopaedic surgical",
    "people: assistant": "assistant assisting assisted scp sfa",
    "people: anaesthetist": "anaesthetist anesthetist anesthesiologist anaesthetic anaes gas",
    "people: trainee": "trainee registrar reg spr str fellow resident sho fy1 fy2 f1 f2 ct1 ct2 ct3 st1 st2"
    " st3 st4 st5 st6 st7 st8 st9 ct4 fy3 f3 imt1 imt2 imt3 jcf student consented",
    "people: nurse": "nurse sister sr sn s/n rn rgn anp matron hca scrub scrubbed circulating float",
    "people: midwife": "midwife midwives mw",
    "people: technician": "technician odp oda perfusionist radiographer technologist physiologist",
    "people: colleague": "colleague doctor consultant cons boss runner porter manager secretary chaplain"
    " physio physiotherapist practitioner associate rep pharmacist dietitian",
    "places: hospital": "hospital infirmary clinic trust hosp general",
    "places: ward": "ward unit hdu itu icu suite lounge",
    "places: theatre": "theatre theatres th",
    "places: town": "town city village",
    "places: employer": "employer firm company factory depot",
    "places: place": "place street school",
    RECORD: "record mrn",
    "numbers: national number": "national nhs",
    "numbers: accession number": "accession",
    "numbers: incident number": "incident datix",
    "numbers: phone number": "phone bleep pager tel telephone mobile ext",
    "numbers: serial number": "serial",
    "numbers: lot number": "lot batch",
    "numbers: number": "number",
    OTHER: "other email e-mail mail",
}
"""By the kind, words that tell it (common practice, no source)."""
_FIELDS_OF = frozenset({"anaes", "anaesthetic", "gas", "orthopaedic", "surgical"})
"""Words of a field: they tell who works in it where no grade or profession stands there (`ST6 anaes`)."""
_RANK = re.compile(r"(?:cons|consultant|doctor) (?=ana?es|surg|uro|gyn|ortho)")
"""A rank that the word behind it says more of."""
_KIND_OF = {word: kind for kind, words in _WORDS.items() for word in words.split()}


def kind_told(role: str) -> str:
    """Return what somebody or something is, by a role as it was typed; empty where no word of it tells.

    The noun comes last: "scrub nurse", "anaesthetic registrar"; a "number" is told by the word before it.
    """
    told = [(fold(role[start:end]).text, kind) for start, end, kind in kinds_told(role)]
    telling = [(word, kind) for word, kind in told if word not in _RANKS] or told
    kinds = [kind for word, kind in telling if word not in _FIELDS_OF] or [kind for _, kind in telling]
    named = [kind for kind in kinds if kind != _PLAIN_NUMBER] or kinds
    return named[-1] if named else ""


_OF_RECORD = r"(?P<record>\b(?:hospital|hosp|patient|pt|unit|chart|record|mrn)[ -](?:number|no|num|id)\b)"


def kinds_told(text: str) -> list[tuple[int, int, str]]:
    """Return start, end and kind of each word of a text that tells what somebody or something is."""
    line = fold(text)
    plain = line.text
    return [
        (*line.place(*found.span()), kind)
        for found in re.finditer(rf"{_OF_RECORD}|s/n\b|\w+(?:-mail)?", plain)
        if (kind := RECORD if found["record"] else _KIND_OF.get(found[0]))
        and not _RANK.match(plain, found.start())
    ]
