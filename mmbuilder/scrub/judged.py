"""What a judge that learned takes for a name, a place, a date or a number: it proposes, and for words the keep-guard decides.

    Judged().find(["Seen by Amara Okonjo on the 3rd; Fuchs dystrophy."])

The judge (`judging/`) reads every sentence. What may be a name or a word is removed, with a reason that asks; what
looks like a name and is kept is listed with its reason. What a cue or a form alone proposed is kept, and listed, where
every word of it is most unlikely to be an identifier.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from mmbuilder.case.identifiers import PlaceKind
from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.columns import heads
from mmbuilder.scrub.detectors._calendar import timed
from mmbuilder.scrub.detectors._of_place import part_of_any_house
from mmbuilder.scrub.detectors._quantity import sized
from mmbuilder.scrub.figures import day_of_the_case, of_the_clinic, up_to_a_day_of_the_case
from mmbuilder.scrub.judging import Chance, Settled, chances
from mmbuilder.scrub.judging.reading import flags
from mmbuilder.scrub.keep import Guard, Verdict, frames
from mmbuilder.scrub.keep.guard import GRADED
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.morbus import diseases
from mmbuilder.scrub.keep.ordinary import ordinary, word_too
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.read_before import ReadBefore
from mmbuilder.scrub.words import word_set

ASK = "could be a name or a word: please decide"
_LONGEST = 500
"""Characters of the longest stretch read at once: keeps the time linear in the length of a text."""

_BEHIND_OURS = "|".join(rf"(?<=\b{kind.value.capitalize()} [A-Z]\.)" for kind in PlaceKind)
_GRADED = "|".join(rf"(?<=\b{name} [A-E]\.)" for name in (*GRADED, "class", "grade", "type"))
_EDGE = re.compile(
    r"\n+|(?<=[^\W\d_A-Z][.!?])(?<!\b[DM]r\.)(?<!\bM[rs]s\.)(?<!\bM[sb]\.)(?<!\bSt\.)(?<!Prof\.)(?<!\bS[rt]a\.)"
    r"(?<!Smt\.)(?<!Asst\.)\s+(?=[^\W\d_a-z])"
    rf"|(?:{_BEHIND_OURS}|{_GRADED})\s+(?=[^\W\d_a-z])"
)
"""Where a sentence ends: not behind an initial, but behind the letter of a stand-in of ours, and of a class."""
_KINDS = {
    "A": ("name", "[name]"),
    "B": ("place", "[place]"),
    "C": ("date", "[date]"),
    "R": ("record number", "[record number]"),
}
SURE = {"A": 0.85, "B": 0.85, "C": 0.55, "R": 0.55}
"""Highest confidence a finding of the judge may have, by its letter: a title or a declaration is surer, and so is the form of a date."""
TAKEN = {"A": 0.22, "B": 0.4, "R": 0.3}
"""Least chance of what is replaced. A name that stays does more harm than a word that goes."""
UNLISTED = {"A": 0.1, "B": 0.25}
"""The same for a word that is on no list: what it names is seldom a thing."""
_SHORTEST_UNLISTED = 4
"""Letters of a word that is no abbreviation."""
ASKED = 0.6
"""Chance up to which the reviewer is asked."""
CERTAIN = {"A": 0.7, "B": 0.5, "R": 0.7}
"""Least chance of what goes although the guard would keep it: `Foley had his Foley out`."""
LONE = 0.8
"""The same for a name that is a word too, where nothing else is said: `Major` over a column, `Good` in a cell."""
NEAR = 0.03
"""Least chance of what is listed as kept."""

OTHERS, ASK_OTHER = (
    "a date or number, by the words beside it",
    "could be a date or a number of somebody: please decide",
)
WEAK = {"A": 0.85, "B": 0.85, "R": 0.75}
"""Highest confidence of a cue or form that the words beside may outweigh."""
AGAINST = 0.005
"""Chance below which they do: no right finding of that confidence in the seventh set is below it, the two nearest are at 0.01 and 0.018."""
_LEAST_READ = 5
"""Words, figures and signs without which a sentence tells nothing."""
SPEAKS_AGAINST = "the words beside it speak against it"
BESIDE = "no name, by the words beside it"
_JOINS = re.compile(r"[ \u00a0]?|[-‐‑'’]|\. ")
_JOINS_OF_OTHERS = re.compile(r"(?:[^\w\s,;|]|[ \u00a0]|,(?= )){0,2}")
"""Not over the comma or the bar between two fields."""


_POSSESSIVE = ("'s", "’s", "'S", "’S")


@dataclass(frozen=True)
class Sentence:
    """A stretch of text number `text` that is read by itself."""

    text: int
    start: int
    words: str


@dataclass(frozen=True)
class Run:
    """Words that name one person or place together, with the chance of the likeliest."""

    start: int
    end: int
    letter: str
    chance: float


class Judged:
    """The judge as a layer."""

    name: str = "judge of names and numbers"
    unchecked: tuple[str, ...] = ("names in scripts other than the Latin one, unless declared or titled",)

    def __init__(self) -> None:
        self._read = ReadBefore[tuple[str, Settled], Sequence[Chance]](lambda new: chances([*new]))

    def find(self, texts: Sequence[str]) -> Found:
        """Return names and places for each text; kept ones with `Decision.KEEP`."""
        return self.find_beside(texts, [()] * len(texts))

    def find_beside(self, texts: Sequence[str], found: Found) -> Found:
        """The same, without a doubt about words that others replace: `found`, for each text."""
        others = dict(zip(texts, found, strict=True))
        every = {text: list(_in_sentences(text, spans)) for text, spans in others.items()}
        read = self._read.of(
            [(one.words, _settled(one, its)) for of_one in every.values() for one, its in of_one]
        )
        ours = {
            text: [
                span
                for one, its in of_one
                for span in _found(text, one, read[one.words, _settled(one, its)], its)
            ]
            for text, of_one in every.items()
        }
        return [ours[text] for text in texts]


def _in_sentences(text: str, others: Sequence[Span]) -> Iterator[tuple[Sentence, Sequence[Span]]]:
    """Every sentence of a text, with what others replace in it."""
    every = list(sentences(0, text))
    starts = [one.start for one in every]
    beside: list[list[Span]] = [[] for _ in every]
    for span in others:
        if span.decision is Decision.REPLACE:
            first, last = bisect_right(starts, span.start) - 1, bisect_left(starts, span.end)
            for at in range(max(0, first), last):
                beside[at].append(span)
    return zip(every, beside, strict=True)


def _settled(sentence: Sentence, others: Sequence[Span]) -> Settled:
    """The places in a sentence that others replace."""
    return tuple((span.start - sentence.start, span.end - sentence.start) for span in others)


def sentences(number: int, text: str) -> Iterator[Sentence]:
    """Cut a text into sentences; one without an end is cut at a space."""
    start = 0
    for edge in [*(found.span() for found in _EDGE.finditer(text)), (len(text), len(text))]:
        while edge[0] - start > _LONGEST:
            cut = text.rfind(" ", start + 1, start + _LONGEST) + 1 or start + _LONGEST
            yield Sentence(number, start, text[start:cut])
            start = cut
        if edge[0] > start:
            yield Sentence(number, start, text[start : edge[0]])
        start = edge[1]


def runs(sentence: str, judged: Sequence[Chance]) -> Iterator[Run]:
    """What the judge takes for names, words side by side as one."""
    last: Run | None = None
    for one in judged:
        letter, chance = _likeliest(one)
        if chance < _least(letter, one.token.text) or not _may_be(letter, one.token.text[0]):
            continue
        belongs = letter != "B" and one.token.text.endswith(_POSSESSIVE)  # `Queen Margaret's` is one house
        end = one.token.end - 2 * belongs
        end += one.token.shape in "iI" and sentence.startswith(".", end)
        if last and last.letter == letter and _joined(letter, sentence, last.end, one.token.start):
            last = Run(last.start, end, letter, max(last.chance, chance))
            continue
        if last:
            yield last
        last = Run(one.token.start, end, letter, chance)
    if last:
        yield last


def _least(letter: str, word: str) -> float:
    """Least chance of a word that is taken."""
    if letter not in UNLISTED or len(word) < _SHORTEST_UNLISTED or not word[1:].islower():
        return TAKEN[letter]
    plain, lists = fold(word), load()
    told = unlisted(word, lists) and plain not in lists.foreign and plain not in lists.hindi_names
    return UNLISTED[letter] if told and (word[0].isupper() or lists.borne(plain)) else TAKEN[letter]


OTHER = "R"
"""The letter of what is neither a person nor a place."""


def _likeliest(one: Chance) -> tuple[str, float]:
    """A person and a place are one another's doubt; another identifier is a thing apart."""
    named = one.person + one.place
    if one.other > named:
        return OTHER, one.other
    return ("A" if one.person >= one.place else "B"), named


def _may_be(letter: str, sign: str) -> bool:
    """Whether a finding may begin with a sign."""
    return sign.isalpha() if letter == "A" else sign.isalnum()


def _whole(run: Run, words: str) -> bool:
    """Whether a run can be what it says: a figure alone is no place, nor is one with its unit."""
    said = words[run.start : run.end]
    return run.letter != "B" or (any(sign.isalpha() for sign in said) and not sized(said))


def _joined(letter: str, sentence: str, end: int, start: int) -> bool:
    joins = _JOINS_OF_OTHERS if letter == OTHER else _JOINS
    return joins.fullmatch(sentence, end, start) is not None


_OF_A_DATE = re.compile(r"(?:19|20)\d\d|\d{1,2}(?:st|nd|rd|th|er|º|ª)?|[^\W\d_]?[^\W\d_A-Z]*")
"""A year, a day, or a word that is not all capitals."""


def _kind(words: str, letter: str) -> str:
    """The class of a finding: of others, a date or a number."""
    parts = _PART.findall(words)
    dated = letter == OTHER and all(
        _OF_A_DATE.fullmatch(part) or "m" in flags(part.lower()) for part in parts
    )
    return "C" if dated else letter


_PART = re.compile(r"\w+")


def _found(text: str, sentence: Sentence, judged: Sequence[Chance], others: Sequence[Span]) -> Iterator[Span]:
    """What is found in a sentence, a date with the time beside it, and what of `others` the judge speaks against."""
    for span in _spans(sentence, judged):
        yield from timed(text, [span]) if span.letter == "C" else [span]
    if len(judged) >= _LEAST_READ:
        yield from (
            replace(span, layer=Layer.MODEL, decision=Decision.KEEP, reason=SPEAKS_AGAINST)
            for span in others
            if span.confidence <= WEAK.get(span.letter, WEAK[OTHER])
            and not _SHOUTED.fullmatch(text, span.start, span.end)
            and _likelihood(sentence, judged, span) < AGAINST
        )


_SHOUTED = re.compile(r"[^\W\d_a-z]{5,}(?:\s[^\W\d_a-z]+)*")
"""Words in capitals that are no abbreviation: how it is written says nothing, and a cue knows more of it than the judge."""


def _likelihood(sentence: Sentence, judged: Sequence[Chance], span: Span) -> float:
    """The chance of the likeliest word of a finding; 1 where it reaches beyond the sentence."""
    start, end = span.start - sentence.start, span.end - sentence.start
    if start < 0 or end > len(sentence.words):
        return 1
    inside = (one for one in judged if one.token.start < end and start < one.token.end)
    return max((one.person + one.place + one.other for one in inside), default=1)


def _spans(sentence: Sentence, judged: Sequence[Chance]) -> Iterator[Span]:
    found = [
        run
        for run in runs(sentence.words, judged)
        if _whole(run, sentence.words) and not day_of_the_case(sentence.words, run.start, run.end)
    ]
    near = [
        one
        for one in judged
        if _near(one) and not any(run.start <= one.token.start < run.end for run in found)
    ]
    if not (found or near):
        return
    guard, named = Guard(sentence.words), [*diseases(sentence.words)]
    for run in found:
        if _written_as_nobody(sentence.words, run):
            continue
        if run.letter == "A" and _TRIAL.fullmatch(sentence.words, run.start, run.end + 2):
            continue
        if any(start <= run.start and run.end <= end for start, end in named):
            yield _span(sentence, run, Decision.KEEP, "a disease, as German notes write it")
            continue
        if _a_value(sentence.words, run):
            yield _span(sentence, run, Decision.KEEP, "an ordinary word, and all that is said")
            continue
        if run.letter == "B" and part_of_any_house(sentence.words[run.start : run.end]):
            yield _span(sentence, run, Decision.KEEP, "a part of any hospital")
            continue
        if run.letter == OTHER:
            if len(judged) >= _LEAST_READ:
                yield from _other(sentence, run)
            continue
        judgement = guard.judge(run.start, run.end)
        alone = len(judged) < _LEAST_READ  # nothing speaks for a name: a label, `Home`
        whole = judgement.reason == frames.ALONE and guard.of_several_words(run.start, run.end)
        whole |= _of_the_clinic(sentence.words, run)
        kept = judgement.verdict is Verdict.KEEP and (alone or whole or run.chance < CERTAIN[run.letter])
        asked = judgement.verdict is not Verdict.REMOVE or run.chance < ASKED
        reason = f"{ASK} ({judgement.reason})" if asked and not kept else judgement.reason
        yield _span(sentence, run, Decision.KEEP if kept else Decision.REPLACE, reason)
    for one in near:
        run = Run(one.token.start, one.token.end, "A", one.person)
        judgement = guard.judge(run.start, run.end)
        reason = judgement.reason if judgement.verdict is Verdict.KEEP else BESIDE
        yield _span(sentence, run, Decision.KEEP, reason)


_SHORTEST_SURE = 4
"""Letters of a listed abbreviation that is nobody's initials."""


def _of_the_clinic(words: str, run: Run) -> bool:
    """Whether a run is a listed abbreviation among words that are none: `by TAPP`."""
    said = words[run.start : run.end]
    return len(said) >= _SHORTEST_SURE and said in ABBREVIATIONS and not words.isupper()


_BLOOD_GROUP = re.compile(
    r"(?:A|B|AB|O|0)?[\s,]{0,2}(?:Rh(?:esus)?)?\s?D?\s?(?:[Nn]eg(?:ative)?|NEG|[Pp]os(?:itive)?|POS|[+-])?"
)
"""`O Rh D Neg` and its parts: ABO and RhD groups as their laboratories write them (common practice, no source)."""


_TRIAL = re.compile(r"[A-Z]{4,}-[1-9]")
"""One of a series of trials: `BASIL-3`; nobody is written so."""
_RAY = re.compile(r"[xX][\s-]?[rR]ays?")
_STAGE = re.compile(r"(?:[ycrpma]{0,3}[TNM](?:is|[Xx]|\d[a-d]?)(?:mi|\((?:sn|mi|i[+-])\))?){1,3}")
"""`pN1a`: tumour, nodes and metastases, as the UICC writes them (TNM, from memory)."""


_MIXED = re.compile(r"[a-z]{1,2}[A-Z]{1,3}")
"""`pH`, `eGFR`."""
_FORMS = (_BLOOD_GROUP, _RAY, _STAGE, _MIXED)
"""What is written so is nobody."""
_AMPERSAND = re.compile(r"(?<![\w&])[A-Z]{1,2}&[A-Z]{1,2}(?![\w&])")
"""Two short forms in one: `T&O`, `O&G`."""


def _written_as_nobody(words: str, run: Run) -> bool:
    """Whether a run has a form that no name has, or is a part of one."""
    if any(form.fullmatch(words, run.start, run.end) for form in _FORMS):
        return True
    parts = _AMPERSAND.finditer(words) if run.letter == "A" else ()
    return any(found.start() <= run.start and run.end <= found.end() for found in parts)


def _a_value(words: str, run: Run) -> bool:
    """Whether a word is all that is said, but for what it is a value of: a cell of a table, `status: open`; not `Scrub: porter`."""
    label = _LABELLED.fullmatch(words, 0, run.start)
    if label is None or _SAYS.search(words, run.end) or heads(label[1] or ""):
        return False
    said = words[run.start : run.end]
    thing = (label[1] or said).lower() in _OF_THINGS
    return len(said) == 1 or ordinary(said) or (word_too(said) and (thing or run.chance < LONE))


_OF_THINGS = word_set(
    """
    status response result colour color grade condition priority severity outcome stage quality effect type level risk urgency category
    consistency texture appearance side position size shape strength theme margin view airway access pain mood appetite sleep tone cry perfusion
    rag state stain drug route site event finding cause barrier flow skin pupils drain output sound rhythm
    """
)
"""What has a value that nobody is: `Colour: Brown`; by themselves these head a column."""


_LABELLED = re.compile(r"\W*(?:([^\W_]+(?:[ /-][^\W_]+){0,3})\s?:\s)?\W*")
_SAYS = re.compile(r"\w")


def _other(sentence: Sentence, run: Run) -> Iterator[Span]:
    """A date or a number, with all the figures and letters it is written together with; what the clinic writes so stays."""
    together = [
        found.span()
        for found in _TOGETHER.finditer(sentence.words)
        if found.start() < run.end and run.start < found.end()
    ]
    start, end = min(one[0] for one in together), max(one[1] for one in together)
    start, end = _dated(sentence.words, *_without_times(sentence.words, start, end))
    end = up_to_a_day_of_the_case(sentence.words, start, end)
    if sentence.words.startswith(":", end) and sentence.words[start:end].isalpha():
        return  # a label, though it may be short for a day: `Do: call early`
    if not of_the_clinic(sentence.words, start, end, sure=run.chance >= CERTAIN[OTHER]):
        reason = OTHERS if run.chance >= ASKED else ASK_OTHER
        yield _span(sentence, replace(run, start=start, end=end), Decision.REPLACE, reason)


_TIME_FIRST = re.compile(r"(?:[01]\d|2[0-3])[0-5]\d\s(?=\d{1,2}[./-]\d{1,2}(?!\d))")
_TIME_LAST = re.compile(r"(?<=\d[./-]\d\d)\s(?:[01]\d|2[0-3])[0-5]\d$")


def _without_times(words: str, start: int, end: int) -> tuple[int, int]:
    """A day or size without the time of day that a chart writes beside it: `12/14` of `0925 12/14 access sheath`."""
    first = _TIME_FIRST.match(words, start, end)
    last = _TIME_LAST.search(words, start, end)
    return first.end() if first else start, last.start() if last else end


def _dated(words: str, start: int, end: int) -> tuple[int, int]:
    """Of a date, the stretch from its first figure or word of the calendar to the last, if nobody can be meant beside it."""
    if _kind(words[start:end], OTHER) != "C":
        return start, end
    parts = [*_WITH_AND.finditer(words, start, end)]
    told = [part for part in parts if any(map(str.isdigit, part[0])) or "m" in flags(part[0].lower())]
    beside = [part[0] for part in parts if part not in told]
    if not told or not all("&" in word or load().known(fold(word)) for word in beside):
        return start, end
    return told[0].start(), told[-1].end()


_WITH_AND = re.compile(r"\w+(?:&\w+)*")
_TOGETHER = re.compile(r"[^\W_]+(?:[./:-][^\W_]+)*")


def _near(one: Chance) -> bool:
    """Whether a word that stays looks like a name: by its chance, or as an eponym with a capital."""
    token = one.token
    return token.text[0].isalpha() and (one.person >= NEAR or ("e" in token.flags and token.shape in "AM"))


def _span(sentence: Sentence, run: Run, decision: Decision, reason: str) -> Span:
    letter = _kind(sentence.words[run.start : run.end], run.letter)
    kind, words = _KINDS[letter]
    start, end, sure = (
        sentence.start + run.start,
        sentence.start + run.end,
        round(SURE[letter] * run.chance, 3),
    )
    return Span(start, end, kind, letter, words, sure, Layer.MODEL, None, decision, reason)
