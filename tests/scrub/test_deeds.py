"""Who did it is told by what was done, though the same name stands for a clamp, a hip or a month: in whole notes, with nothing declared.

The names are invented or among the commonest; the sentences are such as wards write (common practice, no source).
"""

from __future__ import annotations

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.propose import spans

NOTHING = Index(Declared())


def left(text: str) -> str:
    """What stays of a note."""
    at, kept = 0, []
    for span in spans(text, NOTHING):
        kept.append(text[at : span.start])
        at = span.end
    return "".join([*kept, text[at:]])


@pytest.mark.parametrize(
    ("note", "name"),
    [
        ("When the vein tore, Thornton put a finger on it and called for help.", "Thornton"),
        ("Graham drew up the adrenaline and gave it; the Graham patch held.", "Graham drew"),
        ("The list started late because Graham was stuck on the motorway.", "Graham"),
        ("Swab missing: Whitfield looked in the bin, found it.", "Whitfield"),
        ("Best wishes, Whitfield", "Whitfield"),
        ("Hr. Klein ist groß, Fr. Schön Zi. 7 unruhig, RR 85/50", "Klein"),
        ("Hr. Klein ist groß, Fr. Schön Zi. 7 unruhig, RR 85/50", "Schön"),
        ("Protokoll. Cirujana: Dra. Quillorne Belvash. Ayudante: Vraxo", "Quillorne"),
        ("Leads off for 22 min, room of Mr. Jorin P. Quillorne III, asystole", "III"),
        ("The hepaticojejunostomy was done at Queen Margaret's.", "Margaret's"),
        ("Lines & Pratt LLP, 9 Castle Street, Exeter EX1 2AB. Ref to follow", "Exeter"),
    ],
)
def test_who_did_it_is_found(note: str, name: str) -> None:
    assert name in note
    assert name not in left(note)


@pytest.mark.parametrize(
    "note",
    [
        "Foley drew air into the bladder, and the Satinsky was put back on the cava.",
        "Pharmacy drew up the adrenaline; Switchboard put the call through.",
        "The Omnicell asked for a second witness, and Vocera did not reach the stairs.",
        "Resusci Anne was out for the afternoon session: compressions at 110.",
        "Sent to Cath Lab 2 with the wrong notes; wristband check caught it at the door.",
        "Surgery and Hospitalist each believed that the other had held it.",
        "Lynch excluded by MMR.",
        "Spigelian hernia on the left, Amyand's on the right; both by TAPP.",
        "Whitfield ointment was used twice daily.",
    ],
)
def test_what_things_do_stays(note: str) -> None:
    assert left(note) == note


@pytest.mark.parametrize(
    ("note", "kept"),
    [
        ("Knife to skin 21:14 on Sunday, haemostasis 22:50.", "Knife to skin , haemostasis 22:50."),
        ("Nächste Sitzung am 9. April, 7:30 Uhr.", "Nächste Sitzung am ."),
    ],
)
def test_the_hour_beside_a_day_without_its_year_goes_with_it(note: str, kept: str) -> None:
    assert left(note) == kept
