"""Eponym frames: what stands around a name that shows it names a thing and no person.

"Fuchs dystrophy", "Chopart and Lisfranc joints", "ligament of Treitz", "Hinchey III", "a Foley".
"""

from __future__ import annotations

import re

from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.keep.rows import in_a_clinical_row, in_a_row
from mmbuilder.scrub.words import word_set

_REACH = 5  # words from the name to its noun: "Kocher and the Watson-Jones lateral approach"
_GRADE = re.compile(r"(?:[ivx]{1,4}[a-d]?|\d{1,2}[a-d]?|[a-h]\d?|class|grade|stage|type|level)")
_DONE_TO_THINGS = word_set(
    """
    used applied inserted placed positive negative normal equivocal changed running excluded fashioned fired clipped deployed
    inflated deflated withdrawn exchanged upsized downsized repaired done score grade type stage class test tested calculated
    plotted sited flushed clamped unclamped tightened released
    """
)
"""What follows an instrument, a test or an operation, and no person."""
_NEVER_A_GRADE = frozenset({"i"})  # "Bell I think" is no grade unless the eponym is graded so


def eponym_at(passage: Passage, index: int) -> tuple[int, int, str] | None:
    """The longest listed eponym over word `index`: first word, end, folded name."""
    for size in (4, 3, 2, 1):
        for first in range(max(0, index - size + 1), index + 1):
            name = passage.plain(first, first + size)
            if first + size <= len(passage.words) and name in passage.lists.eponyms:
                return first, first + size, name
    if passage.words[index].plain in passage.lists.eponym_words:
        return index, index + 1, ""
    return None


def _noun(plain: str, nouns: frozenset[str]) -> bool:
    """Whether a word is one of the nouns, or several of one."""
    return plain in nouns or plain.removesuffix("s") in nouns or plain.removesuffix("es") in nouns


def _between(passage: Passage, index: int) -> bool:
    """Whether a word may stand between an eponym and its noun."""
    plain = passage.words[index].plain
    lists = passage.lists
    if plain in lists.auxiliaries or plain in lists.verbs_after or plain in lists.titles:
        return False
    listed = plain in passage.lists.joins or plain in passage.lists.terms or bool(_GRADE.fullmatch(plain))
    return listed or eponym_at(passage, index) is not None


def _noun_after(passage: Passage, last: int, nouns: frozenset[str], reach: int = _REACH) -> str | None:
    """The noun that follows within reach, over words that may stand between."""
    for at in range(last, min(last + reach, len(passage.words))):
        if passage.ends(at - 1) or passage.words[at].plain == passage.words[last - 1].plain:
            return None  # "Surgeon Ross, Ross procedure"
        for size in (3, 2, 1):
            if _noun(passage.plain(at, at + size), nouns):
                return passage.plain(at, at + size)
        if not _between(passage, at):
            return None
    return None


def _noun_before(passage: Passage, first: int, nouns: frozenset[str]) -> str | None:
    """The noun of "ligament of Treitz", "angle of His"."""
    if first < 2 or passage.words[first - 1].plain not in ("of", "de", "von") or passage.ends(first - 2):
        return None
    noun = passage.words[first - 2].plain
    return noun if _noun(noun, nouns) else None


_NAMED_AFTER = word_set(
    """
    zeichen handgriff reposition naht technik methode klassifikation einteilung schnitt zugang
    signe manoeuvre classification pince ciseaux ecarteur signo maniobra maniobras clasificacion pinza pinzas tijera separador
    zugang lagerung schnitt operation technik op resektion naht plastik score
    sinal manobra classificacao segno manovra classificazione
    """
)
"""Things of notes abroad that are called after somebody, and are nobody's own."""
_AFTER = frozenset({"nach", "n", "de", "di", "du", "del"})


def named_after(passage: Passage, first: int) -> str | None:
    """Reason to keep what such a thing is called after: `Zeichen nach Payr`, `signe de Léri`, `Resektion n. Payr`."""
    if first < 2 or passage.words[first - 1].plain not in _AFTER or passage.ends(first - 2):
        return None
    noun = passage.words[first - 2].plain
    a_thing = noun in _NAMED_AFTER or passage.lists.ended_abroad(noun)
    return f'stands behind "{noun}", as an eponym does' if a_thing else None


def _graded(passage: Passage, last: int, own: frozenset[str]) -> bool:
    if passage.ends(last - 1):
        return False
    plain = passage.words[last].plain
    return plain in own or (bool(_GRADE.fullmatch(plain)) and plain not in _NEVER_A_GRADE)


_SIZE_BEFORE = re.compile(
    r"(?:\dF|\d\s?(?:mm|cm|[Ff]r|French|Ch|[Gg]auge|G|%)|\d-0|\d/0|(?<!\w)size\s\d{1,3}(?:\.\d)?)\s$"
)
_MEASURE_AFTER = re.compile(
    r"\s(?:\d[\d.,]*\s?(?:mg|mcg|µg|micrograms?|g|ml|mL|[Uu]nits?|IU|iu|tabs?|puffs?|mm|cm|[Ff]r|Ch|G|%|cc|kPa|mmHg|cmH2O|joules?|J|kV)(?!\w)"
    r"|\d{1,2}-0(?!\w)|\d/0(?!\w)|\d{1,2}\.\d(?!\d|\.\d|[\s]?[ap]\.?m)|(?:bd|tds|qds|qid|tid|prn|nocte|stat|[io]v|po|im|sc)(?!\w)|[×]\s?\d|0\.\d{1,4}(?!\d)|[1-3]?\dF(?!\w)|(?:\+{1,3}(?!\d)|[+−-]ve|[±↑↓]|pos|neg)(?=[\s,.;)]|$)|[−-](?=[,;.)]|$))"
)
_GRADED_BEFORE = re.compile(
    r"\b(?:grade|type|class|stage|category)\s(?:[ivx]{1,4}|\d|[a-f])[a-d]?\s?\($", re.IGNORECASE
)
"""In front of an eponym in brackets: `syndrome grade 2 (Donaldson)`."""
_USED = re.compile(
    r"\s(?:was|were|is|had\sbeen|has\sbeen)\s(?:not\s|then\s|also\s)?(?:considered(?=[,.]|\sbut)|used|preferred|attempted|abandoned"
    r"|inserted|applied|deployed|inflated|deflated|fired|calculated|equivocal|performed|done)(?!\w)"
)


def by_measure(text: str, start: int, end: int) -> str | None:
    """Reason to keep a word with a size before it or a dose behind it (`24 Fr Blake`, `Septanest 2.2 ml`), or None."""
    if _SIZE_BEFORE.search(text, max(0, start - 12), start):
        return "after a size, as devices stand"
    return "before a measure, as things stand" if _MEASURE_AFTER.match(text, end) else None


_GRADE_AFTER = re.compile(
    r"\s(?:I{2,3}|IV|VI{0,3}|I(?=[abAB]))[a-dA-D]?(?![\w'’-])|\s[AB][1-4](?!\w)|\s(?:type|grade|class|stage)\s(?:\d|[IVX]+)[a-d]?(?!\w)"
)
_SCORE_AFTER = re.compile(
    r"\s(?:1?\d|20)(?:\s?/\s?\d{1,3})?(?=[.,;)]\s|[.,;)]?$|\s(?:before|after|at|then|on|and|with|to|pre|post|preop|postop)(?!\w))"
)
_FIGURE_AFTER = re.compile(r"\s\d{1,3}(?:\.\d)?(?=[\s,.;)%/]|$)")
_SCORE_LETTERS = 5


def _after_a_name(passage: Passage, first: int) -> bool:
    """Whether a word with a capital, on no list, stands right before: `Anna Kyle III`."""
    if not first or passage.ends(first - 1) or passage.between(first - 1) != " ":
        return False
    before = passage.words[first - 1]
    return before.capital and not passage.lists.known(before.plain)


def graded(passage: Passage, first: int, last: int) -> str | None:
    """Reason to keep a word before a grade or a score, or in a row of clinical things: `Kyle III`, `Borg 17`, `Osborn, Cabrera`."""
    if row := in_a_row(passage, first, last):
        return row
    end = passage.words[last - 1].end
    double = last - first == 2 and passage.between(first) in ("-", "‐")
    if _after_a_name(passage, first) or not (last - first == 1 or double):
        return None
    word = passage.words[first]
    if passage.cased and last - first == 1 and word.text.isupper() and 2 < len(word.text) <= _SCORE_LETTERS:
        return "capitals before a figure, as scores stand" if _FIGURE_AFTER.match(passage.text, end) else None
    if not passage.words[first].capital or passage.words[last - 1].bears_s:
        return None
    if passage.cased and _GRADE_AFTER.match(passage.text, end):
        return "before a grade, as scores stand"
    if passage.cased and _SCORE_AFTER.match(passage.text, end) and in_a_clinical_row(passage, first, last):
        return "before a figure, as scores stand"
    return None


def listed_frame(passage: Passage, first: int, last: int, reach: int = _REACH) -> str | None:
    """Reason to keep a listed eponym that stands in a frame, or None; its noun stands within `reach` words."""
    found = eponym_at(passage, first)
    if not found:
        return None
    start, stop = passage.words[first].start, passage.words[last - 1].end
    if measured := by_measure(passage.text, start, stop):
        return measured
    if (
        _GRADED_BEFORE.search(passage.text, max(0, start - 20), start)
        and passage.text[stop : stop + 1] == ")"
    ):
        return "an eponym in brackets behind a grade"
    if found[2] and _USED.match(passage.text, stop):
        return "an eponym that was used, as things are"
    if found[0] == first and found[1] < last and not passage.words[found[1] - 1].possessive:
        own = passage.lists.eponyms.get(found[2], frozenset())
        noun = _noun_after(passage, found[1], own | passage.lists.heads, reach)
        if noun:
            return f'stands by "{noun}", as an eponym does'
    begin, end, name = min(found[0], first), max(found[1], last), found[2]
    own = passage.lists.eponyms.get(name, frozenset())
    # A possessive may be a patient's ("Jones's drain"): then only the eponym's own nouns count.
    loose = frozenset() if passage.words[end - 1].possessive and own else passage.lists.heads
    loose = loose or _NEVER_A_PERSONS
    noun = _noun_after(passage, end, own | loose, reach) or _noun_before(
        passage, begin, own | passage.lists.heads
    )
    if noun:
        return f'stands by "{noun}", as an eponym does'
    if name and _graded(passage, end, own):
        return "an eponym with a grade or type"
    return named_after(passage, begin)


def holds_the_title(passage: Passage, first: int) -> bool:
    """Whether what looks like a title before word `first` is part of the eponym: `Sister Mary Joseph nodule`."""
    found = eponym_at(passage, first)
    return found is not None and found[0] < first and passage.words[found[0]].plain in passage.lists.titles


ALONE = "an eponym that is said alone for the thing"


def said_alone(passage: Passage, first: int, last: int) -> str | None:
    """Reason to keep a listed eponym said without its noun, or None."""
    found = eponym_at(passage, first)
    if not found or not found[2] or found[1] < last:
        return None
    after = passage.words[last].plain if not passage.ends(last - 1) else ""
    if after in passage.lists.verbs_after:
        return None
    if found[2] in passage.lists.alone and found[2] not in passage.lists.surnames:
        return ALONE
    if " " in found[2] and found[:2] == (first, last):
        return "a listed eponym of two names"
    before = passage.words[first - 1].plain if first and not passage.ends(first - 1) else ""
    if before in passage.lists.articles:
        return f'an eponym after "{before}", used for the thing'
    if after in _DONE_TO_THINGS and not passage.words[last - 1].possessive:
        return f'an eponym before "{after}", said of things'
    stops = not after or after in passage.lists.after_possessive or "," in passage.between(last - 1)
    if passage.words[last - 1].possessive and stops:
        return "a listed eponym in the possessive, used for the disease or operation"
    return None


_NEVER_A_PERSONS = word_set(
    """
    score scores scale algorithm theory theorem model formula nomogram bodies body corpuscle corpuscles tubercle artery gyrus
    area cell cells disease paradox number grading staging canal duct angle pouch node hiatus muscle septum space point spot
    triad tetrad pentad sign signs syndrome disease law laws rule rules phenomenon classification criteria crunch zone zones triangle
    space line fascia ligament membrane fossa foramen canal node nodes nodule sphincter plexus reflex test index equation formula
    """
)
"""What follows the possessive of an eponym and belongs to nobody in the room: `Mackler's triad`."""
_DOUBLE = re.compile(r"[^\W\d_a-z][^\W\d_A-Z]+[-‐][^\W\d_a-z][^\W\d_A-Z]+")


def unlisted_frame(passage: Passage, first: int, last: int) -> str | None:
    """Reason to keep a name on no list that stands right beside a strong noun, or None."""
    if last - first == 1 and (called := named_after(passage, first)):
        return called
    if passage.ends(last - 1):
        return in_a_row(passage, first, last)
    noun = passage.words[last].plain
    if passage.words[last - 1].possessive:
        return f'its possessive stands before "{noun}"' if noun in _NEVER_A_PERSONS else None
    if _noun(noun, passage.lists.unlisted_heads):
        return f'stands right before "{noun}", as eponyms do'
    if scored := graded(passage, first, last):
        return scored
    if measured := by_measure(passage.text, passage.words[first].start, passage.words[last - 1].end):
        return measured
    said = passage.text[passage.words[first].start : passage.words[last - 1].end]
    after = passage.words[last]
    person = after.plain in passage.lists.verbs_after or after.plain in passage.lists.auxiliaries
    thing = after.text.isdigit() or (after.text.islower() and passage.lists.known(after.plain))
    if thing and not person and _DOUBLE.fullmatch(said) and passage.between(last - 1) == " ":
        return "two names with a hyphen before a thing or a figure, as eponyms stand"
    return None
