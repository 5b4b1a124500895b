"""What the detectors of places ask of a word: how it is written, and whether it is one of the clinic or of the house."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.words import word_set

CAP = r"[^\W\d_a-zß-öø-ÿ][^\W\d_]+(?:['’-][^\W\d_]+)*"
"""A word with a capital."""
HOUSE = (
    r"Hospitals?|Hosp|Infirmary|Hospice|Medical\s(?:Cent(?:re|er)|Ctr)|Health\s(?:Cent(?:re|er)|Ctr|Board)|Clinics?"
    r"|School|College|Academy|Trust|Foundation"
)
"""What houses of the clinic and of teaching are called, at the end of their names."""
AT = r"(?:from|to|in|at|near|via|outside)"
GOING = (
    r"(?<!\w)(?i:transfer(?:red|s)?|tf?r|t/f|trf|sent|referr?al|referred|repatriated|discharged|flew|flown|fly|flying|drove|drives?|driving"
    r"|travell?(?:ed|ing)|moved|returned|back|home|brought|taken|came|comes?|coming|arrived|lives?|living|resident|resides|born|raised|retired|works?"
    r"|worked|working|trained|train|bus|taxi|seen|clinic|hospital|GPs?|surgeons?|consultant|registrar|colleagues?|team|ambulance|helicopter|scan(?:ned)?"
    r"|CT|MRI|ECMO|operated|surgery|operation|stent(?:ed)?|transplant(?:ed)?|admitted|readmitted|presented|discussed|follow[- ]up)"
    rf"\s(?:[a-z]+\s){{0,2}}?(?i:{AT})"
)
"""A word after which one is, goes or was treated somewhere, and its preposition."""
_MAY_FOLLOW = word_set(
    """
    with and or for on at in from by to who which after before since until when where while because via as but then than this that
    overnight yesterday today tomorrow tonight last again urgently next early late was is has had were did said called refused accepted
    declined asked showed if so now once twice alone until during about near
    """
)
"""What stands behind a place that is no part of what follows."""
_NEXT = re.compile(r"\s([^\W\d_]+)")
_ORDINARY = word_set(
    """
    the a an general district day eye children childrens accident emergency high dependency intensive care surgical medical
    medicine surgery outpatient out patient in pain fracture trauma theatre recovery acute stroke coronary cardiac renal vascular burns spinal
    neuro neurosurgical maternity labour delivery postnatal antenatal neonatal paediatric pediatric orthopaedic respiratory admissions
    assessment discharge short stay long private public local university teaching community field mental health women womens men mens
    women's men's children's royal memorial cottage nhs trust foundation hospital clinic ward unit icu itu hdu picu nicu ccu sau mau aau
    plastic plastics upper lower breast colorectal hand foot head neck band labour operating day-case isolation gynaecology urology oncology haematology dermatology ent dental endoscopy imaging radiology admission pre assessment
    preassessment anaesthetic and of on at our this that his her their each every no one another same other main regional national tertiary
    referring receiving base home war joint glaucoma cataract retina cornea diabetic diabetes blood bank transfusion step down elective
    critical special specialist one-stop two-week rapid access virtual follow-up nurse led nurse-led night weekend level side
    suite lab laboratory cath catheter angio interventional procedure procedures department dept hybrid daycase
    postgraduate undergraduate education training theatres radiotherapy chemotherapy gp a&e er ed ae er's when then after before to from by with for was transferred admitted moved
    """
)


def clinical(word: str) -> bool:
    """Whether a word is a listed term of the clinic."""
    return load().called(fold(word)) not in (None, "an ordinary word")


def shortened(text: str, start: int, end: int) -> Iterator[int]:
    """Where a name of several words may end, the longest first: `Kingston upon Hull`, `Kingston upon`, `Kingston`."""
    yield end
    yield from (start + gap.start() for gap in reversed([*re.finditer(r"[\s-]", text[start:end])]))


def followed_by_no_noun(text: str, end: int) -> bool:
    """Whether nothing follows a word that it could belong to: a sentence ends there, or goes on with a small word."""
    behind = _NEXT.match(text, end)
    return behind is None or fold(behind[1]) in _MAY_FOLLOW


def of_any_house(word: str) -> bool:
    """Whether a word tells a part of any hospital, or is an abbreviation."""
    return word.lower().strip(".,") in _ORDINARY or (word.isupper() and len(word) <= 5)


def part_of_any_house(name: str) -> bool:
    """Whether every word of a name tells a part of any hospital: `Upper GI Surgery`, `Day Surgery Unit`, `Band 6`."""
    words = re.findall(r"[^\W\d_]+", name)
    return all(word.lower() in _ORDINARY or word in ABBREVIATIONS for word in words)


def plain_of_a_place(word: str) -> bool:
    """Whether a word tells a kind of place or is a clinical or ordinary one, and names no place."""
    if of_any_house(word):
        return True
    folded = fold(word)
    lists = load()
    return (
        folded not in lists.word_names
        and folded not in lists.eponym_words
        and lists.called(folded) is not None
    )
