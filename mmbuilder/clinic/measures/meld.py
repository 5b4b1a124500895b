"""Model for End-stage Liver Disease, by the version that is named: three versions, three figures."""

from __future__ import annotations

from math import log

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import SEX_WRITTEN, Chosen, Counted, Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, plainly

NAME = "meld"
ORIGINAL, SODIUM, THREE = "original 2001", "sodium 2016", "3.0"
FORMULA = (
    "original 2001: 3.78 ln bilirubin + 11.2 ln INR + 9.57 ln creatinine + 6.43; sodium 2016: where that is "
    "over 11, + 1.32 × (137 − Na) − 0.033 × MELD × (137 − Na); 3.0: 4.56 ln bilirubin + 0.82 × (137 − Na) "
    "− 0.24 × (137 − Na) × ln bilirubin + 9.09 ln INR + 11.14 ln creatinine + 1.85 × (3.5 − albumin) "
    "− 1.83 × (3.5 − albumin) × ln creatinine + 6, and 1.33 for a woman; mg/dL, g/dL, mmol/L"
)
SOURCE = (
    "from memory: Kamath PS and others, Hepatology 2001;33:464-470; OPTN policy 9.1.D of January 2016, as "
    "quoted in open research code; from memory: Kim WR and others, Gastroenterology 2021;161:1887-1895"
)
CAUTION = (
    "Of adults. Values below 1 count as 1; creatinine stops at 4 (3 in version 3.0) and is set there by "
    "dialysis; sodium counts from 125 to 137, albumin from 1.5 to 3.5. Print the version: one person's "
    f"versions differ. {REVIEW_ONLY}"
)
NEEDS = {ORIGINAL: (), SODIUM: ("sodium",), THREE: ("sodium", "albumin", "sex")}
"""What a version asks for beside bilirubin, INR and creatinine."""
MOST = 40
"""Where the first two versions end; the paper on 3.0 sets no end."""
INPUTS = {
    "version": Chosen((ORIGINAL, SODIUM, THREE)),
    "bilirubin": Measured("mg/dL", 0.05, 100, also=(("µmol/L", lambda value: value / 17.1),)),
    "inr": Counted(0.5, 20, whole=False),
    "creatinine": Measured("mg/dL", 0.1, 30, also=(("µmol/L", lambda value: value / 88.42),)),
    "dialysis": Chosen(("no", "twice or more in the last week"), required=False),
    "sodium": Measured("mmol/L", 90, 200, also=(("mEq/L", lambda value: value),), required=False),
    "albumin": Measured("g/dL", 0.5, 7, required=False),
    "sex": Chosen(("male", "female"), required=False, also=SEX_WRITTEN),
}
_BLOODS = {"bilirubin": "3.51 mg/dL", "inr": "1.6", "creatinine": "1.50 mg/dL"}
_ONES = {"bilirubin": "0.4 mg/dL", "inr": "0.9", "creatinine": "0.7 mg/dL"}
_FULL = {"sodium": "137 mmol/L", "albumin": "3.5 g/dL", "sex": "male"}
_WORKED = "worked example; common practice, no source"
EXAMPLES = (
    Example({"version": ORIGINAL, **_BLOODS}, ("original 2001: 20",), _WORKED),
    Example(
        {"version": ORIGINAL, "bilirubin": "60 µmol/L", "inr": "1.6", "creatinine": "133 µmol/L"},
        ("original 2001: 20",),
        "the same in the other units, computed",
    ),
    Example(
        {"version": ORIGINAL, "bilirubin": "1.9 mg/dL", "inr": "1.2", "creatinine": "1.3 mg/dL"},
        ("original 2001: 13",),
        "worked example on a public page, 13.41, recomputed",
    ),
    Example(
        {"version": ORIGINAL, **_BLOODS, "dialysis": "no"},
        ("original 2001: 20",),
        "without dialysis, and said so: the same",
    ),
    Example(
        {"version": ORIGINAL, **_BLOODS, "sodium": "130 mmol/L", "albumin": "3.5 g/dL", "sex": "male"},
        ("original 2001: 20",),
        "what this version does not use changes nothing, and is named",
    ),
    Example({"version": ORIGINAL, **_ONES}, ("original 2001: 6",), "every logarithm is 0: 6.43"),
    Example(
        {"version": ORIGINAL, "bilirubin": "1 mg/dL", "inr": "1", "creatinine": "9 mg/dL"},
        ("original 2001: 20",),
        "creatinine stops at 4: 9.57 ln 4 + 6.43 = 19.70",
    ),
    Example(
        {"version": SODIUM, **_BLOODS, "sodium": "130 mmol/L"},
        ("sodium 2016: 25",),
        "20 + 1.32 × 7 − 0.033 × 20 × 7 = 24.62, computed",
    ),
    Example(
        {
            "version": SODIUM,
            "bilirubin": "1.3 mg/dL",
            "inr": "1.3",
            "creatinine": "1.1 mg/dL",
            "sodium": "120 mmol/L",
        },
        ("sodium 2016: 11",),
        "at 11 sodium does not count: policy of 2016",
    ),
    Example(
        {
            "version": SODIUM,
            "bilirubin": "1.5 mg/dL",
            "inr": "1.3",
            "creatinine": "1.1 mg/dL",
            "sodium": "120 mmol/L",
        },
        ("sodium 2016: 23",),
        "at 12 it does, from 125: 12 + 15.84 − 4.75 = 23.09, computed",
    ),
    Example(
        {"version": THREE, **_ONES, "sodium": "140 mmol/L", "albumin": "40 g/L", "sex": "male"},
        ("3.0: 6",),
        "every term is 0 but the last: 6",
    ),
    Example(
        {"version": THREE, **_BLOODS, "sodium": "130 mmol/L", "albumin": "3.0 g/dL", "sex": "female"},
        ("3.0: 26",),
        "1.33 + 5.73 + 5.74 − 2.11 + 4.27 + 4.52 + 0.93 − 0.37 + 6 = 26.03, computed",
    ),
    Example(
        {"version": THREE, **_ONES, **_FULL, "inr": "3.0"},
        ("3.0: 16",),
        "INR alone: 9.09 ln 3 + 6 = 15.99, computed",
    ),
    Example(
        {"version": THREE, **_ONES, **_FULL, "creatinine": "5 mg/dL"},
        ("3.0: 18",),
        "creatinine alone, which stops at 3: 11.14 ln 3 + 6 = 18.24, computed",
    ),
    Example(
        {"version": THREE, **_ONES, **_FULL, "albumin": "1.0 g/dL"},
        ("3.0: 10",),
        "albumin alone, which counts from 1.5: 1.85 × 2 + 6 = 9.70, computed",
    ),
    Example(
        {"version": THREE, **_ONES, **_FULL, "albumin": "1.5 g/dL", "creatinine": "3 mg/dL"},
        ("3.0: 18",),
        "12.24 + 3.70 − 1.83 × 2 × ln 3 + 6 = 17.92, computed",
    ),
)


def work(
    version: str,
    bilirubin: float,
    inr: float,
    creatinine: float,
    dialysis: str | None,
    sodium: float | None,
    albumin: float | None,
    sex: str | None,
) -> Result:
    """Return the score of the version, a whole number."""
    given = {"sodium": sodium, "albumin": albumin, "sex": sex}
    missing = [name for name in NEEDS[version] if given[name] is None]
    if missing:
        raise InputFault(
            *(
                Fault(name, "nothing", f"this input, in version {version}", example=_LIKE[name])
                for name in missing
            )
        )
    unused = [name for name, value in given.items() if value is not None and name not in NEEDS[version]]
    notes = [f"Not used in version: {version}; {name}" for name in unused]
    cap = 3.0 if version == THREE else 4.0
    creatinine = cap if dialysis not in (None, "no") else min(creatinine, cap)
    logs = log(max(bilirubin, 1)), log(max(inr, 1)), log(max(creatinine, 1))
    short = 137 - min(max(sodium or 137, 125), 137)
    if version == THREE:
        return _three(logs, short, 3.5 - min(max(albumin or 3.5, 1.5), 3.5), sex == "female")
    first = 3.78 * logs[0] + 11.2 * logs[1] + 9.57 * logs[2] + 6.43
    steps = [
        f"3.78 × {logs[0]:.3f} + 11.2 × {logs[1]:.3f} + 9.57 × {logs[2]:.3f} + 6.43 = {first:.2f}",
    ]
    score = round(first)
    if version == SODIUM and score > 11:
        with_sodium = score + 1.32 * short - 0.033 * score * short
        steps.append(
            f"{score} + 1.32 × {plainly(short)} − 0.033 × {score} × {plainly(short)} = {with_sodium:.2f}"
        )
        score = round(with_sodium)
    if score > MOST:
        notes.append(f"The formula gives {score}; the score ends at {MOST}.")
    return Result((_score(min(score, MOST), version),), steps=tuple(steps), notes=tuple(notes))


_LIKE = {"sodium": "sodium: 130 mmol/L", "albumin": "albumin: 30 g/L", "sex": "sex: female"}


def _three(logs: tuple[float, float, float], short: float, lack: float, female: bool) -> Result:
    """Version 3.0, from the logarithms and from what sodium and albumin lack."""
    bilirubin, inr, creatinine = logs
    terms = (
        1.33 * female,
        4.56 * bilirubin,
        0.82 * short,
        -0.24 * short * bilirubin,
        9.09 * inr,
        11.14 * creatinine,
        1.85 * lack,
        -1.83 * lack * creatinine,
        6.0,
    )
    told = " + ".join(f"{term:.2f}" for term in terms).replace("+ -", "− ")
    score = round(sum(terms))
    notes = ("Over 40, where allocation policies end the score; the paper does not.",) if score > MOST else ()
    return Result((_score(score, THREE),), steps=(f"{told} = {sum(terms):.2f}",), notes=notes)


def _score(value: float, version: str) -> Answer:
    return one(value, label=version)
