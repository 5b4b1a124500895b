"""Exact ages within a sentence, and how a reader outside may be told them: by the decade.

Only the words that tell the age are changed, so that the sentence around them stays true: `a
74-year-old man` becomes `a 70- to 79-year-old man`, `Man, 74,` becomes `Man in his 70s,`. What is
not told in years ("a 6-week-old girl") has no decade and becomes `[age]`. An age of 90 or more is
told as "90 or older" everywhere, and is left to what does that.

The phrasings are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from mmbuilder.case.apart import apart

LOST = "[age]"
"""Stands for an age that has no decade of its own."""

UNDER_TEN = "under 10"

_POOLED = 90
_FIRST_DECADE = 10

_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty")
_ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_WORDS = {ten: value for value, ten in zip(range(20, 90, 10), _TENS, strict=True)} | {
    one: value for value, one in enumerate(_ONES, 1)
}
_NUMBER = rf"(?:\d{{1,2}}(?:\.5|\s?½)?|(?:{'|'.join(_TENS)})(?:[\s-](?:{'|'.join(_ONES)}))?)"
_MALE = r"m[ae]n|gentlem[ae]n|boy|male|father|husband|brother|son|Mann|Junge"
_FEMALE = r"wom[ae]n|lady|girl|female|mother|wife|sister|daughter|Frau|Mädchen|Patientin"
_ANYBODY = r"patient|person|adult|child|infant|neonate|baby|teenager|adolescent|pensioner|driver"
_SOMEBODY = rf"(?P<who>(?:{_FEMALE}|{_MALE}|{_ANYBODY}))"
_CHILD = r"girl|boy|child|infant|neonate|newborn|baby|toddler|Mädchen|Junge"
_ENDS = r"(?=\s?[,;.:)–—]|$|\s(?:with|who|and|in|on|for|at|after|came|had|has|was|presented|underwent|mit)\b)"


@dataclass(frozen=True)
class ToldAge:
    """An age in a text.

    Attributes:
        start, end: where the words that are changed stand.
        instead: what may stand there outside the department.
    """

    start: int
    end: int
    instead: str


def find(text: str) -> Iterator[ToldAge]:
    """Yield every exact age under 90, in order of place; none overlaps another."""
    yield from apart(
        told for pattern, tell in _PATTERNS for match in pattern.finditer(text) if (told := tell(match))
    )


def _years(words: str) -> int:
    figures = re.match(r"\d+", words)
    return int(figures[0]) if figures else sum(_WORDS[word] for word in re.findall(r"[a-z]+", words.lower()))


def _range(join: str) -> Callable[[re.Match[str]], ToldAge | None]:
    """`74` becomes `70 to 79`; the article before it follows (`an 18` becomes `a 10`)."""

    def tell(match: re.Match[str]) -> ToldAge | None:
        years, (start, end) = _years(match["n"]), match.span("n")
        if years >= _POOLED:
            return None
        if years < _FIRST_DECADE:
            plain = join == " to "
            return ToldAge(start, end, UNDER_TEN) if plain else ToldAge(*match.span("all"), LOST)
        low = years // 10 * 10
        told = f"{low}{join if match.string[end : end + 1] == '-' else join.lstrip('-')}{low + 9}"
        article = re.search(r"\b(a)n\s$", match.string[:start], re.IGNORECASE)
        if article and low != 80:
            return ToldAge(article.start(), end, f"{article[1]} {told}")
        return ToldAge(start, end, told)

    return tell


def _in_decade(match: re.Match[str]) -> ToldAge | None:
    """`, 74` after a noun becomes ` in his 70s`."""
    years, who = _years(match["n"]), match["who"]
    if years >= _POOLED:
        return None
    decade = f"in {_whose(who)} {years // 10 * 10}s"
    if years < 2 * _FIRST_DECADE:
        decade = UNDER_TEN if years < _FIRST_DECADE else "aged 10 to 19"
    return ToldAge(*match.span("all"), f" {decade}" if match["all"][0] in " ," else decade)


def _whose(who: str) -> str:
    if re.fullmatch(rf"she|{_FEMALE}", who, re.IGNORECASE):
        return "her"
    return "his" if re.fullmatch(rf"he|{_MALE}", who, re.IGNORECASE) else "their"


def _under_ten(match: re.Match[str]) -> ToldAge:
    """`Girl, 5 weeks,` becomes `Girl under 10,`."""
    return ToldAge(*match.span("all"), f" {UNDER_TEN}")


def _no_decade(match: re.Match[str]) -> ToldAge:
    return ToldAge(*match.span("all"), LOST)


def _pattern(shape: str) -> re.Pattern[str]:
    return re.compile(shape, re.IGNORECASE)


_N = rf"(?P<n>{_NUMBER})"
_START = r"(?<![\w.,/:-])"
_PATTERNS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], ToldAge | None]], ...] = (
    (_pattern(rf"{_START}(?P<all>{_N}[\s-](?:years?|yrs?)[\s-]olds?)\b(?<!years old)"), _range("- to ")),
    (_pattern(rf"{_START}(?P<all>{_N}\s(?:years|yrs)(?:\sold|\sof\sage))\b"), _range(" to ")),
    (_pattern(rf"{_START}(?P<all>{_N}\s?y(?:rs?)?[./]?o\.?)(?!\w)"), _range(" to ")),
    (_pattern(rf"\b(?P<all>age[ds]?(?:\sof)?:?\s{_N})(?![\w%]|[.,:/]\d)"), _range(" to ")),
    (_pattern(rf"{_START}(?P<all>{_N}-?\s?jährige[mnrs]?)\b"), _range("- bis ")),
    (_pattern(rf"{_START}(?P<all>{_N}\sJahre\salt\w*)\b"), _range(" bis ")),
    (_pattern(rf"\b(?P<all>(?:de|d['’])\s?{_N}\s(?:años|ans|anos|anni))\b"), _range("-")),
    (_pattern(rf"\b{_SOMEBODY}(?P<all>(?:,\s|\sof\s|\s){_N}){_ENDS}"), _in_decade),
    (  # `girl, 5 weeks after` tells how long after
        _pattern(
            rf"\b(?:{_CHILD})(?P<all>(?:,\s|\sof\s)\d{{1,2}}\s?(?:days?|weeks?|months?|Tagen?|Wochen?|Monaten?))"
            r"(?=\s?[,;.:)]|$|\s(?:with|who|and|mit)\b)"
        ),
        _under_ten,
    ),
    (
        _pattern(
            rf"\b(?P<who>he|she|(?:the\s)?patient)\s(?:is|was|turned)\s(?P<all>{_N})(?=[,;.]|$|\sand\s)"
        ),
        _in_decade,
    ),
    (
        re.compile(rf"(?:^|(?<=[.;(]\s)|(?<=\ba\s))(?P<all>{_N}\s?/?\s?(?P<sex>[MF]))(?=\swith\b|[,;:])"),
        _no_decade,
    ),
    (
        _pattern(
            rf"{_START}(?P<all>(?:{_NUMBER}|\d{{1,3}}|one|two|three|four|five|six|seven|eight|nine|ten)[\s-]"
            rf"(?:day|week|month)[\s-]old)(?=\s(?:[a-z-]+\s){{0,2}}(?:{_FEMALE}|{_MALE}|{_ANYBODY})\b)"
        ),
        _no_decade,
    ),
)
