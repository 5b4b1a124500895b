"""A written Clavien-Dindo grade beside the heaviest treatment of the same complication."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Chosen, Many
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said

NAME = "clavien-dindo"
FORMULA = "one complication has one grade: that of its heaviest treatment"
SOURCE = "Dindo D and others, Ann Surg 2004;240:205-213, rules as reprinted in later papers"
CAUTION = (
    "It asks, and never grades: the author states the grade. One complication at a time, of what was done "
    f"and not of what was found. A d is for what is still there on going home. {REVIEW_ONLY}"
)
TREATMENTS = {
    "watched only": "I",
    "wound opened at the bedside": "I",
    "physiotherapy": "I",
    "electrolytes": "I",
    "diuretic": "I",
    "antiemetic": "I",
    "antipyretic": "I",
    "analgesic": "I",
    "other drug": "II",
    "transfusion": "II",
    "parenteral nutrition": "II",
    "intervention without general anaesthesia": "IIIa",
    "intervention under general anaesthesia": "IIIb",
    "one organ failing in intensive care": "IVa",
    "several organs failing in intensive care": "IVb",
    "death": "V",
}
"""What was done, and the lowest grade that has it, in the order of the scale."""
GRADES = ("I", "II", "IIIa", "IIIb", "IVa", "IVb", "V")
INPUTS = {
    "written": Chosen((*GRADES, *(f"{grade}d" for grade in GRADES[:-1]))),
    "treatments": Many(Chosen(tuple(TREATMENTS))),
}
_PAIRS = "pair as printed in a later table of the grades"


def _told(written: str, heaviest: str) -> tuple[str, str]:
    return f"written: {written}", f"heaviest treatment told: {heaviest}"


EXAMPLES = (
    Example(
        {"written": "II", "treatments": ["antipyretic", "other drug"]},
        (*_told("II", "other drug"), "they agree"),
        f"pneumonia, antibiotics on the ward: {_PAIRS}",
    ),
    Example(
        {"written": "IIIa", "treatments": ["transfusion", "intervention under general anaesthesia"]},
        (
            *_told("IIIa", "intervention under general anaesthesia"),
            "to be asked: that treatment belongs to IIIb",
        ),
        f"anastomotic leak, surgery, is IIIb: {_PAIRS}",
    ),
    Example(
        {"written": "IVad", "treatments": ["one organ failing in intensive care"]},
        (*_told("IVad", "one organ failing in intensive care"), "they agree"),
        f"renal failure with filtration, still there on going home: {_PAIRS}; suffix by the rules",
    ),
    Example(
        {"written": "II", "treatments": ["electrolytes"]},
        (*_told("II", "electrolytes"), "to be asked: that treatment belongs to I"),
        f"arrhythmia that went with electrolytes is I: {_PAIRS}",
    ),
    Example(
        {"written": "V", "treatments": ["several organs failing in intensive care", "death"]},
        (*_told("V", "death"), "they agree"),
        "the rules: a death is V",
    ),
)


def work(written: str, treatments: tuple[str, ...]) -> Result:
    """Return the written grade, the heaviest treatment, and whether the two agree."""
    heaviest = max(treatments, key=list(TREATMENTS).index)
    implied = TREATMENTS[heaviest]
    verdict = (
        "they agree"
        if written.removesuffix("d") == implied
        else f"to be asked: that treatment belongs to {implied}"
    )
    return Result((said(written, "written"), said(heaviest, "heaviest treatment told"), said(verdict)))
