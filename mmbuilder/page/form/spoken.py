"""A fault in the words of the form: fields by their labels, and no lines of a file that nobody sees."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain

from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.reader import Source
from mmbuilder.casefile.rules.gives_nothing_away import CODE, stemmer, telling
from mmbuilder.casefile.shape import slots
from mmbuilder.page.form.examples import holders
from mmbuilder.page.form.faults import home
from mmbuilder.page.form.layout import called
from mmbuilder.page.form.layout import words as form_words

_LINE = re.compile(r"\b(?:(on|in) )?line (\d+)\b(?! of the file)")
_KEY = re.compile(r"`([^`:]+)(: [^`]+)?`")


def in_form(words: str, path: Path, source: Source, model: type[BaseModel]) -> str:
    """Return words of a fault with each line and each key as the form calls them.

    Args:
        words: of the fault.
        path: of the field that it concerns.
        source: the file as read.
        model: of the file.
    """

    def line(found: re.Match[str]) -> str:
        place = _at_line(int(found[2]), source, model)
        return f"{'in ' if found[1] else ''}“{called(model, place)}”" if place else found[0]

    return _LINE.sub(line, named(words, path, model))


def named(words: str, path: Path, model: type[BaseModel]) -> str:
    """Return words of a fault with labels in place of keys: “Kind of cause”: condition."""

    def label(found: re.Match[str]) -> str:
        parts = chain(holders(path, model), _below(model))
        holder = next((one for one in parts if found[1] in slots(one)), None)
        said = form_words(holder.__name__).keys[found[1]].label if holder is not None else found[1]
        return f"“{said}”{found[2] or ''}"

    return _KEY.sub(label, words)


def _below(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    for slot in slots(model).values():
        if slot.part is not None:
            yield slot.part
            yield from _below(slot.part)


def shared(code: str, found: str, path: Path, source: Source) -> list[str]:
    """Return the words that a field shares with the complication it gives away; for any other fault none.

    Args:
        code: of the fault.
        found: what it found, which names the line of the complication.
        path: of the field.
        source: the case as read.
    """
    line = _LINE.search(found) if code == CODE else None
    there = _on_line(int(line[2]), source) if line else []
    place = next((one for one in there if one[-1:] in (("what",), ("complication",))), None)
    if place is None:
        return []
    plan = (source.text(("plan", key)) or "" for key in ("procedure", "indication"))
    stem, graded = stemmer(source.text(("language",)) or "en"), place[0] == "outcome"
    words = telling(source.text(place) or "", " ".join(plan), in_a_grade=graded, stem=stem)
    said = {stem(word) for word in re.findall(r"\w+", (source.text(path) or "").casefold())}
    return [word for word in words if stem(word) in said]


def _at_line(number: int, source: Source, model: type[BaseModel]) -> Path:
    """What all values that begin on a line are in: the one value, or the entry that stands there whole."""
    first, *more = _on_line(number, source) or [()]
    shared = next(
        (at for at, step in enumerate(first) if any(len(one) <= at or one[at] != step for one in more)),
        len(first),
    )
    return home(first[:shared], model)


def _on_line(number: int, source: Source) -> list[Path]:
    return [path for path, mark in source.values.items() if mark.line == number]
