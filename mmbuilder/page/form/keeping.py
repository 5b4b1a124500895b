"""What the form sends, as changes to the text of a file: pure, from text to text."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.reader import MOST_CHARACTERS
from mmbuilder.casefile.shape import Slot, owner, slot_at, slots
from mmbuilder.errors import OutputNotWritable
from mmbuilder.page.form import patch
from mmbuilder.page.form.choices import NAMED, NEW_NAME, entries, entry, word
from mmbuilder.page.form.layout import words
from mmbuilder.page.form.opened import opened
from mmbuilder.page.form.scalars import tidied
from mmbuilder.page.form.view import shown


class NotKept(OutputNotWritable):
    """A change that cannot be made; nothing was changed."""


@dataclass(frozen=True)
class Did:
    """What a change of a list did.

    Attributes:
        said: it in words.
        at: the entry to go to; None where there is none left.
    """

    said: str
    at: Path | None


def path_of(sent: Any, model: type[BaseModel]) -> Path:
    """Return a path as the form sent it, if the schema has such a place.

    Raises:
        NotKept: it has not.
    """
    steps: Path = tuple(sent) if isinstance(sent, list) else ()
    good = bool(steps) and all(
        isinstance(step, str) or (isinstance(step, int) and not isinstance(step, bool) and step >= 0)
        for step in steps
    )
    if not good or slot_at(model, steps) is None or not _numbered_as_listed(steps, model):
        raise NotKept("the form sent a place that no case has; load the page again")
    return steps


def _numbered_as_listed(steps: Path, model: type[BaseModel]) -> bool:
    """Whether each list of parts on the way is numbered, and nothing else."""
    inner: type[BaseModel] | None = model
    at = 0
    while at < len(steps):
        step = steps[at]
        slot = slots(inner).get(step) if inner is not None and isinstance(step, str) else None
        if slot is None:
            return False
        inner = slot.part
        numbered = at + 1 < len(steps) and isinstance(steps[at + 1], int)
        if numbered and not (slot.many and slot.part is not None):
            return False
        if not numbered and slot.many and at + 1 < len(steps):
            return False
        at += 2 if numbered else 1
    return True


def set_value(text: str, model: type[BaseModel], path: Path, typed: str) -> str:
    """Return the text of a file with a value as it was typed; empty removes it.

    Raises:
        NotKept: it is too long, or its place is gone.
    """
    slot = slot_at(model, path)
    if slot is None or slot.part is not None or isinstance(path[-1], int):
        raise NotKept("the form sent words for a place that holds none; load the page again")
    if max(map(len, typed.splitlines()), default=0) > MOST_CHARACTERS:
        raise NotKept(f"this is longer than {MOST_CHARACTERS:,} characters; split it")
    return _changed(text, model, lambda base, values: _with_value(base, values, model, path, slot, typed))


def _changed(text: str, model: type[BaseModel], change: Callable[[str, dict[str, Any]], str]) -> str:
    """Make a change on the text as the form has it; the same text where nothing comes of it."""
    now = opened(text, model)
    if now is None:
        raise NotKept("the file is not readable as it stands; mend the faults of its text first")
    try:
        after = change(now.text, now.values)
    except patch.Gone:
        raise NotKept("the entry is no longer there; load the page again") from None
    return text if after == now.text else after


def _with_value(
    text: str, values: dict[str, Any], model: type[BaseModel], path: Path, slot: Slot, typed: str
) -> str:
    lines = [line for line in map(tidied, typed.split("\n")) if line]
    new = "\n".join(lines) if slot.many else " ".join(lines)
    if new == shown(entry(values, path), slot):
        return text
    if listed := NAMED.get(_choice(model, path)):
        text, lines = _named(text, model, listed, lines)
    if not lines:
        return patch.take(text, path)
    if slot.many:
        return patch.put_lines(text, model, path, lines)
    value = patch.as_row(lines[0], slot.length) if slot.kind is tuple else " ".join(lines)
    return patch.put(text, model, path, value)


def _choice(model: type[BaseModel], path: Path) -> str:
    """What a value is chosen from, if it is."""
    inner = owner(model, path)
    return words(inner.__name__).keys[str(path[-1])].choice if inner is not None else ""


def _named(text: str, model: type[BaseModel], listed: Path, lines: list[str]) -> tuple[str, list[str]]:
    """Give each entry of a list that was chosen by its number a short name."""
    called = words(_part(model, listed).__name__).one
    made = []
    for line in lines:
        number = line.removeprefix(NEW_NAME)
        if line.startswith(NEW_NAME) and number.isdecimal():
            now = opened(text, model)
            taken = {word(one, "id") for one in entries(now.values if now else None, *listed)}
            at = int(number)
            name = next(name for name in _names(f"{called} {at + 1}") if name not in taken)
            text = patch.put(text, model, (*listed, at, "id"), name)
            line = name
        made.append(line)
    return text, made


def _names(name: str) -> Iterator[str]:
    yield name
    yield from (f"{name}.{more}" for more in range(1, 1000))


def add(text: str, model: type[BaseModel], path: Path) -> tuple[str, Did]:
    """Return the text with a new entry at the end of a list."""
    part = _part(model, path)
    count = 0

    def change(base: str, values: dict[str, Any]) -> str:
        nonlocal count
        found = entry(values, path)
        count = len(found) if isinstance(found, list) else int(isinstance(found, dict))
        if isinstance(found, str) and found:
            base = patch.take(base, path)  # `none` in place of a list
        first = next((key for key, slot in slots(part).items() if slot.required), next(iter(slots(part))))
        return patch.add(base, model, path, {first: ""})

    after = _changed(text, model, change)
    return after, Did(f"Added {words(part.__name__).one} {count + 1}.", (*path, count))


def remove(text: str, model: type[BaseModel], path: Path) -> tuple[str, Did]:
    """Return the text without an entry."""
    part, at = _part(model, path[:-1]), _number(path)
    left = 0

    def change(base: str, values: dict[str, Any]) -> str:
        nonlocal left
        found = entry(values, path[:-1])
        left = len(found) - 1 if isinstance(found, list) else 0
        return patch.drop(base, path[:-1], at)

    after = _changed(text, model, change)
    said = f"Removed {words(part.__name__).one} {at + 1}. Undo brings it back."
    return after, Did(said, (*path[:-1], min(at, left - 1)) if left else None)


def move(text: str, model: type[BaseModel], path: Path, by: int) -> tuple[str, Did]:
    """Return the text with an entry one place up (-1) or down (1)."""
    part, at = _part(model, path[:-1]), _number(path)
    after = _changed(text, model, lambda base, _: patch.shift(base, path[:-1], at, at + by))
    one = words(part.__name__).one
    return after, Did(f"{one.capitalize()} {at + 1} is now number {at + by + 1}.", (*path[:-1], at + by))


def say_nothing(text: str, model: type[BaseModel], path: Path, said: bool) -> tuple[str, Did]:
    """Return the text with the word `none` in place of a list, or without it."""
    part_words = words(getattr(owner(model, path), "__name__", ""))
    if not part_words.keys[str(path[-1])].nothing:
        raise NotKept("a list that is empty is not written here")

    def change(base: str, values: dict[str, Any]) -> str:
        if entry(values, path) not in (None, "", []) and said:
            raise NotKept("there are entries in the list; remove them first")
        return patch.put(base, model, path, "none") if said else patch.take(base, path)

    return _changed(text, model, change), Did("Said." if said else "Taken back.", path)


def _part(model: type[BaseModel], path: Path) -> type[BaseModel]:
    slot = slot_at(model, path)
    if slot is None or slot.part is None or not slot.many or isinstance(path[-1], int):
        raise NotKept("the form sent a list that no case has; load the page again")
    return slot.part


def _number(path: Path) -> int:
    if not isinstance(path[-1], int):
        raise NotKept("the form sent an entry without its number; load the page again")
    return path[-1]
