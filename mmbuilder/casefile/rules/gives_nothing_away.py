"""What the room reads before the recognition does not hold the answer."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache, lru_cache

from mmbuilder.case.freetext import FreeText
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import EventKind, Recognised

Stem = Callable[[str], str]
CODE = "gives-the-answer-away"
WHY = "a room that knows the answer does not think; hindsight begins with the first slide"
GOOD = "hold back: [bile leak]"
BAD = "{hold back: [unexpected finding], title: An unexpected finding in theatre}"

_SHORT = 4
"""Letters of a word in the name of a complication that is more than `the` or `of`."""
_SHORTEST = 6
"""Letters a word of a complication needs before it counts: shorter ones are too common."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each early text that holds a word to hold back, or a telling word of a complication."""
    stem = stemmer(ctx.case.language)
    held = [phrase for phrase in (_plain(one, stem) for one in ctx.case.hold_back) if phrase]
    telling = {frozenset(map(stem, words)): line for words, line in _telling(ctx, stem).items()}
    named = telling | _recognised(ctx, stem)
    for name, path, text in ctx.texts():
        padded = f" {_plain(text, stem)} "
        said = frozenset(padded.split())
        if any(f" {phrase} " in padded for phrase in held):
            stops = name in _OPENING
            yield Finding(
                path,
                f"`{name}` holds words you asked to hold back",
                found=f"words listed under hold back, on line {ctx.line(('hold back',))}",
                expected="neutral words: what was seen, not what it turned out to be",
                example=f"{name}: {_NEUTRAL.get(name, 'what was seen at that moment')}",
                severity=Severity.STOP if stops else Severity.WARN,
            )
        elif place := _told(said, named if name in _OPENING else telling):
            yield Finding(
                path,
                f"`{name}` holds a word of the complication",
                found=f"what also stands in the complication on line {place}",
                expected="neutral words, or nothing to do if it gives nothing away",
                severity=Severity.WARN,
            )


_OPENING = ("title", "situation")
"""What the room reads before anything else, and the trainees take home."""


def _told(said: frozenset[str], telling: dict[frozenset[str], int]) -> int | None:
    return next((line for words, line in telling.items() if words <= said), None)


_NEUTRAL = {
    "title": "An unexpected finding during a planned operation",
    "situation": "Something unexpected during a planned keyhole operation",
    "shows": "The operating field",
}


def telling(complication: str, plan: str, *, in_a_grade: bool, stem: Stem) -> tuple[str, ...]:
    """Return the words of a complication that tell it; words of the plan tell nothing, for all may know them.

    Nor does a word that begins one of the plan: `ureter` where a ureteroscopy is planned.

    Args:
        complication: as the event or the grade has it.
        plan: procedure and indication.
        in_a_grade: it is a short name, of which shorter words count too.
        stem: of the language, as `stemmer` returns it.
    """
    least, planned = _SHORT if in_a_grade else _SHORTEST, tuple(_words(plan))
    known = {stem(word) for word in (*planned, *_COMMON)}
    return tuple(
        dict.fromkeys(
            word
            for word in _words(complication)
            if len(word) >= least
            and stem(word) not in known
            and not any(one.startswith(word) for one in planned)
        )
    )


def _telling(ctx: Context, stem: Stem) -> dict[frozenset[str], int]:
    """Return what tells each complication, with its line: words that tell it where all of them stand.

    A long word of the event is enough; of the short name in a grade, all its words have to stand.
    """
    plan = _plan(ctx)
    found: dict[frozenset[str], int] = {}
    for place, event in enumerate(ctx.case.timeline.events):
        if event.kind is EventKind.COMPLICATION:
            for word in telling(event.what.value, plan, in_a_grade=False, stem=stem):
                found.setdefault(frozenset({word}), ctx.line((*EVENTS, place, "what")))
    for place, grade in enumerate(ctx.case.outcome.grades):
        named = grade.complication.value if grade.complication else ""
        if words := frozenset(telling(named, plan, in_a_grade=True, stem=stem)):
            found.setdefault(words, ctx.line(("outcome", "grades", place, "complication")))
    return found


def _recognised(ctx: Context, stem: Stem) -> dict[frozenset[str], int]:
    """Return the words by which the complication was recognised, with their line: often they alone name it.

    What an event before it says, the room has heard by then.
    """
    found: dict[frozenset[str], int] = {}
    for place, event, seen in ctx.of_kind(EventKind.RECOGNITION):
        before = (
            other.what.value
            for other, moment in zip(ctx.case.timeline.events, ctx.moments, strict=True)
            if other.kind is not EventKind.COMPLICATION and moment and moment.certainly_before(seen)
        )
        if event.recognised is not Recognised.CAUSE:
            known = " ".join((_plan(ctx), *before))
            for word in telling(event.what.value, known, in_a_grade=False, stem=stem):
                found.setdefault(frozenset({stem(word)}), ctx.line((*EVENTS, place, "what")))
    return found


def _plan(ctx: Context) -> str:
    return " ".join(text.value for text in (ctx.case.plan.procedure, ctx.case.plan.indication) if text)


_COMMON = frozenset(
    {
        "during",
        "before",
        "behind",
        "between",
        "patient",
        "theatre",
        "surgery",
        "operation",
        "without",
        "through",
    }
    | {
        "anterior",
        "posterior",
        "superior",
        "inferior",
        "lateral",
        "medial",
        "proximal",
        "distal",
        "unexpected",
    }
    | {
        "anaesthetist",
        "confirmed",
        "consultant",
        "diagnosed",
        "noticed",
        "recognised",
        "recognized",
        "registrar",
        "surgeon",
        "suspected",
    }
    | {"bestätigt", "bemerkt", "erkannt", "festgestellt", "vermutet"}
)
"""Words that stand in many a complication, and in how it was recognised, and tell neither."""


_SPOKEN = {"en": "english", "de": "german"}


@cache
def stemmer(language: str) -> Stem:
    """What takes the ending off a word, so that `avulsed` tells `avulsion`; nothing, in any other language.

    Source: M. F. Porter's Snowball, through the library of that name.
    """
    import snowballstemmer

    known = _SPOKEN.get(language)
    return lru_cache(maxsize=4096)(snowballstemmer.stemmer(known).stemWord) if known else str


def _plain(text: FreeText, stem: Stem) -> str:
    return " ".join(map(stem, _words(text.value)))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold())
