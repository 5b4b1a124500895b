from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.scrub.keep import Guard, Verdict

KEEP, REMOVE, ASK = Verdict.KEEP, Verdict.REMOVE, Verdict.ASK


def verdict(marked: str, *known: str) -> Verdict:
    """Judge the stretch between bars: "Dr |Fuchs| came"."""
    before, candidate, after = marked.split("|")
    judged = Guard(before + candidate + after, known).judge(len(before), len(before) + len(candidate))
    assert judged.reason
    return judged.verdict


@pytest.mark.parametrize(
    ("marked", "expected"),
    [
        ("Guttata of |Fuchs| dystrophy were seen.", KEEP),
        ("Guttata of |Fuchs| endothelial dystrophy were seen.", KEEP),
        ("Dr |Fuchs| asked for help.", REMOVE),
        ("Seen by Dr Anna |Fuchs| today.", REMOVE),
        ("Drs Zelandri, Voss and |Fuchs| came.", REMOVE),
        ("The |Chopart| and Lisfranc joints were stable.", KEEP),
        ("The ligament of |Treitz| was divided.", KEEP),
        ("|Hinchey| III was found.", KEEP),
        ("Cement reaction grade 2 (|Donaldson|) at once.", KEEP),
        ("Complication (|Clavien-Dindo IVa|): burst abdomen", KEEP),
        ("Complication (|Oskavarn IV|): burst abdomen", REMOVE),
        ("A |Foley| was passed.", KEEP),
        ("Known |Crohn's|, on azathioprine.", KEEP),
        ("The son mentioned |Crohn| and left.", KEEP),  # on no list of names: nobody is called so
        ("The son mentioned |Addison| and left.", ASK),
        ("Then |Graves| was mentioned.", ASK),
        ("Discussed with |Graves| by phone.", REMOVE),
        ("14 Fr |Foley| catheter drained clear urine.", KEEP),
        ("|Jones's| drain output was 900 ml.", ASK),
        ("|Marfan Oskavarn| has a murmur.", REMOVE),
        ("Seen with |Grace Young| today.", REMOVE),
        ("It was |Grace Young| again.", ASK),
        ("|May| need a further look.", KEEP),
        ("Listed in |May| for surgery.", KEEP),
        ("Then |May| again.", ASK),
        ("Dr |May| was aware.", REMOVE),
        ("The |hand| was pale.", KEEP),
        ("|Short| gastric vessels bled.", KEEP),
        ("Given |Betadine| twice.", KEEP),
        ("Grew |Serratia marcescens| again.", KEEP),
        ("Seen by |Oskavarn| today.", REMOVE),
        ("seen by |oskavarn| today", REMOVE),
        ("Mr and Mrs |Oskavarn| came.", REMOVE),
        ("The |Oskavarn| retractor was used.", KEEP),
        ("The |Oskavarn| drain was removed.", REMOVE),
        ("a |27G| needle", KEEP),
        ("|10-0| nylon", KEEP),
        ("ratio |1:10,000| was given", KEEP),
        ("acuity |6/9| unaided", KEEP),
        ("fused at |L4/5| and L5", KEEP),
        ("grade |III| injury", KEEP),
        ("transferred from |Inverness| overnight", REMOVE),
    ],
)
def test_candidates_are_weighed_by_list_and_context(marked: str, expected: Verdict) -> None:
    assert verdict(marked) is expected


def test_a_known_name_is_removed_alone_but_not_in_its_eponym_frame() -> None:
    assert verdict("|Fuchs| again", "Anna Fuchs") is REMOVE
    assert verdict("|Fuchs| again") is ASK
    assert verdict("|Fuchs| dystrophy again", "Anna Fuchs") is KEEP
    assert verdict("|Oskavarn| retractor again", "Oskavarn") is REMOVE


def test_the_judged_stretch_leaves_out_titles_and_possessives_and_takes_in_its_neighbours() -> None:
    text = "Told Dr Ilyra Oskavarn-Voss's wife."
    judged = Guard(text).judge(text.index("Oskavarn"), text.index("Oskavarn") + 8)
    assert text[judged.start : judged.end] == "Ilyra Oskavarn-Voss"


def test_an_unsure_finder_does_not_remove_words_in_small_letters() -> None:
    text = "The quorvic was Pale."
    assert Guard(text).judge(4, 11, score=0.3).verdict is KEEP
    assert Guard(text).judge(4, 11, score=0.99).verdict is ASK


def test_reasons_never_hold_the_name() -> None:
    text = "Dr Oskavarn, Zelandri's wife, with Voss and Crohn and Oskavarn retractor in May, Foley catheter."
    guard = Guard(text, ["Voss"])
    names = ("Oskavarn", "Zelandri", "Voss", "Crohn", "Foley")
    reasons = [guard.judge(text.index(n), text.index(n) + len(n)).reason for n in names]
    assert not any(name.lower() in reason.lower() for name in names for reason in reasons)


@given(st.text(max_size=80), st.data())
def test_any_candidate_of_any_text_gets_a_verdict_inside_the_text(text: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    judged = Guard(text).judge(start, end)
    assert 0 <= judged.start <= judged.end <= len(text)
