import json
from pathlib import Path

import pytest

from mmbuilder.errors import IdentifierInOutput, MMBuilderError
from mmbuilder.scrub import report
from mmbuilder.scrub.detectors.postal_code import VINTAGE
from mmbuilder.scrub.findings import Finding
from mmbuilder.scrub.images.finders import _allow
from mmbuilder.scrub.judged import Judged
from mmbuilder.scrub.loose import Outcome
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan, Span
from mmbuilder.scrub.reasons import TYPED, own
from mmbuilder.scrub.sweep import Known, guard
from tests.scrub.declared_list import DECLARED, SURNAME

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
KEPT = [
    "Fuchs dystrophy of the left eye; a Foley catheter, then a Swan-Ganz.",
    "The Brandilow manoeuvre was tried, and a Quillby clamp put on.",
    "Hinchey III at the first look. Long operation. APTT and INR were sent.",
    "Kept in Trendelenburg, Schwann cells seen, seen in May.",
]
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
        "places": ["text of event 3", "lessons, entry 1"],
        "confidence": [0.9, 0.9],
    }
    assert told["kept"] == [{"kind": "name", "count": 1, "reason": "the reviewer's decision"}]
    assert told["detectors"] == ["declared", "age_over_89"]
    assert len(told["classes"]) == 18  # 45 CFR 164.514(b)(2)(i)(A) to (R)


def test_every_class_is_counted_and_the_vintage_of_the_zip_rule_told():
    made = report.of_case(PLAN)
    told = json.loads(report.as_json(made))
    assert {letter: count for letter, count in told["by_class"].items() if count} == {"A": 2, "C": 1, "": 1}
    assert len(told["by_class"]) == 19
    assert VINTAGE in told["zip_rule"]
    assert VINTAGE in report.as_page(made)


@pytest.mark.parametrize(
    ("reason", "told"),
    [
        ('stands by "dystrophy", as an eponym does', "stands by a listed word, as an eponym does"),
        (
            "scale bar: a length with its unit, and nothing else",
            "scale bar: a length with its unit, and nothing else",
        ),
        ("part of a listed term: foley", "part of a listed term"),
        ("looks like text; confidence 0.93", "looks like text; confidence 0.93"),
        (f"{SURNAME} is a drug", "the reviewer's decision"),
        ("the anaesthetist on call", "the reviewer's decision"),
        ("", "no reason was given"),
    ],
)
def test_reasons_pass_only_in_words_of_ours(reason, told):
    kept = Span(0, 4, "name", "A", "[name]", 0.5, Layer.MODEL, None, Decision.KEEP, reason)
    made = report.of_case(RedactionPlan(texts={("title",): (kept,)}))
    assert made.kept == (report.Kept("name", 1, told),)
    assert made.total == 0


def test_the_reasons_that_the_layers_give_are_words_of_ours():
    reasons = {
        span.reason for spans in Judged().find(KEPT) for span in spans if span.decision is Decision.KEEP
    }
    assert len(reasons) >= 4
    assert {reason for reason in reasons if own(reason) == TYPED} == set()
    allowances = [one for one in vars(_allow).values() if isinstance(one, _allow.Allowance)]
    assert len(allowances) >= 4
    for one in allowances:
        assert own(f"{one.kind}: {one.reason}") == f"{one.kind}: {one.reason}"


def test_what_is_not_installed_stands_at_the_top_and_at_the_foot_of_every_page():
    note = "text in the picture: not looked for"
    made = report.of_files([Outcome(Path("a.png"), Path("out"), (), (note,))])
    assert made.not_installed == (note,)
    page = report.as_page(made)
    foot = page[page.index("<tfoot>") : page.index("</tfoot>")]
    assert note in foot
    assert report.SHORT in foot
    assert "Not looked for here" in page
    assert "Not looked for here" not in report.as_page(report.of_files([Outcome(Path("a.png"), Path("out"))]))


def test_what_was_kept_in_a_file_is_told_with_its_reason():
    kept = Finding(
        "text in the picture",
        "picture",
        box=(1, 2, 3, 4),
        kept="side: left, right or an eye, and nothing else",
    )
    told = json.loads(report.as_json(report.of_files([Outcome(Path("a.png"), Path("out"), kept=(kept,))])))
    assert told["total"] == 0
    assert told["kept"] == [{"kind": kept.kind, "count": 1, "reason": kept.kept}]


def test_the_page_fetches_nothing_and_has_a_place_to_sign():
    page = report.as_page(report.of_case(PLAN))
    assert "Role of the reviewer" in page
    assert not [word for word in ("src=", "href=", "<script", "url(", "@import") if word in page]


def test_files_are_numbered_and_refusals_told():
    told = json.loads(report.as_json(report.of_files(FILES)))
    assert told["files"] == [1, 1]
    assert told["removed"][0]["places"] == ["file 1, line 3"]
    assert told["removed"][0]["letter"] == "D"
    assert told["refused"] == ["file 2: the archive is damaged"]


def test_a_file_that_the_search_of_the_result_stopped_is_told_as_any_other():
    """Its sentence quotes a heading and a setting: signs that a report once refused as not ours."""
    with pytest.raises(IdentifierInOutput) as stopped:
        guard("result", SURNAME.encode(), Known.from_declared(DECLARED))
    made = report.of_files([*FILES, Outcome(Path("a.txt"), refused=str(stopped.value))])
    assert "still holds what identifies somebody" in json.loads(report.as_json(made))["refused"][1]
    assert "Words that stay" in report.as_page(made)


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
