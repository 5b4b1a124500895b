"""Severity scales against their printed definitions and tables of examples.

READ rows are those of check-values.md D1 (Clavien-Dindo [S73, S76, S77]), D3 (ClassIntra [S81]) and C4
(harm scales [S67, S69, S71, S72]); MEM rows are the original tables from memory, and say so. The treatment
or symptom words that a printed example is written in are our reading of it.
"""

from __future__ import annotations

from itertools import product
from typing import get_args

import pytest

from mmbuilder.clinic import work
from mmbuilder.clinic.severity import agreement, classintra, clavien_dindo, harm, merp
from mmbuilder.clinic.severity.course import CARE, Course, Loss, Symptoms
from mmbuilder.safe.terms import GRADES, Scale

# complication, what it was treated by, grade, where it was printed
PRINTED = (
    ("arrhythmia reverting with electrolytes", ["electrolytes"], "I", "READ S76"),
    ("fluid overload", ["diuretic"], "I", "READ S76"),
    ("mild self-limiting delirium", ["none"], "I", "READ S76"),
    ("acute kidney injury, fluid only", ["intravenous fluid"], "I", "READ S77"),
    ("hypokalaemia, oral potassium", ["electrolytes"], "I", "READ S77"),
    ("nausea", ["antiemetic"], "I", "READ S77"),
    ("wound opened at the bedside", ["wound opened at the bedside"], "I", "READ S73"),
    ("atelectasis", ["physiotherapy"], "I", "MEM, original table"),
    ("atrial fibrillation, beta-blocker", ["antiarrhythmic"], "II", "READ S76"),
    ("pneumonia", ["antibiotics", "physiotherapy"], "II", "READ S76, S77"),
    ("ileus, nasogastric tube", ["stomach tube"], "II", "READ S76"),
    ("urinary infection", ["antibiotics"], "II", "READ S76, S77"),
    ("wound infection", ["antibiotics"], "II", "READ S77"),
    ("wound opened, cellulitis", ["wound opened at the bedside", "antibiotics"], "II", "MEM, original table"),
    ("myocardial infarction treated medically", ["other drug"], "II", "READ S77"),
    ("deep vein thrombosis, heparin", ["anticoagulant"], "II", "READ S77"),
    ("anaemia", ["transfusion"], "II", "READ S77"),
    ("parenteral nutrition", ["parenteral nutrition"], "II", "READ S73"),
    ("bradyarrhythmia", ["pacing wire"], "IIIa", "READ S76"),
    ("effusion", ["chest drain"], "IIIa", "READ S76"),
    ("pseudo-obstruction", ["flatus tube"], "IIIa", "READ S76"),
    ("biloma", ["radiological intervention without general anaesthesia"], "IIIa", "MEM, original table"),
    (
        "dehiscence closed under local",
        ["operation without general anaesthesia"],
        "IIIa",
        "MEM, original table",
    ),
    ("tachyarrhythmia, DC shock", ["electrical cardioversion"], "IIIb", "READ S76"),
    ("anastomotic leak, surgery", ["antibiotics", "operation under general anaesthesia"], "IIIb", "READ S76"),
    ("heart failure, inotropes", ["inotrope or vasopressor in intensive care"], "IVa", "READ S76"),
    ("pneumonia, intubation", ["antibiotics", "ventilation"], "IVa", "READ S76"),
    ("stroke", ["intensive care for stroke or brain haemorrhage"], "IVa", "READ S76"),
    ("renal failure with filtration", ["dialysis or filtration"], "IVa", "READ S76"),
    ("lung and renal failure", ["ventilation", "dialysis or filtration"], "IVb", "READ S76: any two of IVa"),
    (
        "low output and renal failure",
        ["inotrope or vasopressor in intensive care", "dialysis or filtration"],
        "IVb",
        "MEM, original table",
    ),
    ("death after a leak", ["operation under general anaesthesia", "ventilation", "death"], "V", "READ S73"),
    ("drug-related diarrhoea", ["none"], "I", "READ S76"),
    ("acute kidney injury, no treatment", ["observation"], "I", "READ S76"),
    ("ileus, only deviation from the norm", ["observation"], "I", "READ S77"),
    ("transient ischaemic attack", ["anticoagulant"], "II", "READ S76; of a TIA, never IV: READ S73"),
    ("bronchopleural fistula", ["operation under general anaesthesia"], "IIIb", "READ S76"),
    ("ureteric stenosis", ["operation under general anaesthesia"], "IIIb", "READ S76"),
    ("pancreatitis", ["intensive care for one organ failing"], "IVa", "READ S76"),
    # READ S77: return to theatre, endoscopy that treats and radiology that treats are III; a and b by S73.
    ("return to theatre, awake", ["operation without general anaesthesia"], "IIIa", "READ S77, S73"),
    ("return to theatre, asleep", ["operation under general anaesthesia"], "IIIb", "READ S77, S73"),
    ("endoscopy, awake", ["endoscopy without general anaesthesia"], "IIIa", "READ S77, S73"),
    ("endoscopy, asleep", ["endoscopy under general anaesthesia"], "IIIb", "READ S77, S73"),
    ("radiology, awake", ["radiological intervention without general anaesthesia"], "IIIa", "READ S77, S73"),
    ("radiology, asleep", ["radiological intervention under general anaesthesia"], "IIIb", "READ S77, S73"),
    (
        "renal failure and filtration, lung failing",
        ["dialysis or filtration", "ventilation"],
        "IVb",
        "READ S76",
    ),
)


@pytest.mark.parametrize(("what", "treatments", "grade", "source"), PRINTED, ids=[row[0] for row in PRINTED])
def test_clavien_dindo_as_printed(what, treatments, grade, source):
    for order in (treatments, treatments[::-1]):
        given = clavien_dindo.implied(order, at_discharge=False)
        assert given is not None
        assert given.grade == grade, source


def test_every_treatment_has_a_grade_with_a_rule():
    for word, treatment in clavien_dindo.TREATMENTS.items():
        assert treatment.grade in clavien_dindo.RULES, word
        assert treatment.source
    assert tuple(clavien_dindo.RULES) == clavien_dindo.ORDER


@pytest.mark.parametrize(
    ("treatments", "grade"),
    [
        # MEM, original table: complications that were still there
        (["none"], "Id"),  # hoarseness after thyroidectomy
        (["operation under general anaesthesia"], "IIIbd"),  # faecal incontinence after a drained abscess
        (["intensive care for stroke or brain haemorrhage"], "IVad"),  # stroke with hemisyndrome
        (["intensive care for several organs failing"], "IVbd"),  # renal insufficiency after sepsis
        (["death"], "V"),  # nobody is discharged
    ],
)
def test_suffix_d(treatments, grade):
    given = clavien_dindo.implied(treatments, at_discharge=True)
    assert given is not None
    assert given.grade == grade
    assert grade in GRADES[Scale.CLAVIEN_DINDO]


def test_an_unknown_discharge_lets_either_stand():
    given = clavien_dindo.implied(["antibiotics"])
    assert clavien_dindo.challenge("II", given) is None
    assert clavien_dindo.challenge("IId", given) is None
    told = clavien_dindo.challenge("IIIad", given)
    assert told is not None
    assert "stated as IIIad" in told
    assert "suffix d" in told


def test_a_known_discharge_does_not():
    given = clavien_dindo.implied(["antibiotics"], at_discharge=True)
    assert clavien_dindo.challenge("IId", given) is None
    assert "gives IId" in (clavien_dindo.challenge("II", given) or "")


def test_nothing_given_implies_nothing():
    assert clavien_dindo.implied([]) is None
    assert clavien_dindo.challenge("IIIb", None) is None


def test_an_unknown_treatment_is_refused_without_being_printed():
    with pytest.raises(ValueError, match="expected one of: none; observation") as told:
        clavien_dindo.implied(["poultice"])
    assert "poultice" not in str(told.value)


def test_one_grade_a_complication():
    """practice.md (e) 34, READ: two treatments of one complication are not counted twice.

    33.5 for II + IIIa is printed there; 26.2 for IIIa alone is the paper's (MEM+CALC, check-values.md D2).
    """
    leak = clavien_dindo.implied(["antibiotics", "radiological intervention without general anaesthesia"])
    assert leak is not None
    alone = work("comprehensive complication index", {"grades": leak.grade})
    apart = work("comprehensive complication index", {"grades": f"II, {leak.grade}"})
    assert (str(alone.answers[0]), str(apart.answers[0])) == ("26.2", "33.5")


def test_the_headline_is_the_highest():
    """practice.md (e) 33, READ."""
    assert clavien_dindo.headline(["II", "IIIbd", "IIIa", "not applicable"]) == "IIIbd"
    assert clavien_dindo.headline(["IVa", "IVad"]) == "IVad"
    assert clavien_dindo.headline(["not applicable"]) is None
    assert clavien_dindo.challenge_headline("IIIb", ["II", "IIIb"]) is None
    assert "heaviest complication is IIIb" in (clavien_dindo.challenge_headline("II", ["II", "IIIb"]) or "")


# ClassIntra: the definitions, READ S81; both halves of each.
@pytest.mark.parametrize(
    ("treatment", "symptoms", "grade"),
    [
        ("none", "none", "I"),
        ("none", "mild", "I"),
        ("minor", "moderate", "II"),
        ("moderate", "severe", "III"),
        ("moderate", "perhaps life-threatening", "III"),
        ("moderate", "perhaps disabling", "III"),
        ("major", "life-threatening", "IV"),
        ("major", "disabling for good", "IV"),
        ("major", "death", "V"),
    ],
)
def test_classintra_as_printed(treatment, symptoms, grade):
    given = classintra.implied(treatment, symptoms)
    assert (given.grade, given.note) == (grade, "")
    assert classintra.challenge(grade, given) is None


def test_classintra_of_halves_that_part_takes_the_heavier_and_says_so():
    given = classintra.implied("moderate", "mild")
    assert given.grade == "III"
    assert "heavier is taken" in given.note


def test_classintra_runs_from_incision_to_closure():
    """READ S81."""
    assert [classintra.in_window(at, incision=10, closure=90) for at in (9, 10, 50, 90, 91)] == [
        *(False, True, True, True, False)
    ]
    given = classintra.implied("moderate", "severe", inside=False)
    assert given.grade == "not applicable"
    assert "incision to skin closure" in (classintra.challenge("III", given) or "")


@pytest.mark.parametrize("left_out", classintra.NOT_COUNTED)
def test_classintra_leaves_out_what_is_no_event(left_out):
    """READ S81: sequelae, failure to cure, underlying disease, wrong site or patient, wrong indication."""
    given = classintra.implied("major", "life-threatening", left_out=left_out)
    assert given.grade == "not applicable"
    assert classintra.challenge("not applicable", given) is None


def test_classintra_of_one_half_is_the_least_it_can_be():
    """READ S81: each grade has a treatment and symptoms; without the symptoms a higher grade may be right."""
    given = classintra.implied("moderate", None)
    assert (given.grade, given.least) == ("III", True)
    assert classintra.challenge("III", given) is None
    assert classintra.challenge("IV", given) is None
    told = classintra.challenge("II", given)
    assert told == (
        "ClassIntra is stated as II, but extra treatment (moderate) gives III at least: moderate extra treatment; "
        "severe symptoms, which may threaten life or leave disability (ClassIntra v1.0, BMJ 2020;370:m2917). "
        "Symptoms are not told; they may give more. Change the grade, or say why it stands."
    )
    assert "at least" not in (classintra.challenge("II", classintra.implied("moderate", "severe")) or "")
    assert classintra.challenge("not applicable", given) is not None


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Block given at the wrong side", "wrong site"),
        ("wrong-level discectomy", "wrong site"),
        ("Wrong patient taken to theatre", "wrong patient"),
        ("operation for a wrong indication", "wrong indication"),
        ("Residual stone in the duct", "failure to cure"),
        ("progression of the disease", "underlying disease"),
        ("sequelae of the bleed", "sequela"),
        ("Bleed from the right side of the port", None),
        ("the wrong swab was counted", None),
        ("stone crushed", None),
        ("Block an der falschen Seite", "wrong site"),
        ("Etagenfehler bei L4/5", "wrong site"),
        ("Patientenverwechslung im Saal", "wrong patient"),
        ("Reststein im Gang", "failure to cure"),
        ("Blutung aus der rechten Seite", None),
        ("das falsche Sieb", None),
    ],
)
def test_what_classintra_leaves_out_is_known_by_its_words(text, kind):
    """READ S81 for the list; the ways to say it are common practice, no source."""
    assert classintra.spoken_of(text) == kind


@pytest.mark.parametrize(
    ("treatment", "symptoms", "grade", "least", "because", "note"),
    [
        ("moderate", None, "III", True, "extra treatment (moderate)", "Symptoms are not told; they may give more."),
        ("none", None, "I", True, "extra treatment (none)", "Symptoms are not told; they may give more."),
        (None, "moderate", "II", True, "what the patient had (moderate)", "Extra treatment is not told; it may give more."),
        (None, "none", "I", True, "what the patient had (none)", "Extra treatment is not told; it may give more."),
        (None, "death", "V", False, "what the patient had (death)", "Extra treatment is not told; it may give more."),
    ],
)  # fmt: skip
def test_what_is_not_told_leaves_the_least_a_classintra_grade_can_be(
    treatment, symptoms, grade, least, because, note
):
    """READ S81: both decide; nothing stands above a death."""
    found = classintra.implied(treatment, symptoms)
    assert (found.scale, found.grade, found.least) == ("ClassIntra", grade, least)
    assert (found.because, found.rule, found.note) == (because, classintra.RULES[grade], note)
    assert found.source == classintra.SOURCE


def test_a_death_by_symptoms_alone_is_no_lower_bound():
    said = classintra.challenge("IV", classintra.implied(None, "death"))
    assert said is not None
    assert "gives V: death during the operation" in said


def test_classintra_needs_treatment_or_symptoms():
    with pytest.raises(ValueError, match="neither extra treatment nor symptoms are told"):
        classintra.implied(None, None)


def test_classintra_refuses_words_of_its_own_making():
    with pytest.raises(ValueError, match="expected one of"):
        classintra.implied("huge", "mild")
    with pytest.raises(ValueError, match="expected one of"):
        classintra.implied("none", "mild", left_out="bad luck")


# The definitions, READ S69 and S67, and the MERP categories, READ S71: a course that is each one's own wording.
COURSES = (
    (Course(occurred=False), "A", "not applicable", "not applicable"),
    (Course(reached=False), "B", "not applicable", "not applicable"),
    (Course(), "C", "none", "none evident"),
    (Course(care="monitoring"), "D", "none", "mild"),
    (Course(symptoms="mild", care="minor treatment"), "E", "mild", "mild"),
    (Course(symptoms="marked", care="intervention"), "E", "moderate", "mild"),
    (Course(symptoms="marked", care="intervention", longer_stay=True), "F", "moderate", "mild"),
    (Course(symptoms="marked", care="major intervention", longer_stay=True), "F", "severe", "mild"),
    (Course(symptoms="marked", care="intervention", loss="lasting"), "G", "moderate", "moderate"),
    (Course(symptoms="marked", care="intervention", loss="major lasting"), "G", "severe", "severe"),
    (Course(symptoms="marked", care="life support", longer_stay=True), "H", "severe", "mild"),
    (Course(care="life support", died=True), "I", "death", "death"),
)


@pytest.mark.parametrize(("course", "index", "who", "agency"), COURSES)
def test_harm_scales_as_printed(course, index, who, agency):
    assert merp.implied(course).grade == index
    assert harm.icps(course).grade == who
    assert harm.ahrq(course).grade == agency


def _every_course():
    for occurred, reached, symptoms, care, longer, loss, died in product(
        *(
            (True, False),
            (True, False),
            get_args(Symptoms),
            CARE,
            (True, False),
            get_args(Loss),
            (True, False),
        )
    ):
        try:
            yield Course(occurred, reached, symptoms, care, longer, loss, died)
        except ValueError:
            assert not (occurred and reached)


def test_every_course_has_a_grade_on_every_scale_and_keeps_its_band():
    """Bands READ S72: A no error; B to D no harm; E to H harm; I death."""
    for course in _every_course():
        index = merp.implied(course).grade
        assert index in GRADES[Scale.NCC_MERP]
        assert harm.icps(course).grade in GRADES[Scale.ICPS]
        assert harm.ahrq(course).grade in GRADES[Scale.AHRQ]
        assert (index in "EFGH") == (course.harmed and not course.died)
        assert (merp.BANDS[index] == "death") == course.died == (harm.icps(course).grade == "death")


def test_grades_are_those_an_author_may_state():
    assert set(classintra.RULES) | {"not applicable"} == set(GRADES[Scale.CLASSINTRA])
    assert set(merp.RULES) | {"not applicable"} == set(GRADES[Scale.NCC_MERP])
    assert set(harm.ICPS_RULES) == set(GRADES[Scale.ICPS])
    assert set(harm.AHRQ_RULES) | {"unknown"} == set(GRADES[Scale.AHRQ])
    names = {clavien_dindo.SCALE, classintra.SCALE, merp.SCALE, harm.ICPS, harm.AHRQ}
    assert names == {scale.value for scale in Scale}


def test_the_questions_are_asked_in_the_order_of_the_algorithm():
    """READ S72: error? reached? death? harmed? and then how."""
    asked = [question for question, _ in merp.questions(Course(symptoms="mild", longer_stay=True))]
    assert asked == [
        "did an error occur?",
        "did it reach the patient?",
        "did it contribute to a death?",
        "was the patient harmed?",
        "was care needed to keep the patient alive?",
        "does the harm stay?",
        "was there an admission, or a longer one?",
    ]


def test_monitoring_is_merp_d_and_no_harm_for_the_who():
    told = agreement.disagreements(Course(care="monitoring"))
    assert any(str(one).startswith("NCC MERP D and WHO ICPS none: ") for one in told)
    assert any(str(one).startswith("AHRQ harm mild and NCC MERP D: ") for one in told)


def test_a_rescue_without_a_trace_is_severe_for_the_who_and_mild_for_ahrq():
    """READ S67: AHRQ's is judged after attempts to limit harm."""
    told = agreement.disagreements(Course(symptoms="marked", care="life support"))
    assert any(str(one).startswith("AHRQ harm mild and WHO ICPS severe: ") for one in told)
    assert any("H stands above G" in str(one) for one in told)


@pytest.mark.parametrize(
    "course",
    [
        Course(),
        Course(reached=False),
        Course(occurred=False),
        Course(died=True),
        Course(symptoms="mild", care="minor treatment"),
        Course(symptoms="marked", care="intervention", loss="lasting"),
    ],
)
def test_scales_that_agree_are_left_alone(course):
    assert agreement.disagreements(course) == ()


def test_a_dropped_nucleus_on_all_scales():
    """The cross-walk of check-values.md C4, which is the project's own and no published one."""
    for longer_stay, index in ((True, "F"), (False, "E")):
        course = Course(symptoms="marked", care="intervention", longer_stay=longer_stay)
        assert merp.implied(course).grade == index
        assert harm.icps(course).grade == "moderate"
    vitrectomy = clavien_dindo.implied(["operation without general anaesthesia"], at_discharge=False)
    assert vitrectomy is not None
    assert vitrectomy.grade == "IIIa"
    assert classintra.implied("moderate", "perhaps disabling").grade == "III"


def test_a_challenge_says_what_is_stated_what_follows_and_whose_rule_it_is():
    told = merp.challenge("C", merp.implied(Course(care="monitoring")))
    assert told is not None
    for part in ("stated as C", "gives D", "monitoring", "2001"):
        assert part in told
    assert merp.challenge("D", merp.implied(Course(care="monitoring"))) is None
    assert harm.challenge("none", harm.icps(Course(longer_stay=True))) is not None


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="did not reach"):
        Course(reached=False, symptoms="mild")
    with pytest.raises(ValueError, match="did not reach"):
        Course(occurred=False, died=True)
    with pytest.raises(
        ValueError, match=r"^an event that did not reach the patient needed no care and did no harm$"
    ):
        Course(reached=False, care="monitoring")
    with pytest.raises(ValueError, match="did not reach"):
        Course(reached=False, longer_stay=True)
    assert not Course(reached=False).at_patient
    with pytest.raises(ValueError, match="care: expected one of: none; monitoring"):
        Course(care="prayer")  # type: ignore[arg-type]


def test_the_words_of_the_case_are_those_of_the_scales() -> None:
    from mmbuilder.clinic.severity import course
    from mmbuilder.safe import terms

    assert tuple(word.value for word in terms.Symptoms) == course.get_args(course.Symptoms)
    assert tuple(word.value for word in terms.Care) == course.CARE
    assert tuple(word.value for word in terms.Loss) == course.get_args(course.Loss)
