"""Where each line of a note says that it belongs: by its own opening, or by the heading above it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from mmbuilder.page.form.targets import held, offered
from mmbuilder.page.parts._listed import kind_told
from mmbuilder.page.parts._ways import BETWEEN, stands_alone

_PLAN = re.compile(r"\W*(?:(?:the|our|my)\s)?plan(?:s|ned)?\b(?! [bcd]\b)", re.IGNORECASE)
_BULLET = re.compile(r"\s*(?:[-–—•*·▪‣]+|\(?[a-hA-H]\))\s+")
_NUMBER = re.compile(r"\s*\(?(\d{1,2})(?:[.)]\s+(?=\S)|[.):]?\s+(?=\D|\d{1,2}(?:st|nd|rd|th)\b))")
"""`1. 10:32 oozing`, `(2) stop`, `3 clocks`, `4 2nd clock`."""


@dataclass(frozen=True)
class Headed:
    """One line of a note.

    Attributes:
        under: the line that says where it belongs: itself, or a heading above it.
        heading: whether it is nothing but a heading.
        listed: whether it is an entry of a list below a heading: one thing, however many sentences it has.
    """

    text: str
    under: str
    heading: bool = False
    listed: bool = False


def headed(text: str) -> Iterator[Headed]:
    """Yield every line of a note that holds something.

    Below a heading that has its own line everything belongs to it, up to an empty line; below one with words
    behind it, and behind an empty line, only the entries of a list do. Behind those a line without a sign
    that belongs elsewhere by what it holds ends it; one set in from the margin does not.
    """
    above, lists_only, entry, signed = "", False, False, False
    for line in text.splitlines():
        own, begins = offered(line), listed(line)
        if not line.strip():
            lists_only = True
        elif own is not None and not (above and _of_ways(above, line, entry)):
            above, alone = line, own.heads(line)
            lists_only = not alone
            entry, signed = len(entries_within(line)) > 1, False
            yield Headed(line, line, heading=alone, listed=_is_first(own.rest(line)))
        elif plans(line):
            above, lists_only, entry = line, re.fullmatch(r"\W*\w+\W*", line) is None, False
            yield Headed(line, line)
        elif above and (
            begins
            or not (lists_only or _TIMED.match(line) or (signed and held(line)))
            or _of_ways(above, line, entry)
            or _of_visits(above, line)
            or _of_actions(above, line)
        ):
            entry, signed = True, signed or begins
            yield Headed(line, above, listed=begins and not plans(above))
        else:
            above = above if line[0].isspace() else ""
            yield Headed(line, line)


def _is_first(rest: str) -> bool:
    """Whether what stands behind an opening is the first entry of a list that the lines below go on with."""
    return _FIRST_ENTRY.match(rest) is not None


_FIRST_ENTRY = re.compile(r"1[.)]?\s+(?=[^\W\d])(?!.*\s\(?2[.)]\s|.*[.,;]\s+2\s)")


def _of_visits(above: str, line: str) -> bool:
    """Whether a line below the opening of visits begins with the day of another."""
    target = offered(above)
    return bool(target and target.name == "outcome/visits/note" and _DAY.match(line))


NOBODY = re.compile(r"\?*\s?(?:someone|somebody|anyone|anybody|who|nobody|tb[ac])\s?\?*", re.IGNORECASE)
"""`?someone - pulse check`: nobody is named yet."""
_WHO = re.compile(r"\s*(?P<who>[^,;():\d]{2,40}?)(?::|\s[-–—])\s+(?=\S)")
_PERSON = re.compile(r"(?:(?i:me|myself|all|everyone))|[A-Z][\w'’-]+ [A-Z][\w'’-]+")


def _of_actions(above: str, line: str) -> bool:
    """Whether a line below the opening of actions begins with who is to do another: `me: …`."""
    target, found = offered(above), _WHO.match(line)
    if found is None or target is None or target.name != "actions/what":
        return False
    who = found["who"].strip()
    return bool(NOBODY.fullmatch(who) or _PERSON.fullmatch(who) or kind_told(who).startswith("people:"))


_DAY = re.compile(r"\s*(?:on\s)?\d{1,2}[/.]\d{1,2}(?:[/.]\d{2,4})?(?:\s|[:,])")


def _of_ways(above: str, line: str, entry: bool) -> bool:
    """Whether a line below the heading of decisions is one with its ways forward, or the reason right behind.

    Args:
        above: the heading.
        line: one that would begin something else by its own words.
        entry: whether an entry of the heading stands before it.
    """
    target = offered(above)
    if target is None or target.name != "decisions/question":
        return False
    return bool(BETWEEN.search(line)) if _TIMED.match(line) else entry and stands_alone(line)


_TIMED = re.compile(
    r"\s*(?:~?(?:[01]\d|2[0-3])[:.]?[0-5]\d\b|sign(?:ed)?\b(?!.{0,12}\b(?:off|in|out)\b))", re.IGNORECASE
)
"""A line that begins with an hour is an event again, one that signs the note its end."""


_COMMA = re.compile(r"\s*[,;]\s+(?![^()\[\]]*[)\]])")
"""A comma outside brackets."""
_STROKE = re.compile(r"\s+/\s+(?![^()\[\]]*[)\]])")
"""A stroke between spaces, outside brackets: stronger than commas, and never within one thing."""
_LEAST = 3
"""Things on a line that make it a list of them."""
_JOINED = re.compile(
    r"(?:and|but|or|so|then|which|who|where|when|because|as|since|while|that"
    r"|owners?|by|due|before|from|until|measured?|audit|count(?:ed)?|check|target)\b",
    re.IGNORECASE,
)
"""What begins a part of the thing before it, no thing of its own: an owner, a day, the rest of a sentence."""


def things(text: str, *, sentences: bool = False) -> list[str]:
    """Return the things that strokes or commas part on a line, where there are several; else the line.

    Args:
        text: the line.
        sentences: whether one thing may be a sentence, or hold who is to do it and by when: it is only a list
            where no part of it leans on the one before.
    """
    strokes = _STROKE.split(text)
    if len(strokes) >= _LEAST and not any(map(_JOINED.match, strokes[1:])):
        return strokes
    found = _COMMA.split(text)
    lean = sentences and any(_leans(one) for one in found[1:])
    return found if len(found) >= _LEAST and not lean else [text]


def _leans(part: str) -> bool:
    last = re.findall(r"[\w-]+", part)[-1:]
    return _JOINED.match(part) is not None or len(part.split()) < 2 or bool(kind_told("".join(last)))


def without_marks(texts: list[str]) -> list[str]:
    """Return what stands under one heading without bullets, and without numbers that count it: 1, 2, 3."""
    numbers = _numbers(texts)
    signed = {number for text, number in zip(texts, numbers, strict=True) if counts(text)}
    rising = _rising(numbers)
    made = []
    for place, (text, number) in enumerate(zip(texts, numbers, strict=True)):
        beside = {*numbers[max(0, place - 1) : place], *numbers[place + 1 : place + 2]}
        beside |= signed if counts(text) else set()  # others may stand between those
        of_list = number and (beside & {number - 1 or number + 1, number + 1} or number in rising)
        mark = _NUMBER if _NUMBER.match(text) else _BEFORE_FIGURES
        made.append(_without(mark if of_list else _BULLET, text))
    return made


def _rising(numbers: list[int]) -> set[int]:
    """The numbers that count up from 1, of which one may be missing here and there: 1, 2, 3, 5; else none."""
    told = [one for one in numbers if one]
    steps = {after - before for before, after in pairwise(told)}
    return {*told} if told[:2] == [1, 2] and steps <= {1, 2} else set()


_BEFORE_FIGURES = re.compile(r"\s*(\d{1,2})\s+(?=\d)")
"""`3 20 cards`: counts an entry only where the one before it has the number before it."""


def _numbers(texts: list[str]) -> list[int]:
    """The number that each text begins with; 0 where it has none."""
    made = list[int]()
    for text in texts:
        found, bare = _NUMBER.match(text), _BEFORE_FIGURES.match(text)
        if found is None and bare and made and int(bare[1]) == made[-1] + 1 > 1:
            found = bare
        made.append(int(found[1]) if found else 0)
    return made


def plans(line: str) -> bool:
    """Whether a line tells what was to be, and nothing that happened: `Plan: low CVP, home day 5`."""
    return _PLAN.match(line) is not None


def counts(text: str) -> bool:
    """Whether a line begins with a number and a sign behind it, as an entry of a list: `1.`, `2)`."""
    return re.match(r"\s*\(?\d{1,2}[.)]\s", text) is not None


def listed(text: str) -> bool:
    """Whether a line begins as an entry of a list: with a sign, a letter or a number."""
    return (_BULLET.match(text) or _NUMBER.match(text)) is not None


_COUNTED = re.compile(r"(?:(?<=\s)|^)\(?(?P<mark>[1-9a-h])[.)]\s+(?=\S)")


def entries_within(text: str) -> list[str]:
    """Return the entries of a list on one line, `1. … 2. …` or `a) … b) …`, and what stands before them.

    A line without such a list is returned as it is; so is the opening alone before the first of them.
    """
    found = [*_COUNTED.finditer(text)]
    for first in "1a":
        cuts = list[int]()
        for one in found:
            if one["mark"] == chr(ord(first) + len(cuts)):
                cuts.append(one.start())
        if len(cuts) > 1:
            own = offered(text)
            bare = own is not None and not own.rest(text[: cuts[0]] + "x")[:-1].strip()
            cuts = [0, *cuts[bare:]] if cuts[0] else cuts
            return [text[start:end].strip() for start, end in zip(cuts, [*cuts[1:], len(text)], strict=True)]
    return [text]


def without_bullet(text: str) -> str:
    """Return a line without the sign that begins it as one of several."""
    return _without(_BULLET, text)


def _without(mark: re.Pattern[str], text: str) -> str:
    found = mark.match(text)
    return text[found.end() :] if found else text
