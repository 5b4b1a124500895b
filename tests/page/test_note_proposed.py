"""What the lines of a note are proposed to become. The notes and names are invented; how such lines are written
is common practice, no source, where nothing else is named."""

from __future__ import annotations

from dataclasses import replace
from time import sleep
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from flask.testing import FlaskClient

from mmbuilder.case.when import parse_when
from mmbuilder.page import Desk
from mmbuilder.page.form.layout import words
from mmbuilder.page.form.targets import targets
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts import _of_action, _of_decision, _of_factor, _of_visit
from mmbuilder.page.parts._fate import edits
from mmbuilder.page.parts._kinds import kind_of, meanings
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._linked import events_at
from mmbuilder.page.parts._named import proposals
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._pull import WITH, Pull, each_begun, filled, put, with_above
from mmbuilder.safe.terms import EventKind, FactorRow
from tests.browser import axe_faults
from tests.page.conftest import Served
from tests.page.test_note import clocked, paste, several
from tests.page.test_write_page import ask

if TYPE_CHECKING:
    from playwright.sync_api import Page

PEOPLE = (
    ("Orla Quennimore", "nurse"),
    ("Tam Skeltry-Moar", "technician"),
    ("Bel Ostrander", "colleague"),
    ("Iven Harrowquist", "anaesthetist"),
)
KNOWN = Known(
    {"presenter": {"role": "Operating surgeon"}, "meeting": "2026-12-03"},
    text="seen 13/10, listed 30/9",
    people=PEOPLE,
)
BARE = "mmbuilder: 1\ncode: hip-02\nuse: department review\nspecialty: orthopaedics\n"


def proposed(note: str, known: Known = KNOWN) -> list[Pull]:
    return each_begun(Note(note).lines, known)


def became(note: str) -> list[tuple[str, str]]:
    """What each line is ticked as, and its words; empty where it is not ticked."""
    return [(one.kind if one.whole else "", one.what) for one in proposed(note)]


# Events


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("knife to skin", "step"),
        ("heparin 5000 u iv", "drug"),
        ("labetalol for 182/96", "drug"),
        ("BP target <160. labetalol 1420 for 182/96", "drug"),
        ("TXA 1 g", "drug"),
        ("put metaraminol up", "drug"),
        ("adrenaline 0.5 mL of 1:1000 im", "drug"),
        ("iodine prep", "step"),
        ("saline soaked swab in", "step"),
        ("sats 92 on air", "reading"),
        ("BP 80/40", "reading"),
        ("hits 22/min", "reading"),
        ("CT abdomen: free gas", "reading"),
        ("duplex probe brought over", "step"),
        ("K wire 2 mm in", "step"),
        ("CPR 2 cycles", "step"),
        ("called for help", "call for help"),
        ("2222 call put out", "call for help"),
        ("rang the on-call registrar", "call for help"),
        ("second surgeon arrives", "arrival"),
        ('nurse asked "is that ok?"', "note"),
        ("surgeon asked for suction", "step"),
        ("no imaging at the end", "note"),
        ("", "step"),
    ],
)
def test_the_kind_of_an_event_is_proposed(said: str, kind: str) -> None:
    assert kind_of(said) == kind


def test_what_only_the_author_can_judge_is_not_proposed_where_the_note_does_not_call_it_so() -> None:
    judged = {"first sign", "recognition", "response", "resolution", "complication"}
    lines = (
        "first sign of bleeding",
        "bleeding stopped, all safe",
        "complication: none",
        "recognised: not yet",
        "rescue airway trolley in",
        "no leak seen",
        "?leak",
        "air leak test",
        "leak test negative",
        "tear repaired with 3/0",
        "checked for a leak",
        "rotator cuff tear seen",
    )
    assert not judged & {kind_of(line) for line in lines}
    assert [*meanings()] == [kind.value for kind in EventKind]  # each is explained


@pytest.mark.parametrize(
    ("note", "kind", "what"),
    [
        ("1005 recognised: tear of the vein", "recognition", "tear of the vein"),
        ("Recognised: 1005 tear of the vein", "recognition", "tear of the vein"),
        ("RESCUE 1006 pump off, bag off", "response", "pump off, bag off"),
        ("1006 Rescue - pump off", "response", "pump off"),
        ("1006 response: adrenaline 1 mg", "response", "adrenaline 1 mg"),
        ("1008 call for help - second reg", "call for help", "second reg"),
        ("1004 complication: bile in the drain", "complication", "bile in the drain"),
        ("1004 dye leaks out - 2 cm tear, fat seen", "complication", "dye leaks out - 2 cm tear, fat seen"),
        ("1004 hole in the bowel", "complication", "hole in the bowel"),
        ("1004 call for help", "call for help", "call for help"),  # the words are all there is
        ("1004 rescue trolley in", "step", "rescue trolley in"),
    ],
)
def test_a_kind_that_the_note_itself_tells_is_proposed_and_not_said_twice(
    note: str, kind: str, what: str
) -> None:
    (one,) = proposed(note)
    assert (one.kind, one.when, one.what) == (kind, note[note.index("10") :][:4], what)


def test_a_harm_is_the_complication_only_where_it_is_first_told() -> None:
    note = "1004 2 cm tear seen\n1009 tear held with a swab\n1020 packed"
    assert [one.kind for one in proposed(note)] == ["complication", "step", "step"]
    note = "1004 recognised: 2 cm tear\n1009 tear held with a swab"
    assert [one.kind for one in proposed(note)] == ["recognition", "step"]


@pytest.mark.parametrize(
    "line",
    [
        "Evening notes 14/10/26 - for the meeting, bed 11pm, sorry",
        "Op note, Wed 14 Oct 2026, started 0830",
        "Mrs Orla Quennimore, theatre sister",
        "Theatre 6, bed 14",
        "what I think",
        "Actions:",
        "Why?",
        "box 7 min slow - when wall said 0948 box said 0941",
        "rung 0406, arrives 0431",
        "BP 158/84 on admission",
        "a pack of four was opened",
    ],
)
def test_a_head_a_name_or_a_line_without_one_time_is_not_ticked(line: str) -> None:
    assert [one.whole for one in proposed(line)] == [False]


def test_a_sentence_goes_with_the_event_that_its_line_began() -> None:
    note = "0946 drug up MAP 104. MCA 27. NIRS 54\nCalm. Closed at 1010. I should have stopped\nMAP 92"
    assert became(note) == [
        ("step", "drug up MAP 104."),
        (WITH, "MCA 27."),
        (WITH, "NIRS 54"),
        ("", "Calm."),  # nothing before it
        ("step", "Closed"),
        ("", "I should have stopped"),  # a thought of later
        ("", "MAP 92"),  # a line of its own
    ]


# Other parts


def test_headings_say_what_the_lines_below_them_are() -> None:
    note = """\
Why
- no protocol
- the pump was broken. Nobody was told
0930 knife to skin

Actions? 1 a second probe. 2 a rule for all
3 clocks set weekly
Good: calm, quiet room, count right
Something else. 2 swabs over
Questions

- would you stop?
"""
    assert became(note) == [
        ("", "Why"),
        ("factors/what", "no protocol"),
        ("factors/what", "the pump was broken. Nobody was told"),
        ("step", "knife to skin"),
        ("", "Actions?"),
        ("actions/what", "a second probe."),
        ("actions/what", "a rule for all"),
        ("actions/what", "clocks set weekly"),
        ("held/what", "calm"),
        ("held/what", "quiet room"),
        ("held/what", "count right"),
        ("", "Something else."),
        ("", "2 swabs over"),
        ("", "Questions"),
        ("questions/ask", "would you stop?"),
    ]


def test_a_heading_in_capitals_needs_no_colon() -> None:
    note = """\
WHY 1 result had no owner, no alert, nobody asked
2 no limit set. 3 list of six, pressure to go on
4 chart stops at 80 kg

5 dose was low
WENT WELL wire kept in. Sister spoke up
OUTCOME home, well
"""
    assert became(note) == [
        ("factors/what", "result had no owner, no alert, nobody asked"),
        ("factors/what", "no limit set. 3 list of six, pressure to go on"),
        ("factors/what", "chart stops at 80 kg"),
        ("factors/what", "dose was low"),
        ("held/what", "wire kept in."),
        ("held/what", "Sister spoke up"),
        ("outcome/summary", "home, well"),
    ]


@pytest.mark.parametrize(
    "line",
    [
        "Why 1 result had no owner",
        "WHY not stop?",
        "WELL PERFUSED",
        "DO NOT give heparin",
        "RESULT of the scan",
    ],
)
def test_a_word_that_is_no_heading_is_none(line: str) -> None:
    assert became(line) == [("", line)]


def test_numbers_that_count_nothing_stay() -> None:
    note = "Went well:\n1 nurse spoke up\n2 swabs found\n20 cases since"
    assert [what for _, what in became(note)][1:] == ["nurse spoke up", "swabs found", "20 cases since"]


def test_a_follow_up_with_a_colon_is_a_visit_and_what_is_booked_is_watched() -> None:
    seen, scan = proposed("f/u: seen by me 27/11 well. Scan and stent out booked 6 Jan 2027, redo after")
    assert (seen.kind, seen.more["when"]) == ("outcome/visits/note", "27 November 2026")
    assert (scan.kind, scan.what) == ("outcome/monitoring/what", "Scan and stent out, redo after")
    assert "2027" in scan.more["until"]


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("I spoke to his wife and son at 1330 in the relatives' room", "outcome/told"),
        ("Apologised to the family", "outcome/told"),
        ("told the team to stop", ""),
        ("would you have gone on?", "questions/ask"),
        ("is that ok?", ""),
        ("could have converted at 1120", "decisions/question"),
        ("day 2 drain out", "outcome/visits/note"),
        ("30 d clinic, walking", "outcome/visits/note"),
        ("Clinic 6 weeks: healed", "outcome/visits/note"),
        ("day 2 06:30 drain out", "step"),
        ("L arm weak 12 d before", ""),
        ("seen in clinic 6/10 with wife", ""),
        ("PMH gout", "patient/history"),
        ("to do - a second tray", "actions/what"),
        ("torn edge. options: clip it vs oversew, sick so clipped", "decisions/question"),
        ("9:58 told gas", "note"),
        ("HDU, norad till 0200 18th", ""),  # of another day
        ("bleeding 9:1 ratio", ""),
    ],
)
def test_a_line_is_known_by_what_it_holds(line: str, name: str) -> None:
    assert [one.kind for one in proposed(line)] == [name]


@pytest.mark.parametrize(
    ("line", "things"),
    [
        ("why: no echo, gun missing, list rushed (3 in all, one late)", ["no echo", "gun missing", "list rushed (3 in all, one late)"]),
        ("why: late start, tray missing, and nobody said so", ["late start, tray missing, and nobody said so"]),
        ("to do - a second tray, a read-back at cement, a box on the brief", ["a second tray", "a read-back at cement", "a box on the brief"]),
        ("do: new chart for clots, theatre manager, by 1 March 2027", ["new chart for clots"]),
        ("why: slipped tie / dressing hid it, and bulky / FY2 & ward not taught / no box on ward", ["slipped tie", "dressing hid it, and bulky", "FY2 & ward not taught", "no box on ward"]),
        ("why: tray / box missing / by nobody / checked", ["tray / box missing / by nobody / checked"]),
        ("PMH gout, COPD, on warfarin (held, bridged)", ["gout", "COPD", "on warfarin (held, bridged)"]),
    ],
)  # fmt: skip
def test_several_things_on_one_line_are_several(line: str, things: list[str]) -> None:
    """An owner, a day or the rest of a sentence is no thing of its own."""
    assert [one.what for one in proposed(line)] == things


def test_ways_forward_against_each_other_make_a_decision_at_the_event_of_its_line() -> None:
    note = "1016 crack seen. Cloth torn... discussed w/ Tam, options: clip it & go on vs open it up. pt ill so clipped"
    event, decision = proposed(note)
    assert (event.kind, event.when) == ("step", "1016")
    assert decision.what == "Clip it & go on, or open it up?"
    assert dict(decision.more) == {
        "at": "1016",
        "visible": "Cloth torn",
        "options": "clip it & go on\nopen it up",
        "because": "pt ill so clipped",
    }
    text, _ = put(BARE, [replace(event, source="note"), decision])
    [made] = yaml.safe_load(text)["decisions"]
    [at] = yaml.safe_load(text)["timeline"]["events"]
    assert made["at"] == at["id"]
    assert made["visible"] == ["Cloth torn"]
    assert [one["option"] for one in made["options"]] == ["clip it & go on", "open it up"]
    assert "chosen" not in made  # the author's


@pytest.mark.parametrize(
    ("line", "what", "fields"),
    [
        ("probe for every case (Ostrander, buy), by 31/1/27", "probe for every case (buy)", ("", "31 January 2027", "")),
        (
            "rule > 10 / min, tell team - me + Tam by 15/12/26, audit 20 cases.",
            "rule > 10 / min, tell team",
            ("Operating surgeon and technician", "15 December 2026", "audit 20 cases"),
        ),
        ("chart read aloud (Sr Quennimore) from 1/12", "chart read aloud", ("nurse", "1 December 2026", "")),
        ("set the clocks - Iven / Tam weekly", "set the clocks weekly", ("anaesthetist and technician", "", "")),
        ("Iven - chart read aloud, by 31/1/27", "chart read aloud", ("anaesthetist", "31 January 2027", "")),
        ("audit - 20 cases", "audit - 20 cases", ("", "", "")),
        ("a card on the trolley; Dr Iven, end of Jan.", "a card on the trolley", ("anaesthetist", "31 January 2027", "")),
        ("new machine - Tam chasing ticket 55, Iven owner", "new machine - Tam chasing ticket 55", ("anaesthetist", "", "")),
        (
            "second tray, owner: theatre lead, by end Jan, measure: trays checked",
            "second tray",
            ("theatre lead", "31 January 2027", "trays checked"),
        ),
        ("box checked, card by bed head - Sr Quennimore by Fri 27 Nov", "box checked, card by bed head", ("nurse", "27 November 2026", "")),
        ("box full, checklist at bed head - Sr Quennimore by 27/11", "box full, checklist at bed head", ("nurse", "27 November 2026", "")),
        ("audit each case, audit of 20 charts - Iven", "audit each case", ("anaesthetist", "", "audit of 20 charts")),
        ("teach new doctors - Iven, before Feb changeover", "teach new doctors", ("anaesthetist", "Feb", "")),
        ("Tam to write it in 6 weeks", "write it", ("technician", "in 6 weeks", "")),
        ("order it by 2027-04-03 (theatre manager)", "order it", ("theatre manager", "2027-04-03", "")),
        ("new chart (Sr Nobody)", "new chart", ("", "", "")),
        # nothing in these is an owner or a day
        ("weigh everything", "weigh everything", ("", "", "")),
        ("senior there in 10 min", "senior there in 10 min", ("", "", "")),
        ("a scan within 2 weeks of discharge", "a scan within 2 weeks of discharge", ("", "", "")),
        ("teach by doing (done)", "teach by doing (done)", ("", "", "")),
        ("tell ward sister", "tell ward sister", ("", "", "")),
    ],
)  # fmt: skip
def test_owner_day_and_measure_come_out_of_an_action(
    line: str, what: str, fields: tuple[str, str, str]
) -> None:
    found = _of_action.parted(line, KNOWN)
    assert found.what == what
    assert tuple(found.fields.get(key, "") for key in ("owner", "due", "measure")) == fields
    assert not any(name.split()[-1] in found.fields.get("owner", "") for name, _ in PEOPLE)


def test_who_leads_an_action_owns_it_where_the_name_behind_tells_no_role() -> None:
    known = Known({}, people=(("Mr Casimir Veldrake", "surgeon"), ("Leontine Abara", "colleague")))
    found = _of_action.parted("Mr Veldrake to bring the rule to governance (Mrs Leontine Abara)", known)
    assert found.fields["owner"] == "surgeon"
    assert "owner" not in found.why


def test_causes_below_a_question_why_it_went_wrong_are_causes() -> None:
    note = "why did it go wrong\n- no clear view, frozen neck\n- list was late\n"
    made = [one for one in proposed(note) if not one.lines[0].heading]
    assert {one.kind for one in made} == {"factors/what"}


def test_short_forms_end_no_sentence() -> None:
    note = "BG: AF on tablets, prev. Acute colic, treated w. Antibiotics, prob. On the day"
    assert len(Note(note).lines) == 1


def test_a_name_without_a_role_leaves_the_owner_empty_and_says_so() -> None:
    for line in ("new chart (Sr Nobody)", "new chart (Ostrander)"):
        found = _of_action.parted(line, KNOWN)
        assert "write the role" in found.why["owner"]


def test_a_day_that_can_be_two_stays_as_it_was_typed() -> None:
    """Only other dates of the note tell which figure is the day."""
    unsure = Known(KNOWN.tree, text="seen 4/5")
    assert _of_action.day_meant("1/12", unsure) == "1/12"
    assert _of_action.day_meant("1/12", KNOWN) == "1 December 2026"
    assert _of_action.day_meant("1/12", Known(KNOWN.tree, text="seen 10/13, then 14/2")) == "1/12"


@pytest.mark.parametrize(
    ("line", "level"),
    [
        ("no protocol for it", "task"),
        ("no agreed number that means stop", "task"),
        ("rota gap", "work environment"),
        ("machine broken", "work environment"),
        ("first time with this stapler", "individual"),
        ("tired after nights", "individual"),
        ("not told at handover", "team"),
        ("cement call not closed loop", "team"),
        ("thin bone never flagged", "team"),
        ("lavage gun missing", "work environment"),
        ("business case turned down", "organisation"),
        ("no policy", "organisation"),
        ("dense adhesions", "patient"),
        ("tired, and the machine was broken", ""),  # two
        ("the pad was dry", ""),
    ],
)
def test_the_level_of_a_cause_is_proposed_where_one_is_plain(line: str, level: str) -> None:
    """By what each factor type holds: Vincent 1998 (check-values.md C1, READ)."""
    assert _of_factor.level_of(line) == level
    assert level in {"", *(row.value for row in FactorRow)}


@pytest.mark.parametrize(
    ("line", "what", "came"),
    [
        ("no scan because probe shared. No second one", "probe shared. No second one", "no scan"),
        ("late start, due to a missing tray", "a missing tray", "late start"),
        ("an old protocol led to a wrong dose", "an old protocol", "a wrong dose"),
        (
            "nobody looked. pad dry because folded",
            "nobody looked. pad dry because folded",
            "",
        ),  # of two sentences
        ("because", "because", ""),
        ("the pad was dry", "the pad was dry", ""),
    ],
)
def test_what_came_of_a_cause_goes_to_how_it_contributed(line: str, what: str, came: str) -> None:
    found = _of_factor.parted(line, KNOWN)
    assert (found.what, found.fields.get("contributed", "")) == (what, came)


@pytest.mark.parametrize(
    ("line", "question", "fields"),
    [
        ("at 1021 go higher", "", {"at": "1021", "options": "go higher"}),
        (
            "convert / call / pack",
            "Convert, or call, or pack?",
            {"options": "convert\ncall\npack"},
        ),
        (
            "Go on or stop? could have stopped; could have rung because help was near",
            "Go on or stop?",
            {"options": "stopped\nrung", "because": "help was near"},
        ),
        (
            "decided to pack, thought it would hold",
            "",
            {"options": "pack", "chosen": "pack", "because": "thought it would hold"},
        ),
        ("Tack or go higher?", "Tack or go higher?", {}),
    ],
)
def test_a_decision_is_taken_apart(line: str, question: str, fields: dict[str, str]) -> None:
    found = _of_decision.parted(line, KNOWN)
    assert (found.what, dict(found.fields)) == (question, fields)


@pytest.mark.parametrize(
    ("line", "when", "label", "note"),
    [
        ("day 2 arm 4/5.", "Day 2", "", "arm 4/5"),
        ("day 5 home, walking", "Day 5", "Home", "walking"),
        ("day 9 sunk and sore so back to theatre, plate out, home day 21", "Day 9", "", "sunk and sore so back to theatre, plate out, home day 21"),
        ("30 d clinic w/ me: healed", "Day 30", "Clinic", "w/ me: healed"),
        ("6/52 review ok", "Day 42", "Review", "ok"),
        ("Clinic 1: 21/3/26 - scar fine, eats", "21 March 2026", "Clinic", "scar fine, eats"),
        ("clinic at 3 months, no pain", "Day 91", "Clinic", "clinic at 3 months, no pain"),
        ("3/12 review duplex open", "Day 91", "Review", "duplex open"),
        ("1 year clinic runs", "Day 365", "Clinic", "runs"),
        ("seen by me 27/11, well", "27 November 2026", "", "seen by me 27/11, well"),
        ("awake, extubated 18th Nov 07:30, well", "18 November 2026", "", "awake, extubated 18th Nov 07:30, well"),
        ("well, scan booked 21/11", "", "", "well, scan booked 21/11"),
        ("cough since 28/10", "", "", "cough since 28/10"),
        ("he was stiff, 13/11 Fr in", "", "", "he was stiff, 13/11 Fr in"),
    ],
)  # fmt: skip
def test_a_visit_is_taken_apart(line: str, when: str, label: str, note: str) -> None:
    found = _of_visit.parted(line, KNOWN)
    assert (found.fields.get("when", ""), found.fields.get("label", ""), found.what) == (when, label, note)
    assert ("when" in found.why) is any(each in line for each in ("months", "/12", "year"))  # about
    if when:
        assert parse_when(when)


def test_an_event_is_found_by_its_time_where_one_alone_is_there() -> None:
    events = [
        {"when": "0955-1021"},
        {"when": "10:44"},
        {"when": "1105"},
        {"when": "1105"},
        {"when": "1045", "clock": "box"},
    ]
    tree = {"timeline": {"events": events}, "clocks": [{"name": "wall", "reference": "yes"}, {"name": "box"}]}
    for time, clock, found in (
        ("1021", "", ["@0"]),
        ("1044", "", ["@1"]),
        ("1021-1044", "", ["@0", "@1"]),
        ("1105", "", []),  # two
        ("1045", "", []),  # by another clock
        ("1045", "box", ["@4"]),
        ("1044", "box", ["@1"]),
        ("0830", "", []),
    ):
        assert events_at(tree, [(time, clock)]) == found, time


@pytest.mark.parametrize(
    ("line", "when", "what"),
    [
        ("and then at 1455 blood arrived", "1455", "blood arrived"),
        ("or 14:45 adrenaline", "14:45", "adrenaline"),
        ("about 14:40 or 14:45 pressure fell", "about 14:40 or 14:45", "pressure fell"),
        ("So at 15:02, clamp on", "15:02", "clamp on"),
        ("After that at 1145 X-ray", "1145", "X-ray"),
        ("it was 1220 when the alarm went", "1220", "the alarm went"),
        ("(1235) consultant in", "1235", "consultant in"),
        ("@1125 reduced", "1125", "reduced"),
        ("1455ish blood arrived", "1455ish", "blood arrived"),
        ("1242 and then 1244 two more clips", "1242", "and then 1244 two more clips"),  # another time
        ("shortly after 10:20 it gave", "after 10:20", "shortly after 10:20 it gave"),  # it says when
        ("1242 so far dry", "1242", "so far dry"),
    ],
)
def test_no_word_that_joined_it_to_others_leads_an_event(line: str, when: str, what: str) -> None:
    (found,) = each_begun(Note(line).lines, Known({}))
    assert (found.when, found.what) == (when, what)


@pytest.mark.parametrize(
    ("line", "what", "owner", "due"),
    [
        (
            "theatre manager Ann Fell: fault log, end Jan 27",
            "fault log",
            "theatre manager",
            "31 January 2027",
        ),
        ("me: teach it, by 10 Feb", "teach it", "Operating surgeon", "10 February 2027"),
        ("?someone - check at cuff down", "check at cuff down", "", ""),
        ("Ann Fell: fault log", "Ann Fell: fault log", "", ""),  # whose role nobody knows
    ],
)
def test_lines_under_actions_that_begin_with_who_does_them_are_actions(
    line: str, what: str, owner: str, due: str
) -> None:
    first, second, other = each_begun(Note(f"Actions: one rule\n{line}\nAll well since: home").lines, KNOWN)
    assert (first.kind, second.kind, other.kind) == ("actions/what", "actions/what", "")
    assert (second.what, second.more.get("owner", ""), second.more.get("due", "")) == (what, owner, due)
    assert ("?someone" in second.why.get("owner", "")) is ("?someone" in line)


@pytest.mark.parametrize(
    ("line", "kind", "when", "what"),
    [
        (
            "0946 brisk blood, cuff up. <- looking back first sign",
            "first sign",
            "0946",
            "brisk blood, cuff up",
        ),
        ("0946 brisk blood (in hindsight the first sign)", "first sign", "0946", "brisk blood"),
        ("0946 no first sign of it", "note", "0946", "no first sign of it"),
        (
            "1027 calf hard. called Mr Orrin, came",
            "call for help",
            "1027",
            "calf hard. called Mr Orrin, came",
        ),
        ("1034 vasc reg Dr Wenlow in room", "arrival", "1034", "vasc reg Dr Wenlow in room"),
        ("heparin 5000 u at 1058", "drug", "1058", "heparin 5000 u"),
    ],
)
def test_what_the_line_calls_itself(line: str, kind: str, when: str, what: str) -> None:
    (one,) = proposed(line)
    assert (one.kind, one.when, one.what) == (kind, when, what)


def test_the_parts_of_a_line_are_keys_of_the_entry() -> None:
    for one in targets().values():
        assert all(one.key(name).label for name in one.asks), one.name


# The page

WHOLE = """\
0930 knife to skin. Calm
0955-1021 artery sewn
why
- no agreed number at 1021
- rota gap
Actions: 1 a second probe (Sr Lorne) by 31/1/27. 2 a rule - me by 15/12/26
alternatives: at 1021 go higher / at 1044 stop
day 5 home, walking
"""


def known_people(desk: Desk) -> None:
    people = [{"name": "Ada Lorne", "role": "nurse"}]
    desk.change(lambda tree: tree.update(people=people), desk.revision(), "identifiers.yaml")
    desk.change(
        lambda tree: tree.update(meeting="2026-12-03", presenter={"role": "Surgeon"}), desk.revision()
    )


def test_all_lines_go_in_at_once_with_their_parts(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    known_people(desk)
    paste(client, desk, WHOLE)
    before = desk.tree()
    form = sent(client, desk)
    assert client.post("/note/several", data=form).status_code == 303
    tree = desk.tree()

    def new(*path: str) -> list[dict[str, Any]]:
        was, now = before, tree
        for key in path:
            was, now = was.get(key, {}), now[key]
        return [dict(one) for one in now[len(was) :]]

    events = new("timeline", "events")
    assert [(one["when"], one["what"]) for one in events] == [
        ("0930", "knife to skin. Calm"),
        ("0955-1021", "artery sewn"),
        ("1044", "Decision"),  # its time had no event
    ]
    named = events[1]["id"]
    assert new("factors") == [
        {"row": "task", "what": "no agreed number at 1021", "events": [named]},
        {"row": "work environment", "what": "rota gap"},
    ]
    assert new("actions") == [
        {"what": "a second probe", "owner": "nurse", "due": "31 January 2027"},
        {"what": "a rule", "owner": "Surgeon", "due": "15 December 2026"},
    ]
    first, second = new("decisions")
    assert (first["at"], first["options"][0]) == (named, {"option": "go higher"})
    assert len(first["options"]) == words("Option").rows
    assert second["at"] == events[2]["id"]
    assert "question" not in second
    assert new("outcome", "visits") == [{"when": "Day 5", "label": "Home", "note": "walking"}]
    assert "0 left" in client.get("/note/").text
    client.post("/undo")  # one change
    assert desk.tree() == before


def test_what_belongs_together_is_asked_beside_the_line(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, "Actions: a second probe on each tray\nCauses: old probe")
    form, keys = sent(client, desk), {line.said: line.key for line in kept.load(desk.aside).lines}
    action, cause = keys["a second probe on each tray"], keys["old probe"]
    asked = {f"of-strength-{action}": "stronger", f"of-strength_reason-{action}": "the tray holds it"}
    asked |= {f"of-role-{cause}": "considered and excluded", f"of-reason-{cause}": "tested and sound"}
    assert {name: form[name] for name in asked} == {name: [""] for name in asked}  # none of it is guessed
    assert client.post("/note/several", data=form | asked).status_code == 303
    tree = desk.tree()
    assert dict(tree["actions"][-1]) == {
        "what": "a second probe on each tray",
        "strength": "stronger",
        "strength reason": "the tray holds it",
    }
    assert tree["factors"][-1]["role"] == "considered and excluded"
    assert tree["factors"][-1]["reason"] == "tested and sound"


def sent(client: FlaskClient, desk: Desk) -> dict[str, Any]:
    """What the page sends where nothing was changed by hand."""
    from html.parser import HTMLParser

    class Form(HTMLParser):
        def __init__(self) -> None:
            super().__init__()
            self.data: dict[str, Any] = {}
            self.inside = self.menu = self.area = ""

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            told = {name: value or "" for name, value in attrs}
            if tag == "form":
                self.inside = told.get("action", "")
            if self.inside != "/note/several":
                return
            if tag == "input" and (told.get("type") != "checkbox" or "checked" in told):
                self.data.setdefault(told["name"], []).append(told.get("value", ""))
            elif tag == "select":
                self.menu = told["name"]
                self.data[self.menu] = [""]
            elif tag == "option" and "selected" in told:
                self.data[self.menu] = [told.get("value", "")] if "value" in told else ["?"]
                self.area = "" if "value" in told else self.menu
            elif tag == "textarea":
                self.area = told["name"]
                self.data[self.area] = [""]

        def handle_data(self, data: str) -> None:
            if self.area:
                self.data[self.area] = [data]
                self.area = self.area if self.area.startswith(("what-", "options-")) else ""

        def handle_endtag(self, tag: str) -> None:
            self.area = "" if tag == "textarea" else self.area

    form = Form()
    form.feed(client.get("/note/several").text)
    return form.data


def test_another_part_that_is_chosen_takes_the_words_apart(client: FlaskClient, desk: Desk) -> None:
    known_people(desk)
    paste(client, desk, "a second probe (Lorne) by 31/1/27")
    form = several(client)
    form["take"] = form["key"]
    form[f"kind-{form['key'][0]}"] = "actions/what"
    assert client.post("/note/several", data=form).status_code == 303
    assert desk.tree()["actions"][-1] == {
        "what": "a second probe",
        "owner": "nurse",
        "due": "31 January 2027",
    }


def test_a_line_goes_with_the_one_above_only_if_that_goes(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    paste(client, desk, "0930 knife to skin. Calm")
    before, form = desk.text(), sent(client, desk)
    answer = client.post("/note/several", data={**form, "take": form["key"][1:]})
    assert answer.status_code == 422
    assert "the line above is not ticked" in answer.text
    assert desk.text() == before


# What is edited is still used


def test_words_that_were_edited_are_still_those_of_their_line(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    paste(client, desk, "0930 knife to skin\n0940 clip on")
    assert client.post("/note/several", data=sent(client, desk)).status_code == 303
    place = len(desk.tree()["timeline"]["events"]) - 2
    path = ("timeline", "events", place)

    def left() -> int:
        return client.get("/write/events/").text.count("taken out since")

    for said in ("First incision", "Incision of the skin"):
        assert ask(client, "events", desk, do="set", path=(*path, "what"), value=said).status_code == 200
        assert left() == 0
    for _ in range(2):  # an undo goes back to words that the line had before
        client.post("/undo")
        assert left() == 0
    ask(client, "events", desk, do="set", path=(*path, "what"), value="Incision")
    assert ask(client, "events", desk, do="remove", path=path).status_code == 200
    assert left() == 1
    client.post("/undo")
    assert left() == 0


@pytest.mark.parametrize(
    ("typed", "due"),
    [
        ("30/11/26", "30 November 2026"),
        ("30/11", "30 November 2026"),
        ("April 2027", "April 2027"),
        ("in 6 weeks", "in 6 weeks"),
        ("soon", "soon"),
    ],
)
def test_a_due_day_that_is_typed_is_told_in_words_where_it_is_one_day(typed: str, due: str) -> None:
    line = Note("new probe").lines[0]
    said = {"what": "new probe", "when": "", "kind": "actions/what", "clock": "", "source": ""}
    one = filled((line,), KNOWN, said, {"owner": "theatre lead", "due": typed})
    assert one.more == {"owner": "theatre lead", "due": due}


def test_only_lines_that_were_changed_are_edits() -> None:
    assert edits("a\nb\nc", "a\nB\nc") == [("b", "B")]
    assert edits("a\nb\nc", "a\nc") == []
    assert edits("a", "a\nb") == []
    assert edits("a", "") == []


@pytest.mark.browser
def test_from_the_note_to_actions_without_typing(page: Page, served: Served, desk: Desk) -> None:
    clocked(desk)
    known_people(desk)
    page.goto(f"{served.base}/note/")
    page.get_by_label("Your note, as it is").fill(WHOLE)
    page.get_by_role("button", name="Keep the note").press("Enter")
    page.wait_for_url("**/note/#lines")  # the page before it has this link too
    page.get_by_role("link", name="Pull several at once").press("Enter")
    assert page.get_by_label("Owner").first.input_value() == "nurse"
    assert axe_faults(page) == []
    page.get_by_role("button", name="Put the ticked lines into the case").press("Enter")
    page.get_by_text("0 left").wait_for()
    assert [(one["owner"], one["due"]) for one in desk.tree()["actions"][-2:]] == [
        ("nurse", "31 January 2027"),
        ("Surgeon", "15 December 2026"),
    ]
    page.goto(f"{served.base}/write/decisions/")
    last = len(desk.tree()["decisions"]) - 1
    page.locator(f"#at-decisions-{last} > summary").press("Enter")
    row = page.locator(f"#at-decisions-{last}-options-1-option")
    row.fill("Stop and look")  # a plain row: nothing is to be opened
    page.keyboard.press("Tab")
    page.get_by_text("Kept at").wait_for()
    assert desk.tree()["decisions"][-1]["options"][1]["option"] == "Stop and look"
    page.locator(f"#at-decisions-{last}-options").get_by_role("button", name="Add a way forward").press(
        "Enter"
    )
    page.locator(f"#at-decisions-{last}-options-2-option:focus").wait_for()
    assert axe_faults(page) == []
    page.set_viewport_size({"width": 683, "height": 384})
    page.goto(f"{served.base}/write/causes/")
    head, bar = page.locator(".top").bounding_box(), page.locator("#beside").bounding_box()
    found = page.locator("#write-top").bounding_box()
    assert head
    assert bar
    assert found
    assert head["height"] < 60
    assert bar["y"] + bar["height"] <= found["y"]
    assert page.evaluate("document.documentElement.scrollWidth") <= 683
    assert kept.load(desk.aside).text == WHOLE.strip() + "\n"


# Entries of a list, and what ends one


def test_an_entry_with_a_number_or_bullet_stays_one_thing_whatever_commas_it_has() -> None:
    note = (
        "Why:\n- loupes on, music on, nobody heard\n"
        'Actions:\n1 drop = "STOP, SHUNT" said aloud; Dr Harrowquist, end of Jan. audit 20 cases\n2 new probe\n'
        "sign B Ostrander bleep 2291\n"
    )
    made = became(note)
    assert ("factors/what", "loupes on, music on, nobody heard") in made
    actions = [words for kind, words in made if kind == "actions/what"]
    assert len(actions) == 2
    assert actions[0].startswith('drop = "STOP, SHUNT" said aloud')
    assert made[-1] == ("", "sign B Ostrander bleep 2291")


@pytest.mark.parametrize("note", ["Home day 6", "Discharged home on day 9 with a weak hand", "d/c POD 4"])
def test_the_day_that_a_patient_went_home_is_a_visit(note: str) -> None:
    (one,) = proposed(note)
    assert one.kind == "outcome/visits/note"
    assert one.more["when"].startswith("Day ")


def test_a_due_month_keeps_no_full_stop() -> None:
    found = _of_action.parted("remind the team by end of Jan.", Known({}))
    assert found.fields["due"] == "end of Jan"


COURSE = """\
extubated day 1, off pressors
Creat peak 212 day 2, no RRT
R leg DVT on duplex day 5 - apixaban
Clinic 1: 8/4/26 - wound ok. histology margins neg
Seen 17 June 2026: walking two miles"""


def test_what_came_of_it_is_a_visit_by_its_day_and_takes_the_sentence_behind_it() -> None:
    """Common practice, no source."""
    known = Known({"timeline": {"day zero": "11 March 2026"}}, "ward notes", "21/3")
    note = Note(COURSE)
    found = each_begun(note.lines, known)
    assert [(one.kind, one.more.get("when", "")) for one in found] == [
        ("outcome/visits/note", "Day 1"),
        ("outcome/visits/note", "Day 2"),
        ("outcome/visits/note", "Day 5"),
        ("outcome/visits/note", "8 April 2026"),
        ("with", ""),
        ("outcome/visits/note", "17 June 2026"),
    ]
    joined = with_above(found)
    assert [one.words for one in joined][3] == "wound ok. histology margins neg"
    assert joined[3].more == {"when": "8 April 2026", "label": "Clinic"}


@pytest.mark.parametrize(
    "line", ["day 2 06:30 lactate 6", "moved to day surgery", "repeat scan by day 3", "day 3 of antibiotics"]
)
def test_a_day_in_a_line_of_something_else_makes_no_visit_of_it(line: str) -> None:
    (one,) = proposed(line)
    assert one.kind != "outcome/visits/note" or line.startswith("day 3")


@pytest.mark.parametrize(
    ("line", "whole"),
    [("peak CRP 310", True), ("lowest Hb was 62", True), ("CRP peaked 310", True), ("peak of it", False)],
)
def test_the_extreme_of_a_value_is_a_reading_at_no_known_time(line: str, whole: bool) -> None:
    """Common practice, no source."""
    (one,) = proposed(line)
    assert one.whole is whole
    assert (one.kind, one.when, one.what) == (("reading", "unknown", line) if whole else ("", "", line))


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("EBL 1200", "reading"),
        ("total blood loss about 800 ml", "reading"),
        ("blood loss ?", ""),
        ("2u RBC", "drug"),
        ("4u RBC 4 FFP 1 plt", "drug"),
        ("transfused 2 units", "drug"),
        ("O neg 2 units", "drug"),
        ("no blood given", ""),
        ("2 blood cultures sent", ""),
        ("4 units G+S only", ""),
        ("AKI stage 2", "complication"),
        ("AKI?", ""),
    ],
)
def test_what_was_counted_or_found_in_the_end_is_ticked_where_it_is_plain(line: str, kind: str) -> None:
    """Common practice, no source."""
    (one,) = proposed(line)
    assert (one.kind, one.when, one.whole) == (kind, "unknown" if kind else "", bool(kind))


def test_what_was_lost_belongs_to_the_event_before_it_and_an_injury_to_its_day() -> None:
    event, lost = proposed("1520 closed. EBL 1.2 L")
    assert (event.when, lost.kind) == ("1520", WITH)
    known = Known({"timeline": {"day zero": "2026-10-12"}}, text="seen 13/10")
    (injury,) = proposed("AKI creat 118 -> 241 peak 14/10, no RRT", known)
    assert (injury.kind, injury.when) == ("complication", "Day 2")


@pytest.mark.parametrize(
    ("line", "grade", "of"),
    [
        ("CD IIIb", "IIIb", ""),
        ("fasciotomy, CD IIIb", "IIIb", "fasciotomy"),
        ("Clavien-Dindo grade iva for bleeding", "IVa", "bleeding"),
        ("leak (Clavien II)", "II", "leak"),
        ("CD II for leak (bile)", "II", "leak (bile)"),
    ],
)
def test_a_grade_that_the_note_gives_goes_to_the_grades(line: str, grade: str, of: str) -> None:
    """The grades: Clavien-Dindo 2004, as `clinic.severity.clavien_dindo` has them."""
    (one,) = proposed(line)
    assert (one.kind, one.what, one.whole) == ("outcome/grades/complication", of, True)
    assert dict(one.more) == {"scale": "Clavien-Dindo", "grade": grade}
    said = {"what": one.what, "when": "", "kind": one.kind, "clock": "", "source": ""}
    sent = filled(one.lines, KNOWN, said, one.more)
    assert not sent.faults
    [made] = yaml.safe_load(put(BARE, [sent])[0])["outcome"]["grades"]
    assert made == {"scale": "Clavien-Dindo", "grade": grade, **({"complication": of} if of else {})}
    assert sent.mark.what == ((of or grade),)


@pytest.mark.parametrize(
    ("line", "of"),
    [("Clavien-Dindo IIIb I think (IVa for the ITU?? ask)", ""), ("CD II for leak (maybe IIIa)", "leak")],
)
def test_a_grade_with_another_beside_it_is_in_doubt(line: str, of: str) -> None:
    (one,) = proposed(line)
    assert (one.what, one.more.get("grade"), one.whole) == (of, None, False)


@pytest.mark.parametrize(
    "line",
    [
        "CD4 350",
        "Clavien III",
        "cd iv antibiotics",
        "1432 back, CD IIIb",
    ],
)
def test_a_grade_that_is_not_plain_is_none(line: str) -> None:
    assert proposed(line)[0].kind != "outcome/grades/complication"


@pytest.mark.parametrize(
    "line",
    [
        "written at home 23.40 sorry for the mess",
        "M&M note, theatre 2. Typed 2340",
        "dictated on the way home 23:40",
    ],
)
def test_when_a_note_was_written_is_no_event(line: str) -> None:
    assert [one.whole for one in proposed(line)] == [False] * len(proposed(line))


def test_an_event_in_which_something_was_written_is_one() -> None:
    assert [one.whole for one in proposed("0930 consent form written and signed")] == [True]


def test_times_that_stay_in_the_words_are_told_beside_them(client: FlaskClient, desk: Desk) -> None:
    """Common practice, no source: a slide that counts from T+0 beside a time of day is read wrong."""
    (one,) = proposed("bed 12 from 10:39 with the nurse")
    assert (one.when, one.still_told) == ("10:39", ("10:39",))
    assert [one.still_told for one in proposed("10:39 protocol called")] == [()]
    kept.save(desk.aside, Note("bed 12 from 10:39 with the nurse\n1041 open"))
    page = client.get("/note/several").text
    assert page.count("Also in the words: 10:39.") == 1
    assert "Also in the words: 10:39." in client.get("/note/?line=1").text


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("protocol called 10:39 by the nurse", "protocol called by the nurse"),
        ("husband rang the bell at 10:39 and said so", "husband rang the bell and said so"),
        ("To theatre 10:39, explored", "To theatre, explored"),
        ("Valsalva at 10.39 to 30 cmH2O", "Valsalva to 30 cmH2O"),
        ("asleep until 10:39 by report", "asleep until 10:39 by report"),
        ("clip on 10:39, off 10:52 by me", "clip on 10:39, off 10:52 by me"),  # which of them
        ("pressure 10:39 80/40", "pressure 10:39 80/40"),
    ],
)
def test_the_only_time_of_a_line_stands_in_its_own_field_alone(line: str, what: str) -> None:
    assert proposed(line)[0].what == what


@pytest.mark.parametrize("words", ["September", "Sept", "sept 2026", "the September"])
def test_a_month_alone_is_no_day(words: str) -> None:
    """The form asks which day of it; it is not taken for its last."""
    assert _of_action.day_meant(words, KNOWN) == words
    assert _of_action.day_meant(f"end of {words}".replace("of the ", "of "), KNOWN) != words


def test_a_due_day_takes_its_year_from_the_weekday_of_the_note() -> None:
    known = Known({}, text="M&M note, Wed 11/03/2026\naudit by 30/4")
    assert _of_action.parted("new poster by 30/4", known).fields["due"] == "30 April 2026"
    assert _of_action.day_meant("8/4", known) == "8 April 2026"


def test_names_are_asked_for_before_the_lines_are_pulled(client: FlaskClient, desk: Desk) -> None:
    """They change what is pulled: an owner is told by the role on the list."""
    kept.save(desk.aside, Note("0930 knife to skin\n0940 Dr Perdita Lindqvane called"))
    proposals(desk, kept.load(desk.aside))
    for _ in range(600):
        if not proposals(desk, kept.load(desk.aside)).running:
            break
        sleep(0.1)
    for address in ("/note/", "/note/several"):
        page = client.get(address).text
        assert 0 < page.index("Names: 1 found in the note") < page.rindex("knife to skin")


# A story that a fresh person took through the page, in its ways of writing (common practice, no source)

NOTED = Known({"timeline": {"day zero": "2026-11-12"}}, text="seen 13/11, CT 20/10/26")


def test_what_went_well_is_no_cause_though_it_stands_behind_them() -> None:
    note = "Why: size never said at brief. no threshold. Good: wire kept, MHP call quick, colleague there early.\n"
    assert [(one.kind, one.what) for one in proposed(note)] == [
        ("factors/what", "size never said at brief."),
        ("factors/what", "no threshold."),
        ("held/what", "wire kept"),
        ("held/what", "MHP call quick"),
        ("held/what", "colleague there early."),
    ]


def test_a_list_of_decisions_takes_no_time_from_the_story_above_it() -> None:
    note = (
        "1240 out to ICU.\n\nDecisions: (1) push on rather than stop or ask. (2) at 1043 treat as vagal rather "
        "than angiogram. (3) covered stent v open."
    )
    first, second, third = (dict(one.more) for one in proposed(note)[1:])
    assert first == {"options": "push on\nstop\nask", "chosen": "push on"}
    assert second == {"at": "1043", "options": "treat as vagal\nangiogram", "chosen": "treat as vagal"}
    assert third == {"options": "covered stent\nopen"}  # which was taken it does not say


@pytest.mark.parametrize(
    ("line", "when"),
    [
        ("R calf tight 13/11 0200, CK 9400, fasciotomy 0310 under GA", "Day 1 0310"),
        ("fasciotomy 0310, reviewed 13/11", "0310"),
        ("0310 fasciotomy", "0310"),
    ],
)
def test_a_day_before_a_time_in_its_line_counts_for_it(line: str, when: str) -> None:
    (one,) = proposed(line, NOTED)
    assert one.when == when
    assert parse_when(one.when).first


@pytest.mark.parametrize(
    ("line", "when", "what"),
    [
        ("13/11 8am round: doing well", "Day 1 8am", "round: doing well"),
        ("13/11 0610 green fluid in the drain", "Day 1 0610", "green fluid in the drain"),
        ("on the 14th 9.20 green fluid", "Day 2 9.20", "green fluid"),
        ("13/11 11:40 rang the unit, moved 14th at 7 pm", "Day 1 11:40", "rang the unit, moved 14th at 7 pm"),
        ("09.48h brisk bleed, took 01.45h to stop", "09.48h", "brisk bleed, took 01.45h to stop"),
    ],
)
def test_the_day_that_leads_a_line_goes_with_its_time_and_out_of_the_words(
    line: str, when: str, what: str
) -> None:
    (one,) = proposed(line, NOTED)
    assert (one.when, one.what, one.whole) == (when, what, True)
    assert parse_when(one.when).first


def test_a_time_behind_one_that_has_a_day_is_of_that_day_until_times_go_back() -> None:
    """The author sees it in its field; the night that may lie between is not guessed."""
    note = (
        "0912 port in\n13/11\n0810 round, well\n14:00 drain out\n1405 options: drain / wait\n0700 green fluid\n"
        "0810 scan\n14th 10.20 seen. Not told til 1130\n1215 scan\nobs chart:\n2300 HR 90"
    )
    made = proposed(note, NOTED)
    assert [one.when for one in made if one.when] == [
        "0912",
        "Day 1 0810",
        "Day 1 14:00",
        "0700",
        "0810",
        "Day 2 10.20",
        "Day 2 1130",
        "Day 2 1215",
        "2300",
    ]
    assert [one.more["at"] for one in made if "at" in one.more] == ["Day 1 1405"]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (
            "09:53 asked for the pack; 0958 converted, long cut",
            [("09:53", "asked for the pack"), ("0958", "converted, long cut")],
        ),
        (
            "1031 anaes cons arrives, 1040 surgeon arrives",
            [("1031", "anaes cons arrives"), ("1040", "surgeon arrives")],
        ),
        ("0912 heparin, 2000 units in all", [("0912", "heparin, 2000 units in all")]),
        ("0912 cuff up, 1100 ml out", [("0912", "cuff up, 1100 ml out")]),
    ],
)
def test_what_each_of_two_times_leads_is_an_event_of_its_own(line: str, told: list[tuple[str, str]]) -> None:
    made = proposed(line)
    assert [(one.when, one.what) for one in made] == told
    assert all(one.whole for one in made)


@pytest.mark.parametrize(
    ("line", "what"),
    [("clamp off 1032", "clamp off"), ("not told til 1420", "not told til 1420"), ("off at 1032.", "off")],
)
def test_a_time_at_the_end_stands_in_its_field_and_not_in_the_words(line: str, what: str) -> None:
    (one,) = proposed(line)
    assert one.when
    assert one.what == what


def test_the_clock_of_a_time_is_no_part_of_the_words_at_their_end() -> None:
    tree = {"clocks": [{"name": "ward clock", "reference": "yes"}, {"name": "theatre"}]}
    note = "0941 clip on, divided (theatre clock)\n0950 pressed (by the ward clock)\n0955 moved (to theatre)"
    made = proposed(note, Known(tree, text=note))
    assert [(one.what, one.clock) for one in made] == [
        ("clip on, divided", "theatre"),
        ("pressed", ""),
        ("moved (to theatre)", ""),
    ]


@pytest.mark.parametrize(
    ("line", "when", "label", "what"),
    [
        (
            "FU 1: clinic 26/11 walking 100yd, wound ok",
            "26 November 2026",
            "Clinic",
            "walking 100yd, wound ok",
        ),
        ("FU 2 duplex 27/11 stent patent.", "27 November 2026", "Review", "stent patent."),
    ],
)
def test_a_follow_up_by_its_number_is_a_visit(line: str, when: str, label: str, what: str) -> None:
    (one,) = proposed(line, NOTED)
    assert (one.kind, one.whole, one.what) == ("outcome/visits/note", True, what)
    assert one.more == {"when": when, "label": label}


def test_questions_for_the_meeting_lose_the_numbers_that_count_them() -> None:
    note = "Qs for mtg\n1 at what size do we stop\n2 who calls it\n3 shd it have been done then?"
    made = [one for one in proposed(note) if not one.lines[0].heading]
    assert {one.kind for one in made} == {"questions/ask"}
    asked = ["at what size do we stop", "who calls it", "shd it have been done then?"]
    assert [one.what for one in made] == asked


def test_a_time_and_a_visit_by_day_and_month_are_taken_as_typed() -> None:
    line, seen = Note("fasciotomy\nclinic").lines
    said = {"what": "fasciotomy", "when": "13/11 0310", "kind": "step", "clock": "", "source": ""}
    one = filled((line,), NOTED, said)
    assert (one.when, one.faults) == ("Day 1 0310", {})
    visit = {**said, "what": "well", "when": "", "kind": "outcome/visits/note"}
    two = filled((seen,), NOTED, visit, {"when": "26/11", "label": ""})
    assert (two.more["when"], two.faults) == ("26 November 2026", {})
    undated = filled((line,), Known({}), said)
    assert "day 2 06:30" in undated.faults["when"]["example"]


def test_lines_that_are_to_be_set_aside_stay_so_after_a_fault(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, "0310 fasciotomy")
    box = '<input type="checkbox" name="rest" value="yes" checked>'
    assert box not in client.get("/note/several").text
    state = kept.state_of(desk.aside)
    (line,) = kept.load(desk.aside).lines
    sent = {"revision": desk.revision(), "note": state, "rest": "yes", "source": "", "key": line.key}
    page = client.post("/note/several", data=sent)
    assert page.status_code == 422
    assert box in page.text


@pytest.mark.parametrize(
    ("heading", "kind"),
    [
        ("?why did it happen", "factors/what"),
        ("Why did this happen?", "factors/what"),
        ("why did it happen", "factors/what"),
        ("what to do", "actions/what"),
        ("to do", "actions/what"),
        ("What next?", "actions/what"),
        ("what has to change", "actions/what"),
        ("next steps", "actions/what"),
    ],
)
def test_a_heading_in_plain_words_opens_causes_or_actions(heading: str, kind: str) -> None:
    note = f"{heading}\n1 lamp kept in store\n2 2nd key for it\n3 20 cards printed\n\n0930 knife to skin"
    assert became(note) == [
        ("", heading),
        (kind, "lamp kept in store"),
        (kind, "2nd key for it"),
        (kind, "20 cards printed"),
        ("step", "knife to skin"),
    ]


def test_figures_that_count_nothing_in_order_stay() -> None:
    note = "what to do\n4 lamps more\n2 keys"
    assert became(note)[1:] == [("actions/what", "4 lamps more"), ("actions/what", "2 keys")]


@pytest.mark.parametrize(
    ("line", "owner", "asked"),
    [
        ("spare lamp - Tam / med physics by 10/1/27", "technician and med physics", ""),
        ("spare lamp - Zed / med physics by 10/1/27", "med physics", "Zed"),
        ("lamp case - theatre manager (Ann Fellowmere) end of Jan", "theatre manager", ""),
        ("lamp case, owner: theatre lead (Mr Ann Fellowmere), by 1/12", "theatre lead", ""),
        ("lamp case - theatre manager (Bel Ostrander)", "theatre manager", ""),
    ],
)
def test_an_owner_is_told_by_role_and_no_name_beside_it_is_left(line: str, owner: str, asked: str) -> None:
    found = _of_action.parted(line, KNOWN)
    assert found.fields["owner"] == owner
    assert found.why.get("owner", "").partition(":")[0] == asked
    assert found.what in ("spare lamp", "lamp case")


def test_a_role_before_the_name_owns_it_where_the_list_of_names_tells_none() -> None:
    known = Known({}, people=(("Mr Odell", "colleague"),))
    found = _of_action.parted("spare lamp - theatre manager Mr Odell", known)
    assert (found.what, found.fields["owner"]) == ("spare lamp", "theatre manager")


@pytest.mark.parametrize(
    ("line", "due", "asked"),
    [
        ("teach it - Tam, feb 27", "28 February 2027", True),  # of the case: a meeting in December 2026
        ("teach it - Tam, Dec 26", "31 December 2026", True),
        ("teach it - Tam, feb 14", "14 February 2027", False),  # no year that is coming
        ("teach it - Tam, oct 26", "26 October 2026", False),  # that month is over
        ("teach it - Tam, 27 feb", "27 February 2027", False),
    ],
)
def test_a_month_with_the_figures_of_a_coming_year_is_due_at_its_end_and_asked(
    line: str, due: str, asked: bool
) -> None:
    found = _of_action.parted(line, KNOWN)
    assert (found.what, found.fields["due"]) == ("teach it", due)
    assert ("due" in found.why) is asked


SEEN = """\
Visits: 20/10 clinic - scan: gap 3 cm. Hb 101. sleeps badly, tired of drain
   next 11/11 planned: scan
   26/10 MAG3 split equal
sore at night
0930 knife to skin"""


def test_what_stands_among_visits_without_a_day_goes_with_the_visit_before_it() -> None:
    known = Known({"timeline": {"day zero": "2026-10-12"}}, text="seen 20/10")
    found = with_above([one for one in proposed(SEEN, known) if one.whole])
    assert [(one.kind, one.more.get("when", one.when), one.words) for one in found] == [
        ("outcome/visits/note", "20 October 2026", "scan: gap 3 cm. Hb 101. sleeps badly, tired of drain"),
        ("outcome/visits/note", "26 October 2026", "MAG3 split equal. sore at night"),
        ("step", "0930", "knife to skin"),
    ]
    assert became("Hb 101.") == [("", "Hb 101.")]
    assert [kind for kind, _ in became("0930 knife to skin\nFollow-up: walks well")] == [
        "step",
        "outcome/visits/note",
    ]


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("wife (Orla) told at 1320 by boss: torn, sorry", "outcome/told"),
        ("1320 family were then informed", "outcome/told"),
        ("son told us at 1300 she had fallen", "note"),
        ("daughter told the nurse 1300 that he was cold", "note"),
    ],
)
def test_a_relative_who_was_told_is_a_disclosure(line: str, kind: str) -> None:
    assert [one.kind for one in proposed(line)] == [kind]


@pytest.mark.parametrize(
    ("line", "when"),
    [
        ("pus drained 1123", "1123"),
        ("lactate 2.8 @ 1141", "1141"),
        ("spoke to the boss by phone 1106", "1106"),
        ("rang them on the phone 1106", "1106"),
        ("1122 radiologist in, pus drained 1131", "1122"),  # it has one
        ("gas 1031, lactate 2.8 @ 1141", ""),  # either could be meant
        ("boss on phone 1106", ""),  # or his number
        ("bleep 1106", ""),
    ],
)
def test_a_time_behind_what_was_done_is_that_of_a_line_without_another(line: str, when: str) -> None:
    (one,) = proposed(line)
    assert one.when == when
    assert all(time.words == time.words.strip() for time in one.times)


@pytest.mark.parametrize("line", ["Meeting Mon 30/11 07:30, 15 min slot", "M&M 30/11 at 0730"])
def test_when_the_meeting_is_is_no_event(line: str) -> None:
    assert [kind for kind, _ in became(line)] == [""]


def test_a_meeting_with_somebody_at_a_time_is_an_event() -> None:
    assert became("Meeting with family 17:30")[0][0] != ""


def test_doubts_are_questions_and_alternatives_by_letter_a_decision() -> None:
    note = "honest doubts: 1) was one tie enough? 2) should I have left a drain?\n"
    assert became(note) == [
        ("questions/ask", "was one tie enough?"),
        ("questions/ask", "should I have left a drain?"),
    ]
    (one,) = proposed("alternatives at that point: (a) open here (b) back to theatre (c) wait")
    assert one.kind == "decisions/question"
    assert one.more["options"] == "open here\nback to theatre\nwait"


def test_the_day_on_which_somebody_was_seen_is_surer_than_the_weeks_beside_it() -> None:
    (one,) = proposed("FU: clinic 2/52 seen Thurs 26/11 voice normal")
    assert one.more["when"] == "26 November 2026"
