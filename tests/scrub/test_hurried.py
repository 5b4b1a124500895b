"""Names in hurried notes, and things that look like them; the names are invented or among the commonest."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.hurried import hurried
from mmbuilder.scrub.keep import Guard, Verdict
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.known_names import known


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("long scrubbed w me, long gamma nail", ["long"]),
        ("grace (hca) found pt on floor", ["grace"]),
        ("babinski, 54, bilateral babinski up", ["babinski"]),
        ("Crohn, Mrs Edwina, ileocaecal Crohn's", ["Crohn", "Edwina"]),
        ("Hope from the stoma team marked him.", ["Hope"]),
        ("Trendelenburg was the porter's name, the table in Trendelenburg", ["Trendelenburg"]),
        ("ring Foley if drain > 100", ["Foley"]),
        ("told by Hand that the hand was cold", ["Hand"]),
        ("It was Baker's turn to hold the camera", ["Baker"]),
        ("her partner, Dieter, brought the tablets", ["Dieter"]),
        ("son mark rang twice", ["mark"]),
        ("with priya and tom scrubbed", ["priya", "tom"]),
        ("consent by f. quorrin-ansah, ectr", ["f. quorrin-ansah"]),
        ("w.j.p. consented, r.m. scrubbed", ["w.j.p.", "r.m."]),
        ("km consented, jtp scrubbed", ["km", "jtp"]),
        ("d/w jt at 0310; called KM, no answer", ["jt", "KM"]),
        ("post-op film of T.K., rod out of hook", ["T.K."]),
        ('pt called self "big col" real name colm tarrensby', ["big col", "colm tarrensby"]),
        ("maa savitri ka phone, shabnam sister ne bakri lagaya", ["savitri", "shabnam"]),
        ("nguyễn thị lựu lscs cat 1, carboprost x3", ["nguyễn thị lựu"]),
        ("Jude: theatre 2 pls", ["Jude"]),
        ("by barraclough sho, dilys hca saw it", ["barraclough", "dilys"]),
        ("on call but Frost came", ["Frost"]),
    ],
)
def test_a_name_is_shown_by_what_stands_beside_it(text: str, names: list[str]) -> None:
    found = sorted((start, end) for start, end, _ in hurried(text, load()))
    assert [text[start:end] for start, end in found] == names


@pytest.mark.parametrize(
    "text",
    [
        "sats 94, on 2 l via nc, d/w ed and ct",
        "fundus first, then the drain was out",
        "female, 54, with gallstones",
        "mother may need help; wife will attend",
        "p.r.n. and b.d., a.m. dose reviewed",
        "Theatre, Mr",
        "ring drain if blocked",
        "Pain > 7, then Nausea",
        "Allergies: none",
        "call bell to hand",
        "swabs counted by two nurses",
        "opéré, fièvre à 39, péritonite",
        "CT of the abdomen; film of C.T.",
    ],
)
def test_a_thing_is_no_name(text: str) -> None:
    assert list(hurried(text, load())) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Lavage, 24 Fr Blake left in the pouch.", "Blake"),
        ("Eckardt fell from 9 to 2.", "Eckardt"),
        ("Gibson was used last time.", "Gibson"),
        ("McCoy up, Sellick off, Magill for the tooth.", "McCoy"),
        ("Ohi type, then Quandry III at surgery.", "Quandry"),
        ("Quandry's algorithm was followed.", "Quandry"),
        ("Given Quandrine 40 mg bd.", "Quandrine"),
        ("Opsite, Quexfix and Tegaderm were on.", "Quexfix"),
        ("DEBAKEY CLAMP SLIPPED.", "DEBAKEY CLAMP"),
    ],
)
def test_the_guard_keeps_what_stands_as_a_thing(text: str, said: str) -> None:
    start = text.index(said)
    assert Guard(text).judge(start, start + len(said)).verdict is Verdict.KEEP


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("According to Trevorrow, the clip slipped.", "Trevorrow"),
        ("McCoy said the blade was off.", "McCoy"),
        ("Anna Quandry III came back.", "Anna Quandry"),
        ("Surgeon Ross, Ross procedure.", "Ross"),
    ],
)
def test_the_guard_does_not_keep_a_person_for_it(text: str, said: str) -> None:
    start = text.index(said)
    assert Guard(text).judge(start, start + len(said)).verdict is not Verdict.KEEP


def test_a_score_and_a_listed_product_are_on_no_list_of_names() -> None:
    for text in ("P/F 84, Murray 3.2.", "Midas Rex skidded", "23 mm Magna Ease went in"):
        assert list(known(text)) == []
    assert [start for start, _, _ in known("redone by marisol and dunstan, correct")] == [10, 22]
