"""Schema errors as ward English: what was found by kind, what was expected, why, and a correct example.

Only three things of the author's are ever repeated: keys of the schema, a misspelt word where
a closed list has one like it, and clock times. A key nobody knows is repeated only where it is
plainly a misspelling in small letters: `- Note: pain` makes a key of somebody's words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from mmbuilder.case.freetext import Path, Scalar
from mmbuilder.case.model import Case
from mmbuilder.casefile.mark import Finding, Tree
from mmbuilder.casefile.nearest import nearest
from mmbuilder.casefile.places import place
from mmbuilder.casefile.reader import Source
from mmbuilder.casefile.shape import Slot, all_keys, example, owner, slot_at, slots

_PLAIN_WORD = re.compile(r"[a-z][a-z _-]{1,29}")

NEEDED = "the deck cannot be built without it"
"""Why a key is asked for that has no reason of its own."""
_WHY = {
    ("Case", "mmbuilder"): "it says which version of the keys the file was written for",
    ("Case", "code"): "it names the finished files, so that no patient has to",
    ("Case", "situation"): "the room needs to know in one sentence why it is listening",
    ("Case", "asked"): "the room listens differently once it knows what it is asked for",
    ("Case", "take away"): "one sentence is what a room remembers",
    ("Case", "clocks"): "times from two sources can only be joined if each source is named",
    ("Case", "outcome"): "a review without the outcome cannot be closed",
    ("Presenter", "role"): "who presents is told by role, never by name",
    ("Timeline", "index event"): "every time in the deck is counted from it",
    ("Timeline", "events"): "the timeline is what the review is about",
    ("Event", "when"): "an event without a time cannot be placed; write `unknown` if nobody knows",
    ("Event", "kind"): "the first sign, the recognition and the response are drawn apart from the rest",
    ("Frame", "shows"): "the room sees the frame before it is told what to see",
    ("Frame", "caption"): "this is what the room is told once it has looked",
    ("Option", "reason"): "an option without a fair reason is a straw man, and the choice looks obvious",
    ("Decision", "options"): "a choice needs something to choose from",
    ("Decision", "because"): "the reason at the time is what guards against hindsight",
    ("Keep", "why"): "whoever reviews the picture has to know why it stays",
    ("ReadingLine", "unit"): "a figure without its unit can be read ten ways",
    ("Person", "name"): "only what is listed as written can be found in every form",
    ("Person", "role"): "the role stands in for the name",
    ("Place", "name"): "only what is listed as written can be found in every form",
    ("Number", "value"): "only what is listed as written can be found in every form",
    ("Grade", "scale"): "a grade means nothing without its scale",
}
_UNKNOWN_KEY = "what stands under it would not be shown, and nobody would notice"

_CODES = {
    "missing": "missing-key",
    "extra_forbidden": "unknown-key",
    "enum": "unknown-word",
    "text_expected": "words-expected",
}


def findings(
    errors: list[ErrorDetails], source: Source, root: type[BaseModel], *, private: bool = False
) -> Iterator[tuple[str, Finding]]:
    """Yield (code, finding) for each error of the schema.

    Args:
        errors: as pydantic lists them.
        source: the file they were found in.
        root: the model it was read with.
        private: nothing at all of the file is repeated, not even a misspelt word.
    """
    teller = _Teller(source, root, private)
    places = [error["loc"] for error in errors]
    meant = {teller.meant(error["loc"]) for error in errors if error["type"] == "extra_forbidden"}
    for error in errors:
        here = error["loc"]
        # A list that is too short only because an entry of it was refused.
        follows = any(place[: len(here)] == here and len(place) > len(here) for place in places)
        # A key that is missing only because it was misspelt.
        misspelt = error["type"] == "missing" and here in meant
        if not follows and not misspelt:
            yield teller.tell(error)


class _Teller:
    def __init__(self, source: Source, root: type[BaseModel], private: bool) -> None:
        self._source, self._root, self._private = source, root, private

    def tell(self, error: ErrorDetails) -> tuple[str, Finding]:
        kind, path = error["type"], tuple(error["loc"])
        context = error.get("ctx") or {}
        if "found" in context and "expected" in context:
            return kind, self._of_value(error["msg"], path, context)
        if kind == "missing" and path and isinstance(path[-1], int):
            kind = "too_short"
        code = _CODES.get(kind, "wrong-value")
        match kind:
            case "missing":
                return ("empty-key" if path in self._source.empty else code), self._missing(path)
            case "extra_forbidden":
                return code, self._unknown_key(path)
            case "enum":
                return code, self._unknown_word(path)
            case _:
                return code, self._wrong(kind, path)

    def meant(self, path: Path) -> Path:
        """The path of the key that an unknown one is most like; empty where it is like none."""
        model = owner(self._root, path)
        near = nearest(str(path[-1]), slots(model)) if model is not None else None
        return (*path[:-1], near) if near else ()

    # Kinds of fault

    def _of_value(self, text: str, path: Path, context: dict[str, str]) -> Finding:
        """A value type explained itself (times, dates, durations)."""
        key = self._key(path)
        lines = str(context.get("example", ""))
        return Finding(
            path,
            f"{self._place(path)}: {text}",
            found="" if self._private else str(context["found"]),
            expected=str(context["expected"]),
            why=str(context.get("why", "")),
            example=f"{key}: {lines}"
            if key and ":" not in lines.split(" ")[0].rstrip(":0123456789")
            else lines,
            quote=f"{key}: …" if key else "",
        )

    def _missing(self, path: Path) -> Finding:
        key = str(path[-1])
        model = owner(self._root, path)
        part = place(path[:-1]) or "the case"
        empty = path in self._source.empty
        why = _WHY.get((model.__name__, key), "") if model is not None else ""
        return Finding(
            path,
            f"{part} has nothing under `{key}`" if empty else f"{part} has no `{key}`",
            found="the key without words" if empty else "nothing",
            expected=self._expected(slot_at(self._root, path)),
            why=why or NEEDED,
            example=example(model, key) if model is not None else "",
            quote=f"{key}:" if empty else "",
            at_key=True,
        )

    def _unknown_key(self, path: Path) -> Finding:
        model = owner(self._root, path)
        keys = tuple(slots(model)) if model is not None else ()
        name = str(path[-1])
        part = place(path[:-1]) or "the case"
        near = nearest(name, keys)
        there = self._source.keys.get((*path[:-1], near)) if near else None
        elsewhere = name in all_keys(self._root) if near is None else False
        shown = near is not None and not self._private and _PLAIN_WORD.fullmatch(name) is not None
        return Finding(
            path,
            f"`{name}` is not a key of {part}"
            if shown or elsewhere
            else f"{part} has a key that is not known",
            found=f"`{name}`" if shown or elsewhere else "a key, perhaps words with a colon in them",
            expected=(f"did you mean `{near}`?" + (f" It is on line {there.line}." if there else ""))
            if near
            else f"one of: {', '.join(keys)}",
            why=_UNKNOWN_KEY,
            example=example(model, near)
            if near and model is not None
            else 'what: "Note: pain in the shoulder"',
            quote=f"{name}: …" if shown or elsewhere else "",
            at_key=True,
        )

    def _unknown_word(self, path: Path) -> Finding:
        slot = slot_at(self._root, path)
        words = slot.closed if slot is not None else ()
        value = self._value(path)
        near = nearest(value, words) if isinstance(value, Scalar) else None
        key = self._key(path)
        shown = near is not None and not self._private
        listed = f"one of: {', '.join(words)}"
        return Finding(
            path,
            f"{self._place(path)} has a word that is not on its list",
            found=f'"{value}"' if shown else "another word",
            expected=f'did you mean "{near}"? It is {listed}' if near else listed,
            why="words from a list can be sorted, counted and drawn; others cannot",
            # Without a near word there is no example: the first of the list may say the opposite.
            example=f"{key}: {near}" if near else "",
            quote=f"{key}: {value}" if shown else f"{key}: …",
        )

    def _wrong(self, kind: str, path: Path) -> Finding:
        slot = slot_at(self._root, path)
        model = owner(self._root, tuple(step for step in path if isinstance(step, str)))
        value = self._value(path)
        key = self._key(path)
        colon = isinstance(value, dict) and (slot is None or slot.part is None)
        return Finding(
            path,
            f"{self._place(path)} cannot be read as it stands",
            found="words with a colon, which read as a key" if colon else _found(kind, value),
            expected=_bounds(kind, model, key)
            or _BY_ERROR.get("code" if key == "code" else kind)
            or self._expected(slot),
            why="a colon and a space make a key of the words before them" if colon else _why(slot),
            example='- "Note: pain in the shoulder"'
            if colon
            else (example(model, key) if model is not None and key in slots(model) else ""),
            quote=f"{key}: …" if key else "",
        )

    # Help

    def _value(self, path: Path) -> Tree | None:
        node: Tree | None = self._source.tree
        for step in path:
            if isinstance(node, dict):
                # One entry may stand for a list of one: then its number leads nowhere new.
                node = node.get(step) if isinstance(step, str) else node
            elif isinstance(node, list):
                node = dict(enumerate(node)).get(int(step))
        return node

    def _key(self, path: Path) -> str:
        return next((step for step in reversed(path) if isinstance(step, str)), "")

    def _place(self, path: Path) -> str:
        return place(path) or "the file"

    def _expected(self, slot: Slot | None) -> str:
        if slot is None:
            return "something else"
        if slot.closed:
            return f"one of: {', '.join(slot.closed)}"
        if slot.part is not None:
            keys = ", ".join(key for key, under in slots(slot.part).items() if under.required)
            return ("a list; each entry with " if slot.many else "keys of its own: ") + (keys or "its keys")
        if slot.kind is tuple:
            return "four figures: left, top, width, height" if slot.length == 4 else "two figures: x, y"
        return _BY_TYPE.get(slot.kind.__name__, "words") + (", or a list of them" if slot.many else "")


_BY_TYPE = {
    "FreeText": "words",
    "When": "a time: 14:30, about 14:30, 14:15-14:20, after 13:00, or unknown",
    "Day": "a date with a four-figure year",
    "Duration": "a length of time with its unit",
    "bool": "yes or no",
    "int": "a whole number",
    "float": "a number",
    "str": "a short name",
}
_BY_ERROR = {
    "string_pattern_mismatch": "a short name: letters, figures, spaces, dots and hyphens, at most 40",
    "code": "small letters, figures and hyphens, at most 40: it becomes part of file names",
    "string_too_long": "at most 40 characters",
    "greater_than": "a number above zero",
    "finite_number": "a number",
}


def _found(kind: str, value: Tree | None) -> str:
    """What stands there: a number that was read may be told, words may not."""
    return f"the number {value}" if kind in _OUT_OF_BOUNDS and isinstance(value, Scalar) else _kind(value)


_OUT_OF_BOUNDS = ("greater_than", "greater_than_equal", "less_than_equal")


def _bounds(kind: str, model: type[BaseModel] | None, key: str) -> str:
    """Between what a number has to lie, for one that was read and does not; else nothing."""
    if kind not in _OUT_OF_BOUNDS or model is None:
        return ""
    told = next((info for info in model.model_fields.values() if info.alias == key), None)
    limits = {
        name: getattr(one, name)
        for one in (told.metadata if told else ())
        for name in ("ge", "le")
        if hasattr(one, name)
    }
    if len(limits) > 1:
        return f"a whole number from {limits['ge']} to {limits['le']}"
    return f"a whole number of {limits['ge']} or more" if "ge" in limits else ""


def _kind(value: Tree | None) -> str:
    if isinstance(value, dict):
        return "keys"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    return "words" if isinstance(value, Scalar) else "nothing"


def _why(slot: Slot | None) -> str:
    if slot is not None and slot.kind in (tuple, float):
        return "it is measured on the picture in pixels, from its upper left corner"
    return "it would be left out of the deck, or stand in the wrong place"


def known_keys() -> frozenset[str]:
    """Every key a case may hold."""
    return all_keys(Case)
