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
        (
            "A. Tarnvolk",
            "Mr Tarnvolk, a widower; Tarnvolk, A. left",
            "The surgeon, a widower; the surgeon left",
        ),
        ("Tom Goetz", "by Götz, Gotz and Goetz", "by the surgeon, the surgeon and the surgeon"),
        ("王小明", "患者王小明来了", "患者 the surgeon 来了"),
        ("王小明", "by 王小明 today", "by the surgeon today"),
        ("王 小明", "患者王小明来了", "患者 the surgeon 来了"),
        ("Ivo Quessenby", "then ivo left", "then the surgeon left"),
        ("Anna Young", "Young held the retractor", "The surgeon held the retractor"),
        ("Ng", "then Ng left", "then the surgeon left"),
        ("Ng", "Dr Ng left", "The surgeon left"),
        ("M. Tarnvolk", "the surgeon M. Tarnvolk left", "The surgeon left"),
        ("P. Young", "the assistant P. Young left", "the assistant the surgeon left"),
        ("Siobhan O'Drellan", "the nurse O'Drellan left", "the nurse (the surgeon) left"),
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


WHOLE = index("Jaspin Oswin Tarnvolk")


@pytest.mark.parametrize(
    "written",
    [
        *(
            "T a r n v o l k",
            "T A R N V O L K",
            "T.a.r.n.v.o.l.k",
            "T-A-R-N-V-O-L-K",
            "Tarn.volk",
            "Tarn/volk",
        ),
        *("Tаrnvоlk", "ТARNVOLK", "𝐓𝐚𝐫𝐧𝐯𝐨𝐥𝐤", "Ｔａｒｎｖｏｌｋ", "Tarn’volk", "**Tarn**volk", "Tarn\\volk"),
        *("Tarn&shy;volk", "&#84;arnvolk", "Tarn&#118;olk", "%54arnvolk", "Tarn%76olk", "Jaspin%20Tarnvolk"),
        *("Ta rnv ol k", "T arnv olk", "Ta r nvo lk"),
        *("T4rnvolk", "Tarnv0lk", "Jasp1n", "Tarnvokl", "Tarnvlk", "Tarrnvolk", "Ternvolk"),
        *("J.T.", "J. T.", "J T", "J-O-T", "JOT", "J O T", "Tarnvolk, J.O.", "Tarnvolk JO", "JTarnvolk"),
        *("jtarnvolk", "tarnvolkj", "OpNoteTarnvolkFinal", "opnotetarnvolkfinal", "20240312tarnvolk"),
    ],
)
def test_no_writing_hides_a_name(written: str) -> None:
    out = scrubbed(f"then {written} left", WHOLE)
    assert "the surgeon" in out, out
    assert out.startswith("then ")
    assert out.endswith(" left")


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("Jörg Müllvann", ["Muellvann", "Mullvann", "MU\u0308LLVANN", "M&uuml;llvann"]),
        ("Lars Haavbrun", ["Håvbrun", "HÅVBRUN"]),
        ("Lars Hoervand", ["Hørvand", "Hörvand"]),
        ("Anke Groußvik", ["Groussvik", "GROUẞVIK"]),
        ("Jan Głuvek", ["Gluvek", "GŁUVEK"]),
        ("王小明", ["小明", "王 小明", "王先生", "王医生"]),
        ("محمد الترنفولكي", ["الترنفولكي", "مُحَمَّد"]),
        ("रमेश तार्नवोल्क", ["तार्नवोल्क", "रमेश"]),
        ("Иван Тарнволков", ["ТАРНВОЛКОВ", "Тарнволкова"]),
        (
            "Siobhan O'Drellan",
            ["O’Drellan", "OʼDrellan", "O`Drellan", "O＇Drellan", "O&#39;Drellan", "Mr O'rDellan"],
        ),
    ],
)
def test_names_of_other_languages_go_in_every_spelling(name: str, written: list[str]) -> None:
    for way in written:
        assert "the surgeon" in scrubbed(f"then {way} left", index(name)).lower(), way


@pytest.mark.parametrize(
    ("place", "kind", "written"),
    [
        ("Ward 7B", "ward", ["Ward 7 b", "ward seven B", "ward 7-B", "Wd 7B", "7B ward", "ward no. 7B", "Ward 07b"]),
        ("Theatre 4", "theatre", ["theatre 04", "Theatre IV", "theatre nr 4"]),
        ("Rose Ward", "ward", ["rose ward", "ROSE WARD", "rose-ward"]),
        ("Royal Tarnbrack Infirmary", "hospital", ["R.T.I.", "R T I", "RTI", "Tarnbrack"]),
        ("The Old Mill, Quenbyford", "town", ["Quenbyford", "The Old Mill"]),
    ],
)  # fmt: skip
def test_short_forms_of_a_place_go(place: str, kind: str, written: list[str]) -> None:
    for way in written:
        out = scrubbed(f"then at {way} again", index(places=[{"name": place, "kind": kind}]))
        assert f"{kind.capitalize()} A" in out, way


@pytest.mark.parametrize(
    ("number", "kind", "written"),
    [
        ("999 000 0018", "national number",
         ["999-000 0018", "999 OOO OO18", "999O0000l8", "999|000|0018", "٩٩٩٠٠٠٠٠١٨", "９９９ ０００ ００１８"]),
        ("H9990417", "record number", ["h999O417", "H999 04l7"]),
        ("07700900456", "phone number", ["900456", "07700 900 456", "900 456"]),
        ("+1 202 555 0147", "phone number", ["555-0147", "5550147", "(202) 555-0147"]),
    ],
)  # fmt: skip
def test_a_number_goes_with_slips_and_in_part(number: str, kind: str, written: list[str]) -> None:
    numbers = index(numbers=[{"value": number, "kind": kind}])
    for way in written:
        assert f"[{kind}]" in scrubbed(f"see {way} again", numbers), way


@pytest.mark.parametrize("declared", ["12 March 1951", "12/03/1951", "1951-03-12"])
@pytest.mark.parametrize(
    "written",
    [
        "12 March 1951",
        "12/3/51",
        "12.03.1951",
        "1951-03-12",
        "12th of March 1951",
        "March 12, 1951",
        "12031951",
    ],
)
def test_a_declared_date_of_birth_goes_in_every_form(declared: str, written: str) -> None:
    assert scrubbed(f"born {written}", index(other=[declared])) == "born [removed]"


@pytest.mark.parametrize(
    ("name", "clinical"),
    [
        ("May Quillorne", "in May, late May, since May and 12 May"),
        ("Ulla Hand", "VA HAND MOVEMENTS ONLY; Hand movements at 1 m"),
        ("Ann Long", "Then Long axis view; LONG SAPHENOUS VEIN"),
        ("Sue Gray", "2 Gray in all; GRAY MATTER; the Gray matter"),
        (
            "Hans Fuchs",
            "Fuchs' endothelial dystrophy; FUCHS DYSTROPHY; Fuchs endothelial corneal dystrophy; Fuchs spot",
        ),
        ("Hans Fuchs", "Fuchs heterochromic cyclitis; Fuchs uveitis"),
        ("Sam Dose", "the dose was halved"),
        ("A Clamp", "the clamp slipped"),
        ("Ian Over", "over the next hour"),
        ("Pat Ent", "the duct was patent"),
    ],
)
def test_a_word_like_name_leaves_the_clinic_alone(name: str, clinical: str) -> None:
    assert scrubbed(clinical, index(name)) == clinical
    surname = name.split()[-1]
    assert scrubbed(f"then Dr {surname} left", index(name)) == "then the surgeon left"
    assert scrubbed(f"then {name} left", index(name)) == "then the surgeon left"


@pytest.mark.parametrize("listed", ["th 6", "Theatre 6", "OT 6"])
@pytest.mark.parametrize("written", ["th 6", "Th 6", "TH6", "th6", "Theatre 6", "theatre six", "ot 06"])
def test_a_room_with_a_number_goes_however_it_is_called(listed: str, written: str) -> None:
    place = index(places=[{"name": listed, "kind": "theatre"}])
    assert written not in scrubbed(f"no machine in {written} - broken", place)


def test_a_room_called_or_goes_in_capitals_only() -> None:
    place = index(places=[{"name": "OR 2", "kind": "theatre"}])
    assert scrubbed("one or 2 clips in OR 2", place).startswith("one or 2 clips in ")
    assert "OR 2" not in scrubbed("one or 2 clips in OR 2", place)


@pytest.mark.parametrize(
    ("written", "left"),
    [
        ("Told the daughter Ms Farrimond.", "Told the relative."),
        ("Told her daughter, Ms Farrimond, at 12.", "Told the relative at 12."),
        ("Ms Farrimond went home.", "The patient went home."),
        ("The patient, Ms Farrimond, went home.", "The patient went home."),
    ],
)
def test_of_two_who_bear_a_name_the_one_is_meant_whose_role_is_told(written: str, left: str) -> None:
    people = [
        {"name": "Odette Farrimond", "role": "patient"},
        {"name": "Ms Farrimond", "role": "relative"},
    ]
    assert scrubbed(written, Index(Declared.model_validate({"people": people}))) == left
