"""Names without a title as a reader writes them: found whole, and words of the ward left alone.

The names are invented or among the commonest; the sentences are such as wards write (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mmbuilder.scrub.judged import SPEAKS_AGAINST, Judged, runs
from mmbuilder.scrub.judging import Chance, Settled, chances
from mmbuilder.scrub.plan import Decision, Span
from mmbuilder.scrub.words import word_set


@pytest.fixture(scope="module")
def names() -> Judged:
    return Judged()


def said(names: Judged, text: str) -> list[str]:
    spans = names.find([text])[0]
    return [text[span.start : span.end] for span in spans if span.decision is Decision.REPLACE]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("long scrubbed w me, long gamma nail", ["long"]),
        ("Brown", ["Brown"]),
        ("grace", ["grace"]),
        ("Cover: Brown", ["Brown"]),
        ("anaes: young", ["young"]),
        ("grace (hca) found pt on floor", ["grace"]),
        ("babinski, 54, bilateral babinski up", ["babinski"]),
        ("Hope from the stoma team marked him.", ["Hope"]),
        ("ring Foley if drain > 100", ["Foley"]),
        ("told by Hand that the hand was cold", ["Hand"]),
        ("her partner, Dieter, brought the tablets", ["Dieter"]),
        ("son mark rang twice", ["mark"]),
        ("with priya and tom scrubbed", ["priya", "tom"]),
        ("consent by f. quorrin-ansah, ectr", ["f. quorrin-ansah"]),
        ("w.j.p. consented, r.m. scrubbed", ["w.j.p.", "r.m."]),
        ("savitri ka phone, shabnam sister ne bakri lagaya", ["savitri", "shabnam"]),
        ("Jude: theatre 2 pls", ["Jude"]),
        ("on call but Frost came", ["Frost"]),
        ("pt of mr quenshaw-bells, lap appx", ["quenshaw-bells"]),
        ("nok: tui, ph on file", ["tui"]),
        ("pt ng wei ling, thyroid", ["ng wei ling"]),
        ("wife jo will drive", ["jo"]),
        ("verity k. (physio) mobilised", ["verity k."]),
        ("SCRUB QUENDELINE, RUNNER KWABENA, SWABS CORRECT", ["QUENDELINE", "KWABENA"]),
        ("HOPE WAS BORN BY FORCEPS AT 0417", ["HOPE"]),
        ("Tariq Hussain came back.", ["Tariq Hussain"]),
        ("Thomas Down does not have Down syndrome.", ["Thomas Down"]),
        ("uss by thorvaldsen, stone in the duct", ["thorvaldsen"]),
    ],
)
def test_a_name_is_found_whole(names: Judged, text: str, found: list[str]) -> None:
    assert said(names, text) == found


@pytest.mark.parametrize(
    "text",
    [
        "sats 94, on 2 l via nc, d/w ed and ct",
        "done",
        "Done",
        "Major",
        "Lab: pH",
        "Qty",
        "Readmitted: Y",
        "porter",
        "Porter",
        "Atmung",
        "status: open",
        "Colour: Brown",
        "Response: Good",
        "Stage: pN1a",
        "Stain: TTF-1",
        "fundus first, then the drain was out",
        "female, 54, with gallstones",
        "ring drain if blocked",
        "Pain > 7, then Nausea",
        "opéré, fièvre à 39, péritonite",
        "wife will come, son unable, reg to review in the morning",
        "asked for foley catheter, foley out at 6",
        "thanks all, sorry, will do",
        "THE SURGEON WAS CALLED AND THE CHEST OPENED AT THE BEDSIDE",
        "handover: bed 1 for home, bed 2 needs potassium, 3 empty",
        "hb 94, 93, 92 over three days",
        "Okonjo sign was absent.",
        "hartmanns 1 l then a hudson mask, sats 94",
        "Bernard Soulier syndrome was thought of.",
        "sepsis six, lactate 5, norad 0.1, terli 2 mg",
        "her mother had a Whipple and his son a Kasai",
        "Austin Flint murmur",
        "P/F 84, Murray 3.2.",
        "Patientin mit M. Crohn und M. Basedow, seit 2001 Mb. Wilson, Mb Paget",
        "33yo G3P2 @ 39w2d, SBO, LOA",
    ],
)
def test_words_of_the_ward_stay(names: Judged, text: str) -> None:
    assert said(names, text) == []


@pytest.mark.parametrize(
    ("text", "found", "kinds"),
    [
        ("wound swab 23rd grew coliforms, changed to gentamicin", ["23rd"], ["date"]),
        ("Vu le 22/1 à 4h au bloc, sang 400 ml", ["22/1 à 4h"], ["date"]),
        ("box no QPB-03 from ccu, threshold 0.8", ["QPB-03"], ["record number"]),
        ("alarm code 4491 for the drug cupboard", ["4491"], ["record number"]),
    ],
)
def test_a_date_or_number_is_known_by_the_words_beside_it(
    names: Judged, text: str, found: list[str], kinds: list[str]
) -> None:
    spans = [span for span in names.find([text])[0] if span.decision is Decision.REPLACE]
    assert [text[span.start : span.end] for span in spans] == found
    assert [span.kind for span in spans] == kinds


def test_a_weak_cue_is_outweighed_by_the_words_beside_it_and_a_title_is_not(names: Judged) -> None:
    text = "Patient, dolantin 25 mg iv, warm blanket, pain 3, back to the ward."
    at = text.index("dolantin")
    weak = Span(at, at + 8, "name by role", "A", "[name]", 0.85)
    (kept,) = [span for span in names.find_beside([text], [[weak]])[0] if span.start == at]
    assert (kept.decision, kept.reason, kept.end) == (Decision.KEEP, SPEAKS_AGAINST, at + 8)
    sure = replace(weak, confidence=0.9)
    assert all(span.reason != SPEAKS_AGAINST for span in names.find_beside([text], [[sure]])[0])


def test_what_the_guard_keeps_is_told_with_its_reason(names: Judged) -> None:
    text = "A Swan-Ganz catheter and a Foley catheter."
    spans = names.find([text])[0]
    assert {text[span.start : span.end] for span in spans} == {"Swan-Ganz", "Foley"}
    assert all(span.decision is Decision.KEEP and span.reason for span in spans)


def test_a_sentence_is_judged_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def counted(sentences: Sequence[tuple[str, Settled]]) -> list[list[Chance]]:
        asked.extend(sentence for sentence, _ in sentences)
        return chances(sentences)

    monkeypatch.setattr("mmbuilder.scrub.judged.chances", counted)
    known, new = "Asked Grace for a second suction.", "We rang Rose on the bank desk."
    names = Judged()
    first = names.find([known])
    assert names.find([f"{new} {known}", known])[1] == first[0]
    assert asked == [known, new]


def test_what_others_replace_is_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[Settled] = []

    def noted(sentences: Sequence[tuple[str, Settled]]) -> list[list[Chance]]:
        told.extend(settled for _, settled in sentences)
        return chances(sentences)

    monkeypatch.setattr("mmbuilder.scrub.judged.chances", noted)
    text = "It rained. Asked Grace for a second suction."
    at = text.index("Grace")
    Judged().find_beside([text], [[Span(at, at + 5, "titled name", "A", "[name]", 0.9)]])
    assert told == [(), ((6, 11),)]


WORDS = st.lists(
    st.sampled_from(
        sorted(
            word_set(
                "pt nok wife mr dr by s/b hi thx bed 4 will may foley o'shea-pell k. van der ng li quenby : , . ( ) - and & x2 iii d2 é ß İ ŉ"
            )
        )
    ),
    max_size=14,
).map(" ".join)


@given(st.one_of(WORDS, st.text(max_size=80)))
@settings(max_examples=100, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
def test_what_is_found_lies_in_the_text_and_apart(text: str) -> None:
    for written in (text, text.upper(), text.lower()):
        last = 0
        for run in runs(written, chances([(written, ())])[0]):
            assert last <= run.start < run.end <= len(written)
            last = run.end


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("CASE FOR M&M Thurs 12th Nov - written up after nights", ["Thurs 12th Nov"]),
        ("Do: MEOWS>=4 after section = senior in 10 min", []),
        ("Ehefrau kommt sie erst abholen Do", ["Do"]),
    ],
)
def test_a_date_is_taken_without_the_words_beside_it_and_a_label_is_none(
    names: Judged, text: str, found: list[str]
) -> None:
    assert said(names, text) == found


def test_a_sentence_ends_behind_the_letter_of_a_place_of_ours_and_not_behind_an_initial(
    names: Judged,
) -> None:
    assert said(names, "He was referred from Town A. Field down to a central island in 18 months.") == []
    (name,) = said(names, "Consented by registrar T. Quorrindale before the list began.")
    assert name.endswith("T. Quorrindale")


def test_a_word_on_no_list_needs_less_than_one_that_may_be_a_thing(names: Judged) -> None:
    def found(text: str) -> list[str]:
        spans = [span for span in names.find([text])[0] if span.decision is Decision.REPLACE]
        return [text[span.start : span.end] for span in spans]

    assert found("Lakshan sepsis ke hain: pulse 130, temp 102, TLC 24,000.") == []
    assert found("Billroth II con fuga del muñón, sonda de Petzer, Kehr en el colédoco.") == []
    assert found("maine dr lobo ko bola unhone x ray bola to air fluid levels dikh rahe")[-1:] != ["x ray"]
    assert found("0950 main body 28-16-145 deployed, balloon up") == []
    assert found("Helena transplant coord has the crossmatch") == ["Helena"]
