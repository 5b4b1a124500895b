"""Names by what stands beside them, where neither a title nor the model shows them.

`Hope was circulating`, `Baker and Cook closed`, `de la Fuente agreed`, `T. Whitbread`, `filed by whitelaw`:
a word that is also a name in the place of a person, a particle or an initial before a word on no list, a
word on no list in small letters that does what only people do.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import takewhile
from typing import TYPE_CHECKING

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.hurried import hurried
from mmbuilder.scrub.in_small import in_small
from mmbuilder.scrub.kin import PATTERN as KIN
from mmbuilder.scrub.words import word_set

if TYPE_CHECKING:
    from mmbuilder.scrub.keep.lists import Lists

_ONLY_PEOPLE = word_set(
    """
    asked said says told noticed arrived agreed thought phoned rang wrote scrubbed circulating circulated spoke saw took joined
    felt knew decided insisted wanted apologised helped disagreed assisted drew needed understood suggested explained signed paged
    discharged admitted extubated intubated consented anaesthetised
    """
)
"""What neither a drain nor a hand does, nor is done to one."""
_DOES = "|".join(sorted(_ONLY_PEOPLE))
_ACT = rf"(?:{_DOES}|called (?:for|at|the|to|in|back)|listed for|transferred to|moved to|scrub nurse|the new)(?!\w)"
_HELPING = r"(?:(?:was|were|is|had|has|then|also|who|later|both)\s){0,2}"
_WORD = r"[A-Z][a-z]{2,}"
_ALONE = re.compile(rf"(?<![\w.'’-])(?P<name>{_WORD})\s{_HELPING}{_ACT}")
_PAIR = re.compile(
    rf"(?:^|(?<=[.!?]\s))(?P<name>{_WORD}\s{_WORD})\s(?:was|is|had|has|{_DOES}|bled|fell|collapsed|vomited|opened|closed|died)(?!\w)"
)
_JOINED = re.compile(
    rf"(?<![\w.'’-])(?P<name>{_WORD})\sand\s(?P<other>{_WORD})\s(?:both\s|then\s)?(?:{_DOES}|opened|closed|reviewed|operated|attended|came)(?!\w)"
)
_PARTICLE = re.compile(
    r"(?<![\w'’-])(?P<name>(?:[Dd]e\s(?:la|los|las)|[Vv]an\s(?:der|den|de)|[Vv]on\s(?:der|dem)|[Dd]el|[Dd]ella|[Dd]os|[Bb]int?i?|[Ii]bn"
    r"|[Vv]an|[Dd]e|[Vv]on|[Dd]i|[Dd]a)\s(?P<last>[A-Z][^\W\d_]{2,}))(?!\w)"
)
_INITIAL = re.compile(
    r"(?<![\w.'’-])(?P<name>(?:(?:[A-Z]|Ll|Th|Chr?|Wm|Geo|Jas|Mohd|Md|Sz|Zs|Gy)\.\s?){1,3}(?P<last>[A-Z][a-zà-ÿ]{3,}(?:-[A-Z][a-zà-ÿ]+)?|[A-Z]{5,}))(?!\w)"
)
_OF_A_PATIENT = re.compile(r"(?<!\w)(?i:patients?|pt|mr|mrs|baby)\s(?P<name>(?:[A-Z]\.){2,3})(?!\w)")
_INITIALS_OPEN = re.compile(
    r"(?:^|(?<=[;,]\s))(?P<name>(?:[A-Z]\.){2,3})(?=,?\s(?:is|was|aged|had|has|a\s\d|returned|underwent|bled|died|fell|went|collapsed|developed|presented|required|needed|arrested|consented|signed|scrubbed|reviewed|assisted|closed|opened)(?!\w))"
)
_FROM = re.compile(
    rf"(?<![\w.'’-])(?P<name>{_WORD})\sfrom\s(?:the\s)?(?:blood bank|lab|labs|pharmacy|theatres?|ward|ICU|ITU|radiology|CT|switchboard|estates|biomed|histology)(?!\w)"
)
_SAME_WORD = re.compile(rf"(?<![\w.'’-])(?P<name>{_WORD})\s(?=(?i:(?P=name))(?!\w))")
_CAPITALS_FIRST = re.compile(r"(?<![\w.'’-])(?P<name>(?P<last>[A-ZÀ-ÞĀ-ſẠ-ỹƠƯ]{4,}),?\s[A-Z][a-z]{3,})(?!\w)")
_GRADES = r"ST\d|CT\d|FY\d?|F[12]|SpR|SHO|PA-?C|RN|SN|ODP|HCA|CRNA|MD|DO|FRCS|FRCA|PGY-?\d"
_WITH_GRADE = re.compile(
    rf"(?<![\w.'’-])(?P<name>(?P<last>[A-Z][a-zà-ÿ]{{3,}})),?\s\(?(?:{_GRADES})(?![\w-])"
)
_BRACKETED = re.compile(r"\((?P<name>(?P<last>[A-Z][a-zà-ÿ]{4,}))\)")
_SURNAME_INITIAL = re.compile(r"(?<![\w.'’-])(?P<name>(?P<last>[A-Z][a-zà-ÿ]{4,})\s[A-Z])(?![\w.+/-]|\s?\d)")
_SURNAME_FIRST = re.compile(
    r"(?<![\w.'’-])(?P<name>(?P<last>[A-Z][a-zà-ÿ]{4,}),\s[A-Z][a-zà-ÿ]{2,})(?=,?\s(?:DOB|MRN|NHS|aged|age|\d|[MF](?!\w)))"
)
_FAMILY = re.compile(
    rf"(?<!\w)[Tt]he\s(?P<name>{_WORD})\s(?:family\s(?:were|was|asked|requested|informed|updated|aware|told|agreed|wishes)|twins|brothers|sisters)(?!\w)"
)
_SMALL_BEFORE = re.compile(
    r"(?<![\w'’-])(?i:(?:seen|noted|reviewed|done|closed|opened|filed|passed|performed|assisted|called|written|given|taken|found|handed\sover|reported|witnessed|counted|checked|driven|held|brought\sin|accompanied|referred|sent|confirmed|signed|scrubbed|found|wheeled|moved|consent|consented|uss|scan|scanned|us|list)\sby"
    r"|discussed\swith|admitted\sunder|under\sthe\scare\sof|care\sof|u/c|d/w|s/b|spoke(?:\s(?:to|with))?|told|asked|rang|phoned|paged|bleeped|informed|signed|dw|rv|sr|pt|patient|nurse|reg|sho"
    r"|spr|cons|consultant|registrar|surgeon|anaes|physio|odp|midwife|name|patient:|name:|"
    + KIN
    + r"|per|sgt|lead|pupil|scrub|runner|hca)\s"
    r"(?=(?P<name>(?:[a-z]\.?\s)?[^\W\d_A-Z]{4,}(?:\s(?:(?:and|&)\s)?[^\W\d_A-Z]{4,}){0,3})(?!\w))"
)
_SMALL_AFTER = re.compile(
    r"(?<![\w'’-])(?P<name>[^\W\d_A-Z]{4,}(?:\s(?:and\s)?[^\W\d_A-Z]{4,})?)\s(?:rang|phoned|informed|aware|agreed|scrubbed|asked|attended|closed the|opened the"
    r"|was nil by mouth|was admitted|said|reviewed and|to review|on call|happy)(?!\w)"
)


def by_context(text: str) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and reason of each name in one sentence."""
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    for pattern in (_ALONE, _PAIR):
        for found in pattern.finditer(text):
            if all(_could_be(word, lists) for word in found["name"].split(" ")):
                yield *found.span("name"), _A_WORD
    for pattern in (_JOINED, _FROM, _SAME_WORD):
        for found in pattern.finditer(text):
            names = [name for name in ("name", "other") if name in pattern.groupindex]
            if all(_also_a_name(found[name], lists) for name in names):
                yield from ((*found.span(name), _A_WORD) for name in names)
    for pattern in (
        _PARTICLE,
        _INITIAL,
        _CAPITALS_FIRST,
        _WITH_GRADE,
        _BRACKETED,
        _SURNAME_INITIAL,
        _SURNAME_FIRST,
    ):
        for found in pattern.finditer(text):
            if found["name"].lower() in lists.terms or (
                pattern is _CAPITALS_FIRST and not found["last"].isupper()
            ):
                continue
            if pattern is _BRACKETED and _method(text, found.start("name")):
                continue  # "EFW 2,140 g (Hadlock)"
            if unlisted(found["last"], lists) and not _before_a_noun(text, found.end(), lists):
                yield *found.span("name"), "an initial or a particle before a word on no list"
    for pattern in (_OF_A_PATIENT, _INITIALS_OPEN):
        for found in pattern.finditer(text):
            yield *found.span("name"), "a patient's initials"
    for found in _FAMILY.finditer(text):
        if found["name"].lower() not in _NO_FAMILY:
            yield *found.span("name"), "a family's name"
    yield from _small(text, lists)
    yield from hurried(text, lists)
    yield from in_small(text, lists)


def _method(text: str, start: int) -> bool:
    """Whether a word in brackets tells by whose method, in a sentence of clinical terms that speaks of nobody."""
    from mmbuilder.scrub.keep.frames import speaks_of_nobody
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.passage import Passage

    passage = Passage.of(text, load())
    return speaks_of_nobody(passage, passage.span(start, start + 1)[0])


def _before_a_noun(text: str, end: int, lists: Lists) -> bool:
    """Whether the noun of an eponym follows: `del Nido cardioplegia`."""
    following = re.match(r"\s([a-z]+)", text[end : end + 30])
    return following is not None and names_a_thing(following[1], lists)


def names_a_thing(word: str, lists: Lists) -> bool:
    """Whether a word is the noun of an eponym, or a term that is no ordinary word."""
    return word in lists.heads or lists.terms.get(word) not in (None, "an ordinary word")


_NO_FAMILY = frozenset({"royal", "whole", "patient", "nuclear", "extended", "first", "second"})


def _small(text: str, lists: Lists) -> Iterator[tuple[int, int, str]]:
    """Words in small letters on no list at all, beside what only people do."""
    for pattern in (_SMALL_BEFORE, _SMALL_AFTER):
        for found in pattern.finditer(text):
            at = found.start("name")
            words = [word for word in re.finditer(r"[^\W\d_]{3,}", found["name"]) if word[0] != "and"]
            # From the cue on: "dunmorrow" of "spr dunmorrow removed", nothing of "tranexamic acid agreed".
            nearest = words if pattern is _SMALL_BEFORE else words[::-1]
            for word in takewhile(lambda word: unlisted(word[0], lists), nearest):
                yield at + word.start(), at + word.end(), "a word on no list, in the place of a person"


def _could_be(word: str, lists: Lists) -> bool:
    """Whether a word is also a name, and is no clinical term (`Drain`, `Still`) by itself."""
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    if plain in lists.months:
        return plain in _NAMED_MONTHS
    return plain in lists.word_names and lists.called(plain) in (
        None,
        "anatomy",
        "a finding, disease or procedure",
    )


def _also_a_name(word: str, lists: Lists) -> bool:
    from mmbuilder.scrub.keep.words import fold

    return fold(word) in lists.word_names or unlisted(word, lists)


_A_WORD = "a word that is also a name, in the place of a person"
_NAMED_MONTHS = frozenset({"may", "june", "april", "august", "summer", "autumn"})


def unlisted(word: str, lists: Lists) -> bool:
    """Whether a word is on none of the lists, whatever its letters."""
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    known = (
        plain in lists.eponym_words
        or plain in lists.titles
        or plain in lists.heads
        or plain in lists.roles
        or plain in lists.verbs_after
        or plain in lists.particles
        or plain in lists.months
        or plain.upper() in ABBREVIATIONS
        or lists.known(plain)
        or (len(plain) >= _ENDING_TELLS and plain.endswith(lists.suffixes))
    )
    return not known and plain not in lists.word_names


_ENDING_TELLS = 8
