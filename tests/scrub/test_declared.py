from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.fold import folded
from tests.scrub.people import INDEX, scrubbed


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("Then Velkonar left.", "Then surgeon A left."),
        ("then VELKONAR left", "then surgeon A left"),
        ("then velkonar left", "then surgeon A left"),
        ("Mr Velkonar left.", "Surgeon A left."),
        ("Mr. P. Velkonar left.", "Surgeon A left."),
        ("Velkonar, P. left.", "Surgeon A left."),
        ("velkonar, p", "Surgeon A"),
        ("The surgeon, Mr Velkonar, left.", "Surgeon A left."),
        ("Velkonar's list", "Surgeon A's list"),
        ("Velkonar’s list", "Surgeon A’s list"),
        ("the Oskavarn-Tullmere family", "the patient family"),
        ("Oskavarn came with Tullmere", "The patient came with the patient"),
        ("JKO signed", "The patient signed"),
        ("seen by J.K.O. today", "seen by the patient today"),
        ("jane_oskavarn_tullmere", "The patient"),
        ("film OskavarnEye2", "film the patient Eye2"),
        ("Oska\u0301varn and Osk\u00e1varn", "The patient and the patient"),
        ("Oska\u200bvarn", "The patient"),
        ("by van der Brueskell", "by surgeon B"),
        ("by Bruskell J", "by surgeon B"),
        ("with O’Drellan", "with the trainee"),
        ("with ODrellan", "with the trainee"),
        ("Corrick Zebulanthe and C. Zebulanthe", "The technician and the technician"),
        ("with Velkonra", "with surgeon A"),
        ("with Zebulannthee", "with the technician"),
        ("at St Orvanes in Quenbyford", "at Hospital A in Town A"),
        ("on Rose Ward", "on Ward A"),
        ("Nurse: Hand; the hand was cold", "Nurse: the nurse; the hand was cold"),
        ("label 482913 and 0048 2913", "label [record number] and [record number]"),
        ("9990000018 or 999-000-0018", "[national number] or [national number]"),
        ("ring +44 7700 900456", "ring +[phone number]"),
        ("serial gts 4471902", "serial [serial number]"),
        ("she was the Swimming Champion", "she was [removed]"),
    ],
)
def test_every_variant_goes(written: str, expected: str) -> None:
    assert scrubbed(written) == expected


@pytest.mark.parametrize(
    "clinical",
    [
        "A Foley catheter was passed; the Foley was clamped a Foley later removed.".replace(
            "the Foley", "it"
        ),
        "Hand surgery was planned and the left hand was cold.",
        "May need a second look in May 2024, or on 12 May.",
        "rose bengal staining of the rose-coloured disc",
        "The hand table, a hand drill and hand-held suction",
        "the ward round and the hospital lift",
        "Jo blocks, an O-ring and a J wire",
        "blood was taken at the anaesthetic room",
    ],
)
def test_clinical_words_stay(clinical: str) -> None:
    assert scrubbed(clinical) == clinical


def test_keep_phrases_stay_in_any_case() -> None:
    index = Index(
        Declared.model_validate(
            {"people": [{"name": "Rowan Greenvalt", "role": "patient"}], "keep": "Greenvalt sign"}
        )
    )
    assert (
        scrubbed("a positive greenvalt sign in Greenvalt", index)
        == "a positive greenvalt sign in the patient"
    )


def test_one_person_has_one_group_and_one_stand_in() -> None:
    text = "so Velkonar, Mr P. Velkonar, Velko and PETER VELKONAR and velkonra met"
    spans = INDEX.find(text)
    assert len(spans) == 5
    assert len({span.group for span in spans}) == 1
    assert {span.stand_in for span in spans} == {"surgeon A"}


def test_a_role_with_one_bearer_has_no_letter() -> None:
    index = Index(Declared.model_validate({"people": [{"name": "Velkonar", "role": "surgeon"}]}))
    assert scrubbed("so Mr Velkonar's list", index) == "so the surgeon's list"


@pytest.mark.parametrize(
    "listed",
    [
        *(
            "nurse Tamsyne",
            "recovery nurse Tamsyne",
            "Nurse Tamsyne",
            "sister Tamsyne",
            "ward sister Tamsyne",
        ),
        *("midwife Tamsyne", "Consultant Mr Tamsyne", "consultant Tamsyne", "wife Tamsyne", "mr Tamsyne"),
        *("Tamsyne (midwife)", "Tamsyne (recovery nurse)"),
    ],
)
def test_the_role_in_an_entry_is_no_name(listed: str) -> None:
    index = Index(Declared.model_validate({"people": [{"name": listed, "role": "nurse"}]}))
    text = "The Nurse, the Sister, her Wife, a Midwife, a Consultant and the Ward Sister in Recovery met."
    assert scrubbed(text, index) == text
    assert (
        scrubbed("then Tamsyne came, and Nurse Tamsyne left", index)
        == "then the nurse came, and the nurse left"
    )


@pytest.mark.parametrize("listed", ["baby Quillorne", "Baby Quillorne", "Baby girl Quillorne"])
def test_a_newborn_is_named_by_its_surname_alone(listed: str) -> None:
    # Common practice, no source: a newborn is entered under its mother's surname.
    index = Index(Declared.model_validate({"people": [{"name": listed, "role": "patient"}]}))
    text = "Line care in a baby. The baby girl was fed."
    assert scrubbed(text, index) == text
    assert scrubbed("then Baby Quillorne cried", index) == "then the patient cried"


def test_one_letter_is_found_behind_its_title_alone() -> None:  # common practice, no source
    index = Index(Declared.model_validate({"people": [{"name": "Dr A", "role": "anaesthetist"}]}))
    text = "Dr A said so, Dr. A stayed; dr a few, Dr B, A said."
    assert [text[start:end] for start, end, *_ in index.hits(text)] == ["Dr A", "Dr. A"]
    assert index.find(text)[0].stand_in == "The anaesthetist"


@pytest.mark.parametrize("listed", ["A", "x"])
def test_one_letter_alone_is_nothing_to_look_for(listed: str) -> None:
    assert Index(Declared.model_validate({"people": [{"name": listed, "role": "nurse"}]})).empty
    assert not INDEX.empty


@pytest.mark.parametrize("listed", ["Nurse", "Rebekka Nurse", "Nurse, Rebekka", "Mrs Nurse", "rebekka nurse"])
def test_a_surname_that_is_a_role_goes(listed: str) -> None:
    index = Index(Declared.model_validate({"people": [{"name": listed, "role": "patient"}]}))
    assert scrubbed("so Mrs Nurse came", index) == "so the patient came"


@pytest.mark.parametrize(
    "listed", ["Porter Quillorne", "Witness Quillorne", "Reg Quillorne", "Sonny Quillorne"]
)
def test_a_forename_that_is_a_role_goes(listed: str) -> None:
    index = Index(Declared.model_validate({"people": [{"name": listed, "role": "patient"}]}))
    assert scrubbed(f"so {listed.split()[0]} Quillorne came", index) == "so the patient came"
    assert scrubbed(f"so Mr {listed.split()[0]} came", index) == "so the patient came"


@given(st.text(max_size=30), st.text(max_size=30))
def test_a_name_between_any_words_goes(before: str, after: str) -> None:
    out = scrubbed(f"{before} Zebulanthe {after}")
    assert "zebulanthe" not in folded(out)


@given(st.text(max_size=60))
def test_spans_lie_in_the_text_in_order(text: str) -> None:
    last = 0
    for span in INDEX.find(text):
        assert last <= span.start < span.end <= len(text)
        last = span.end


@given(st.text(alphabet="aeiouäöüßøłéñ\u0301\u200b ", max_size=20))
def test_offsets_map_back_through_folding(noise: str) -> None:
    text = f"{noise} Velkonar {noise}"
    # The first letter of a word may carry marks of the noise; the name itself is always what is cut out.
    spans = [span for span in INDEX.find(text) if span.kind == "declared name"]
    assert any(folded(text[span.start : span.end]).strip() == "velkonar" for span in spans)


@given(st.text(max_size=80))
def test_scrubbing_twice_changes_nothing(text: str) -> None:
    once = scrubbed(f"{text} Mr Velkonar, Rose Ward, 00482913")
    assert scrubbed(once) == once


def test_decomposed_accents_go_with_their_letter() -> None:
    text = unicodedata.normalize("NFD", "by Brüskéll today")
    assert scrubbed(text) == "by surgeon B today"
