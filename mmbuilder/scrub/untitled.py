"""Names without a title: the offline name model proposes, the keep-guard decides.

    UntitledNames().find(["Seen by Amara Okonjo; Fuchs dystrophy."])

Only sentences that hold a word the lists do not know go through the model: it is the slowest layer.
What may be a name or a word is removed, with a reason that asks; what is kept is listed with its reason.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.words import EPONYM_NOUNS, word_set

if TYPE_CHECKING:
    from mmbuilder.scrub.keep.lists import Lists
    from mmbuilder.scrub.keep.passage import Passage
    from mmbuilder.scrub.names import NameHit, NameModel

ASK = "could be a name or a word: please decide"
_LONGEST = 500
"""Characters of the longest stretch read at once: keeps the time linear in the length of a text."""

_MOST_READ = 10_000
"""Sentences whose hits are remembered: the templates of a ward come back in every note."""

_EDGE = re.compile(
    r"\n+|(?<=[^\W\d_A-Z][.!?])(?<!\b[DM]r\.)(?<!\bM[rs]s\.)(?<!\bMs\.)(?<!\bSt\.)(?<!Prof\.)(?<!\bS[rt]a\.)"
    r"(?<!Smt\.)(?<!Asst\.)\s+(?=[^\W\d_a-z])"
)
_KINDS = {
    "person": ("name", "A", "[name]"),
    "place": ("place", "B", "[place]"),
    "address": ("address", "B", "[address]"),
}
SURE = 0.85
"""Highest confidence a finding of the model may have: a title or a declaration is surer."""


@dataclass(frozen=True)
class Sentence:
    """A stretch of text number `text` that is read by itself."""

    text: int
    start: int
    words: str


class UntitledNames:
    """The name model behind the keep-guard, as a layer.

    Args:
        model: the model; by default the one that ships, loaded when a sentence needs it.
    """

    name: str = "name model"
    unchecked: tuple[str, ...] = (
        "names in scripts other than the Latin one, unless declared or titled",
        "names in small letters that stand without a title, role or family word",
    )

    def __init__(self, model: NameModel | None = None) -> None:
        self._model = model
        self._read: dict[str, Sequence[NameHit]] = {}

    def find(self, texts: Sequence[str]) -> Found:
        """Return names, places and addresses for each text; kept ones with `Decision.KEEP`."""
        different = list(dict.fromkeys(texts))
        found = dict(zip(different, self._found(different), strict=True))
        return [found[text] for text in texts]

    def _found(self, texts: Sequence[str]) -> Found:
        found: list[list[Span]] = [[] for _ in texts]
        chosen: list[tuple[Sentence, list[Span]]] = []
        for one in (one for number, text in enumerate(texts) for one in sentences(number, text)):
            found[one.text] += _acting(one)
            if _worth(one.words):
                chosen.append((one, list(_written(one))))
        if not chosen:
            return found
        hits = self._hits(dict.fromkeys(one.words for one, _ in chosen))
        for one, written in chosen:
            found[one.text] += (*_judged(one, hits[one.words]), *written)
        return found

    def _hits(self, different: Collection[str]) -> Mapping[str, Sequence[NameHit]]:
        """What the model found in each sentence; one that was read before, in any text, is not read again."""
        new = [words for words in different if words not in self._read]
        if len(self._read) > _MOST_READ:
            self._read = {words: self._read[words] for words in different if words in self._read}
        self._read.update(zip(new, self._loaded().find(new) if new else (), strict=True))
        return self._read

    def _loaded(self) -> NameModel:
        if self._model is None:
            from mmbuilder.scrub.names import NameModel

            self._model = NameModel()
        return self._model


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


def _worth(sentence: str) -> bool:
    """Whether a sentence holds a word that could be a name."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.passage import Passage

    lists = load()
    passage = Passage.of(sentence, lists)
    return any(_candidate(passage, index, lists) for index in range(len(passage.words)))


def _candidate(passage: Passage, index: int, lists: Lists) -> bool:
    word = passage.words[index]
    if len(word.plain) < 2 or not word.text[0].isalpha() or (passage.cased and not word.capital):
        return False
    if passage.cased and word.text.isupper() and len(word.text) <= 4:
        return False  # an abbreviation
    if word.plain in lists.word_names:
        return True
    return not (_ordinary(word.plain, lists) or word.plain in lists.titles or passage.plain_word(index))


def _ordinary(plain: str, lists: Lists) -> bool:
    if plain in lists.terms or plain in lists.heads or plain in lists.roles:
        return True
    return plain not in lists.eponym_words and lists.called(plain) is not None


def _judged(sentence: Sentence, hits: Sequence[NameHit]) -> Iterator[Span]:
    if not hits:
        return
    from mmbuilder.scrub.keep import Guard, Verdict

    guard = Guard(sentence.words)
    for hit in hits:
        start, end = trimmed(sentence.words, hit.start, hit.end)
        judged = guard.judge(start, end, hit.score)
        keep = judged.verdict is Verdict.KEEP
        reason = f"{ASK} ({judged.reason})" if judged.verdict is Verdict.ASK else judged.reason
        if _open(judged.reason, hit.kind) and (thing := _thing(sentence.words, hit, start, end)):
            keep, reason = True, thing
        start, end = (judged.start, judged.end) if keep else _whole(sentence.words, judged.start, judged.end)
        kind, letter, words = _KINDS[hit.kind]
        decision = Decision.KEEP if keep else Decision.REPLACE
        confidence = round(SURE * hit.score, 3)
        start, end = sentence.start + start, sentence.start + end
        yield Span(start, end, kind, letter, words, confidence, Layer.MODEL, None, decision, reason)


def _written(sentence: Sentence) -> Iterator[Span]:
    """Words written as a name, on no list, two side by side or doing what people do: for what the model missed."""
    from mmbuilder.scrub.keep import Guard, Verdict, persons
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.passage import Passage

    lists = load()
    passage = Passage.of(sentence.words, lists)
    if (
        not passage.cased or len(_GERMAN.findall(sentence.words)) > 1
    ):  # German writes every noun with a capital
        return
    guard: Guard | None = None
    for first, last in _runs(passage, lists):
        acting = persons.acts(passage, last) or persons.role_before(passage, first)
        start, end = passage.words[first].start, passage.words[last - 1].end
        if last - first < 2 and not acting and not _stands_out(passage, first, lists):
            continue
        hit = _Hit(start, end)
        guard = guard or Guard(sentence.words)
        judged = guard.judge(start, end, 1.0)
        if judged.verdict is Verdict.REMOVE and not (
            judged.reason in _UNPROVEN and _thing(sentence.words, hit, start, end)
        ):
            at = sentence.start
            start, end = _whole(sentence.words, judged.start, judged.end)
            yield Span(
                at + start,
                at + end,
                "name",
                "A",
                "[name]",
                0.6,
                Layer.MODEL,
                None,
                Decision.REPLACE,
                "written as a name",
            )


def _acting(sentence: Sentence) -> Iterator[Span]:
    """Names that their neighbours show; a word that may be one is asked about."""
    from mmbuilder.scrub.acting import by_context
    from mmbuilder.scrub.known_names import known

    for start, end, reason in (*by_context(sentence.words), *known(sentence.words)):
        start, end = _whole(sentence.words, start, end)
        start, end = sentence.start + start, sentence.start + end
        reason = f"{ASK} ({reason})"
        yield Span(start, end, "name", "A", "[name]", 0.6, Layer.MODEL, None, Decision.REPLACE, reason)


_GERMAN = re.compile(
    r"\b(?:[Dd](?:er|ie|as|em|en|es)|[Ee]ine?[nmrs]?|und|mit|nach|wurde|wegen|vom?|auf|bei|ist|hatte|im|am|zu[rm]?)\b"
)


@dataclass(frozen=True)
class _Hit:
    """A stretch that looks like a person's name by its writing."""

    start: int
    end: int
    kind: str = "person"


def _runs(passage: Passage, lists: Lists) -> Iterator[tuple[int, int]]:
    """Stretches of neighbouring words on no list, each with a capital and small letters."""
    first = None
    for index in range(len(passage.words) + 1):
        fits = index < len(passage.words) and _unlisted(passage, index, lists)
        joined = fits and first is not None and passage.between(index - 1) in (" ", "-", "‐")
        if first is not None and not joined:
            yield first, index
            first = None
        if fits and first is None:
            first = index


_STANDS_OUT = 5


def _stands_out(passage: Passage, index: int, lists: Lists) -> bool:
    """Whether one word on no list has a capital that nothing but a name explains: in mid-sentence."""
    from mmbuilder.scrub.acting import unlisted

    word = passage.words[index]
    if len(word.plain) < _STANDS_OUT or not unlisted(word.text, lists):
        return False
    if passage.opens(index) and not word.bears_s:
        return False
    around = passage.text[max(0, word.start - 1)] + passage.text[word.end : word.end + 1]
    return not any(sign in "-/®™+" for sign in around)


def _unlisted(passage: Passage, index: int, lists: Lists) -> bool:
    word = passage.words[index]
    if not word.capital or word.text.isupper() or len(word.plain) < 3 or not word.plain.isalpha():
        return False
    listed = word.plain in lists.word_names or word.plain in lists.eponym_words or word.plain in lists.titles
    if listed or _ordinary(word.plain, lists) or passage.plain_word(index):
        return False
    return word.text[1:].islower()


_UNPROVEN = frozenset(
    {
        "taken for a name, in small letters and on no list",
        "taken for a name, and on no list",
        "an eponym's name without its noun",
        "a name that is also an ordinary word",
    }
)
"""The guard's reasons that rest on the finder alone."""


def _open(reason: str, kind: str) -> bool:
    return reason in _UNPROVEN or (kind == "address" and reason != "after a title")


_TAIL = re.compile(r"(?:[\s,]+(?:\d[\w.]*|[IVX]{1,4}[a-dA-D]?|[a-z][\w-]*|P))+$")
_STREET = re.compile(
    r"\b(?:Street|St|Road|Rd|Lane|Ave(?:nue)?|Drive|Close|Crescent|Terrace|Place|Court|Gardens|Grove|Hill|Mews|Cottages?|House|Farm"
    r"|Way|Park|Square|Row|Flat|Apartment|Nagar|Colony|Rue|Calle)\b|(?:stra(?:ß|ss)e|weg|gasse)\b"
)
_NOUNS = EPONYM_NOUNS | word_set(
    """
    cells criteria classification variant score scale index harpoon forceps technique approach breathing sign signs syndrome
    disease phenomenon reflex procedure operation repair retractor stain agar medium needle tube system staging nomogram
    coefficient equation formula effect law protocol solution line lines anomaly
    """
)
_BEFORE_FIGURE = re.compile(r"\s\d{1,2}(?![\d/])(?!\s?(?:[MFmf]\b|y))|\s[IVX]{1,4}[a-dA-D]?\b")
_ENDS_AS_A_THING = re.compile(r"-(?:Syndrom|Zeichen|Krankheit|Naht|Phänomen|Operation)$")
_DOSE = re.compile(r"\s\d[\d.,]*\s?(?:mg|g|mcg|µg|microgram|ml|mL|units?|IU|tabs?|puffs?|%)(?!\w)")
_DRUG_FORM = re.compile(
    r"(?<!\w)(?:Inj|Tab|Cap|Syp|Inf|Susp|Oint|Gtt)\.?\s$|^(?:Inj|Tab|Cap|Syp|Inf|Susp|Oint|Gtt)\.?\s"
)
_IN_ENGLISH = re.compile(r"(?<!\w)(?:the|was|with|by|and|of)(?!\w)")
_SHORT_PLACE = 5
_YEAR_AND_VOLUME = re.compile(r"\.?,?\s(?:19|20)\d\d\b[^;\n]{0,12};\s?[\d(]")
"""`Ann Surg 2018 Mar;267(3)`."""
_AFTER_ARTICLE = re.compile(r"(?<!\w)(?:a|an)\s$", re.IGNORECASE)


_DAY_NUMBER = re.compile(r"\s[−-]?\d")
"""`Dr Quorrin Day 3`: what stands before the figure belongs to it."""


def trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch without figures, grades and words in small letters at its end: `Hinchey III`, `Schwann cells`."""
    end = start + _own_words(text[start:end])
    if _DAY_NUMBER.match(text, end) and (day := re.search(r"\sDay$", text[start:end])):
        end = start + day.start()
    tail = _TAIL.search(text[start:end])
    return (start, start + tail.start()) if tail and tail.start() > 0 else (start, end)


_INSIDE = re.compile(r"\s(?P<small>[a-z]{2,})(?!\w)")
_CAPITALS_LAST = re.compile(r"(?<=[a-zà-ÿ])(?:\s(?P<last>[A-Z]{2,5}))+$")


def _own_words(said: str) -> int:
    """Length of what is a name in a hit: `Miladinovski` of `Miladinovski had ERCP`, `Brackle` of `Brackle HDU`."""
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    if said[:1].isupper():
        for found in _INSIDE.finditer(said):
            small = found["small"]
            known = lists.called(small) or small in lists.auxiliaries or small in lists.verbs_after
            if (known or lists.plain_word(small)) and small not in lists.particles and small not in _JOINING:
                said = said[: found.start()]
                break
    last = _CAPITALS_LAST.search(said)
    return last.start() if last else len(said)


_BRAND = re.compile(
    r"(?!(?:Mc|Mac|De|Di|Du|La|Le|Lo|Van|Von|Fitz|Al|El|O|D|St|San|Ten|Ter)[A-Z])[A-Z][a-z]+[A-Z]\w*"
)
_JOINING = frozenset({"and", "of", "the"})


def _thing(text: str, hit: NameHit | _Hit, start: int, end: int) -> str:
    """Why an unlisted word is a thing and no name; empty where nothing shows it."""
    said = text[start:end]
    following = re.match(r"[\s-]([^\W\d_A-Z]+)", text[end : end + 30])
    if following and following[1] in _NOUNS and hit.kind != "address":
        return f'stands right before "{following[1]}", as an eponym does'
    if re.search(r"(?<![^\W_])(?:of|de|von|drainage|maladie|signe)\s(?:de\s)?$", text[:start]) and _OF.search(
        text[:start]
    ):
        return "after the noun of an eponym"
    if said.islower() and " " not in said:
        return "one word in small letters, without a title"
    if said.lower().startswith("sub-"):
        return "a part under another, as anatomy is named"
    if "-" in said and all(_eponym(piece) for piece in said.split("-")):
        return "both halves are listed eponyms"
    if _BRAND.fullmatch(said):
        return "a capital inside the word, as brands are written"
    if any(sign.isdigit() for sign in said) and hit.kind != "address":
        return "holds figures, as scores do"
    if hit.kind == "address" and not _STREET.search(said):
        return "no word of a street in it"
    if said.isupper() and "-" in said and not text.isupper() and max(map(len, said.split("-"))) <= 5:
        return "an abbreviation"
    if hit.kind == "place" and said.isupper() and len(said) <= _SHORT_PLACE and not text.isupper():
        return "an abbreviation"
    if _DOSE.match(text, end) or _DRUG_FORM.search(text[:start]) or _DRUG_FORM.match(said):
        return "before a dose, as drugs stand"
    if _ENDS_AS_A_THING.search(said):
        return "ends as a thing does"
    if " " not in said and hit.kind != "address" and _GERMAN.search(text) and not _IN_ENGLISH.search(text):
        return "German writes every noun with a capital"
    if _YEAR_AND_VOLUME.match(text, end):
        return "the journal of a publication"
    if hit.kind == "place" and _BEFORE_FIGURE.match(text, end):
        return "before a figure, as scores stand"
    return "after a or an, as things stand" if _AFTER_ARTICLE.search(text[:start]) else ""


_OF = re.compile(
    r"(?:sign|ligament|angle|sphincter|pouch|circle|triangle|test|line|space|node|fascia|foramen|valve|canal|island|islets?|triad|tetralogy"
    r"|drain|drainage|maladie|signe|maniobra|signo|enfermedad|manoeuvre|Zeichen|Syndrom)\s(?:of|de|von)\s$"
)


def _eponym(word: str) -> bool:
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    return fold(word) in load().eponym_words


def _whole(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch widened to whole written words, hyphens and apostrophes within them included."""
    while start > 0 and (
        text[start - 1].isalpha() or (text[start - 1] in "-‐'’" and text[start - 2 : start - 1].isalpha())
    ):
        start -= 1
    while end < len(text) and (
        text[end].isalpha() or (text[end] in "-‐" and text[end + 1 : end + 2].isalpha())
    ):
        end += 1
    return start, end
