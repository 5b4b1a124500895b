"""What the form sends, as changes to the text of a file: pure, from text to text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.case.tidy import tidy
from mmbuilder.casefile.reader import MOST_CHARACTERS
from mmbuilder.casefile.shape import Slot, owner, slot_at, slots
from mmbuilder.errors import OutputNotWritable
from mmbuilder.page.form import nodes, patch
from mmbuilder.page.form.choices import NAMED, NEW_NAME, entries, entry, word
from mmbuilder.page.form.layout import Key, words
from mmbuilder.page.form.nodes import Tree
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
    _bounded(max(typed.splitlines(), key=len, default=""))
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
    if listed := listed_by_name(model, path):
        if new := _key(model, path).new:
            known = {*shown(entry(values, path), slot).split("\n")}
            known |= {word(one, "id") for one in entries(values, *listed)}
            text, lines = _written_anew(text, model, listed, new, lines, known)
        text, lines = _named(text, model, listed, lines)
    if not lines:
        return patch.take(text, path)
    if slot.many:
        return patch.put_lines(text, model, path, lines)
    value = patch.as_row(lines[0], slot.length) if slot.kind is tuple else " ".join(lines)
    return patch.put(text, model, path, value)


def listed_by_name(model: type[BaseModel], path: Path) -> Path | None:
    """Return the list whose entries a value points to, if it does."""
    return NAMED.get(_key(model, path).choice)


def _key(model: type[BaseModel], path: Path) -> Key:
    inner = owner(model, path)
    assert inner is not None
    return words(inner.__name__).keys[str(path[-1])]


def _written_anew(
    text: str, model: type[BaseModel], listed: Path, key: str, lines: list[str], known: set[str]
) -> tuple[str, list[str]]:
    """Make a new entry of each line that is none of those to choose from; return the lines as choices."""
    made = []
    for line in lines:
        if line in known or _number_of(line):
            made.append(line)
        else:
            text, path = _with_entry(text, model, listed, {key: line})
            made.append(f"{NEW_NAME}{path[-1]}")
    return text, made


def _number_of(line: str) -> str:
    """The number by which an entry without a short name is chosen, if that is what a line is."""
    number = line.removeprefix(NEW_NAME)
    return number if line.startswith(NEW_NAME) and number.isdecimal() else ""


def _named(text: str, model: type[BaseModel], listed: Path, lines: list[str]) -> tuple[str, list[str]]:
    """Give each entry of a list that was chosen by its number a short name."""
    called = words(_part(model, listed).__name__).one
    made = []
    for line in lines:
        if number := _number_of(line):
            now = opened(text, model)
            taken = {word(one, "id") for one in entries(now.values if now else None, *listed)}
            at = int(number)
            line = word(now.values if now else None, *listed, at, "id")
            if not line:  # another value may have named it meanwhile
                line = next(name for name in _names(f"{called} {at + 1}") if name not in taken)
                text = patch.put(text, model, (*listed, at, "id"), line)
        made.append(line)
    return text, made


def _names(name: str) -> Iterator[str]:
    yield name
    yield from (f"{name}.{more}" for more in range(1, 1000))


def add(text: str, model: type[BaseModel], path: Path) -> tuple[str, Did]:
    """Return the text with a new entry at the end of a list."""
    part = _part(model, path)
    after, made = put_in(text, model, [New(path, _bare(part))])
    return after, Did(f"Added {words(part.__name__).one} {_number(made[0]) + 1}.", made[0])


@dataclass(frozen=True)
class New:
    """Words that come to what stands at a path: of a list of parts, an entry by its keys.

    Attributes:
        at: the number that an entry gets; None for the end of its list.
    """

    path: Path
    said: str | Mapping[str, patch.Value]
    at: int | None = None


def put_in(text: str, model: type[BaseModel], new: Iterable[New]) -> tuple[str, list[Path]]:
    """Return the text with new entries, new lines, and words behind those that stand there, and the places.

    Raises:
        NotKept: it is too long, or its place is gone.
    """
    made: list[Path] = []

    def change(base: str, _: dict[str, Any]) -> str:
        for one in new:
            if isinstance(one.said, str):
                base, place = _with_words(base, model, one.path, one.said)
            else:
                base, place = _with_entry(base, model, one.path, one.said, one.at)
            made.append(place)
        return base

    return _changed(text, model, change), made


def _with_entry(
    text: str,
    model: type[BaseModel],
    path: Path,
    said: Mapping[str, patch.Value],
    place: int | None = None,
) -> tuple[str, Path]:
    text, entry = _whole_entry(text, model, path, said)
    found = _standing(text, path)
    if isinstance(found, str) and tidy(found) == "none":  # in place of a list
        text, found = patch.take(text, path), None
    count = len(found) if isinstance(found, list) else int(bool(found))
    at = count if place is None else min(place, count)
    return patch.add(text, model, path, entry, at if at < count else None), (*path, at)


def _whole_entry(
    text: str, model: type[BaseModel], path: Path, said: Mapping[str, patch.Value]
) -> tuple[str, dict[str, patch.Value]]:
    """Return a new entry with its keys in the order of the schema and the rows that it begins with.

    What points to another entry by its number gives that one a short name.
    """
    part, made = _part(model, path), dict[str, patch.Value]()
    for key, slot in slots(part).items():
        value, inner = said.get(key), slot.part
        if listed := NAMED.get(words(part.__name__).keys[key].choice) if value else None:
            lines = [str(one) for one in value] if isinstance(value, list) else [str(value)]
            text, lines = _named(text, model, listed, lines)
            made[key] = [*lines] if isinstance(value, list) else lines[0]
        elif isinstance(value, str):
            made[key] = tidied(value)
        elif inner is not None and slot.many:
            rows = [*value] if isinstance(value, list) else []
            rows += [_bare(inner)] * (words(inner.__name__).rows - len(rows))
            made |= {key: rows} if rows else {}
        elif isinstance(value, list):  # lines of words
            made[key] = [*value]
    return text, made


def _bare(part: type[BaseModel]) -> dict[str, patch.Value]:
    """An entry that holds nothing yet but its first key."""
    first = next((key for key, slot in slots(part).items() if slot.required), next(iter(slots(part))))
    return {first: ""}


def _with_words(text: str, model: type[BaseModel], path: Path, said: str) -> tuple[str, Path]:
    slot, before = slot_at(model, path), _standing(text, path)
    if slot is not None and slot.many:
        return patch.add(text, model, path, _bounded(tidied(said))), path
    stop = ". " if isinstance(before, str) and before[-1:].isalnum() else " "
    joined = f"{before}{stop}{tidied(said)}" if before else tidied(said)
    return patch.put(text, model, path, _bounded(joined)), path


def _standing(text: str, path: Path) -> Tree | None:
    return nodes.plain(nodes.at(nodes.parsed(text), path))


def _bounded(said: str) -> str:
    if len(said) > MOST_CHARACTERS:
        raise NotKept(f"this is longer than {MOST_CHARACTERS:,} characters; split it")
    return said


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


def say_alike(text: str, model: type[BaseModel], path: Path) -> tuple[str, Did]:
    """Return the text with what one entry says said of each other that says nothing there."""
    part, at = _part(model, path[:-1]), _number(path)
    now = opened(text, model)
    values = now.values if now is not None else {}
    names, count = words(part.__name__), len(entries(values, *map(str, path[:-1])))
    said = []
    for key in names.alike:
        value = word(entry(values, path) or {}, key)
        empty = [(*path[:-1], other, key) for other in range(count) if other != at]
        empty = [place for place in empty if value and not entry(values, place)]
        for place in empty:
            text = set_value(text, model, place, value)
        said += [names.keys[key].label.lower()] if empty else []
    told = f"Said of every other {names.one}: {', '.join(said)}." if said else "Nothing is empty there."
    return text, Did(told, path)


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
