"""Warnings of what may single somebody out; the sentences hold no word of the case."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.identifiers import Declared
from mmbuilder.casefile import load
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.resources import bundled_cases
from mmbuilder.scrub.outside import YEAR
from mmbuilder.scrub.plan import RedactionPlan, Span
from mmbuilder.scrub.reidentify import across, circumstances, singled_out, warn


def sentences(text: str) -> str:
    return " ".join(warning.sentence for warning in warn([("background", text)]))


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("An 84-year-old concert pianist with Wegener granulomatosis.", "occupation"),
        ("A 30-year-old with situs inversus.", "rare"),
        ("She is famous for her garden on television.", "fame"),
        ("The first robotic case in the region.", "first, only"),
        ("Husband of a theatre nurse here, aged 44.", "tie to staff"),
        ("A 62-year-old, one of twins, from a small island.", "small place"),
        ("Hurt in the stadium explosion.", "public knows"),
        ("The only ST3 on nights missed it.", "member of staff"),
        ("Opened on Saturday at 03:10.", "weekday"),
        ("Opened on a [day of the week] at 03:10.", "weekday"),
    ],
)
def test_what_points_at_one_person_is_warned_of(text: str, word: str) -> None:
    assert word in sentences(text)


@pytest.mark.parametrize(
    "text",
    [
        "A 62-year-old woman with gallstones had a laparoscopic cholecystectomy.",
        "The registrar called the consultant at 03:10.",
        "Only one clip was placed on the artery.",
        "Pressure 18, acuity 6/9, graft clear at week 6.",
        "The first suture was placed in the wound.",
    ],
)
def test_an_ordinary_case_is_not(text: str) -> None:
    assert warn([("background", text)]) == ()


@pytest.mark.parametrize(
    "text",
    [
        "Prev ACL same knee 2014 at Hospital B, metalwork in situ.",
        "Sigmoidectomy in 2009 at another hospital.",
        "Knee replaced 2016 abroad.",
        "Hip replacement, 1998, at the ______________.",
    ],
)
def test_a_year_an_operation_and_its_hospital_are_warned_of_together(text: str) -> None:
    (found,) = warn([("patient.history.0", text)])
    assert "the hospital where it was" in found.sentence
    assert len(found.cues) >= 2
    assert not any("_" in cue for cue in found.cues)


@pytest.mark.parametrize(
    "text",
    [
        "Prev ACL same knee 2014, metalwork in situ.",
        "Prev ACL same knee at Hospital B, metalwork in situ.",
        "Seen in 2014 at another hospital with asthma.",
        "Prev ACL 2014. Bloods done at another hospital.",
        "EBL 2010 ml after the operation at another hospital.",
        "Guideline of 2014: repair at the index operation.",
    ],
)
def test_two_of_the_three_lead_to_nobody(text: str) -> None:
    assert warn([("background", text)]) == ()


def test_a_hospital_that_goes_still_points_and_a_year_that_goes_does_not() -> None:
    words = "Knee replaced in 2014 at Velkonar General."
    folder = folder_saying(words)
    hospital = _span(words, "Velkonar General", "hospital", "B", "Hospital B")
    year = _span(words, "in 2014", YEAR, "C", "about 12 years before")

    def warned(*spans: Span) -> bool:
        plan = RedactionPlan(texts={("background",): spans})
        return any("the hospital where it was" in one.sentence for one in singled_out(folder, plan))

    assert warned(hospital)
    assert not warned(year, hospital)


def _span(words: str, said: str, kind: str, letter: str, stand_in: str) -> Span:
    first = words.index(said)
    return Span(first, first + len(said), kind, letter, stand_in, 0.9)


def test_circumstances_meet_over_several_places() -> None:
    found = warn([("background", "A 71-year-old."), ("caption 2", "It is a rare tumour.")])
    assert [warning.places for warning in found] == [("background", "caption 2")]


def test_no_word_of_the_case_is_quoted() -> None:
    text = "The only ST3 on nights, Quorrin, saw the mayor of Velkonar, aged 62, on Sunday at 02:20."
    told = sentences(text).casefold()
    assert told
    assert not any(word in told for word in ("quorrin", "velkonar", "mayor", "st3", "sunday", "02:20", "62"))


def test_the_words_that_show_it_are_there_for_the_author_alone() -> None:
    (found,) = warn([("background", "Hurt in the stadium; the royal\nbox fell.")])
    assert found.cues == ("stadium", "royal")
    assert "stadium" not in repr(found)


def test_a_word_of_a_declared_or_replaced_identifier_shows_nothing() -> None:
    words = "Sent on to the Royal Velkonar, a shooting."
    folder = folder_saying(words)
    first = words.index("Royal")
    plan = RedactionPlan(
        texts={
            ("background",): (
                Span(first, first + len("Royal Velkonar"), "hospital", "B", "the hospital", 0.9),
            )
        }
    )
    cues = {cue for warning in singled_out(folder, plan) for cue in warning.cues}
    assert "shooting" in cues
    assert "Royal" not in cues
    declared = Declared.model_validate({"places": [{"name": "Royal Velkonar", "kind": "hospital"}]})
    cues = {cue for warning in singled_out(replace(folder, declared=declared)) for cue in warning.cues}
    assert "shooting" in cues
    assert "Royal" not in cues
    assert "Royal" in {cue for warning in singled_out(folder) for cue in warning.cues}


def folder_saying(words: str) -> CaseFolder:
    folder = load(bundled_cases()[0])
    case = folder.case.model_copy(update={"background": FreeText(words)})
    return replace(folder, case=case, declared=Declared())


def test_cases_of_one_build_are_looked_at_together() -> None:
    one = circumstances([("background", "A 40-year-old twin with appendicitis.")])
    two = circumstances([("background", "A twin, aged 41.")])
    three = circumstances([("background", "A 41-year-old with a hernia.")])
    assert [warning.places for warning in across({"A": one, "B": two, "C": three})] == [("A", "B")]
    assert across({"A": one, "C": three}) == ()
