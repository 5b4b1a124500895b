from __future__ import annotations

import pytest

from mmbuilder.case.identifiers import NumberKind, PersonRole, PlaceKind
from mmbuilder.scrub.surrogates import (
    day_words,
    fit,
    from_meeting,
    is_stand_in,
    people_words,
    place_words,
    protected,
)


@pytest.mark.parametrize(
    ("text", "name", "expected"),
    [
        ("so the Velkonar list", "Velkonar", "so the surgeon list"),
        ("so Mr Velkonar came", "Velkonar", "so the surgeon came"),
        ("so Mr. P. Velkonar came", "Velkonar", "so the surgeon came"),
        ("so the surgeon, Mr Velkonar, came", "Velkonar", "so the surgeon came"),
        ("so the surgeon, Mr Velkonar; then", "Velkonar", "so the surgeon; then"),
        ("so der Chirurg Herr Velkonar kam", "Velkonar", "so the surgeon kam"),
        ("so unser Operateur, Dr. Velkonar, kam", "Velkonar", "so the surgeon kam"),
        ("Velkonar came", "Velkonar", "The surgeon came"),
        ("Done. Velkonar left", "Velkonar", "Done. The surgeon left"),
        ("so Velkonar's knife", "Velkonar", "so the surgeon's knife"),
        ("so Velkons' knife", "Velkons", "so the surgeon's knife"),
        ("so our Velkonar came", "Velkonar", "so our surgeon came"),
        ('"Velkonar came"', "Velkonar", '"The surgeon came"'),
    ],
)
def test_a_stand_in_fits_its_sentence(text: str, name: str, expected: str) -> None:
    start = text.index(name)
    fitted = fit(text, start, start + len(name), "the surgeon", "surgeon")
    assert text[: fitted.start] + fitted.words + text[fitted.end :] == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Lives with Velkonar, her son.", "Lives with the relative."),
        ("Told with Mrs Velkonar, his daughter, there; letter", "Told with the relative there; letter"),
        ("Told Velkonar, his wife, and the ward", "Told the relative, and the ward"),
        ("Told his wife Velkonar about it", "Told the relative about it"),
        ("so lebt sie bei Velkonar, ihrem Sohn", "so lebt sie bei the relative"),
        # What goes on after the words is no apposition.
        ("Told Velkonar, her son was away", "Told the relative, her son was away"),
        ("Told Velkonar, her neighbour.", "Told the relative, her neighbour."),
    ],
)
def test_a_relative_is_not_told_twice(text: str, expected: str) -> None:
    start = text.index("Velkonar")
    fitted = fit(text, start, start + len("Velkonar"), "the relative", "relative")
    assert text[: fitted.start] + fitted.words + text[fitted.end :] == expected


@pytest.mark.parametrize(
    ("text", "words", "role", "expected"),
    [
        (
            "so retina consultant Mrs Velkonar in theatre",
            "colleague A",
            "colleague",
            "(colleague A) in theatre",
        ),
        ("so the radiologist Velkonar read it", "the colleague", "colleague", "(the colleague) read it"),
        ("so der Oberarzt Dr. Velkonar kam", "the surgeon", "surgeon", "(the surgeon) kam"),
        # Two nouns of one person need no brackets.
        ("so the consultant surgeon Mr Velkonar came", "the surgeon", "surgeon", "surgeon came"),
        ("so the senior nurse Velkonar came", "nurse B", "nurse", "nurse B came"),
        # The genitive goes to the profession; a place is in no apposition.
        ("so the consultant Velkonar's list", "surgeon B", "surgeon", "'s (surgeon B) list"),
        ("so the registrar Dr Velkonar’s note", "the colleague", "colleague", "’s (the colleague) note"),
        ("so the consultant surgeon Mr Velkonar's list", "the surgeon", "surgeon", "surgeon's list"),
        ("so the consultant Velkonar agreed", "Hospital A", "", "Hospital A agreed"),
    ],
)
def test_behind_a_profession_the_stand_in_is_in_brackets(
    text: str, words: str, role: str, expected: str
) -> None:
    # Common practice, no source: what somebody is and who of them it was are both told.
    start = text.index("Velkonar")
    fitted = fit(text, start, start + len("Velkonar"), words, role)
    assert fitted.words + text[fitted.end :] == expected
    assert is_stand_in(fitted.words)


def test_several_of_a_role_have_letters() -> None:
    assert people_words(["surgeon", "nurse", "surgeon"]) == ["surgeon A", "the nurse", "surgeon B"]
    assert place_words([PlaceKind.HOSPITAL, PlaceKind.WARD]) == ["Hospital A", "Ward A"]
    assert people_words(["nurse"] * 27)[26] == "nurse A2"


def test_days_and_weeks() -> None:
    assert [day_words(days) for days in (3, 0, -12)] == ["Day 3", "Day 0", "Day −12"]
    assert from_meeting(56) == "8 weeks after this meeting"
    assert from_meeting(7) == "1 week after this meeting"
    assert from_meeting(-1) == "1 day before this meeting"


def test_every_word_we_can_write_is_known_as_ours() -> None:
    ours = [
        *people_words([role.value for role in PersonRole] * 2),
        *people_words([role.value for role in PersonRole]),
    ]
    ours += [*place_words([*PlaceKind]), *(f"[{kind.value}]" for kind in NumberKind), "[removed]", "[date]"]
    ours += [
        "90 or older",
        "Day −12",
        "within 8 weeks of this meeting",
        "1 day before this meeting",
        "The surgeon's",
    ]
    assert [words for words in ours if not is_stand_in(words)] == []


@pytest.mark.parametrize(
    "words", ["Mrs Somebody", "the surgeon Velkonar", "Day three", "", "[Velkonar]", "Hospital Aa"]
)
def test_nothing_else_is(words: str) -> None:
    assert not is_stand_in(words)


@pytest.mark.parametrize(
    "text",
    [
        "Seen by nurse B. Quillorne",
        "the surgeon M. Tarnvolk",
        "nurse O'Drellan",
        "Nurse A Ombrelay",
        "Hospital K774411",
        "Day 12 March",
        "Clinic Day 03/02/2025",
    ],
)
def test_what_only_looks_like_a_stand_in_is_not_protected(text: str) -> None:
    assert protected(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "colleague\N{NO-BREAK SPACE}B came",
        *("nurse B checked", "Hospital A", "Day 12 was quiet", "[record number]", "[name A]", "surgeon B2"),
        *("Pflegefachperson B prüfte", "Krankenhaus A", "Tag 12 war ruhig", "[Aktennummer]", "Chirurg/in B2"),
    ],
)
def test_our_own_stand_ins_are(text: str) -> None:
    assert len(protected(text)) == 1
