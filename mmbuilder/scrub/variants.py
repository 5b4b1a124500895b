"""Every form a declared name or place may take in the notes, as sequences of folded words."""

from __future__ import annotations

import re
from calendar import month_name
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from enum import Enum, auto
from itertools import product

from mmbuilder.scrub.fold import folded, words_of
from mmbuilder.scrub.words import ORDINARY, PARTICLES, TITLES, word_set


class Rule(Enum):
    """What else must hold where the words of a form are met."""

    WHOLE = auto()
    """Nothing: the words are proof enough, unless all of them are ordinary ones."""
    PART = auto()
    """One name alone: it may be an eponym or an ordinary word."""
    INITIALS = auto()
    """Capitals only, and no clinical abbreviation."""
    LETTER = auto()
    """One letter behind its title, a capital."""


@dataclass(frozen=True)
class Form:
    """One form: its words, and what else must hold."""

    words: tuple[str, ...]
    rule: Rule = Rule.WHOLE


Words = tuple[str, ...]

_TITLE = re.compile(rf"^(?:(?:{TITLES}|baby(?:\s(?:boy|girl))?)\s+)+")
_WORD = re.compile(r"\S+")
_A_TITLE = re.compile(TITLES, re.IGNORECASE)
_BEHIND = re.compile(r"(?<=\w)\s*\(\s*([^()\s][^()]*)\)$")
_GRADES = frozenset(("anaesthetist", "consultant", "registrar", "surgeon", "technician", "trainee"))
"""Roles that are no forename with a capital either."""
_LETTERS_AFTER = re.compile(r",?(?:\s+(?:[A-Z]{2,}[a-z]?[A-Z]*|PhD|MSc|BSc)\b\.?,?)+$")
_INITIALS = re.compile(r"(?:[A-Z]\.?-?){1,3}")
_UMLAUT = re.compile(r"(?<![aeiouq])([aou])e(?=[^\W\daeiou_])")
_SHORTEST = 3
"""Letters of the shortest half, and of the shortest abbreviated place."""

_JOINED = 6
"""Letters that a name run together must have, to be no ordinary word."""


def person(name: str) -> tuple[Form, ...]:
    """Return the forms of a person's name, without repeats."""
    given, surname = _parse(name)
    return tuple(dict.fromkeys((*_person(given, surname), *_letter(name))))


def _letter(name: str) -> Iterator[Form]:
    """`Dr A`: one letter is looked for behind the title that it was given with."""
    words = words_of(name)
    if len(words) > 1 and len("".join(words_of(untitled(name.strip())))) == 1:
        yield Form(words, Rule.LETTER)


def _parse(name: str) -> tuple[list[str], list[str]]:
    """Return (forenames, surname with its particles), each as written."""
    bare = untitled(name.strip())
    if not bare.isupper():
        bare = _LETTERS_AFTER.sub("", bare)
    if "," in bare:
        last, first = bare.split(",", 1)
        return first.split(), last.split()
    parts = bare.split()
    if len(parts) > 1 and _INITIALS.fullmatch(parts[-1]) and not _INITIALS.fullmatch(parts[0]):
        return parts[-1:], parts[:-1]  # "Oskavarn JK"
    start = len(parts) - 1
    while start > 1 and folded(parts[start - 1]) in PARTICLES:
        start -= 1
    return parts[:start], parts[start:]


def untitled(name: str) -> str:
    """Return a name without title and role: of `Dr Quill`, `recovery nurse Tamsin`, `Tamsin (midwife)`."""
    behind = _BEHIND.search(name)
    bare = name[: behind.start()] if behind and _is_role(behind[1].split()) else name
    return bare[announced(bare) :]


def announced(name: str) -> int:
    """Return how many signs of a name are title and role before it."""
    title = _TITLE.match(name)
    words = [*_WORD.finditer(name, title.end() if title else 0)]
    before = (
        place for place in range(len(words) - 1, 0, -1) if _is_role([word[0] for word in words[:place]])
    )
    return words[next(before, 0)].start() if words else 0


def _is_role(words: list[str]) -> bool:
    """Whether words say what somebody is and name nobody; a capital may begin a forename, `Porter James`."""
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    roles = (lists.roles | lists.titles) - lists.given - lists.family

    def told(said: str) -> bool:
        return folded(said) in (roles if said.islower() else _GRADES) or bool(_A_TITLE.fullmatch(said))

    def plain(word: str) -> bool:
        known = folded(word) in ORDINARY or lists.known(folded(word))
        return word.islower() and known and folded(word) not in lists.given

    whole = told(" ".join(words))
    return whole or (told(words[-1]) and all(told(word) or plain(word) for word in words[:-1]))


def _bare(surname: list[str]) -> Iterator[Words]:
    """The surname without its particles."""
    if len(surname) > 1:
        yield from _spellings(surname[-1:])


def _person(given: list[str], surname: list[str]) -> Iterator[Form]:
    for last in _spellings(surname):
        for firsts in _spelt_each(given):
            yield from _whole(firsts, last)
            yield from _initials(firsts, last)
        if len("".join(last)) > 1:
            yield Form(last, Rule.PART)
        if len(last) > 1:
            yield from _joined("".join(last))
            yield Form((*last[:-1], f"{last[-1]}s"))
    for piece in (*_halves(surname[-1:]), *_bare(surname)):
        for firsts in _spelt_each(given):
            yield from _whole(firsts, piece)
    for part in (*given, *surname):
        yield from _alone(part)


def _spellings(parts: list[str]) -> Iterator[Words]:
    """The words of a name, as they fold and with ä, ö, ü, å written as two letters."""
    plain = words_of(" ".join(parts))
    if plain:
        yield plain
    long = " ".join(parts).casefold()
    for letter, two in (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("å", "aa"), ("ø", "oe")):
        long = long.replace(letter, two)
    if plain and (other := words_of(long)) != plain:
        yield other
    # Declared as Goetz, written as Götz: the same letters without the e.
    short = words_of(_UMLAUT.sub(r"\1", " ".join(parts).casefold()))
    if plain and short != plain and len("".join(short)) > _SHORTEST:
        yield short


def _spelt_each(given: list[str]) -> Iterator[list[Words]]:
    yield [words for part in given if (words := words_of(part))]


def _whole(firsts: list[Words], last: Words) -> Iterator[Form]:
    if not firsts:
        return
    every = tuple(word for words in firsts for word in words)
    letters = tuple(words[0][0] for words in firsts)
    for lead in {every, firsts[0], letters, letters[:1], ("".join(letters),)}:
        yield Form(lead + last)
        yield Form(last + lead)
    flat = "".join(last)
    for first in ("".join(firsts[0]), letters[0], "".join(letters)):
        yield from _joined(first + flat)
        yield from _joined(flat + first)


def _joined(word: str) -> Iterator[Form]:
    if len(word) >= _JOINED:
        yield Form((word,))


def _initials(firsts: list[Words], last: Words) -> Iterator[Form]:
    letters = [words[0][0] for words in firsts]
    own = next((word[0] for word in last if word not in PARTICLES), last[0][0])
    for some in (letters, letters[:1]):
        together = (*some, own)
        if len(together) >= 2 and all(letter.isalpha() for letter in together):
            yield Form(together, Rule.INITIALS)
            yield Form(("".join(together),), Rule.INITIALS)


def _alone(part: str) -> Iterator[Form]:
    """One name alone, its hyphen halves, and both run together."""
    for words in _spellings([part]):
        if len(words) == 1 and (words[0] in PARTICLES or len(words[0]) < 2):
            continue
        yield Form(words, Rule.PART)
        if len(words) > 1:
            yield from _joined("".join(words))
    yield from (Form(half, Rule.PART) for half in _halves([part]))


def _halves(parts: list[str]) -> Iterator[Words]:
    """The halves of a hyphenated name."""
    for part in parts:
        if len(pieces := re.split(r"[-‐‑–]", part)) > 1:
            for words in map(words_of, pieces):
                if words and len("".join(words)) >= _SHORTEST and words[0] not in PARTICLES:
                    yield words


def unspaced_forms(name: str) -> Iterator[str]:
    """A name in a script without spaces, whole; the given name of one of three Han signs, and its titles."""
    yield name
    if len(name) == 3 and all("\u4e00" <= sign <= "\u9fff" for sign in name):
        yield name[1:]
        yield from (
            name[0] + title for title in ("先生", "女士", "小姐", "医生", "醫生", "医师", "护士", "教授")
        )


_GENERIC = word_set(
    """
    hospital hospitals infirmary clinic centre center medical general university college teaching
    district royal national county city nhs trust foundation health healthcare group surgery practice
    ward theatre theater theatres unit suite department room house the of and for eye children childrens
    women womens maternity
    """
)
"""Words that name no place by themselves."""


def place(name: str) -> tuple[Form, ...]:
    """Return the forms of a place's name, without repeats; `The Old Mill, Quenbyford` holds two."""
    parts = [part for part in name.split(",") if len(part.strip()) > _SHORTEST]
    return tuple(dict.fromkeys(form for part in (name, *parts) for form in _place(part)))


def _place(name: str) -> Iterator[Form]:
    written = words_of(name)
    for words in dict.fromkeys((written, _closed(written))):
        if not words:
            return
        yield _one_or_several(words)
        own = list(words)
        while own and own[-1] in _GENERIC:
            own.pop()
        while own and own[0] in _GENERIC - {"st", "saint"}:
            own.pop(0)
            yield from _named(tuple(own), words)
        yield from _named(tuple(own), words)
    yield from _numbered(written)
    yield from _saint(written)
    letters = "".join(word[0] for word in written if word not in ("of", "the", "and", "for", "s"))
    if len(letters) >= _SHORTEST and letters.isalpha():
        yield Form((letters,), Rule.INITIALS)
        yield Form(tuple(letters), Rule.INITIALS)
    if len(written) > 1:
        yield from _joined("".join(written))


def _named(own: Words, whole: Words) -> Iterator[Form]:
    if len(own) < len(whole) and any(word not in _GENERIC and len(word) > _SHORTEST for word in own):
        yield _one_or_several(own)


def _saint(written: Words) -> Iterator[Form]:
    """`Saint Wendel's` is also written `St Wendel's`, and `Wendel's` where the saint's name is rare."""
    if len(written) < 2 or written[0] not in _SAINTS:
        return
    own = list(written[1:])
    while own and own[-1] in _GENERIC:
        own.pop()
    for rest in dict.fromkeys((written[1:], tuple(own))):
        for saint in _SAINTS if rest else ():
            yield Form((saint, *rest))
            yield Form((saint, *_closed(rest)))
    if len(own) == 2 and own[1] == "s" and len(own[0]) > _SHORTEST:
        yield Form(tuple(own))
        yield Form(_closed(tuple(own)), Rule.PART)


_SAINTS = ("st", "saint")
_FIGURES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip
_ROMAN = ("", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
_NUMBERED = re.compile(r"(\d+) ?([a-z]?)")
_SAME_ROOM = (("theatre", "theater", "theatres", "th", "ot"), ("ward", "wd"), ("room", "rm"), ("or",))
_ROOMS = {room: rooms for rooms in _SAME_ROOM for room in rooms}
"""Every way to call a room that is told by its number, by each of them."""


def _numbered(written: Words) -> Iterator[Form]:
    """`Theatre 4` is also written `theatre no. 4`, `Theatre four`, `Th 4`; `Ward 7B` also `ward seven b`."""
    number = _NUMBERED.fullmatch(" ".join(written[1:]))
    if not number or written[0] not in _ROOMS:
        return
    figure, letter = number[1].lstrip("0") or "0", number[2]
    for room in _ROOMS[written[0]]:
        for said in _said(figure, letter, room):
            yield Form((room, *said))
            yield from (Form((room, short, *said)) for short in ("no", "nr", "number") if len(room) > 2)
        if letter:
            yield Form((f"{figure}{letter}", room))


def _said(figure: str, letter: str, room: str) -> Iterator[Words]:
    """A room's number in figures, with a zero, in words and in Roman figures."""
    spelt = [figure, figure.zfill(2)]
    if len(figure) < 3 and int(figure) < len(_FIGURES):
        spelt.append(_FIGURES[int(figure)])
        spelt += [_ROMAN[int(figure)]] if len(room) > 2 and int(figure) else []
    for number in dict.fromkeys(spelt):
        yield (f"{number}{letter}",)
        if letter:
            yield (number, letter)


def _one_or_several(words: Words) -> Form:
    return Form(words, Rule.PART if len(words) == 1 else Rule.WHOLE)


def _closed(words: Words) -> Words:
    """`st luke s` is also written `st lukes`."""
    kept: list[str] = []
    for word in words:
        if word == "s" and kept:
            kept[-1] += "s"
        else:
            kept.append(word)
    return tuple(kept)


def compact_dates(text: str) -> Iterator[str]:
    """A declared date as eight figures."""
    for day in _dates(text):
        yield from (day.strftime(form) for form in ("%d%m%Y", "%Y%m%d", "%m%d%Y"))


def written_dates(text: str) -> tuple[Form, ...]:
    """A declared date in every order, with its month in figures or words."""
    forms: dict[Form, None] = {}
    for day in _dates(text):
        month = day.strftime("%B").lower()
        days = {str(day.day), f"{day.day:02}", f"{day.day}{_nth(day.day)}"}
        months = {month, month[:3], *(["sept"] if day.month == 9 else []), str(day.month), f"{day.month:02}"}
        for said, of, year in product(sorted(days), sorted(months), (f"{day:%Y}", f"{day:%y}")):
            rows: list[Words] = [(said, of, year), (of, said, year), (year, of, said)]
            if of.isalpha():
                rows.append((said, "of", of, year))
            forms |= dict.fromkeys(map(Form, rows))
    return tuple(forms)


def _dates(text: str) -> Iterator[date]:
    """The dates that a declared text is, if it is nothing else; both readings of 12/03/1951."""
    found = _DATE.fullmatch(" ".join(words_of(text)))
    if not found:
        return
    one, two, three = (part for part in found.groups() if part)
    orders = {(one, two, three), (two, one, three)} if len(three) == 4 else {(three, two, one)}
    for day, month, year in sorted(orders):
        number = _MONTHS.index(month[:3]) + 1 if month[:3] in _MONTHS else month
        with suppress(ValueError):
            yield date(int(year), int(number), int(re.sub(r"\D", "", day)))


def _nth(day: int) -> str:
    return "th" if 10 < day < 14 else {1: "st", 2: "nd", 3: "rd"}.get(day % 10, "th")


_MONTHS = [name.lower()[:3] for name in month_name[1:]]
_DATE = re.compile(r"(\w{1,9}) (?:of )?(\w{1,9}) (\d{4})|(\d{4}) (\w{1,9}) (\d{1,2})")


def phrase(text: str) -> tuple[Form, ...]:
    """Return the one form of words that must not appear."""
    words = words_of(text)
    return (_one_or_several(words),) if words else ()
