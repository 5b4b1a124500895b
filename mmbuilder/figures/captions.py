"""The words on the chart for an event or a decision, the fullest form first."""

from __future__ import annotations

from mmbuilder.safe.case import Event
from mmbuilder.safe.terms import EventKind, Noticed, Recognised, Sureness, term
from mmbuilder.safe.text import EMPTY, SafeText, again, capital, fill, join, phrase, wording

WORDS = 6
"""Longest label."""

HINDSIGHT = wording("In hindsight:")
"""Before a sign that nobody noted then; a cut leaves it out, for nobody knew yet."""

_WITH_DOSE = 8
"""Longest label that has a dose and a route in it."""


_UNDER_FLAG = (12, 9)
"""Words under a flag that has the room (common practice, no source)."""


def event_captions(event: Event) -> tuple[SafeText, ...]:
    """Return the label with its sort, dose and doubt, then shorter forms of it."""
    name = phrase(event.label or event.what, WORDS)
    full = with_dose(name, event.dose)
    texts = (full, name) if full.words() <= _WITH_DOSE else (name,)
    sort, doubt = _sort(event), _doubt(event.sure)
    forms = [join(" ", (sort, text, doubt)) for text in texts] + [join(" ", (name, doubt))]
    return tuple(dict.fromkeys(forms))


def listed_caption(event: Event) -> SafeText:
    """Return the words for the list under the chart, where there is room for a dose."""
    return join(" ", (with_dose(phrase(event.label or event.what, WORDS), event.dose), _doubt(event.sure)))


def with_dose(name: SafeText, dose: SafeText) -> SafeText:
    """Join a drug's name and dose, without naming the drug twice: `Labetalol 10 mg IV`."""
    if not dose or dose.within(name):
        return name
    first, last = dose.split()[0], name.split()[-1] if name else EMPTY
    if _same(first, last):
        return join(" ", (name, again(dose.split()[1:])))
    if any(_same(first, word) for word in name.split()):
        return capital(dose)
    return join(" ", (name, dose))


def _same(one: SafeText, two: SafeText) -> bool:
    return bool(one) and len(one) == len(two) and one.within(two)


def _sort(event: Event) -> SafeText:
    """Return what sort of sign or recognition it is, for one that flies no flag."""
    if event.kind is EventKind.FIRST_SIGN:
        return _SORTS[event.noticed]
    named = wording("cause").within(event.label or event.what)
    return EMPTY if named or event.kind is not EventKind.RECOGNITION else _SORTS[event.recognised]


_SORTS: dict[Noticed | Recognised | None, SafeText] = {
    None: EMPTY,
    Noticed.AT_THE_TIME: wording("Noted:"),
    Noticed.IN_HINDSIGHT: HINDSIGHT,
    Recognised.COMPLICATION: EMPTY,
    Recognised.CAUSE: wording("Cause:"),
}


def _doubt(sure: Sureness) -> SafeText:
    if sure is Sureness.CERTAIN:
        return EMPTY
    return fill("({sure})", sure=wording("certainty unknown") if sure is Sureness.UNKNOWN else term(sure))


def flag_captions(event: Event) -> tuple[SafeText, ...]:
    """Return the words under a flag, which says itself what sort of mark it is; the last the usual form.

    A flag has a line to itself, so it may have more words than a label.
    """
    texts = (phrase(event.label or event.what, most) for most in (*_UNDER_FLAG, WORDS))
    return tuple(dict.fromkeys(join(" ", (text, _doubt(event.sure))) for text in texts))


def decision_captions(number: int, words: SafeText) -> tuple[SafeText, ...]:
    """`D1 Drain tonight, or wait?`, or if the question was cut short only `D1`."""
    code = fill("D{number}", number=number)
    cut_short = not words or words.split()[-1] == wording("…")
    return (code,) if cut_short else (join(" ", (code, words)), code)
