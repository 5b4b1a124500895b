"""What the heading of a column tells of its cells: below `Surgeon`, `West` is somebody, and so is `VJK`.

Below a heading no sentence tells a name from a word, so the heading does. Roles, abbreviations of units and words that
are nobody's name stay, and so does the number of a ward by itself. Which headings tables have is common practice, no
source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._calendar import LOWER
from mmbuilder.scrub.plan import Layer, Span
from mmbuilder.scrub.surrogates import is_stand_in
from mmbuilder.scrub.words import word_set

_PEOPLE = word_set(
    """
    name names surname forename firstname lastname patient pt consultant cons surgeon surgeons assistant assist asst anaesthetist anesthetist anaes
    gas nurse scrub runner circulating odp registrar reg trainee fellow doctor dr clinician operator endoscopist radiologist midwife gp referrer
    requester reporter author presenter initials nok kin relative carer mother father wife husband staff speaker owner lead supervisor sho who whom pat
    nombre nombres apellido apellidos paciente cirujano cirujana ayudante médico médica enfermera enfermero anestesista
    nachname vorname patientin chirurg chirurgin arzt ärztin pflege pflegekraft operateur assistenz anästhesist
    nom prénom prenom chirurgien chirurgienne médecin infirmier infirmière anesthésiste aide interne
    """
)
_PLACES = word_set(
    """
    ward hospital site clinic trust unit town city village address school employer practice home destination origin
    planta sala servicio hospital ciudad dirección station klinik krankenhaus ort wohnort adresse service hôpital ville
    """
)
_BEDS = word_set("bed bett bettplatz cama lit room rm zimmer zi ch chambre hab habitación")
"""A list of patients by their beds or rooms: `12A`, `SR4`, `14`."""
_ANY_HOUSE = word_set(
    """
    theatre theatres recovery main day surgical medical surgery medicine emergency acute admissions assessment high low care intensive dependency resus
    majors minors outpatient outpatients inpatient discharge lounge labour delivery maternity children paediatric neonatal private general short stay
    escalation trauma orthopaedic vascular cardiac renal stroke north south east west floor level room bay bed
    """
)
"""What wards and rooms of any house are called."""
_OF = word_set("of by the in at on from and / & first last full family given next 1st 2nd")
_BY = re.compile(
    r"(?:signed|reported|requested|counted|checked|done|written|seen|given|entered|reviewed|prepared|typed)\sby:?",
    re.IGNORECASE,
)
_EMPTY = word_set(
    "none nil na n/a no yes unknown tbc tba not known various all both self same ditto sí si ja nein oui non keine"
)


def heads(heading: str) -> bool:
    """Whether it is the heading of a column of people or places: no finding itself."""
    return _kind(heading) is not None or _of_beds(heading)


def below(heading: str, cell: str) -> Span | None:
    """Return the finding that a whole cell is below such a heading; None where it tells of nobody and of no place.

    Args:
        heading: as it is written.
        cell: what stands below it.
    """
    start = len(cell) - len(cell.lstrip())
    end = start + len(cell.strip())
    if _of_beds(heading):
        numbered = _A_BED.fullmatch(cell.strip()) is not None
        return Span(start, end, "bed", "R", "[bed]", 0.8, reason=BY_HEADING) if numbered else None
    if _of_days(heading) and _A_DAY.fullmatch(cell.strip()):
        return Span(start, end, "date", "C", "[date]", 0.8, reason=BY_HEADING)
    kind = _kind(heading)
    words = re.findall(r"[^\W\d_]+", cell)
    if kind is None or not words or cell.strip().lower() in _EMPTY or is_stand_in(cell.strip()):
        return None
    initials = _OF_INITIALS.search(heading) and all(word.isupper() and word not in _GRADES for word in words)
    telling = initials or _a_person(words) if kind == "A" else any(map(_a_place, words))
    if not telling:
        return None
    name, stand_in = ("name", "[name]") if kind == "A" else ("place", "[place]")
    return Span(start, end, name, kind, stand_in, 0.8, reason=BY_HEADING)


def a_word_there(cell: str, span: Span, below: Sequence[Span]) -> bool:
    """Whether what the judge took for a name is a word as well, and no name read below its heading: `Brown`, of a stain.

    Args:
        cell: what stands in it.
        span: what was found in the cell by itself.
        below: what was found in it together with its heading.
    """
    from mmbuilder.scrub.keep.ordinary import word_too

    if span.layer is not Layer.MODEL or not word_too(cell[span.start : span.end]):
        return False
    return not any(one.start < span.end and span.start < one.end for one in below)


def measured(label: str, cell: str) -> bool:
    """Whether a cell is a decimal and its label speaks of no day: `21.5` below `Albumin` is no 21 May.

    A sentence would tell the one from the other; a cell has its label alone.
    """
    said = {word for word in re.findall(r"[^\W\d_]+", label.lower())}
    return _DECIMAL.fullmatch(cell.strip()) is not None and said.isdisjoint(_DAYS)


def without_days(found: Iterable[Span], label: str, cell: str) -> list[Span]:
    """What was found in a cell below its label; a decimal that is measured is no date."""
    day = "C" if measured(label, cell) else ""
    return [span for span in found if span.letter != day]


_DECIMAL = re.compile(r"[<>~≤≥]?\s?[-+]?\d{1,2}[.,]\d{1,2}")
_DAYS = word_set(
    """
    date dates dated day days dob born birth birthday when on seen op operation operated surgery procedure visit visited admitted admission
    discharged discharge review reviewed clinic appointment follow followup due signed updated entered sent received from to until till since
    start started begun end ended stop stopped last next died death dod event reported requested booked done performed taken given
    datum tag am geb geboren geburtsdatum wann aufnahme entlassung vom bis seit fecha día dia nacimiento nacido cuándo ingreso alta desde hasta
    jour né née naissance le du au quand entrée sortie depuis
    """
)
"""Words of a heading below which days stand."""
_OF_INITIALS = re.compile(r"(?<!\w)(?:initials|who|whom)(?!\w)", re.IGNORECASE)
_GRADES = word_set("ODP ODA SHO HO GP RN CRNA LPN RM HCA CNS ANP ACP ED ICU ITU HDU CT OR ER LAB MDT")
"""What tells a post or a place in capitals, and nobody."""
BY_HEADING = "by the heading of its column"
_A_BED = re.compile(r"(?=.*\d)[\w /.-]{1,12}|[A-Z]")
_NUMBERED = word_set("no nr number num")


def _of_beds(heading: str) -> bool:
    """Whether beds stand below a heading: `Bed`, `Bed no.` and `Bett-Nr.` too."""
    words = re.findall(r"[^\W_]+", heading.lower())
    return bool(words) and words[0] in _BEDS and _NUMBERED.issuperset(words[1:])


_DUE = word_set(
    """
    by due date dates when deadline target review completed complete expected termin frist fällig datum bis wann fecha plazo cuándo échéance délai quand
    """
)
"""Words that a heading consists of below which a bare `15/12` is a day; `_DAYS` are those of which one is enough for a whole date."""
_A_DAY = re.compile(
    r"(?:0?[1-9]|[12]\d|3[01])[./-](?:0?[1-9]|1[0-2])\.?|(?:(?:early|mid|late|end(?:\sof)?|by|anfang|mitte|ende|fin)[\s-])?"
    rf"(?:(?:{LOWER})\.?(?:\s?['’]?\d\d)?|Q[1-4](?:\s?['’/]?\s?(?:20)?\d\d)?)",
    re.IGNORECASE,
)


def _of_days(heading: str) -> bool:
    """Whether days stand below a heading: `By`, `Due date`; a bare `15/12` or `Jan` is one there."""
    words = re.findall(r"[^\W\d_]+", heading.lower())
    return 0 < len(words) <= 3 and _DUE.issuperset(words) and not is_stand_in(heading.strip())


def _kind(heading: str) -> str | None:
    words = [word for word in re.findall(r"[^\W_]+", heading.lower()) if word not in _OF]
    if _BY.fullmatch(heading.strip()):
        return "A"
    if not words or len(words) > 2:
        return None
    if all(word in _PEOPLE for word in words):
        return "A"
    return "B" if all(word in _PLACES or word in ("name", "patient") for word in words) else None


def _a_person(words: list[str]) -> bool:
    """Whether a word of a cell is a name: on no list, on one of names, or initials that are no abbreviation."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    lists = load()
    for word in words:
        plain = fold(word)
        if len(word) == 1:
            continue  # `Q1`, `A`
        if len(word) == 2 and word.istitle() and plain not in lists.titles:
            return True  # Ng, Le, Wu
        if word.isupper() and len(word) in (2, 3):
            if word not in ABBREVIATIONS and not lists.known(plain):
                return True
        elif plain in lists.roles or plain in lists.titles:
            continue
        elif lists.borne(plain) or _on_no_list(word):
            return True
    return False


def _a_place(word: str) -> bool:
    """Whether a word of a cell is no term, no ordinary word of a place and no abbreviation: `Curlew`, not `Theatre`."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    plain, lists = fold(word), load()
    if len(word) < _LEAST or not word[0].isupper() or word.upper() in ABBREVIATIONS:
        return False
    if plain in _PLACES | _ANY_HOUSE:
        return False
    return lists.borne(plain) or (lists.called(plain) is None and plain not in lists.heads)


_LEAST = 3
"""Letters of the name of a place."""


def _on_no_list(word: str) -> bool:
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    plain, lists = fold(word), load()
    return not (
        lists.known(plain)
        or lists.plain_abroad(plain)
        or plain in lists.heads
        or plain in lists.roles
        or plain in lists.titles
        or word.upper() in ABBREVIATIONS
    )
