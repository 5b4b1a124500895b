"""Ways a declared name, place or number slipped through, and words that were taken for one."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from tests.scrub.people import scrubbed


def index(*people: str, **more: object) -> Index:
    listed = {"people": [{"name": name, "role": "surgeon"} for name in people], **more}
    return Index(Declared.model_validate(listed))


TARNVOLK = index("M. Tarnvolk")


@pytest.mark.parametrize(
    "written",
    [
        "Tarn-\nvolk",
        "Tarn- volk",
        "Tarn-volk",
        "Tarn volk",
        "Tarn_volk",
        "tarn‐volk",
        "TARN VOLK",
        "tarn\u00advolk",
    ],
)
def test_a_name_in_pieces_goes(written: str) -> None:
    assert scrubbed(f"then {written} left", TARNVOLK) == "then the surgeon left"


@pytest.mark.parametrize(
    "written", ["Drtarnvolk", "DRTARNVOLK", "drtarnvolk", "Tarnvolkclinic", "MrTarnvolk", "tarnvolkcase"]
)
def test_a_glued_name_goes(written: str) -> None:
    assert "tarnvolk" not in scrubbed(f"then {written} left", TARNVOLK).lower()


def test_a_short_name_glued_to_a_title_goes() -> None:
    assert "osk" not in scrubbed("seen by DrOsk and drosk", index("Osk")).lower()


@pytest.mark.parametrize(
    ("name", "clinical"),
    [
        ("Overton", "a slow over ton of fluid"),
        ("Ink", "a drink of water"),
        ("Ng", "NG tube passed, see NICE NG 81, NG81; the ng tube"),
        ("Ng", "a free ng tube"),
        ("Miller", "Miller 2 blade; a Miller 3 was used"),
        ("Anna Young", "the Young's modulus of the graft"),
        ("Day", "Day surgery was full on Christmas Day; reviewed on Day 3"),
        ("Day", "Discharged home on Boxing Day; Day case list"),
        ("Ivo Quessenby", "IQ was normal"),
        ("Samuel", "a sample was sent"),
    ],
)
def test_clinical_words_stay(name: str, clinical: str) -> None:
    assert scrubbed(clinical, index(name)) == clinical


@pytest.mark.parametrize(
    ("name", "written", "expected"),
    [
        ("M. Tarnvolk", "in Tarnvolkʼs list", "in the surgeonʼs list"),
        ("M. Tarnvolk", "TARNVOLK'S LIST", "The surgeon's LIST"),
        ("M. Tarnvolk", "the Tarnvolks left", "the surgeon's left"),
        ("Tom Goetz", "by Götz, Gotz and Goetz", "by the surgeon, the surgeon and the surgeon"),
        ("王小明", "患者王小明来了", "患者the surgeon来了"),
        ("王小明", "by 王小明 today", "by the surgeon today"),
        ("王 小明", "患者王小明来了", "患者the surgeon来了"),
        ("Ivo Quessenby", "then ivo left", "then the surgeon left"),
        ("Anna Young", "Young held the retractor", "The surgeon held the retractor"),
        ("Ng", "then Ng left", "then the surgeon left"),
        ("Ng", "Dr Ng left", "The surgeon left"),
        ("M. Tarnvolk", "the surgeon M. Tarnvolk left", "The surgeon left"),
        ("P. Young", "the assistant P. Young left", "the assistant the surgeon left"),
        ("Siobhan O'Drellan", "the nurse O'Drellan left", "the nurse the surgeon left"),
        ("Day", "Then Day left", "Then the surgeon left"),
    ],
)
def test_other_ways_to_write_a_name_go(name: str, written: str, expected: str) -> None:
    assert scrubbed(written, index(name)) == expected


@pytest.mark.parametrize(
    ("place", "kind", "written"),
    [
        ("Saint Wendel's Hospital", "hospital",
         ["St Wendel's", "St. Wendel's", "St Wendels", "Wendel's", "SAINT WENDELS"]),
        ("St Orla's", "hospital", ["Saint Orla's", "St. Orlas", "Saint Orlas Hospital"]),
        ("Royal Brackenstow Infirmary", "hospital",
         ["Brackenstow", "Brackenstow Infirmary", "Royal Brackenstow"]),
        ("Theatre 4", "theatre",
         ["theatre no. 4", "Theatre four", "Th 4", "theatre number 4", "Theatre #4", "theatre 4"]),
    ],
)  # fmt: skip
def test_other_ways_to_write_a_place_go(place: str, kind: str, written: list[str]) -> None:
    places = index(places=[{"name": place, "kind": kind}])
    for way in written:
        out = scrubbed(f"then at {way} again", places)
        assert f"{kind.capitalize()} A" in out, way
        assert not {"wendel", "orla", "brackenstow", "4", "four"} & set(
            out.lower().replace("'", " ").split()
        ), way


@pytest.mark.parametrize("clinical", ["at Th 4 level", "four theatre staff", "the royal road", "T4 and L4"])
def test_what_only_looks_like_a_place_stays(clinical: str) -> None:
    places = index(places=[{"name": "Royal Brackenstow Infirmary", "kind": "hospital"}])
    assert scrubbed(clinical, places) == clinical


@pytest.mark.parametrize(
    ("number", "kind", "written"),
    [
        ("H9990417", "record number",
         ["NoH9990417", "9990417", "H999,0417", "H999:0417", "H999·0417", "H9990417A", "H 999 - 0417"]),
        ("4471", "phone number", ["4,471", "44-71", "4471"]),
        ("01632 960123", "phone number", ["960123", "960 123", "01632960123", "+44 1632 960123"]),
    ],
)  # fmt: skip
def test_other_ways_to_write_a_number_go(number: str, kind: str, written: list[str]) -> None:
    numbers = index(numbers=[{"value": number, "kind": kind}])
    for way in written:
        out = scrubbed(f"see {way} again", numbers)
        assert f"[{kind}]" in out, way
        assert not any(sign.isdigit() for sign in out), way


def test_a_longer_number_is_another() -> None:
    numbers = index(numbers=[{"value": "H9990417", "kind": "record number"}])
    for other in ("H99904171", "19990417", "99904170"):
        assert scrubbed(f"see {other}", numbers) == f"see {other}"


@pytest.mark.parametrize("value", ["7", "A1", "#4-"])
def test_a_number_of_two_signs_is_refused(value: str) -> None:
    with pytest.raises(ValidationError, match="three"):
        Declared.model_validate({"numbers": [{"value": value}]})
