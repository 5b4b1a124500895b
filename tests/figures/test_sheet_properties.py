"""What must hold of every chart, whatever the story."""

from __future__ import annotations

import re
from itertools import combinations

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from mmbuilder.analysis import Chart, build_timeline
from mmbuilder.figures.sheet import Box, Sheet
from mmbuilder.figures.style import TEXT, TEXT_INKS, Ink
from mmbuilder.figures.timeline import compose
from mmbuilder.safe.case import OtherTime, ScrubbedCase
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import Story, between
from tests.figures.stories import stories

WIDE, HIGH = 31 * 72 / 2.54, 12.5 * 72 / 2.54

PHASES = (Phase.explicit, Phase.reuse, Phase.generate)  # shrinking a whole story takes minutes

MANY = settings(max_examples=30, deadline=None, phases=PHASES, suppress_health_check=list(HealthCheck))


def overlapping(sheet: Sheet) -> list[tuple[str, str]]:
    slack = 0.5
    boxes = [
        (w.text.reveal(), Box(w.box.left, w.box.top + 1, w.box.right - slack, w.box.bottom - 1))
        for w in sheet.words
    ]
    return [(a, b) for (a, one), (b, two) in combinations(boxes, 2) if one.overlaps(two)]


@MANY
@given(stories(), st.booleans())
def test_no_text_overlaps_leaves_the_frame_or_is_small(case: ScrubbedCase, brackets: bool) -> None:
    sheet = compose(Chart(build_timeline(case), brackets=brackets), WIDE, HIGH)
    frame = Box(-0.5, -0.5, WIDE + 0.5, HIGH + 0.5)
    assert not overlapping(sheet)
    assert [w.text.reveal() for w in sheet.words if not w.box.inside(frame)] == []
    assert min(w.size for w in sheet.words) >= TEXT
    assert {w.ink for w in sheet.words} <= TEXT_INKS


@MANY
@given(stories(), st.integers(-20, 14000))
def test_a_cut_holds_no_word_of_what_came_later(case: ScrubbedCase, until: int) -> None:
    chart = Chart(build_timeline(case), until=until, brackets=True)
    sheet = compose(chart, WIDE, HIGH)
    told = " ".join(words.text.reveal() for words in sheet.words)
    later = [e for e in case.events if e.at.centre is not None and e.at.centre > until]
    secrets = [e.what.reveal().split()[0] for e in later]
    secrets += [p.name.reveal().split()[0] for p in case.phases if (p.start.centre or 0) > until]
    secrets += [t.name.reveal() for t in case.recordings if (t.start.centre or 0) > until]
    secrets += [s.name.reveal() for s in case.series if not any(t <= until for t, _ in s.points)]
    secrets += [g.reason.reveal().split()[0] for s in case.series for g in s.gaps if g.start >= until]
    assert [secret for secret in secrets if secret in told] == []


def lettered(sheet: Sheet) -> set[str]:
    """Letters of notes on the chart: behind words, alone beside a mark, in a gap (with the name of its line)."""
    told = [words.text.reveal() for words in sheet.words]
    marks = (re.search(r"(?:^|: |\()([a-l])\)?$", text) for text in told)
    return {mark[1] for mark in marks if mark}


def footnotes(sheet: Sheet) -> set[str]:
    """Letters that the notes explain."""
    told = " ".join(words.text.reveal() for words in sheet.words if words.ink is Ink.GREY)
    return set(re.findall(r"(?:^|·  |· |\s)([a-l])(?:, [^·:]+)?: ", told))


@MANY
@given(stories(), st.one_of(st.none(), st.integers(-20, 14000)))
def test_letters_of_notes_run_without_a_hole(case: ScrubbedCase, until: int | None) -> None:
    sheet = compose(Chart(build_timeline(case), until=until), WIDE, HIGH)
    found = lettered(sheet)
    assert found == set("abcdefghijkl"[: len(found)])
    if " left out" not in " ".join(words.text.reveal() for words in sheet.words):
        assert footnotes(sheet) == found


def test_lengths_too_many_for_a_bracket_are_told_in_the_notes() -> None:
    story = Story()
    others = tuple(OtherTime(between(m, m + 47)) for m in (300, 900, 1500))
    story.add(EventKind.FIRST_SIGN, "sign", 0)
    story.add(EventKind.RECOGNITION, "named", 1800, others=others)
    sheet = compose(Chart(build_timeline(story.case("start")), brackets=True), WIDE, HIGH)
    told = [words.text.reveal() for words in sheet.words]
    assert "30 h *" in told
    assert "5 h to 5 h 47 min" in " ".join(told)
    assert not overlapping(sheet)
