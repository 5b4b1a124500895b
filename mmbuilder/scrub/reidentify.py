"""What may single somebody out although no identifier is left: warnings for the report, never removals.

    for warning in warn([("background", "An 84-year-old concert pianist with Wegener granulomatosis.")]):
        print(warning.sentence, warning.places)

One circumstance is common; together they point at one person. A sentence of a warning holds closed words only,
never a word of the case; what showed it is held apart, for the author's eyes, and is never of a declared or a
replaced identifier. Source: HHS guidance on de-identification (26 November 2012, from memory): occupation,
a known family link and a publicised event are its examples of actual knowledge; the cue words are common practice.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mmbuilder.casefile.folder import CaseFolder
    from mmbuilder.scrub.plan import RedactionPlan, Span

Text = tuple[str, str]
"""A place in words for the report, and the text that stands there."""


@dataclass(frozen=True, order=True)
class Warning:
    """One warning.

    Attributes:
        sentence: what the matter is and what can be done, in closed words.
        places: where, in words for the report.
        cues: the words of the case that show it; for the author, never for a report.
    """

    sentence: str
    places: tuple[str, ...]
    cues: tuple[str, ...] = field(default=(), repr=False)


_OCCUPATIONS = (
    r"mayor|mp|member\sof\sparliament|minister|bishop|vicar|imam|rabbi|priest|nun|monk|judge(?!\s(?:the|by|it|this|that|whether|how|if|what|when)\b)|magistrate|ambassador|professor\sof|headteacher|headmaster"
    r"|head\sof\s(?!(?:a|the|his|her|my)\s(?:bed|table|trolley|cot|patient|baby|child)\b|(?:the\s)?(?:pancreas|femur|humerus|radius|ulna|fibula|tibia|talus|metatarsal|metacarpal|epididymis|caudate|stapes|malleus)\b)(?:the\s)?\w+|pianist|violinist|singer|musician|conductor|composer|actor|actress|footballer|cricketer|jockey|athlete|olympian|boxer|cyclist"
    r"|racing\sdriver|astronaut|pilot|novelist|author|poet|journalist|newsreader|broadcaster|presenter\son|celebrity|politician|councillor|chief\sexecutive"
    r"|lighthouse|beekeeper|falconer|diver|circus|organist|sculptor|painter\sof|chess|surgeon\shimself|anaesthetist\sherself|doctor\shere|nurse\shere|employee\sof\s(?:this|the)\s(?:hospital|trust)"
)
_CUES: Mapping[str, str] = {
    "an age": r"\b\d{1,3}[\s-]?(?:year|yr|month|week)s?[\s-]old\b|\baged\s\d{1,3}\b|\b\d{2}\s?(?:yo|y/o|[MF])\b|\bnonagenarian\b|90 or older",
    "a rare disease or finding": r"\b(?:rare(?:st)?|extremely\suncommon|orphan\sdisease|one\sof\s(?:only\s)?\w+\s(?:cases|patients)|fewer\sthan\s\w+\scases|case\sreport(?:able|ed)?|unreported|first\sreported)\b"
    r"|\b(?:situs\sinversus|progeria|porphyria|wegener|granulomatosis\swith\spolyangiitis|marfan|ehlers|hereditary\sangioedema|osteogenesis\simperfecta|achondroplasia|conjoined|haemophilia|mucopolysaccharid\w+"
    r"|phaeochromocytoma|moyamoya|takayasu|fibrodysplasia|epidermolysis\sbullosa|pemphigus|amyloidosis|acromegaly|huntington|neurofibromatosis|malignant\shyperthermia|von\shippel)\w*",
    "an occupation that few have": rf"\b(?:{_OCCUPATIONS})\b",
    "fame or the press": r"\b(?:famous|well[\s-]known|celebrity|in\sthe\s(?:news|papers|press|media)|newspaper|television|press\s(?:report|release|coverage)|inquest|public\sinquiry|went\sviral|on\stv|local\snews)\b",
    "twins or another birth of several": r"\b(?:twins?|triplets?|quadruplets?|conjoined)\b",
    "a nationality, language or faith": r"\b(?:refugee|asylum|traveller\scommunity|jehovah['’]?s\switness|amish|only\s(?:speaks|spoke)|(?:non|no)[\s-]english|interpreter\sfor|born\sabroad|immigrant|national\sof)\b|\b[A-Z][a-z]+(?:ese|ian|ish)[\s-](?:speaking|born|national|man|woman|sailor|tourist)\b",
    "a first, only or last of its kind": r"\b(?:first|only|last|youngest|oldest|tallest|heaviest|longest)\b[^.;]{0,40}\b(?:in\s(?:the|this|our)\s(?:region|country|county|hospital|trust|world|department|area|deanery|unit|city|town|island)|here|ever|nationally|in\s(?:europe|britain|england|scotland|wales|ireland))\b",
    "a small place": r"\b(?:village|hamlet|small\s(?:town|island|community)|island(?:er)?|remote\s(?:farm|community)|caravan\ssite|parish|only\s(?:\w+\s)?in\sthe\s(?:village|valley))\b",
    "an event the public knows": r"\b(?:explosion|derailment|plane\scrash|air\scrash|shooting|stabbing|terror\w*|earthquake|stadium|festival|concert|train\scrash|coach\scrash|fell\sfrom\sthe\s\w+\sbridge|shark|lightning|avalanche|royal)\b",
    "a family tie to staff": r"\b(?:wife|husband|son|daughter|mother|father|brother|sister|relative)\sof\s(?:a|an|one\sof|our|the)\s(?:\w+\s)?(?:consultant|surgeon|nurse|doctor|registrar|anaesthetist|midwife|colleague|member\sof\sstaff)\b",
}
"""Circumstances of the patient and the cue words that show them."""

_WEIGHTY = frozenset(
    (
        "fame or the press",
        "a first, only or last of its kind",
        "an event the public knows",
        "a family tie to staff",
        "an occupation that few have",
    )
)
"""Circumstances that may single somebody out by themselves."""

_GRADE = re.compile(
    r"\b(?:ST[1-8]|CT[1-3]|FY?[12]|SHO|SpR|registrar|consultant|locum|fellow|resident|band\s[5-8]|trainee|charge\snurse|night\ssister|on[\s-]call\s\w+)\b",
    re.IGNORECASE,
)
_ONLY = re.compile(
    r"\b(?:only|sole|lone|single|one|newest|most\s(?:junior|senior)|first[\s-]week|agency)\b", re.IGNORECASE
)
_SHIFT = re.compile(
    r"\b(?:night|nights|weekend|bank\sholiday|on[\s-]call|out[\s-]of[\s-]hours|twilight|late\sshift|changeover)\b",
    re.IGNORECASE,
)
_WEEKDAY = re.compile(r"\b(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)days?\b|\[day of the week\]", re.IGNORECASE)
_TIME = re.compile(
    r"\b(?:[01]?\d|2[0-3])[:.][0-5]\d\b(?!\s?(?:mm|ml|mg|D))|\b(?:[01]\d|2[0-3])[0-5]\dh\b|\bat\smidnight\b"
)
_SENTENCE = re.compile(r"(?<=[.!?;])\s+|\n")
_YEAR = re.compile(r"(?<![\w.,:/+−–£$€-])(?:19[4-9]|20[0-4])\d(?![\w°]|[.,:/]\d)(?!\s?(?:ml|mg|mm|units?)\b)")
_OPERATION = re.compile(
    r"\b(?:op|ops|operation|operated|surgery|repair(?:ed)?|reconstruction|recon|replacement|replaced|arthroplasty|THR|TKR|ACL|PCL"
    r"|CABG|PCI|stent\w*|bypass|graft(?:ed)?|transplant\w*|fixation|nailing|ORIF|caesarean|section|LSCS|delivered|implant\w*|pacemaker"
    r"|resection|resected|excision|excised|fundoplication|hernia|mesh|sleeve|banding|angioplasty|laparotomy|\w+(?:ectomy|plasty|otomy|ostomy|oscopy|desis))\b",
    re.IGNORECASE,
)
_ELSEWHERE = re.compile(
    r"\b(?:at|in)\s(?:the\s)?_{3,}|\bhospital\s[A-Z]\b|\b(?:another|other|different|second|outside|district|local|private)\s(?:hospital|unit|trust|centre|clinic)\b"
    r"|\belsewhere\b|\babroad\b|\boverseas\b|\bprivately\b",
    re.IGNORECASE,
)
"""Where an earlier operation was; what is declared or replaced has been blanked out."""
_PATTERNS = {
    name: re.compile(cue, re.IGNORECASE if name != "a nationality, language or faith" else 0)
    for name, cue in _CUES.items()
}


def warn(texts: Iterable[Text]) -> tuple[Warning, ...]:
    """Return the warnings for one case.

    Args:
        texts: place and text of everything that will be shown, without what is removed.
    """
    listed = list(texts)
    seen = _circumstances(listed)
    return tuple(
        sorted({*_alone(seen), *_together(seen), *_staff(listed), *_when(listed), *_earlier(listed)})
    )


def singled_out(folder: CaseFolder, plan: RedactionPlan | None = None) -> tuple[Warning, ...]:
    """Return the warnings for a case without what is declared; their sentences hold no word of it.

    Args:
        folder: the case.
        plan: what is replaced, which can show nothing either.
    """
    return warn(_texts(folder, plan))


def circumstances(texts: Iterable[Text]) -> frozenset[str]:
    """Return what may help to single somebody out, in closed words: what `across` compares."""
    return frozenset(_circumstances(list(texts)))


def circumstances_of(folder: CaseFolder) -> frozenset[str]:
    """Return the circumstances of a case as it was written."""
    return circumstances(_texts(folder))


def _texts(folder: CaseFolder, plan: RedactionPlan | None = None) -> Iterator[Text]:
    from mmbuilder.scrub.declared import Index
    from mmbuilder.scrub.plan import Decision
    from mmbuilder.scrub.walk import Texts

    index, replaced = Index(folder.declared), plan.texts if plan else {}
    for item in Texts(folder.case, folder.previous).items:
        gone = [(start, end) for start, end, _, _ in index.hits(item.value)]
        # A date or a time of day that goes leaves a moment behind, which may still point at a rota.
        gone += [
            (span.start, span.end)
            for span in replaced.get(item.path, ())
            if span.decision is Decision.REPLACE and _leaves_nothing(span)
        ]
        yield ".".join(map(str, item.path)), _blanked(item.value, gone)


def written(folder: CaseFolder) -> tuple[Text, ...]:
    """Return place and text of everything in a case, what is declared blanked out of it."""
    from mmbuilder.scrub.declared import Index
    from mmbuilder.scrub.walk import Texts

    index = Index(folder.declared)
    return tuple(
        (
            _place(item.path),
            _blanked(item.value, [(start, end) for start, end, _, _ in index.hits(item.value)]),
        )
        for item in Texts(folder.case, folder.previous).items
    )


def shown(texts: Iterable[Text], plan: RedactionPlan | None) -> Iterator[Text]:
    """Yield the texts without what the plan replaces.

    A date or a time of day that goes leaves a moment behind, which may still point at a rota.
    """
    from mmbuilder.scrub.plan import Decision

    gone = {_place(path): spans for path, spans in (plan.texts if plan else {}).items()}
    for place, text in texts:
        spans = (
            one for one in gone.get(place, ()) if one.decision is Decision.REPLACE and _leaves_nothing(one)
        )
        yield place, _blanked(text, [(one.start, one.end) for one in spans])


def _leaves_nothing(span: Span) -> bool:
    """Whether what is replaced points at nobody any more: a year goes for a number of years."""
    from mmbuilder.scrub.outside import YEAR

    return span.letter in "AB" or span.kind == YEAR


def _place(path: Iterable[object]) -> str:
    return ".".join(map(str, path))


def _blanked(text: str, gone: Iterable[tuple[int, int]]) -> str:
    signs = list(text)
    for start, end in gone:
        signs[start:end] = "_" * (end - start)
    return "".join(signs)


def across(cases: Mapping[str, Collection[str]]) -> tuple[Warning, ...]:
    """Return the warnings for cases shown together: a harmless fact in each may point at one person.

    Args:
        cases: the letter or code of each case, and its circumstances.
    """
    found = []
    for (one, first), (two, second) in combinations(sorted(cases.items()), 2):
        both = sorted(({*first} & {*second}) - {"an age"})
        if both:
            words = " and ".join(both)
            found.append(
                Warning(
                    f"Two cases share {words}: side by side they may be known as one patient, family or event. Show one, or leave it out of both.",
                    (one, two),
                )
            )
    return tuple(found)


_Seen = Mapping[str, Sequence[Text]]
"""By circumstance: each place, and the words that show it there."""


def _circumstances(texts: Sequence[Text]) -> _Seen:
    seen = {
        name: tuple(
            dict.fromkeys((place, found[0]) for place, text in texts for found in pattern.finditer(text))
        )
        for name, pattern in _PATTERNS.items()
    }
    return {name: cues for name, cues in seen.items() if cues}


def _warning(sentence: str, seen: Iterable[Text]) -> Warning:
    cues = tuple(seen)
    places, words = (
        sorted({place for place, _ in cues}),
        dict.fromkeys(" ".join(cue.split()) for _, cue in cues),
    )
    return Warning(sentence, tuple(places), tuple(words))


def _alone(seen: _Seen) -> Iterator[Warning]:
    for name in sorted(_WEIGHTY & seen.keys()):
        yield _warning(
            f"The text tells of {name}: that alone may single the patient out. Leave it out unless the lesson needs it.",
            seen[name],
        )


def _together(seen: _Seen) -> Iterator[Warning]:
    if len(seen) >= 2 and not (
        len(seen) == 2
        and "an age" in seen
        and not seen.keys() & (_WEIGHTY | {"a rare disease or finding", "a small place"})
    ):
        names = sorted(seen)
        words = f"{', '.join(names[:-1])} and {names[-1]}"
        yield _warning(
            f"Together {words} may single the patient out. Blur one of them: an age band, a broader diagnosis.",
            (cue for name in names for cue in seen[name]),
        )


def _staff(texts: Sequence[Text]) -> Iterator[Warning]:
    for place, text in texts:
        for sentence in _SENTENCE.split(text):
            cues = [cue for pattern in (_GRADE, _ONLY, _SHIFT) if (cue := pattern.search(sentence))]
            if len(cues) == 3:
                yield _warning(
                    "A grade and a shift point at one member of staff. Say the role alone.",
                    [(place, cue[0]) for cue in cues],
                )


def _when(texts: Sequence[Text]) -> Iterator[Warning]:
    for place, text in texts:
        for sentence in _SENTENCE.split(text):
            if (day := _WEEKDAY.search(sentence)) and (time := _TIME.search(sentence)):
                yield _warning(
                    "A weekday and an exact time together lead to one rota and one operation. Give the time from the index event.",
                    [(place, day[0]), (place, time[0])],
                )


def _earlier(texts: Sequence[Text]) -> Iterator[Warning]:
    """Yield a year that may stay by itself, but not beside an operation and its hospital: a line of a register."""
    for place, text in texts:
        for sentence in _SENTENCE.split(text):
            cues = [cue for pattern in (_YEAR, _OPERATION, _ELSEWHERE) if (cue := pattern.search(sentence))]
            if len(cues) == 3:
                yield _warning(
                    "A year, an operation and the hospital where it was together lead to one patient. Say how long before it was, or leave the hospital out.",
                    [(place, cue[0]) for cue in cues if not cue[0].endswith("_")],
                )
