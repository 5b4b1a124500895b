from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from mmbuilder import packs
from mmbuilder.casefile.readings.cells import SENTINELS
from mmbuilder.errors import PackInvalid
from mmbuilder.packs.schema import Whom, _letters, _shared, available, every, load, meant, parse, specialties
from mmbuilder.safe.terms import EventKind, FactorRow, Sex

GOOD = (files(packs) / "anaesthesia.yaml").read_text("utf-8")


def test_every_file_of_the_folder_is_a_pack_of_its_own_name() -> None:
    stems = sorted(path.stem for path in Path(str(files(packs))).glob("*.yaml"))
    assert available() == tuple(stem.replace("-", " ") for stem in stems)
    assert {"ophthalmology", "general surgery", "anaesthesia"} <= set(available())
    assert [load(name).name for name in available()] == list(available())


# What people write; common practice, no source.
@pytest.mark.parametrize(
    ("called", "name"),
    [
        ("ENT", "ear nose and throat"),
        ("Ear, Nose and Throat", "ear nose and throat"),
        ("T&O", "orthopaedics"),
        ("T & O", "orthopaedics"),
        ("Trauma and Orthopaedics", "orthopaedics"),
        ("O&G", "obstetrics and gynaecology"),
        ("Obs & Gynae", "obstetrics and gynaecology"),
        ("vascular", "vascular surgery"),
        ("General-Surgery", "general surgery"),
        ("general", "general surgery"),
        ("cardiothoracic", "cardiothoracic surgery"),
        ("Neurosurgery", "neurosurgery"),
        ("plastics", "plastic surgery"),
        ("max fax", "oral and maxillofacial surgery"),
        ("max-fax", "oral and maxillofacial surgery"),
        ("paeds", "paediatric surgery"),
        ("Anaesthetics", "anaesthesia"),
        ("HNO", "ear nose and throat"),
        ("general surgry", None),
        ("", None),
    ],
)
def test_a_specialty_is_known_by_what_it_is_called(called: str, name: str | None) -> None:
    assert meant(called) == name
    if name is not None:
        assert load(called).name == name


def test_no_two_specialties_are_called_alike() -> None:
    called = [_letters(word) for pack in map(load, available()) for word in (pack.name, *pack.called)]
    served = [pack.serves.items() for pack in map(load, available())]
    called += [_letters(word) for rows in served for name, words in rows for word in (name, *words)]
    assert len(set(called)) == len(called)


def test_a_specialty_without_a_pack_has_the_words_of_the_one_that_serves_it_and_its_own_name() -> None:
    assert set(specialties()) > set(available())
    assert load("plastics").phases == load("general surgery").phases
    assert str(load("plastics").title.reveal()) == "plastic surgery"
    assert [pack.name for pack in every()] == list(specialties())


@pytest.mark.parametrize("name", available())
def test_the_seven_rows_of_vincent_1998_all_have_a_question(name: str) -> None:
    # Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157.
    rows = load(name).factors
    assert set(rows) == set(FactorRow)
    assert len(FactorRow) == 7
    assert all(question.endswith("?") for questions in rows.values() for question in questions)


@pytest.mark.parametrize("name", available())
def test_limits_say_where_they_come_from_and_leave_sentinels_out(name: str) -> None:
    for measure in load(name).measures:
        assert measure.source
        assert not any(measure.low <= abs(value) <= measure.high for value in SENTINELS)


@pytest.mark.parametrize("name", available())
def test_the_three_marks_have_words(name: str) -> None:
    events = load(name).events
    assert {EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE, EventKind.RESOLUTION} <= set(
        events
    )


def test_the_title_may_stand_on_a_slide() -> None:
    assert load("general surgery").title.reveal() == "general surgery"


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ("low: 0, high: 80", "low: 90, high: 80", "- {name: airway pressure", "low is not below high"),
        ("also: [observations, ward]", "also: [wards]", "also:", "there are: observations, ward"),
        ("  institution:", "  institutoin:", "institutoin:", "factors.institutoin"),
        ("phases:", "phasen:", "phasen:", "phasen"),
        ("  call for help:", "  calls:", "calls:", "calls"),
    ],
)
def test_a_fault_names_file_and_line(old: str, new: str, line: str, told: str) -> None:
    text = GOOD.replace(old, new)
    number = next(n for n, row in enumerate(text.splitlines(), 1) if row.strip().startswith(line))
    with pytest.raises(PackInvalid) as caught:
        parse(text, "own.yaml")
    rows = [row for row in str(caught.value).splitlines() if told in row]
    assert any(row.startswith(f"own.yaml:{number}:") for row in rows)


def test_every_fault_is_told_at_once() -> None:
    text = GOOD.replace("low: 0, high: 80", "low: 90, high: 80").replace("  call for help:", "  calls:")
    with pytest.raises(PackInvalid) as caught:
        parse(text, "own.yaml")
    assert len(str(caught.value).splitlines()) == 2


def test_broken_yaml_is_told_by_line() -> None:
    with pytest.raises(PackInvalid, match=r"own\.yaml:3: "):
        parse("name: x\nphases: [a\n", "own.yaml")


def test_a_missing_row_is_named() -> None:
    text = GOOD.replace(
        "  institution:\n    - Which outside rule, supply or shortage shaped what was in the tray?\n", ""
    )
    with pytest.raises(PackInvalid, match="no question for: institution"):
        parse(text, "own.yaml")


def _range(
    pack: str, name: str, sex: Sex | None = None, whom: Whom = Whom.ADULT
) -> tuple[float | None, float | None, str]:
    found = [
        one for one in load(pack).references if name in one.names and one.sex is sex and one.whom is whom
    ]
    assert len(found) == 1
    return found[0].low, found[0].high, found[0].unit


def test_reference_ranges_are_those_of_their_sources() -> None:
    # Eye pressure: check-values, 10-21 mmHg (Hollows & Graham 1966; MEM there).
    assert _range("ophthalmology", "IOP") == (10, 21, "mmHg")
    # Anaemia below 120 g/L in women and 130 g/L in men: World Health Organization 2011, from memory.
    assert _range("general surgery", "Hb", Sex.FEMALE) == (120, None, "g/L")
    assert _range("general surgery", "Hb", Sex.MALE) == (130, None, "g/L")
    # NEWS2 scores nothing for 51-90 /min, 12-20 /min, 96 % and more, 36.1-38.0 °C; from memory.
    assert _range("anaesthesia", "pulse") == (51, 90, "/min")
    assert _range("anaesthesia", "SpO2") == (96, 100, "%")


def test_ranges_in_pregnancy_are_those_of_their_sources() -> None:
    def pregnant(name: str) -> tuple[float | None, float | None, str]:
        return _range("obstetrics and gynaecology", name, whom=Whom.PREGNANCY)

    # Green and others, Obstet Gynecol 2020;135:653-664, abstract READ: 3rd and 97th centiles of the pulse
    # 63-105 /min at 12 weeks and 68-115 at 34.1; SpO2 94-99 % at 12 weeks and 93-99 at 40; breathing 9-22 /min
    # throughout; temperature 35.6-37.5 °C at 12 weeks and 35.3-37.3 at 33.4.
    assert pregnant("pulse") == (min(63, 68), max(105, 115), "/min")
    assert pregnant("SpO2") == (min(94, 93), 99, "%")
    assert pregnant("respiratory rate") == (9, 22, "/min")
    assert pregnant("temperature") == (min(35.6, 35.3), max(37.5, 37.3), "°C")
    # Practical Neurology, table of a case with the laboratory's ranges in pregnancy, READ.
    assert pregnant("creatinine") == (40, 80, "µmol/L")
    assert pregnant("sodium") == (132, 140, "mmol/L")
    assert pregnant("potassium") == (3.2, 4.6, "mmol/L")
    assert pregnant("albumin") == (24, 31, "g/L")
    # Eur J Obstet Gynecol Reprod Biol 2016 (S0301-2115(16)30344-X), abstract READ: 4.94 (3.51-7.38) g/L.
    assert pregnant("fibrinogen") == (3.51, 7.38, "g/L")
    # NICE guideline NG229, from memory: a baseline of 110-160 beats a minute.
    assert pregnant("FHR") == (110, 160, "/min")


def test_ranges_of_one_specialty_are_those_of_their_sources() -> None:
    # Creatine kinase: Oxford Handbook of General Practice, 2nd edition, appendix, READ.
    assert _range("orthopaedics", "CK", Sex.MALE) == (25, 195, "U/L")
    # Normal below 10 mmHg: WikEM, compartment pressure, after Elliott, J Bone Joint Surg 2003, READ.
    assert _range("orthopaedics", "compartment pressure") == (None, 10, "mmHg")
    # Neurourol Urodyn 2024;43:81-87, abstract READ: 95th centiles 102.6 mL in men, 93.8 mL in women.
    assert _range("urology", "PVR", Sex.MALE) == (None, 102.6, "mL")
    assert _range("urology", "PVR", Sex.FEMALE) == (None, 93.8, "mL")
    # Pathology Harmony 2.20-2.60 mmol/L, READ in Schini and others, Clin Endocrinol 2020.
    assert _range("ear nose and throat", "corrected calcium") == (2.20, 2.60, "mmol/L")
    # World report on hearing 2021, table 1.3, READ as quoted: normal below 20 dB.
    assert _range("ear nose and throat", "pure-tone average") == (None, 20, "dB")
    # Best Practice Journal (bpac New Zealand), April 2014, READ: generally 1.0-1.4 in healthy people.
    assert _range("vascular surgery", "ABPI") == (1.0, 1.4, "")


@pytest.mark.parametrize("name", available())
def test_a_range_says_its_source_and_lies_within_what_is_drawn(name: str) -> None:
    pack = load(name)
    drawn = {measure.name: measure for measure in pack.measures}
    assert len(drawn) == len(pack.measures)
    assert pack.references
    for found in pack.references:
        assert any(word in found.source for word in ("from memory", "no source", "; read"))
        limits = drawn.get(found.names[0])
        if limits is not None:
            assert found.unit == limits.unit
            ends = [end for end in (found.low, found.high) if end is not None]
            assert all(limits.low <= end <= limits.high for end in ends)


@pytest.mark.parametrize("name", available())
def test_what_is_shared_stands_before_what_is_a_packs_own(name: str) -> None:
    pack = load(name)
    assert "observations" in pack.also
    shared = [one for file in pack.also for one in _shared(file).measures]
    assert list(pack.measures[: len(shared)]) == shared
    assert len(pack.measures) > len(shared)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("low: 4.5, high: 6.0", "low: 6.0, high: 4.5", "low is not below high"),
        ("unit: µg/L, high: 11.4", "unit: µg/L", "neither low nor high"),
        ("names: [tryptase,", "names: [Etco2,", "two ranges for Etco2"),
        ("names: [tryptase,", "names: [Lactate,", "two ranges for Lactate"),
        ("names: [tryptase,", "names: [haemoglobin,", "two ranges for haemoglobin"),
    ],
)
def test_a_range_that_cannot_be_is_refused(old: str, new: str, told: str) -> None:
    assert old in GOOD
    with pytest.raises(PackInvalid, match=told):
        parse(GOOD.replace(old, new, 1), "own.yaml")
