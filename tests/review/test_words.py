"""Words of blame and of hindsight: found where they judge, left alone where they mean something else.

Which words: practice.md (c) 8 and 9, READ there. The sentences are ours, invented; that a phrase such as
"delayed gastric emptying" or "incompetent valve" is ordinary clinical usage is common knowledge, no source.
"""

from __future__ import annotations

import pytest

from mmbuilder.review import blame, hindsight, lint

LISTS = {"blame": blame.find, "hindsight": hindsight.find}

# practice.md (c) 8, in its order.
BLAME = (
    *("careless", "negligent", "incompetent", "sloppy", "stupid", "lazy", "reckless", "fault", "blame"),
    *("guilty", "culprit", "failed to", "neglected", "ignored", "forgot", "refused", "poor technique"),
    *("bad judgement", "inadequate", "violation", "disobeyed", "human error", "lack of vigilance"),
    *("complacent", "non-compliant", "difficult patient", "my bad"),
)
# practice.md (c) 9, in its order.
HINDSIGHT = (
    *("should have", "could have", "would have", "ought to", "obviously", "clearly", "of course"),
    *("in retrospect", "with hindsight", "simply", "just needed to", "easily", "inevitable", "unavoidable"),
    *("missed", "overlooked", "delayed", "late", "red flag", "textbook", "classic", "any competent"),
    *("anyone would", "too slow", "premature", "lucky"),
)

BLAMING = (
    ("careless", "The swab count was done carelessly at the end of the list"),
    ("careless", "Careless handling of the specimen tore the capsule"),
    ("negligent", "This was negligent care on the part of the night team"),
    ("negligent", "Relatives spoke of negligence"),
    ("incompetent", "The locum was incompetent with the new stapler"),
    ("incompetent", "Incompetence of the assistant led to bleeding"),
    ("sloppy", "Sloppy note-keeping on the ward"),
    ("stupid", "A stupid slip with the infusion rate"),
    ("stupid", "I felt like an idiot"),
    ("lazy", "The on-call doctor was too lazy to come in"),
    ("reckless", "He went on recklessly with the dissection"),
    ("fault", "It was the registrar's fault"),
    ("fault", "The surgeons’ fault, not the system's"),
    ("fault", "Nobody but the scrub nurse was at fault"),
    ("fault", "The fault lies with the booking team"),
    ("fault", "All this was my fault"),
    ("blame", "Theatre staff were blamed for the count"),
    ("blame", "The ward is to blame for the fall"),
    ("blame", "I blame myself for not calling"),
    ("guilty", "The trainee is guilty of going ahead alone"),
    ("culprit", "The culprit was the new trainee"),
    ("failed to", "The registrar failed to call the consultant"),
    ("failed to", "Failing to check the lens, the team went on"),
    ("failed to", "Failure to escalate overnight"),
    ("neglected", "Observations were neglected from 02.00"),
    ("ignored", "The nurse's concern was ignored"),
    ("ignored", "He kept ignoring the alarm"),
    ("forgot", "She forgot to sign the chart"),
    ("forgot", "The second antibiotic dose was forgotten"),
    ("refused", "The patient refused physiotherapy"),
    ("refused", "The radiologist’s refusal to scan at night"),
    ("poor technique", "Poor surgical technique tore the sac"),
    ("poor technique", "Rough technique at the join"),
    ("bad judgement", "Bad judgment under pressure"),
    ("bad judgement", "It was an error of judgement to go on"),
    ("bad judgement", "A poor decision was made at 03.00"),
    ("bad judgement", "The depth was misjudged by the fellow"),
    ("inadequate", "The supervision was inadequate; an inadequate registrar was left alone"),
    ("inadequate", "Inadequate knowledge of the new pump"),
    ("inadequate", "Handover was inadequate"),
    ("inadequate", "The team was inadequately prepared"),
    ("violation", "A violation of the sign-in protocol"),
    ("violation", "Staff violated the two-person rule"),
    ("disobeyed", "The fellow disobeyed the plan"),
    ("human error", "The cause was human error."),
    ("human error", "Put down to user error"),
    ("lack of vigilance", "There was a lack of vigilance at the table"),
    ("lack of vigilance", "Lesson: be more vigilant"),
    ("lack of vigilance", "Inattention of the assistant"),
    ("complacent", "The unit had become complacent about counts"),
    ("complacent", "Complacency after forty easy cases"),
    ("non-compliant", "A non-compliant patient who took no drops"),
    ("non-compliant", "Noncompliance with the diet"),
    ("difficult patient", "A difficult patient and a demanding family"),
    ("my bad", "My bad, I read the wrong line"),
    ("my bad", "It was my own mistake"),
)

JUDGING = (
    ("should have", "The drain should have been left in"),
    ("should have", "We should’ve scanned her on Day 2"),
    ("should have", "The clip should never have been placed there"),
    ("should have", "He should have a low threshold and should have called"),
    ("could have", "The leak could have been seen on the first scan"),
    ("could have", "We couldn't have chosen worse"),
    ("would have", "A CT would have shown it"),
    ("ought to", "The team ought to have stopped"),
    ("obviously", "She was obviously septic by then"),
    ("obviously", "It was obvious that the bowel was dead"),
    ("clearly", "This was clearly a leak"),
    ("clearly", "Clearly, the plan was wrong"),
    ("of course", "The swab was, of course, in the pelvis"),
    ("in retrospect", "In retrospect the pain was out of keeping"),
    ("in retrospect", "Looking back, the signs were there"),
    ("with hindsight", "With hindsight the fever was the first sign"),
    ("with hindsight", "In hindsight we knew"),
    ("simply", "He simply had to stop and look"),
    ("just needed to", "They just needed to open the wound"),
    ("just needed to", "All we had to do was ask"),
    ("easily", "The bleed could easily be controlled"),
    ("easily", "This is easily avoided"),
    ("inevitable", "A leak was inevitable"),
    ("inevitable", "Inevitably the graft clotted"),
    ("unavoidable", "The injury was unavoidable"),
    ("unavoidable", "Nothing could have been done"),
    ("missed", "The perforation was missed at the first operation"),
    ("missed", "The ward missed the rising lactate"),
    ("overlooked", "The letter was overlooked"),
    ("overlooked", "It slipped through the weekend"),
    ("delayed", "The second look was delayed"),
    ("delayed", "Delays in calling for help"),
    ("delayed", "A belated scan"),
    ("late", "The consultant was called late"),
    ("late", "Late recognition of the bleed"),
    ("late", "Help came too late."),
    ("red flag", "The tachycardia was a red flag"),
    ("red flag", "The warning signs were all there"),
    ("textbook", "A textbook anastomotic leak"),
    ("classic", "A classic presentation of ischaemia"),
    ("classic", "Classic signs of peritonitis on Day 3"),
    ("any competent", "Any competent surgeon sees that"),
    ("any competent", "Every reasonable anaesthetist stops there"),
    ("anyone would", "Anyone would have opened the abdomen"),
    ("anyone would", "Everybody knows that the duct lies there"),
    ("too slow", "The team was too slow to convert"),
    ("too slow", "Slow to respond, the ward waited"),
    ("premature", "Extubation was premature"),
    ("premature", "The drain came out too early"),
    ("premature", "The team jumped to a diagnosis"),
    ("lucky", "We were lucky that the vein held"),
    ("lucky", "Luckily the second bag was there"),
)

CLEAN = (
    # blame words with another meaning
    "Duplex: incompetent long saphenous vein and an incompetent perforator above the ankle",
    "Echo: severe mitral incompetence",
    "The ileocaecal valve was incompetent",
    "Cervical incompetence in the second pregnancy",
    "Chronotropic incompetence on the treadmill",
    "Patching for a lazy eye at the age of five",
    "A lazy S incision over the parotid",
    "Reckless acts are dealt with outside this meeting",
    "An electrical fault in the diathermy machine",
    "No fault found on testing the pump",
    "The monitor's fault log was read",
    "The valve was found to be at fault",
    "A fault of the light cable, replaced in 2 min",
    "An earth fault alarm sounded",
    "This is a no-blame meeting",
    "The culprit lesion was in the right coronary artery",
    "Skin tests: the culprit drug was rocuronium",
    "Labour failed to progress at 7 cm",
    "The stapler failed to fire on the second load",
    "The lung failed to re-expand on suction",
    "Bleeding failed to stop with pressure",
    "Failure to rescue is counted by the unit",
    "The patient failed to wean on Day 4",
    "The pacing wire failed to capture",
    "Failed intubation drill begun at 10.04",
    "Left visual neglect after the stroke",
    "A neglected Achilles tendon rupture of six weeks",
    "Artefact readings were ignored",
    "Gaps are ignored in the average",
    "The forgotten joint score was 72",
    "A forgotten stent from four years before",
    "Spirometry limited by poor technique",
    "Inadequate block on the medial side, topped up",
    "Inadequate bowel preparation; inadequate view of the caecum",
    "Inadequate urine output for three hours",
    "The posterior margin was inadequate",
    "The trocar violated the pleura",
    "Capsular violation at the upper pole",
    "No pedicle wall violation on CT",
    "A stiff, non-compliant left ventricle",
    "The ventricle was non-compliant on echo",
    "A noncompliant balloon at 14 atmospheres",
    "The bladder was poorly compliant on urodynamics",
    "Difficult patient positioning because of the hip",
    "Difficult airway trolley in the room",
    "Inattention on the delirium screen",
    "The patient declined physiotherapy and said why",
    "The registrar did not call, as the number had changed",
    # hindsight words with another meaning
    "Missed beats on the monitor at 09.10",
    "Missed abortion at nine weeks",
    "Two missed doses of enoxaparin on the chart",
    "A missed period, then pain",
    "The needle missed the artery by 2 mm",
    "Delayed union of the tibia",
    "Delayed primary closure on Day 5",
    "Delayed extubation was planned",
    "Delayed gastric emptying, grade B",
    "Delayed graft function, dialysed twice",
    "Delayed cord clamping for 60 s",
    "A delayed-phase CT showed the blush",
    "Delayed haemolytic transfusion reaction on Day 9",
    "Delayed cerebral ischaemia on Day 6",
    "Theatre was ready without delay",
    "The second look was delayed by 12 min",
    "Recognition was 40 minutes late",
    "Called late, 20 min after the alarm",
    "The scan was delayed from 10.05 to 11:20",
    "Help was late (a quarter past, 15 min)",
    "Late decelerations on the trace from 04.20",
    "Late-onset endophthalmitis at six weeks",
    "A late bleb leak in year three",
    "Arrived late in the evening",
    "Late preterm twins",
    "Late gadolinium enhancement of the septum",
    "The patient's late husband had the same reaction",
    "Premature rupture of membranes at 31 weeks",
    "Premature ventricular beats, then a run of five",
    "Born prematurely at 29 weeks",
    "Retinopathy of prematurity, stage 2",
    "Premature closure is a named bias",
    "It is too early to say whether sight will return",
    "No obvious bleeding at the last look",
    "Not obviously dilated on ultrasound",
    "Sites clearly marked before the block",
    "The ureter was clearly seen on both sides",
    "Read aloud and clearly heard by all",
    "Day 3 of a course of antibiotics",
    "At the end of course of treatment",
    "Skin closed with simple interrupted sutures",
    "Bag and mask ventilation easy; the gum bled easily",
    "The tube passed easily",
    "Inevitable miscarriage at ten weeks",
    "Red flag sepsis pathway opened at 14.10",
    "No red flags asked about at triage were positive",
    "Textbook outcome was reached in 18 of 40",
    "A classic Kehr's sign was absent",
    "Classic double bubble sign on the film",
    "Classical caesarean section, as the lower segment had not formed",
    "Charcot's classic triad was complete",
    "She was told that she would have a drain and a catheter",
    "Every tray should have a spare clamp",
    "The rash could have been due to chlorhexidine",
    "Asked whether anyone would object to stopping",
    "The heart rate was too slow, 38 a minute",
    "The infusion ran too slowly at first",
    "The window of the bay overlooks the garden",
    "Retrospectively reviewed records of 40 patients",
    # words near those of the lists
    "Early recognition: 2 min from first sign to call",
    "The default setting of the pump is 5 mL/h",
    "Defaulted from clinic; letters had gone to the old address",
    "Latent heat; lateral port; later that day",
    "Simple, mild, clear fluid in the drain",
    "Coursing vessels; recourse to the second list",
    "Lack of a second clamp on the tray",
    "The classification of the event is still open",
    "The pressure fell, nobody was in reach of the screen",
)

QUOTED = (
    'Written on the chart: "should have been scanned, careless"',
    "The mother said “you failed to call me”",
    "Noted as ‘the registrar’s fault, clearly’ at 04.10",
    "Er schrieb «obviously missed»",
    "Handover sheet: „poor technique“",
)


def _words(found):
    return [flag.word for flag in found]


def test_the_sets_are_as_broad_as_they_should_be():
    assert len(BLAMING) + len(JUDGING) >= 60
    assert len(CLEAN) >= 80
    assert len(set(CLEAN)) == len(CLEAN)


@pytest.mark.parametrize(("name", "listed"), [("blame", BLAME), ("hindsight", HINDSIGHT)])
def test_every_word_of_the_source_is_in_the_list_and_in_a_sentence_here(name, listed):
    # Those of other languages follow, and have sentences of their own: test_german.py.
    assert tuple(entry.word for entry in lint.load(name).words)[: len(listed)] == listed
    assert {word for word, _ in (BLAMING if name == "blame" else JUDGING)} == set(listed)


@pytest.mark.parametrize(("word", "sentence"), BLAMING)
def test_blame_is_found(word, sentence):
    assert word in _words(blame.find(sentence))


@pytest.mark.parametrize(("word", "sentence"), JUDGING)
def test_hindsight_is_found(word, sentence):
    assert word in _words(hindsight.find(sentence))


@pytest.mark.parametrize("sentence", CLEAN)
def test_another_meaning_is_left_alone(sentence):
    assert _words(blame.find(sentence)) + _words(hindsight.find(sentence)) == []


@pytest.mark.parametrize("sentence", QUOTED)
def test_what_is_quoted_is_evidence(sentence):
    bare = sentence.translate(dict.fromkeys(map(ord, '"“”«»„‘')))
    assert blame.find(bare) or hindsight.find(bare)
    assert not blame.find(sentence)
    assert not hindsight.find(sentence)


def test_a_quotation_that_is_not_closed_and_inches_quote_nothing():
    assert _words(blame.find('He said "this was careless')) == ["careless"]
    assert _words(blame.find('A 5" port, a careless pass, a 12" drape')) == ["careless"]


def test_only_the_quoted_part_is_left_alone():
    flags = blame.find('Careless. "Careless", she said. Careless.')
    assert [flag.start for flag in flags] == [0, 32]


def test_would_have_belongs_in_a_counterfactual():
    text = "Skin in view would probably have shown the flush, obviously"
    assert _words(hindsight.find(text)) == ["would have", "obviously"]
    assert _words(hindsight.find(text, counterfactual=True)) == ["obviously"]


def test_an_open_question_to_the_room_may_suppose() -> None:
    text = "What would have made us stop at 0930?"
    assert _words(hindsight.find(text)) == ["would have"]
    assert hindsight.find(text, asked=True) == ()
    for judging in (
        "Why would he have gone on?",
        "Should have stopped?",
        "What would have helped is obvious.",
    ):
        assert hindsight.find(judging, asked=True), judging


def test_an_interval_of_another_sentence_does_not_count():
    assert _words(hindsight.find("The scan was delayed. It took 12 min.")) == ["delayed"]


@pytest.mark.parametrize("name", LISTS)
def test_a_flag_says_why_and_what_instead_in_our_words(name):
    for entry in lint.load(name).words:
        assert entry.why
        assert entry.neutral
        assert not LISTS[name](entry.neutral.replace('"', "")), (
            f"{entry.word}: its neutral wording is flagged"
        )


def test_a_flag_holds_its_place_and_nothing_of_the_author():
    text = "Miss Haskerdine-Vole carelessly went on"
    (flag,) = blame.find(text)
    assert text[flag.start : flag.end] == "carelessly"
    assert flag.word == "careless"
    assert "Haskerdine" not in repr(flag)


@pytest.mark.parametrize(
    "text", ["", " ", "\n" * 99, "…" * 99, "'" * 99, '"' * 101, "late " * 2000, "a" * 20_000]
)
def test_junk_comes_to_an_end(text):
    for find in LISTS.values():
        for flag in find(text):
            assert 0 <= flag.start < flag.end <= len(text)
