"""A name ends with its line, unless the line was broken at its width within it (common practice, no source)."""

from __future__ import annotations

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.propose import in_texts


def found(text: str) -> list[str]:
    return [text[span.start : span.end] for span in in_texts([text], Index(Declared()))[0]]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Dr Quillorne\nHaemoglobin 61", ["Dr Quillorne"]),
        ("Dr Quillorne\n  Died at 04:00", ["Dr Quillorne"]),
        ("Dear Dr van der Brusk\nRe: the second look", ["Dr van der Brusk"]),
        ("SURGEON OSKAVARN\nLAPAROTOMY DONE", ["OSKAVARN"]),
        ("Dr. Quillorne\nDiagnose Ileus", ["Dr. Quillorne"]),
        ("Dr Quillorne Impression: sepsis", ["Dr Quillorne"]),
        ("Dr Quillorne\nLong standing pain", ["Dr Quillorne"]),
        ("Mr Quillorne\nMark on skin", ["Mr Quillorne"]),
        ("Mr Quillorne\nBishop score 4", ["Mr Quillorne"]),
        ("Cons Quillorne\nTue", ["Quillorne", "Tue"]),
        ("Runner: Quillorne Swabs: correct", ["Quillorne"]),
        ("Scrub: SN Joy Quill   Runner: HCA Pete", ["Joy Quill", "HCA Pete"]),
        ("I told Pat. Bleeding stopped.", ["Pat"]),
        ("Camera: Bea  Floor: Quillorne", ["Bea", "Quillorne"]),
        ("Ayudantes: Quillorne Hora: 10:00", ["Quillorne"]),
        ("Mrs Quillorne G3P2 in labour", ["Mrs Quillorne"]),
        ("07700 900771\nB3 next", ["07700 900771"]),
        ("MP 0441771\n8 RBC given", ["MP 0441771"]),
        ("Hinchey 3.\nMarch fracture", []),
        ("3/4/26\t12\t5", ["3/4/26"]),
        ("Dr Quillorne\tHaemoglobin\t61", ["Dr Quillorne"]),
        ("Patient\tQuillorne Vraxholm\tHospital no.\tK 448211", ["Quillorne Vraxholm", "K 448211"]),
        ("05/01/2026,2,3", ["05/01/2026"]),
        ("Herr Quillorne M. Crohn, Stoma", ["Herr Quillorne"]),
        ("MRN MH 4471-9926  47F", ["MH 4471-9926"]),
        ("MRN K4480120 M 51 left hip", ["K4480120"]),
        ("donor arrived from Quenborough Infirmary 2300, liver", ["Quenborough Infirmary"]),
        ("told sister Chidinma Sat 14/11", ["Chidinma", "Sat 14/11"]),
        ("M. Wilson vu ce matin", ["M. Wilson"]),
        ("call 01632 960118 x22.", ["01632 960118 x22"]),
        ("Dr R Quillorne\nOak Lane Surgery\nWX3 4QT", ["Dr R Quillorne", "Oak Lane Surgery\nWX3 4QT"]),
        ("Mrs Quillorne Whipple's, then Mr Foley Foley catheter out", ["Mrs Quillorne", "Mr Foley"]),
        ("Dr Mary Foley saw Mrs Anne Whipple's daughter", ["Dr Mary Foley", "Mrs Anne Whipple"]),
        ("hosp no 448120 T3N1, MRN 448120 2.4 L", ["448120", "448120"]),
        ("bleep 4471 G3P2", ["4471"]),
        ("MRN 448120 44 yo man", ["448120"]),
        ("MRN 448120 RCC T3a", ["448120"]),
        ("Seen on 14 Nov BP 90/50 and stable", ["14 Nov"]),
        ("Mrs Ada Quillorne Hb 92", ["Mrs Ada Quillorne"]),
        ("Mrs Ada Quillorne L hip", ["Mrs Ada Quillorne"]),
        ("1. Quillorne, W 78F hip", ["Quillorne, W"]),
        ("MRN 4471 88 120 K", ["4471 88 120 K"]),
        ("MRN 448120 93 F hip", ["448120 93 F"]),
        ("K448120 14/12 lap chole", ["K448120 14/12"]),
        ("witnessed by S/N Tamsin O.", ["Tamsin O."]),
    ],
)
def test_what_follows_below_or_behind_a_name_stays(text: str, names: list[str]) -> None:
    assert found(text) == names


@pytest.mark.parametrize(
    "text",
    [
        "Mr\nQuillorne bled",
        "patient Mr Olu\nAdebayo Femi came",
        "Dr\tQuillorne bled",
        "Patient: Olu\tAdebayo",
        "NHS number 943 476\n5919",
        "tel 07700\n900771",
        "seen by Dr Grace\nYoung",
        "The case was then discussed at some length with our Dr Grace\nYoung who agreed.",
    ],
)
def test_what_is_broken_at_the_end_of_a_line_goes_whole(text: str) -> None:
    name = "".join(found(text))
    assert "\n" in name or "Quillorne" in name or name.endswith("Adebayo")
    assert name.endswith(("Quillorne", "Femi", "Young", "Adebayo", "5919", "900771"))


@pytest.mark.parametrize(
    "text",
    [
        "bile leak, Strasberg A. Bismuth n/a",
        "Weber B. Lauge-Hansen SER",
        "Pugh C. Maddrey 40",
        "Stanford B. Crawford II",
    ],
)
def test_the_letter_of_a_class_is_no_initial(text: str) -> None:
    assert found(text) == []


def test_a_time_beside_a_whole_date_stays() -> None:
    assert found("[12/11/26, 20:14] BP 80/40") == ["12/11/26"]
