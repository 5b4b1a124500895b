import json
from pathlib import Path

import pytest

from mmbuilder.errors import MMBuilderError
from mmbuilder.scrub import report
from mmbuilder.scrub.findings import Finding
from mmbuilder.scrub.loose import Outcome
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan, Span
from tests.scrub.declared_list import SURNAME

PLAN = RedactionPlan(
    texts={
        ("events", 2, "text"): (
            Span(0, 4, "declared name", "A", "the surgeon", 0.9, Layer.DECLARED),
            Span(9, 12, "date", "C", "Day 1", 0.9),
            Span(
                20, 24, "name", "A", "[name]", 0.5, Layer.MODEL, None, Decision.KEEP, f"{SURNAME} is a drug"
            ),
        ),
        ("lessons", 0): (Span(0, 4, "declared name", "A", "the surgeon", 0.9, Layer.DECLARED),),
    },
    images={1: (PixelBox(0, 0, 9, 9),)},
    detectors=("declared", "age_over_89"),
    unchecked=("names in other scripts",),
)
FILES = [
    Outcome(Path(f"{SURNAME}.txt"), Path("out"), (Finding("phone number", "line 3", 1, 2),), ("a note",)),
    Outcome(Path(f"{SURNAME}.zip"), None, refused="the archive is damaged"),
]


@pytest.mark.parametrize("made", [report.of_case(PLAN), report.of_files(FILES)])
def test_it_holds_no_identifier_and_never_says_more_than_was_done(made):
    for text in (report.as_json(made), report.as_page(made)):
        assert SURNAME not in text
        assert "anonym" not in text.lower()
        for never in ("tattoos", "voices", "faces", "reflections", "rare"):
            assert never in text
        assert "not reviewed by anybody" in text


def test_counts_places_layers_and_classes_of_a_case():
    told = json.loads(report.as_json(report.of_case(PLAN)))
    assert told["total"] == 4
    names = next(entry for entry in told["removed"] if entry["kind"] == "declared name")
    assert names == {
        "kind": "declared name",
        "letter": "A",
        "count": 2,
        "layers": ["declared"],
        "places": ["events[3].text", "lessons[1]"],
    }
    assert told["kept"] == [{"kind": "name", "count": 1, "reason": "the reviewer's decision"}]
    assert told["detectors"] == ["declared", "age_over_89"]
    assert len(told["classes"]) == 18  # 45 CFR 164.514(b)(2)(i)(A) to (R)


def test_files_are_numbered_and_refusals_told():
    told = json.loads(report.as_json(report.of_files(FILES)))
    assert told["files"] == [1, 1]
    assert told["removed"][0]["places"] == ["file 1, line 3"]
    assert told["removed"][0]["letter"] == "D"
    assert told["refused"] == ["file 2: the archive is damaged"]


@pytest.mark.parametrize(
    ("role", "words"),
    [("surgeon", "reviewed by surgeon"), (f"Dr {SURNAME}", "reviewed by a person whose role was not given")],
)
def test_a_review_is_told_by_role_only(role, words):
    plan = RedactionPlan(reviewed_by=role)
    page = report.as_page(report.of_case(plan))
    assert f"identifiers removed, {words}" in page
    assert SURNAME not in page


@pytest.mark.parametrize("text", ["mail a@example.org", "number 447190233", "Müller", "<b>\x00"])
def test_what_is_not_ours_stops_the_report(text):
    made = report.Report((), dropped=(text,))
    for write in (report.as_json, report.as_page):
        with pytest.raises(MMBuilderError, match="not ours"):
            write(made)


def test_the_template_lets_only_our_words_through():
    with pytest.raises(TypeError):
        report._shown("a plain text")
    assert report._shown(3) == 3
