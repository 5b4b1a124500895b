from __future__ import annotations

import pytest

from mmbuilder.figures.captions import decision_captions, event_captions, with_dose
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Known, Moment
from mmbuilder.safe.terms import EventKind, Noticed, Sureness
from tests.figures.samples import safe

NOW = Moment(5, 5, Known.EXACT)


@pytest.mark.parametrize(
    ("name", "dose", "told"),
    [
        ("Labetalol", "labetalol 10 mg IV", "Labetalol 10 mg IV"),
        ("Mannitol", "100 mL of 20% IV", "Mannitol 100 mL of 20% IV"),
        ("First adrenaline", "adrenaline 50 µg IV", "First adrenaline 50 µg IV"),
        ("Two units red cells", "red cells 2 units IV", "Red cells 2 units IV"),
        ("Fluid 2 L", "", "Fluid 2 L"),
        ("Morphine 5 mg IV", "5 mg IV", "Morphine 5 mg IV"),
    ],
)
def test_a_drug_is_named_once_with_its_dose_and_route(name: str, dose: str, told: str) -> None:
    assert with_dose(safe(name), safe(dose)).reveal() == told


def test_a_label_of_six_words_is_never_cut_short() -> None:
    label = safe("Chamber formed and ache all gone")
    event = Event(1, EventKind.STEP, safe("a much longer text than the label is"), NOW, label)
    assert [text.reveal() for text in event_captions(event)] == ["Chamber formed and ache all gone"]


def test_a_longer_text_is_cut_where_a_part_of_it_ends() -> None:
    event = Event(1, EventKind.STEP, safe("Airway checked, seal heard all round the new tube"), NOW)
    assert event_captions(event)[0].reveal() == "Airway checked, seal heard all round …"
    event = Event(1, EventKind.STEP, safe("Patient moved to recovery, then seen again"), NOW)
    assert [text.reveal() for text in event_captions(event)] == ["Patient moved to recovery"]


def test_what_sort_of_sign_and_how_sure_is_said() -> None:
    event = Event(
        1, EventKind.FIRST_SIGN, safe("ache"), NOW, sure=Sureness.PROBABLE, noticed=Noticed.IN_HINDSIGHT
    )
    assert [text.reveal() for text in event_captions(event)] == [
        "In hindsight: ache (probable)",
        "ache (probable)",
    ]


def test_a_question_cut_short_is_told_by_its_number() -> None:
    assert [text.reveal() for text in decision_captions(2, safe("Drain, or wait?"))] == [
        "D2 Drain, or wait?",
        "D2",
    ]
    assert [text.reveal() for text in decision_captions(2, safe("Go on, or close …"))] == ["D2"]
