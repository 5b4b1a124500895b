"""The parts of an action in a line of the note: owner, day, measure and strength come out of its words."""

from __future__ import annotations

import re

from mmbuilder.case.dates import MONTH, month_of
from mmbuilder.case.tidy import tidy
from mmbuilder.page.form.days import meant
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._owner import owner_in
from mmbuilder.page.parts._parted import Parted
from mmbuilder.safe.terms import Strength

NAME = "actions/what"

_NTH = r"(?:st|nd|rd|th)?"
DAY = (
    rf"(?:\d{{4}}-\d\d-\d\d|(?!\d{{1,2}}/52\b)\d{{1,2}}[/.]\d{{1,2}}(?:[/.](?:\d\d){{1,2}})?"
    rf"|(?:the )?(?:start|beginning|early|mid|middle|end|late)[ -](?:of )?{MONTH} ['’]?\d\d(?!\d)"
    rf"|(?:the )?\d{{1,2}}{_NTH} (?:of )?{MONTH}(?:,? (?:\d{{4}}|\d\d))?"
    rf"|{MONTH} \d{{1,2}}{_NTH}(?:,? \d{{4}})?"
    rf"|(?:the )?(?:(?:start|beginning|early|mid|middle|end|late)[ -])?(?:of )?{MONTH}(?: \d{{4}})?)(?![\w/])"
)
_LENGTH = (
    r"(?:with)?in (?:\d{1,3}|an?|one|two|three|four|five|six|eight|nine|ten|twelve)"
    r" (?:days?|weeks?|months?|years?)\b(?! (?:of|after|from|before|post))"
)
WEEKDAY = r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*,? (?=\d))?"
"""The weekday before a day, which says it once more."""
_DUE = re.compile(
    r"[\s,;(-]*\b(?:(?:due|by|before|from|until|till|deadline|start(?:ing)?)(?: on| from)?:? "
    rf"{WEEKDAY}(?P<day>{DAY})"
    rf"(?:\s(?:changeover|rotation|intake)\b)?"
    rf"|(?P<length>{_LENGTH}))",
    re.IGNORECASE,
)
_ALONE = re.compile(rf"[\s,;(-]+{WEEKDAY}(?P<day>{DAY})[\s).]*$", re.IGNORECASE)
"""A day at the end of the line, with nothing before it that says what it is."""
_MEASURE = re.compile(
    r"(?:[,;.(]|\s[–—-]\s(?=audit))\s*(?P<said>(?:(?:daily|weekly|monthly|quarterly|yearly|annual|spot) )?"
    r"(?:audit|count(?:ed)?|measure(?:d| of)?|target|check)\b ?(?:by|as|:)? ?[^;()]*?)"
    r"(?=[;)]|\s[–—-]\s|\.?$)",
    re.IGNORECASE,
)


def parted(words: str, known: Known) -> Parted:
    """Take an action apart. An owner is a role: a name becomes that of the private list, or is asked for."""
    words, fields = _strength(words)
    why = dict[str, str]()
    if due := _DUE.search(words) or _ALONE.search(words):
        found = due.groupdict()
        fields["due"] = found.get("length") or day_meant(found["day"], known)
        if of_month := _of_month(found.get("day") or "", known):
            fields["due"], why["due"] = (
                of_month,
                f"{found['day']} is taken for a month and its year: say the day",
            )
        words = _cut(words, due.start(), due.end())
    if measure := _MEASURE.search(words):
        fields["measure"] = _LED.sub("", measure["said"])
        words = _cut(words, measure.start(), measure.end("said"))
    if "due" not in fields and (due := _ALONE.search(words)):  # it stood before the measure
        fields["due"] = day_meant(due["day"], known)
        words = _cut(words, due.start(), due.end())
    owner = owner_in(words, known)
    if owner is not None:
        words, fields["owner"] = _cut(words, owner.start, owner.end), owner.role
        if owner.unknown:
            why["owner"] = f"{owner.unknown}: write the role; the list of names tells none"
    return Parted(_tidied(words) if fields else words, fields, why)


_LED = re.compile(r"measured?\s*(?:(?:by|as|:|=|-)\s*|(?=\d))", re.IGNORECASE)


def _strong(name: str) -> str:
    return (
        rf"(?P<{name}>strong(?:er|est)?|intermediate|medium|moderate|weak(?:er|est)?)"
        r"(?:[ -](?:action|strength|effect))?"
    )


_COLON = r"\s*:\s*|"


def _since(name: str, words: str, signs: str = r"\s*[:;–—-]\s*|") -> str:
    return rf"(?:(?:{signs}\s+(?=(?:because|as|since)\b))(?P<{name}>{words}))?"


_STRENGTH = re.compile(
    rf"\s*[(\[]\s*(?:strength\s*[:=]?\s*)?{_strong('alone')}\s*{_since('why', '[^()[]+?')}[)\]]"
    rf"|(?<=[(,;])\s*(?:strength\s*[:=]?\s*)?{_strong('among')}\s*(?=[,;)][^()]*\)|\))"
    rf"|[\s,;:–—-]*\bstrength\s*[:=–-]?\s*{_strong('said')}\b"
    rf"{_since('why_said', '[^,;]+?', signs='')}(?=[,;:]|\.?$)"
    rf"|\s+[–—-]+\s*{_strong('last')}{_since('why_last', '.+?', signs=_COLON)}"
    r"(?=\.?\s*$|\s+[–—-]|[,;])",
    re.IGNORECASE,
)
"""`(strong)`, `[weak action]`, `strength: intermediate`, `(strong: a forcing function)`, `… - weak`."""
_HIERARCHY = {
    "s": Strength.STRONGER,
    "i": Strength.INTERMEDIATE,
    "m": Strength.INTERMEDIATE,
    "w": Strength.WEAKER,
}
_BECAUSE = re.compile(r"(?:because|as|since)\s+", re.IGNORECASE)


def _strength(words: str) -> tuple[str, dict[str, str]]:
    """Words without the strength of an action that is said outright, and what was said."""
    if (found := _STRENGTH.search(words)) is None:
        return words, {}
    said = next(found[name] for name in ("alone", "among", "said", "last") if found[name])
    why = next((found[name] for name in ("why", "why_said", "why_last") if found[name]), "")
    fields = {"strength": _HIERARCHY[said[0].lower()].value}
    return _cut(words, found.start(), found.end()), fields | (
        {"strength reason": _BECAUSE.sub("", why, count=1).strip(" .")} if why else {}
    )


_MONTH_AND_FIGURES = re.compile(rf"(?P<month>{MONTH}) (?P<figures>\d\d)", re.IGNORECASE)


def _of_month(words: str, known: Known) -> str:
    """The end of a month that has the figures of this year or the next behind it, `feb 27`; else nothing.

    A month that is over cannot be meant, nor can figures of another year.
    """
    found, near = _MONTH_AND_FIGURES.fullmatch(words), known.near
    if found is None or near is None:
        return ""
    year = near.year - near.year % 100 + int(found["figures"])
    month = month_of(found["month"].lower())
    coming = year == near.year + 1 or (year == near.year and month >= near.month)
    return next(iter(meant(f"end of {found['month']} {year}", near)), "") if coming else ""


_MONTH_ALONE = re.compile(rf"(?:the )?(?:of )?{MONTH}(?: \d{{4}})?", re.IGNORECASE)


_SHORT_YEAR = re.compile(rf"(?<=[a-z][ -])(?P<month>(?:of )?{MONTH}) ['’]?(?P<year>\d\d)$", re.IGNORECASE)
"""`end Jan 27`: behind a part of a month, figures are its year."""


def day_meant(words: str, known: Known) -> str:
    """Return a day in words where it can only be one, or the note has days first; else as it was typed.

    A month alone is no day: the form asks which, where a day is needed.
    """
    words = _SHORT_YEAR.sub(r"\g<month> 20\g<year>", words)
    if _MONTH_ALONE.fullmatch(words):
        return words
    days = meant(tidy(words), known.near)
    figures = re.fullmatch(r"(\d{1,2})[/.](\d{1,2})([/.].*)?", words)
    if len(days) > 1 and figures:
        told = {str(day) for day, _ in known.orders(int(figures[1]), int(figures[2]))}
        days = tuple(day for day in days if day.split()[0] in told)
    return days[0] if len(days) == 1 else words.rstrip(".")


# Words that are left


def _cut(words: str, start: int, end: int) -> str:
    return f"{words[:start]} {words[end:]}"


def _tidied(words: str) -> str:
    """Words without the signs that parted them from what was taken out."""
    words = re.sub(r"\(\s*[,;]?\s*", "(", re.sub(r"\s*[,;]?\s*\)", ")", words)).replace("()", " ")
    words = re.sub(r"\s+([,;.)])", r"\1", " ".join(words.split()))
    return re.sub(r"\s*\($", "", re.sub(r"[,;]+(?=[,;.])", "", words).strip(" ,;:.–—-"))
