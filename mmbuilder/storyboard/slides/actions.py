"""What is to change: strength, owner (role), date and measure; stamped without one of the last three.

What a chair asks besides (how it is counted, for how long, baseline, review) is no stamp: among many,
the action that nobody owns would not be seen. It is told in the notes, and on paper below the table.
"""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.analysis.action_log import measured
from mmbuilder.safe.case import Action
from mmbuilder.safe.terms import Strength, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Block, Cell, Paragraph, Slide, Table, Tone
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("actions: the case lists none")

INCOMPLETE = wording("INCOMPLETE")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row an action."""
    actions = context.case.actions
    if not actions:
        return ()
    blocks: list[Block] = [_brief(actions) if context.planned.brief else _table(actions)]
    if weak := _weak(actions):
        blocks.append(Paragraph(weak, Tone.STRONG))
    notes = [wording("Two minutes. Agree owner, date and measure in the room; fill in what is missing.")]
    if unsettled := _unsettled(actions):
        if context.on_slides:
            notes.append(unsettled)
        else:
            blocks.append(Paragraph(unsettled, Tone.QUIET))
    return (Slide("actions", _headline(actions), tuple(blocks), tuple(notes), context.seconds),)


def _table(actions: tuple[Action, ...]) -> Table:
    return Table(
        header=(
            wording("Action"),
            wording("Strength"),
            wording("Owner (role)"),
            wording("Due"),
            wording("Measure"),
        ),
        rows=tuple(_row(action) for action in actions),
        shares=(3.2, 1.5, 1.9, 1.7, 3.2),
        caption=wording("Actions with strength, owner role, due date and measure"),
    )


def _brief(actions: tuple[Action, ...]) -> Table:
    """The same in three columns: narrow ones take lines that a paper of one page has not.

    What has to be read in any case stands first, for a cell may be cut short.
    """
    rows = tuple(_brief_row(action) for action in actions)
    return Table(
        header=(wording("Action (strength)"), wording("Due; owner (role)"), wording("Measure")),
        rows=rows,
        shares=(4.4, 2.2, 4.4),
        caption=EMPTY,
    )


def _brief_row(action: Action) -> tuple[Cell, ...]:
    what, _, _, due, measure = _row(action)
    if action.strength:
        named = fill(
            "A{n} ({strength}) {what}",
            n=action.number,
            strength=term(action.strength),
            what=capital(action.what),
        )
        what = replace(what, text=named)
    return what, Cell(join("; ", (action.due, action.owner)) or due.text), measure


def _unsettled(actions: tuple[Action, ...]) -> SafeText:
    """`Still to settle: baseline (A1, A3); review (A1).`, by what is asked, as actions lack the same."""
    lacking: dict[SafeText, list[SafeText]] = {}
    for action in actions:
        for part in action.to_settle:
            lacking.setdefault(part, []).append(fill("A{n}", n=action.number))
    told = (
        fill("{part} ({actions})", part=part, actions=join(", ", which)) for part, which in lacking.items()
    )
    return sentence(fill("Still to settle: {parts}", parts=join("; ", told))) if lacking else EMPTY


def _weak(actions: tuple[Action, ...]) -> SafeText:
    """Say which actions only ask people to remember: weaker ones do not stand without comment."""
    weaker = [action for action in actions if action.strength is Strength.WEAKER]
    if not weaker:
        return EMPTY
    if len(weaker) == len(actions):
        return wording("All of these are weaker actions: none changes the system itself.")
    names = join(", ", (fill("A{n}", n=action.number) for action in weaker))
    return fill("{names}: weaker, relies on people to remember. What would make it unnecessary?", names=names)


def _row(action: Action) -> tuple[Cell, ...]:
    missing = action.missing
    stamp = fill("{word}: {parts}", word=INCOMPLETE, parts=join(", ", missing)) if missing else EMPTY
    unsaid = wording("not stated")
    strength = capital(term(action.strength)) if action.strength else unsaid
    return (
        Cell(fill("A{n} {what}", n=action.number, what=capital(action.what)), stamp=stamp, strong=True),
        Cell(strength),
        Cell(action.owner or unsaid),
        Cell(action.due or unsaid),
        Cell(_measured(action) or unsaid),
    )


def _measured(action: Action) -> SafeText:
    baseline = fill("now: {baseline}", baseline=action.baseline) if action.baseline else EMPTY
    return join("; ", (measured(action), baseline)) if action.measure else EMPTY


def _headline(actions: tuple[Action, ...]) -> SafeText:
    count = counted(len(actions), wording("action"), wording("actions"))
    incomplete = sum(bool(action.missing) for action in actions)
    if incomplete:
        among = counted(incomplete, wording("of them"), wording("of them"))
        return sentence(fill("{count}, {among} still incomplete", count=count, among=among))
    if len(actions) == 1:
        return wording("One action, with an owner, a date and a measure.")
    return sentence(fill("{count}, each with an owner, a date and a measure", count=count))
