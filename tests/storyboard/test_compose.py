from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import packs, registry, uses
from mmbuilder.safe.case import Action, Factor, Grade, Meeting, Option, Patient, Plan
from mmbuilder.safe.terms import EventKind, FactorRole, FactorRow, Scale, Sureness, Use, term
from mmbuilder.safe.text import EMPTY, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Bullets, Callout, Facts, Paragraph, Slide, Table, TimeChart, Tone
from mmbuilder.storyboard.compose import compose_papers
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import DECISIONS, sample, say
from tests.storyboard.telling import answers, explains, told, words


def _on_paper(use: Use) -> set[str]:
    return {planned.kind for paper in uses.load(use).papers for planned in paper.slides}


@pytest.mark.parametrize("use", Use)
def test_every_use_names_slide_kinds_that_exist(use: Use) -> None:
    kinds = registry.discover("mmbuilder.storyboard.slides", "MISSING", "make")
    spec = uses.load(use)
    assert {planned.kind for planned in spec.slides} | _on_paper(use) <= set(kinds)


@pytest.mark.parametrize("use", Use)
def test_the_minutes_of_a_use_add_up_to_its_budget(use: Use) -> None:
    spec = uses.load(use)
    assert sum(planned.minutes for planned in spec.slides if planned.when is None) <= spec.minutes
    board = compose(sample(), use)
    assert sum(slide.seconds for slide in board.slides) == pytest.approx(
        spec.minutes * 60, abs=len(board.slides)
    ) or (not any(slide.pause for slide in board.slides))


def test_every_slide_kind_is_used_somewhere() -> None:
    kinds = set(registry.names("mmbuilder.storyboard.slides"))
    used = {planned.kind for use in Use for planned in uses.load(use).slides}
    used |= {kind for use in Use for kind in _on_paper(use)}
    assert kinds == used


def test_the_review_tells_the_story_in_the_order_a_chair_expects() -> None:
    # Order: common practice, no source.
    assert [slide.kind for slide in compose(sample()).slides] == [
        "title",
        "situation",
        "patient_and_plan",
        "timeline_before",
        "frame",
        "options",
        "choice",
        "options",
        "choice",
        "timeline_whole",
        "rescued",
        "outcome",
        "follow_up",  # the slides of so small a case leave time for it
        "cause_grid",
        "held_and_learned",
        "actions",
        "questions",
        "take_away",
    ]


def test_no_chart_follows_a_chart_with_nothing_asked_between() -> None:
    # Common practice, no source. Without stills the first stop is a decision, minutes after the first sign.
    case = sample(frames=())
    slides = compose(case, Use.TEACHING).slides
    charts = [any(isinstance(block, TimeChart) for block in slide.blocks) for slide in slides]
    asked = next(place for place, slide in enumerate(slides) if slide.pause)
    (first,) = [slide.blocks[0] for slide, chart in zip(slides[:asked], charts, strict=False) if chart]
    assert isinstance(first, TimeChart)
    sign = next(event.at.lo for event in case.events if event.kind is EventKind.FIRST_SIGN)
    assert sign is not None
    assert first.chart.until is not None
    assert first.chart.until > sign


@pytest.mark.parametrize("use", Use)
def test_nothing_ahead_of_a_pause_gives_the_answer_away(use: Use) -> None:
    case = sample()
    board = compose(case, use)
    for place, slide in enumerate(board.slides):
        if slide.pause and slide.kind != "questions":
            so_far = told(board.slides[: place + 1])
            assert [answer for answer in answers(case, board, place) if answer in so_far] == []


def test_words_held_back_stay_out_until_the_first_frame_is_explained() -> None:
    board = compose(sample())
    first = next(place for place, slide in enumerate(board.slides) if explains(slide))
    assert "bearing" not in told(board.slides[:first]).lower()
    assert "bearing" in told(board.slides).lower()


def test_the_choice_is_not_on_the_slide_that_asks_for_it() -> None:
    board = compose(sample())
    *_, options = (slide for slide in board.slides if slide.kind == "options")
    table = options.blocks[0]
    assert isinstance(table, Table)
    assert len({cell.strong for row in table.rows for cell in row[:1]}) == 1, "no option may stand out"
    assert "had been there all week" not in told((options,))


def test_a_pause_says_nothing_new_in_its_notes() -> None:
    for slide in compose(sample()).slides:
        if slide.pause:
            assert "PAUSE" in told((Slide("notes", wording(""), (), slide.notes),))


@pytest.mark.parametrize("arrows", [True, False])
def test_the_presenter_is_not_sent_to_an_arrow_that_is_not_there(arrows: bool) -> None:
    case = sample()
    (frame, *_) = case.frames
    slides = compose(replace(case, frames=(replace(frame, arrows=frame.arrows if arrows else ()),))).slides
    notes = next(slide for slide in slides if explains(slide)).notes
    assert ("arrow" in notes[0].reveal()) is arrows


def test_an_incomplete_action_is_stamped_with_what_it_lacks() -> None:
    actions = next(slide for slide in compose(sample()).slides if slide.kind == "actions")
    table = actions.blocks[0]
    assert isinstance(table, Table)
    assert [row[0].stamp.reveal() for row in table.rows] == [
        "",
        "INCOMPLETE: due date, measure",
    ]
    assert "one of them still incomplete" in actions.headline.reveal()


# practice.md (c) 7 has every lack stamped. Not so here: a stamp on every row hides the action that nobody owns.
def test_what_else_a_chair_asks_of_an_action_is_told_in_the_notes_and_on_paper() -> None:
    whole, _ = sample().actions
    bare = replace(whole, baseline=EMPTY, review=EMPTY)
    case = sample(actions=(bare, replace(bare, number=2, review=wording("in May"))))
    settle = "Still to settle: baseline (A1, A2); review (A1)."
    (slide,) = (one for one in compose(case).slides if one.kind == "actions")
    (paper,) = (one for one in compose_handout(case).slides if one.kind == "actions")
    for told_of in (slide, paper):
        (table, *_) = told_of.blocks
        assert isinstance(table, Table)
        assert not any(row[0].stamp for row in table.rows)
        assert "each with an owner, a date and a measure" in told_of.headline.reveal()
    assert settle in [note.reveal() for note in slide.notes]
    assert settle not in told((replace(slide, notes=()),))
    assert Paragraph(wording("Still to settle: baseline (A1, A2); review (A1)."), Tone.QUIET) in paper.blocks
    assert settle in told((replace(paper, notes=()),))


@pytest.mark.parametrize("lack", ["owner", "due", "measure"])
def test_an_action_that_nobody_owns_dates_or_measures_is_stamped(lack: str) -> None:
    whole, _ = sample().actions
    case = sample(actions=(replace(whole, **{lack: EMPTY}),))
    (slide,) = (one for one in compose(case).slides if one.kind == "actions")
    (table, *_) = slide.blocks
    assert isinstance(table, Table)
    assert "INCOMPLETE" in table.rows[0][0].stamp.reveal()


def test_a_factor_without_evidence_says_so_on_paper_and_is_not_among_the_strongest() -> None:
    board = compose(sample())
    grid = next(slide for slide in board.slides if slide.kind == "cause_grid")
    assert "No word passed on" not in told((grid,))
    paper = told(compose_handout(sample()).slides)
    assert "No word passed on at handover" in paper
    assert "no evidence recorded" in paper


def test_a_root_without_evidence_stands_beside_what_has_some_and_the_headline_says_so() -> None:
    """Without it the slide would tell a cause beside it as all that there was."""
    known = Factor(
        FactorRow.TEAM, FactorRole.CONTRIBUTORY, wording("Not passed on"), evidence=(wording("Note"),)
    )
    bare = Factor(FactorRow.PATIENT, FactorRole.CONTRIBUTORY, wording("A difficult plane"))
    root = Factor(FactorRow.TASK, FactorRole.ROOT, wording("No rule when to stop"))
    board = compose(sample(factors=(known, bare, root)))
    grid = next(slide for slide in board.slides if slide.kind == "cause_grid")
    assert grid.headline.reveal() == "Three factors are named, two of them here, one with evidence."
    shown = told((grid,))
    assert "No rule when to stop" in shown
    assert "no evidence recorded" in shown
    assert "A difficult plane" not in shown


def test_where_no_factor_has_evidence_the_room_sees_what_was_named_and_that() -> None:
    case = sample()
    bare = tuple(replace(one, evidence=()) for one in case.factors)
    grid = next(slide for slide in compose(sample(factors=bare)).slides if slide.kind == "cause_grid")
    shown = told((grid,))
    assert "none with evidence yet" in grid.headline.reveal()
    for factor in bare:
        if factor.role in (FactorRole.ROOT, FactorRole.CONTRIBUTORY):
            assert factor.what.reveal() in shown
    assert "no evidence recorded" not in shown, "the headline says it once"


def test_the_full_grid_has_all_seven_rows_and_leaves_empty_ones_empty() -> None:
    # Rows: Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157.
    grid = next(slide for slide in compose_handout(sample()).slides if slide.kind == "cause_grid_full")
    table = grid.blocks[0]
    assert isinstance(table, Table)
    assert len(table.rows) == 7
    assert sum(row[0].text.reveal().endswith(": nothing recorded") for row in table.rows) == 5


def test_the_full_grid_says_once_that_no_factor_has_evidence_yet() -> None:
    bare = tuple(replace(one, evidence=()) for one in sample().factors)
    slides = compose_handout(sample(factors=bare)).slides
    grid = next(slide for slide in slides if slide.kind == "cause_grid_full")
    table = grid.blocks[0]
    assert isinstance(table, Table)
    assert "no factor has evidence yet" in grid.headline.reveal()
    assert "Evidence" not in [head.reveal() for head in table.header]
    assert "no evidence recorded" not in told((grid,))


def test_a_page_that_has_no_room_for_the_grid_names_the_causes() -> None:
    case = sample()
    papers = {paper.slug: paper.board for paper in compose_papers(case, compose(case))}
    (named,) = (slide for slide in papers["one-page-summary"].slides if slide.kind == "causes_named")
    (facts,) = named.blocks
    assert isinstance(facts, Facts)
    acting = [one for one in case.factors if one.role in (FactorRole.ROOT, FactorRole.CONTRIBUTORY)]
    assert len(facts.rows) == len(acting) > 0
    shown = [text.reveal() for _, text in facts.rows]
    for one in acting:
        (line,) = (text for text in shown if one.what.reveal() in text)
        assert line.endswith("(root).") == (one.role is FactorRole.ROOT)


def test_a_page_tells_actions_in_wide_columns_with_what_must_be_read_first() -> None:
    case = sample()
    papers = {paper.slug: paper.board for paper in compose_papers(case, compose(case))}
    (slide,) = (slide for slide in papers["one-page-summary"].slides if slide.kind == "actions")
    table = slide.blocks[0]
    assert isinstance(table, Table)
    assert [head.reveal() for head in table.header] == ["Action (strength)", "Due; owner (role)", "Measure"]
    for action, (what, when, _) in zip(case.actions, table.rows, strict=True):
        strength = f" ({term(action.strength).reveal()})" if action.strength else ""
        assert what.text.reveal().startswith(f"A{action.number}{strength} ")
        if action.due:
            assert when.text.reveal().startswith(action.due.reveal())
        assert bool(what.stamp) == bool(action.missing)


GRADES = (("I", "wound"), ("IIIb", "leak"))


def test_a_page_tells_what_held_without_its_evidence_and_the_highest_grade_alone() -> None:
    grades = tuple(Grade(Scale.CLAVIEN_DINDO, say(grade), say(what)) for grade, what in GRADES)
    graded = replace(sample().outcome, grades=grades, highest=say("IIIb"))
    case = sample(outcome=graded)
    papers = {paper.slug: paper.board for paper in compose_papers(case, compose(case))}
    summary, handout = told(papers["one-page-summary"].slides), told(papers["handout"].slides)
    assert "I: wound" not in summary
    assert "I: wound" in handout
    assert "IIIb, the highest of 2" in summary
    (proof,) = {one.evidence.reveal() for one in case.held if one.evidence}
    assert proof in handout
    assert proof not in summary


def test_options_and_what_was_chosen_begin_with_a_capital() -> None:
    options = (Option(say("wait a little"), say("it may pass")), Option(say("pH first"), say("mL are few")))
    slides = compose(sample(decisions=(replace(DECISIONS[0], options=options, chosen=0),))).slides
    shown = told([slide for slide in slides if slide.kind in ("options", "choice")])
    for begun in ("Wait a little", "It may pass", "pH first", "mL are few"):
        assert begun in shown
    assert "wait a little" not in shown


def test_a_choice_stands_with_what_was_not_chosen_and_why_where_there_is_time() -> None:
    # practice.md (a) 1.7: what was chosen, the reason at the time, what the team could see.
    (facts,) = next(slide for slide in compose(sample()).slides if slide.kind == "choice").blocks
    assert isinstance(facts, Facts)
    rows = {label.reveal(): text.reveal() for label, text in facts.rows}
    assert list(rows) == ["Reason then", "Could be seen", "Not chosen", "Fallback"]
    assert rows["Not chosen"] == "Stop and look: A minute now saves ten later."


def test_a_long_course_leaves_the_choice_to_its_reason() -> None:
    use = uses.load(Use.REVIEW)
    told_in = [step.choice for step in use.further if step.choice]
    assert told_in == sorted(told_in), "from few words to more, each where it fits"
    long = replace(DECISIONS[0], visible=(say("word " * 80),))
    (facts,) = next(s for s in compose(sample(decisions=(long,))).slides if s.kind == "choice").blocks
    assert isinstance(facts, Facts)
    assert "Could be seen" not in [label.reveal() for label, _ in facts.rows]


def test_what_the_case_lacks_is_left_out_and_said() -> None:
    bare = sample(held=(), learning=(), questions=(), decisions=(), frames=())
    board = compose(bare)
    kinds = {slide.kind for slide in board.slides}
    assert kinds.isdisjoint({"held", "learning", "held_and_learned", "questions", "own_answers", "options"})
    assert {text.reveal().split(":")[0] for text in board.left_out} == {
        "what held, learning points",
        "questions",
        "frames and decisions",
        "previous actions",
    }


def test_a_case_of_only_what_is_asked_for_has_no_empty_part_on_paper() -> None:
    events = tuple(replace(event, source=EMPTY, sure=Sureness.CERTAIN) for event in sample().events)
    bare = sample(patient=Patient(), plan=Plan(wording("New wheel")), events=events)
    slides = compose_handout(bare).slides
    assert "patient_and_plan" not in {slide.kind for slide in slides}
    (table,) = (s.blocks[0] for s in slides if s.kind == "events")
    assert isinstance(table, Table)
    assert [head.reveal() for head in table.header] == ["No.", "When", "Kind", "What"]
    for slide in slides:
        assert slide.blocks, slide.kind
        assert all(getattr(block, "rows", True) for block in slide.blocks), slide.kind


def test_a_meeting_of_which_nothing_is_said_is_no_part() -> None:
    nobody = Meeting(((wording("consultant"), 0),))
    some = Meeting(((wording("consultant"), 4), (wording("nurse"), 0)), (wording("Trays first"),))
    slides = [s for s in compose_handout(sample(meetings=(nobody, some))).slides if s.kind == "decided"]
    (slide,) = slides
    assert slide.blocks == (
        Bullets((wording("Trays first"),)),
        Facts(((wording("Present"), wording("4 consultant")),)),
    )


def test_a_case_report_tells_the_decade_only() -> None:
    text = told(compose(sample(), Use.REPORT).slides)
    assert "70s" in text
    assert "71" not in text


def test_the_case_report_prints_that_consent_is_missing() -> None:
    assert "Consent to publication: not asked" in told(compose(sample(), Use.REPORT).slides)


def test_the_deck_ends_in_one_sentence() -> None:
    last = compose(sample()).slides[-1]
    assert [type(block) for block in last.blocks] == [Callout]
    assert list(words(last.blocks)) == ["Ask how long it has been making that noise.", ""]


def test_a_draft_says_so_in_its_banner() -> None:
    assert "not yet reviewed" in compose(sample()).banner.reveal()
    assert "not yet reviewed" not in compose(sample(), draft=False).banner.reveal()


def test_a_specialty_may_have_an_order_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    pack = packs.load("ophthalmology")
    own = pack.model_copy(update={"slides": {Use.REVIEW: ("title", "follow_up", "take_away")}})
    monkeypatch.setattr(packs, "every", lambda: (own,))
    board = compose(sample(specialty=pack.title))
    assert [slide.kind for slide in board.slides] == ["title", "follow_up", "take_away"]
    assert len(compose(sample()).slides) > 3, "another specialty keeps the order of the use"


def test_each_part_that_an_action_lacks_is_told() -> None:
    """practice.md (c) 7, READ: owner, due, measure (numerator, denominator, target, how long), baseline, review."""
    parts = {
        "owner": "theatre lead",
        "due": "in June",
        "measure": "bags",
        "out_of": "lists",
        "period": "3 months",
    }
    whole = {key: wording(said) for key, said in (parts | {"baseline": "4", "review": "in May"}).items()}
    what = wording("A second bag")
    assert (Action(1, what, **whole).missing, Action(1, what, **whole).to_settle) == ((), ())
    for part, named in (
        ("owner", "owner role"),
        ("due", "due date"),
        ("measure", "measure"),
        ("out_of", "how it is counted"),
        ("period", "for how long"),
        ("baseline", "baseline"),
        ("review", "review"),
    ):
        lacking = Action(1, what, **{key: value for key, value in whole.items() if key != part})
        assert [one.reveal() for one in (*lacking.missing, *lacking.to_settle)] == [named]
        assert bool(lacking.missing) is (part in ("owner", "due", "measure"))
    told = Action(
        2, what, **whole | {"out_of": EMPTY, "period": EMPTY, "measure": wording("20 lists a month")}
    )
    assert (told.missing, told.to_settle) == ((), ())


# Common practice, no source: a slide of one word tells nothing that its neighbour could not.
def test_a_reason_alone_stands_with_what_was_not_chosen() -> None:
    quick = replace(DECISIONS[0], because=say("quick"), fallback=EMPTY, trigger=EMPTY)
    slides = compose(sample(decisions=(quick,))).slides
    (facts,) = next(slide for slide in slides if slide.kind == "choice").blocks
    assert isinstance(facts, Facts)
    told = {label.reveal(): text.reveal() for label, text in facts.rows}
    assert "Not chosen" in told
