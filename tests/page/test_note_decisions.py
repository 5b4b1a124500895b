"""What the lines of a note about one decision become. The notes are invented; how surgeons write them is common
practice, no source."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import yaml
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts import _ways
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._pull import Pull, each_begun, filled, put
from tests.page.test_note import paste
from tests.page.test_note_proposed import sent

BARE = "mmbuilder: 1\ncode: liver-02\nuse: department review\nspecialty: surgery\n"
CLOCKS = "clocks:\n  - name: ward clock\n    reference: yes\n  - name: theatre clock\n    offset: -7 min\n"


def decisions(note: str) -> list[Pull]:
    return [
        one
        for one in each_begun(Note(note).lines, Known({}))
        if one.kind == "decisions/question" and one.what
    ]


def told(one: Pull) -> tuple[str, str, str]:
    return (one.more["options"], one.more.get("chosen", ""), one.more.get("because", ""))


@pytest.mark.parametrize(
    ("note", "question", "fields"),
    [
        (
            "Options:\n1. convert to open\n2. pack and come back (did)\n3. stay lap\nbecause cold and acidotic",
            "Convert to open, or pack and come back, or stay lap?",
            ("convert to open\npack and come back\nstay lap", "pack and come back", "cold and acidotic"),
        ),
        (
            "Decisions:\n1) clip blind <- chosen\n2) press and wait\n3) convert\nwhy: field was wet",
            "Clip blind, or press and wait, or convert?",
            ("clip blind\npress and wait\nconvert", "clip blind", "field was wet"),
        ),
        (
            "Decision: tear in the vein, what now?\n- clip blind\n- press - did this\n- convert\nreason: alone",
            "Tear in the vein, what now?",
            ("clip blind\npress\nconvert", "press", "alone"),
        ),
        (
            "alternatives\n1. shunt (did this)\n2. fix first\nthought shunt quickest",
            "Shunt, or fix first?",
            ("shunt\nfix first", "shunt", "thought shunt quickest"),
        ),
        (
            "alternatives\nstent\ngraft\ndid: graft as stent too short",
            "Stent, or graft?",
            ("stent\ngraft", "graft", "stent too short"),
        ),
        (
            "Options: a) stent b) graft c) wait\nchose b because none on the shelf",
            "Stent, or graft, or wait?",
            ("stent\ngraft\nwait", "graft", "none on the shelf"),
        ),
        (
            "options\n1 ERCP\n2 PTC <-- this one\n3 surgery\nnot fit for surgery",
            "ERCP, or PTC, or surgery?",
            ("ERCP\nPTC\nsurgery", "PTC", "not fit for surgery"),
        ),
        (
            "Options: 1. clip (done as quick) 2. pack 3. convert",
            "Clip, or pack, or convert?",
            ("clip\npack\nconvert", "clip", "quick"),
        ),
        (
            "could have:\n- waited for the second surgeon\n- converted\n",
            "Waited for the second surgeon, or converted?",
            ("waited for the second surgeon\nconverted", "", ""),
        ),
    ],
)
def test_lines_under_one_heading_are_ways_forward_of_one_decision(
    note: str, question: str, fields: tuple[str, str, str]
) -> None:
    (one,) = decisions(note)
    assert (one.what, told(one)) == (question, fields)
    [made] = yaml.safe_load(put(BARE, [one])[0])["decisions"]
    assert [way["option"] for way in made["options"]] == fields[0].split("\n")
    assert made.get("chosen", "") == fields[1]


def test_a_numbered_list_of_decisions_that_each_hold_their_ways_stays_several() -> None:
    note = """\
Decisions
1. 10:32 oozing: raise the pressure to 16 (did) / second Pringle / lower CVP more. raised as quick
2. 10:45 tear: blind clip (what we did) / swab and stop / convert. thought it was small
3. 11:25 after rescue: finish [did] / pack + come back 48h / stop and close; why: stable
"""
    found = decisions(note)
    assert [(one.more["at"], told(one)) for one in found] == [
        ("10:32", ("raise the pressure to 16\nsecond Pringle\nlower CVP more", "raise the pressure to 16", "raised as quick")),
        ("10:45", ("blind clip\nswab and stop\nconvert", "blind clip", "thought it was small")),
        ("11:25", ("finish\npack + come back 48h\nstop and close", "finish", "stable")),
    ]  # fmt: skip
    assert found[0].what == "Oozing: raise the pressure to 16, or second Pringle, or lower CVP more?"
    assert all(one.times[0].words == one.more["at"] for one in found)


def test_numbers_count_decisions_where_signs_count_their_ways_forward() -> None:
    note = """\
decisions
1. 10:32 oozing
  a) more pressure (we did this)
  b) Pringle
  because it was quick
2. 10:45 tear
  a) blind clip
  b) convert ✓
"""
    first, second = decisions(note)
    assert (first.more["at"], told(first)) == (
        "10:32",
        ("more pressure\nPringle", "more pressure", "it was quick"),
    )
    assert (second.more["at"], told(second)) == ("10:45", ("blind clip\nconvert", "convert", ""))


def test_times_lead_decisions_of_a_list_and_the_next_time_is_an_event_again() -> None:
    note = "Decisions\n10:32 oozing: raise (did) / Pringle\n10:45 clip (did) / convert\n11:20 closed"
    made = each_begun(Note(note).lines, Known({}))[1:]
    assert [(one.kind, one.more.get("at", one.when)) for one in made] == [
        ("decisions/question", "10:32"),
        ("decisions/question", "10:45"),
        ("step", "11:20"),
    ]


@pytest.mark.parametrize(
    "note",
    [
        "Decisions:\n1. gave TXA\n2. called help",
        "Decisions\n1. raised the pressure (did)\n2. clipped blind (did)",
    ],
)
def test_what_was_decided_one_after_the_other_is_no_choice_between(note: str) -> None:
    made = each_begun(Note(note).lines, Known({}))[1:]
    assert [len(one.lines) for one in made] == [1, 1]
    assert [one.kind for one in made] == ["decisions/question"] * 2


def test_causes_behind_ways_on_one_line_stay_causes() -> None:
    note = "options: convert / pack\nwhy: rota gap, no protocol, tired\ngood: calm"
    made = each_begun(Note(note).lines, Known({}))
    assert [one.kind for one in made] == ["decisions/question", "factors/what", "held/what"]


@pytest.mark.parametrize(
    ("way", "bare"),
    [
        ("clip (did)", "clip"),
        ("clip (DONE)", "clip"),
        ("clip [chosen]", "clip"),
        ("clip - did this", "clip"),
        ("clip – what we did", "clip"),
        ("clip <- chosen", "clip"),
        ("clip <-- this one", "clip"),
        ("clip (we went with this)", "clip"),
        ("clip (this is what I did)", "clip"),
        ("clip, done", "clip"),
        ("clip ✓", "clip"),
        ("[x] clip", "clip"),
        ("did: clip", "clip"),
    ],
)
def test_the_way_that_was_taken_is_marked_in_many_forms(way: str, bare: str) -> None:
    ways = _ways.read(["wait", way])
    assert (ways.options, ways.chosen) == (("wait", bare), bare)


@pytest.mark.parametrize(
    "way",
    [
        "clip (not done)",
        "clip (did not hold)",
        "clip done by registrar",
        "take a biopsy",
        "this drain out",
        "repair as was done before",
        "clip (done before)",
    ],
)
def test_a_way_that_only_speaks_of_what_was_done_is_not_marked(way: str) -> None:
    ways = _ways.read(["wait", way])
    assert (ways.options, ways.chosen) == (("wait", way), "")


@pytest.mark.parametrize(
    ("line", "chosen"),
    [
        ("Decision: carry on / convert / get boss. carried on, nucleus was soft", "carry on"),
        ("Decision: pack & wait / look. packed because alone", "pack & wait"),
        ("Decision: pack left / pack right. packed because alone", ""),  # two
        ("Decision: pack / look. alone that night", ""),
    ],
)
def test_a_sentence_behind_the_ways_may_tell_which_was_gone(line: str, chosen: str) -> None:
    (one,) = decisions(line)
    assert one.more.get("chosen", "") == chosen
    assert one.more["because"]


def test_two_marks_say_nothing_of_which_was_taken() -> None:
    assert not _ways.read(["clip (did)", "press (did)"]).chosen


@pytest.mark.parametrize(
    ("entry", "way", "why"),
    [
        ("convert because wet", "convert", "wet"),
        ("convert (because wet)", "convert", "wet"),
        ("convert - reason: wet", "convert", "wet"),
        ("convert, reason wet", "convert", "wet"),
        ("convert; why: wet", "convert", "wet"),
        ("because wet", "", "wet"),
        ("reason was it was wet", "", "it was wet"),
        ("Why - wet", "", "wet"),
        ("cos wet", "", "wet"),
        ("convert for good reason", "convert for good reason", ""),
        ("ask why it bled", "ask why it bled", ""),
        ("a reason to stop", "a reason to stop", ""),
    ],
)
def test_a_reason_beside_a_way_is_no_way(entry: str, way: str, why: str) -> None:
    ways = _ways.read([entry])
    assert (ways.options, ways.reasons) == ((way,) if way else (), (why,) if why else ())


def test_a_clip_behind_a_time_is_no_recording() -> None:
    (one,) = each_begun(Note("10:45 clip on the vein").lines, Known({}))
    assert (one.when, one.what) == ("10:45", "clip on the vein")
    assert kept.times("clip 2 0:03:35 smoke") == ("clip 2 0:03:35",)


def test_all_lines_of_a_decision_are_pulled_with_it(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, "Options:\n1. convert\n2. pack (did)\nbecause cold\n\n0930 knife to skin")
    page = client.get("/note/several").text
    assert "convert · 2. pack (did) · because cold" in page
    form = sent(client, desk)
    before = len(desk.tree()["decisions"])
    assert client.post("/note/several", data=form).status_code == 303
    made = desk.tree()["decisions"][before:]
    assert [(one["chosen"], one["because"]) for one in made] == [("pack", "cold")]
    note = kept.load(desk.aside)
    assert {note.state(line).value for line in note.lines if not line.heading} == {"pulled"}
    assert not re.search('name="also-', client.get("/note/several").text)


@pytest.mark.parametrize(
    ("note", "question", "at", "fields"),
    [
        (
            '0938 decided to go on w/out scan, drill by scope. why: time running, saw tip "mostly". could have: '
            "waited for the 2nd (said 15 min, or 20), asked Tam to come in, or stop and stage it",
            "",
            "0938",
            (
                "go on w/out scan, drill by scope\nwaited for the 2nd (said 15 min, or 20)\nasked Tam to come in\n"
                "stop and stage it",
                "go on w/out scan, drill by scope",
                'time running, saw tip "mostly"',
            ),
        ),
        (
            "1031 Decision: call straight away vs scan first vs table film. Went for call + wash because scan "
            "would be 40 min and foot dead already. ",
            "Call straight away, or scan first, or table film, or call + wash?",
            "1031",
            (
                "call straight away\nscan first\ntable film\ncall + wash",
                "call + wash",
                "scan would be 40 min and foot dead already",
            ),
        ),
        (
            "Choice: patch / direct repair / interposition graft / shunt first. Did reversed interposition from the L "
            "leg because edges were shredded. Shunt not used, AH felt repair quick - in retrospect should've",
            "Patch, or direct repair, or interposition graft, or shunt first?",
            "",
            (
                "patch\ndirect repair\ninterposition graft\nshunt first",
                "interposition graft",
                "edges were shredded. Shunt not used, AH felt repair quick",
            ),
        ),
    ],
)
def test_what_was_chosen_is_told_in_the_sentence(
    note: str, question: str, at: str, fields: tuple[str, str, str]
) -> None:
    (one,) = [one for one in each_begun(Note(note).lines, Known({})) if one.kind == "decisions/question"]
    assert (one.what, one.more.get("at", ""), told(one), one.whole) == (question, at, fields, True)


@pytest.mark.parametrize(
    ("line", "question", "at"),
    [
        ("Decision 1: stent (did) / open", "Stent, or open?", ""),
        ("Decision 2 - stent / open", "Stent, or open?", ""),
        ("decision at 10:45 - stent / open", "Stent, or open?", "10:45"),
        ("Decision 1045: stent v open", "Stent, or open?", "1045"),
        ("Opts @ 1150 - stent / open: went for stent as IR in", "Stent, or open?", "1150"),
        ("Decision 1 (1412): stent / open", "Stent, or open?", "1412"),
        ("Options at 0255\na) stent <- what we did\nb) open\nwhy: alone", "Stent, or open?", "0255"),
    ],
)
def test_a_decision_may_have_a_number_or_a_time_in_its_heading(line: str, question: str, at: str) -> None:
    (one,) = decisions(line)
    assert (one.what, one.more.get("at", "")) == (question, at)


@pytest.mark.parametrize(
    ("line", "question", "fields"),
    [
        (
            "1312 options now: patch it and look / pack and wait (gauze or swabs) / take it out",
            "Patch it and look, or pack and wait (gauze or swabs), or take it out?",
            ("patch it and look\npack and wait (gauze or swabs)\ntake it out", "", ""),
        ),
        (
            "1312 options: patch (vein / bovine) / pack. Cold so no patch.",
            "Patch (vein / bovine), or pack?",
            ("patch (vein / bovine)\npack", "", "Cold so no patch"),
        ),
        (
            "~1312 option: let go, or cut it free, or ring the boss (at lunch). Tam went ahead with slow traction, "
            "nearly off. in hindsight shd have let go",
            "Let go, or cut it free, or ring the boss (at lunch)?",
            (
                "let go\ncut it free\nring the boss (at lunch)\nwent ahead with slow traction",
                "went ahead with slow traction",
                "nearly off",
            ),
        ),
        (
            "~1312 options: carry on or convert. We carried on, it was thin there",
            "Carry on, or convert?",
            ("carry on\nconvert", "carry on", "it was thin there"),
        ),
        (
            "torn sheath, options now: patch / pack. Wet",
            "Torn sheath: patch, or pack?",
            ("patch\npack", "", ""),  # no word says that it is a reason
        ),
    ],
)
def test_what_stands_behind_the_ways_forward_tells_the_choice_or_the_reason(
    line: str, question: str, fields: tuple[str, str, str]
) -> None:
    (one,) = decisions(line)
    assert (one.what, told(one)) == (question, fields)
    assert one.more.get("at", "") == next((time.words for time in one.times), "")
    made = yaml.safe_load(put(BARE, [one])[0])["decisions"][0]
    assert made.get("chosen", "") in ("", *(way["option"] for way in made["options"]))


def test_a_sentence_that_tells_no_choice_stays_by_itself() -> None:
    note = "1312 options: patch / pack. Bleeding carried on. Tam went to ITU. Tam came at 1320, so no wait"
    assert [one.lines[0].text for one in each_begun(Note(note).lines, Known({}))][1:] == [
        "Bleeding carried on.",
        "Tam went to ITU.",
        "Tam came at 1320, so no wait",
    ]


def test_the_time_of_a_line_that_becomes_a_decision_is_when_it_was_made(
    client: FlaskClient, desk: Desk
) -> None:
    """The time that led the words as an event is no part of the question; an event stands there, or is made."""
    paste(client, desk, "0938 no scan: go on\n1022 cuff down\n1022 white foot, what now\nHow to mend it")
    before = len(desk.tree()["timeline"]["events"])
    form = sent(client, desk)
    keys = form["key"]
    form["take"] = keys
    for place, made_at in ((0, None), (2, None), (3, "1115")):
        key = keys[place]
        form |= {f"kind-{key}": "decisions/question", f"what-{key}": f"Question {place}?"}
        form |= {f"of-at-{key}": made_at} if made_at else {}
    assert client.post("/note/several", data=form).status_code == 303
    tree = desk.tree()
    events = tree["timeline"]["events"]
    told = {one["what"]: one for one in events}
    own = "Decision: Question 0?", "cuff down", "Decision: Question 3?"
    assert len(events) == before + len(own)
    assert [(told[what]["when"], told[what]["kind"]) for what in own] == [
        ("0938", "note"),
        ("1022", "step"),
        ("1115", "note"),
    ]
    made = tree["decisions"][-3:]
    assert [one["question"] for one in made] == ["Question 0?", "Question 2?", "Question 3?"]
    assert [one["at"] for one in made] == [told[what]["id"] for what in own]


@pytest.mark.parametrize(
    ("line", "fields"),
    [
        (
            'around 9.20 no clear view after 25 min. discussed: top-first vs part vs open. Carried on - "nearly there"',
            {
                "at": "around 9.20",
                "visible": "no clear view after 25 min",
                "options": "top-first\npart\nopen\nCarried on",
                "chosen": "Carried on",
                "because": '"nearly there"',
            },
        ),
        (
            "Decision: carry on vs bail out 09.20: considered part, open, call a second (was next door). "
            "carried on as nearly there",
            {
                "at": "09.20",
                "options": "carry on\nbail out\npart\nopen\ncall a second (was next door)",
                "chosen": "carry on",
                "because": "nearly there",
            },
        ),
        (
            "Decision: clips in the pool: alternative was to press, or open at once",
            {"options": "clips in the pool\nto press\nopen at once", "chosen": "clips in the pool"},
        ),
    ],
)
def test_what_was_weighed_and_how_it_went_on_come_out_of_a_line(line: str, fields: dict[str, str]) -> None:
    (one,) = [each for each in each_begun(Note(line).lines, Known({})) if each.kind == "decisions/question"]
    assert dict(one.more) == fields


@pytest.mark.parametrize("said", ["carried on as planned", "carried on as before"])
def test_as_planned_is_no_reason(said: str) -> None:
    assert _ways.gone_on(said) == (said, "")


def test_the_event_that_a_decision_makes_stands_where_it_belongs_in_time() -> None:
    """At the end of the list a time without a day would be of the last day there, which stops the case."""
    note = (
        "13/11/26\n0912 port in\n0940 clip on\n15/11 06:10 bile in drain\n"
        "Decisions:\n1. 0930 carry on vs convert\n2. 0950 press vs clip\nwhy:\n- bile at 0610 not passed on"
    )
    known = Known({"timeline": {"day zero": "2026-11-13"}}, text=note)
    begun = f"{BARE}{CLOCKS}timeline:\n  day zero: 2026-11-13\n"
    text, made = put(begun, [one for one in each_begun(Note(note).lines, known) if one.whole])
    tree = yaml.load(text, yaml.BaseLoader)
    events = tree["timeline"]["events"]
    assert [one["when"] for one in events] == ["0912", "0930", "0940", "0950", "Day 2 06:10"]
    named = {one["id"]: one["when"] for one in events if "id" in one}
    assert [named[one["at"]] for one in tree["decisions"]] == ["0930", "0950"]
    assert [named[one] for one in tree["factors"][0]["events"]] == ["Day 2 06:10"]
    places = sorted(int(place[-1]) for place in made.values() if place[0] == "timeline")
    assert places == [0, 2, 4]


def test_a_decision_is_at_the_only_event_that_has_its_time_by_any_clock() -> None:
    tree = {"clocks": [{"name": "ward clock", "reference": "yes"}, {"name": "theatre clock"}]}
    note = "0950 (theatre clock) two clips on\nDecision: at 9:50 press vs clip"
    made = yaml.safe_load(put(BARE + CLOCKS, each_begun(Note(note).lines, Known(tree, text=note)))[0])
    assert [one["what"] for one in made["timeline"]["events"]] == ["two clips on"]
    assert made["decisions"][0]["at"] == made["timeline"]["events"][0]["id"]


def test_a_decision_at_a_time_of_two_events_is_at_the_last_of_them() -> None:
    note = "1022 cuff down\n1022 foot white\n1022 options: fix / wait"
    pulls = each_begun(Note(note).lines, Known({}))
    tree = yaml.safe_load(put(BARE, pulls)[0])
    assert [one["what"] for one in tree["timeline"]["events"]] == ["cuff down", "foot white"]
    assert tree["decisions"][0]["at"] == tree["timeline"]["events"][1]["id"]


def test_a_decision_at_no_time_says_when_in_words() -> None:
    [one] = decisions("Options: fix / wait")
    tree = yaml.safe_load(put(BARE, [replace(one, more={**one.more, "at": "the second look"})])[0])
    assert "timeline" not in tree
    assert tree["decisions"][0]["question"] == "At the second look: Fix, or wait?"


def test_a_when_that_is_not_seen_comes_with_no_words() -> None:
    [line] = Note("EBL about 1400 ml").lines
    said = {
        "kind": "outcome/summary",
        "what": "EBL about 1400 ml",
        "when": "unknown",
        "clock": "",
        "source": "",
    }
    one = filled((line,), Known({}), said)
    assert yaml.safe_load(put(BARE, [one])[0])["outcome"] == {"summary": "EBL about 1400 ml"}


@pytest.mark.parametrize(
    ("line", "question", "fields"),
    [
        (
            "DECISION 1 - go on or drain first. We went on: list full, thought it old blood. Alternatives: drain"
            " (8 Fr, left); pack",
            "Go on or drain first?",
            ("go on\ndrain (8 Fr, left)\npack", "go on", "list full, thought it old blood"),
        ),
        (
            "Decision 1: go on or drain? Chose to go on because list full. Alternatives: drain, pack",
            "Go on or drain?",
            ("go on\ndrain\npack", "go on", "list full"),
        ),
        (
            "0925 tight, pushed by me. DECISION 2 - size of port, 12 chosen as what was open. Alternatives:"
            " 10 port; dilate first",
            "Size of port?",
            ("12\n10 port\ndilate first", "12", "what was open"),
        ),
        (
            "DECISION 3 - what now. Pack and stop. Alternatives: coil (room busy, 40 away), open repair."
            " Pack because too sick to move",
            "What now?",
            ("Pack and stop\ncoil (room busy, 40 away)\nopen repair", "Pack and stop", "too sick to move"),
        ),
        (
            "Decision - what now. Pack. Alternatives: coil or clip. The lights failed",
            "What now? The lights failed",
            ("Pack\ncoil\nclip", "Pack", ""),
        ),
    ],
)
def test_a_decision_in_sentences_with_its_alternatives_is_one(
    line: str, question: str, fields: tuple[str, str, str]
) -> None:
    (one,) = decisions(line)
    assert (one.what, told(one)) == (question, fields)
    assert one.whole
    assert one.more.get("at", "") == ("0925" if line.startswith("0925") else "")


@pytest.mark.parametrize(
    "line",
    ["0925 decision was hard. Alternatives were none", "0925 we met. Alternatives in the cupboard: 3 packs"],
)
def test_alternatives_of_no_decision_are_joined_to_none(line: str) -> None:
    assert not decisions(line)
