"""Records that conflict in dose, volume or account, from the file to the page."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.analysis import build_timeline
from mmbuilder.analysis.conflicts import disagreements, told
from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.timeline import Chart
from mmbuilder.casefile import check
from mmbuilder.problem import Severity
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.propose import propose
from tests.casefile.minimal import changed, minimal_case

DRUG = """timeline: {events: {3: {kind: drug, what: Adrenaline, when: "10:20", source: chart, dose: 0.1 mg,
  also: {dose: 1 mg, source: pump log}, %s}}}"""
COMPUTE = "compute: [{what: cumulative dose, from: [{name: entries, value: 3 x 0.1 mg}]}]"


def built(folder: Path, change: str) -> ScrubbedCase:
    checked = check(minimal_case(folder, changed(change)))
    assert checked.folder is not None, [problem.text for problem in checked.problems]
    return apply(checked.folder, propose(checked.folder))


def codes(folder: Path, change: str) -> list[tuple[str, Severity]]:
    return [(found.code, found.severity) for found in check(minimal_case(folder, changed(change))).problems]


def test_both_doses_and_both_totals_reach_the_page(tmp_path: Path) -> None:
    # Source: worked example, practice.md (e)9: 0.3 or 1.2 mg, unresolved.
    event = built(tmp_path, DRUG % COMPUTE).events[3]
    assert [line.reveal() for line in disagreements(event)] == [
        "dose 0.1 mg (chart) or 1 mg (pump log)",
        "cumulative dose 0.3 or 1.2 mg, unresolved",
    ]
    assert event.disputed
    assert event.others == ()


def test_the_total_of_a_drug_is_told_both_ways_without_being_asked_for(tmp_path: Path) -> None:
    case = changed(DRUG % "label: Adrenaline")
    more = """
    - {kind: drug, what: Adrenaline again, label: adrenaline, when: "10:25", dose: 100 µg}
    - {kind: drug, what: Adrenaline again, label: Adrenaline, when: "10:30", dose: 0.1 mg IV}
    - {kind: drug, what: Atropine, when: "10:31", dose: 0.6 mg}"""
    import yaml

    tree = yaml.safe_load(case)
    tree["timeline"]["events"] += yaml.safe_load(more)
    checked = check(minimal_case(tmp_path, yaml.safe_dump(tree, allow_unicode=True)))
    assert checked.folder is not None
    events = apply(checked.folder, propose(checked.folder)).events
    assert [line.reveal() for line in disagreements(events[3])][1:] == [
        "cumulative dose 0.3 or 1.2 mg, unresolved"
    ]
    assert [event.computed for event in events[4:]] == [(), (), ()]


def test_a_cut_chart_tells_the_records_but_no_total_of_what_came_later(tmp_path: Path) -> None:
    timeline = build_timeline(built(tmp_path, DRUG % COMPUTE))
    shown = cut(Chart(timeline, until=60.0)).event(4)
    assert [line.reveal() for line in disagreements(shown)] == ["dose 0.1 mg (chart) or 1 mg (pump log)"]


def test_a_volume_and_an_account_are_told_side_by_side(tmp_path: Path) -> None:
    change = """timeline: {events: {1: {volume: 900 mL, source: scrub nurse,
      also: [{volume: "1,100 mL", source: suction log}, {what: Clear fluid, when: "10:07", source: dictation}]}}}"""
    event = built(tmp_path, change).events[1]
    assert told(event, "volume").reveal() == "900 mL (scrub nurse) or 1,100 mL (suction log)"
    assert (
        told(event, "what").reveal() == "Dark ooze behind the clip (scrub nurse) or Clear fluid (dictation)"
    )
    assert [other.source.reveal() for other in event.others] == ["dictation"]


@pytest.mark.parametrize(
    ("also", "told"),
    [
        ("{source: pump log}", [("other-record-empty", Severity.STOP)]),
        ("{volume: 5 mL}", [("other-record-empty", Severity.STOP)]),
        ("{dose: 100 µg}", [("other-record-empty", Severity.WARN)]),
        ("{dose: 1 mg}", []),
        ('{when: "10:21"}', []),
    ],
)
def test_another_record_has_something_to_say(
    tmp_path: Path, also: str, told: list[tuple[str, Severity]]
) -> None:
    change = f'timeline: {{events: {{3: {{kind: drug, when: "10:20", dose: 0.1 mg, also: {also}}}}}}}'
    assert codes(tmp_path, change) == told


@pytest.mark.parametrize(
    ("entries", "told"),
    [
        ("3 x 0.1 mg", []),
        ("2 x 0.1 mg; 0.1 mg or 1 mg", []),
        ("3 x 0.2 mg", [("conflict-not-counted", Severity.WARN)]),
    ],
)
def test_a_total_that_the_conflict_does_not_reach_is_asked_about(
    tmp_path: Path, entries: str, told: list[tuple[str, Severity]]
) -> None:
    assert codes(tmp_path, DRUG % COMPUTE.replace("3 x 0.1 mg", entries)) == told


@pytest.mark.parametrize(
    ("own", "other", "told"),
    [
        ("adrenaline 0.1 mg", "adrenaline 1 mg", []),
        (
            "lidocaine 2% 4 mL (80 mg)",
            "lidocaine 2% 5 mL (100 mg)",
            [("conflict-not-counted", Severity.WARN)],
        ),
    ],
)
def test_doses_behind_the_name_of_the_drug_are_counted_or_asked_about(
    tmp_path: Path, own: str, other: str, told: list[tuple[str, Severity]]
) -> None:
    given = (DRUG % COMPUTE).replace("0.1 mg,\n", f"{own},\n").replace("dose: 1 mg", f"dose: {other}")
    assert codes(tmp_path, given) == told


def test_a_name_in_another_record_is_scrubbed(tmp_path: Path) -> None:
    change = """timeline: {events: {1: {also: {what: Ooze told by Wendeline Orrastal, source: Wendeline Orrastal}}}}"""
    event = built(tmp_path, change).events[1]
    assert "Orrastal" not in " ".join(line.reveal() for line in disagreements(event))
