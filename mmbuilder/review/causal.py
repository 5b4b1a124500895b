"""A causal statement against the five rules of causation.

Something (cause) leads to something (effect) which makes the event more likely. The rules come from the
root-cause method of the VA National Center for Patient Safety, after Marx, and are taken over by RCA2
(National Patient Safety Foundation 2015); READ, check-values.md C2 [S57, S58]. Wording and examples are ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from mmbuilder.review import lint
from mmbuilder.review.phrases import Cues, cues, pattern, possible, squeezed
from mmbuilder.review.shipped import fields, read


class Kind(StrEnum):
    """What the cause in a statement is."""

    CONDITION = "condition"
    HUMAN_ACT = "human act"
    DEPARTURE = "departure from procedure"
    FAILURE_TO_ACT = "failure to act"


@dataclass(frozen=True)
class Breach:
    """A rule that a statement does not keep.

    Attributes:
        rule: its number, from 1 to 5.
        why: what is lacking, in plain words.
        example: how it may be put.
    """

    rule: int
    why: str
    example: str


_EXAMPLES = {
    1: (
        "three alarms sounding at once led to the pressure alarm going unheard, which increased the "
        "likelihood that the disconnection went on for 6 min"
    ),
    2: "not 'poor handover' but 'the handover sheet has no line for drains, so the drain was not spoken of'",
    3: (
        "two syringes of the same size lay side by side, which led to the wrong one being picked up, and so "
        "increased the likelihood of a tenfold dose"
    ),
    4: (
        "the count sheet was kept in the next theatre, so the second count was left out, which increased the "
        "likelihood of a swab being left"
    ),
    5: (
        "the unit's rule asks for a blood gas at 30 min; none was taken, as the analyser was being serviced, "
        "which increased the likelihood that the acidosis went unseen"
    ),
}


def check(text: str, kind: Kind, *, preceding: bool, duty: bool) -> tuple[Breach, ...]:
    """Return every rule that the statement breaks, in their order.

    Args:
        text: the statement: cause, effect and event.
        kind: what the cause is.
        preceding: whether what came before the cause is given.
        duty: whether the duty to act (a rule or standard in force then) is given.
    """
    return tuple(Breach(rule, why, _EXAMPLES[rule]) for rule, why in _broken(text, kind, preceding, duty))


def seems(text: str) -> Kind | None:
    """Return the kind of cause a text reads as where that is not a condition; a hint, to ask with."""
    plain = squeezed(text)
    likely = (kind for kind in map(Kind, ways().kinds) if possible(_cues(kind), plain))
    return next((kind for kind in likely if _spoken(kind).search(text)), None)


def _broken(text: str, kind: Kind, preceding: bool, duty: bool) -> Iterator[tuple[int, str]]:
    if not _links().search(text):
        yield 1, "nothing joins cause, effect and event; say what led to what"
    for word in dict.fromkeys(flag.word for flag in lint.find("descriptors", text)):
        yield 2, f"'{word}' judges and does not describe; say what was there, or what was not"
    if kind is Kind.HUMAN_ACT and not preceding:
        yield (
            3,
            "a human act stands without what came before it; people err for a reason, which can be changed",
        )
    if kind is Kind.DEPARTURE and not preceding:
        yield 4, "a departure from procedure stands without its reason; it is the reason that can be changed"
    if kind is Kind.FAILURE_TO_ACT and not duty:
        yield (
            5,
            "something not done is a cause only if there was a duty to do it; name the rule in force then",
        )


@dataclass(frozen=True)
class Ways:
    """How causes are spoken of, as the files say.

    Attributes:
        links: what joins cause, effect and event.
        kinds: ways to speak of each kind that needs more than itself to be fair, in the order they are tried.
    """

    source: str
    groups: dict[str, str]
    links: tuple[str, ...]
    kinds: dict[str, list[str]]


@cache
def ways() -> Ways:
    """Read them, in every language there is."""
    return Ways(**fields(read("causal")))


@cache
def _links() -> re.Pattern[str]:
    return re.compile(pattern(ways().links, ways().groups), re.IGNORECASE)


@cache
def _cues(kind: Kind) -> Cues:
    return cues(ways().kinds[kind], ways().groups)


@cache
def _spoken(kind: Kind) -> re.Pattern[str]:
    return re.compile(pattern(ways().kinds[kind], ways().groups), re.IGNORECASE)
