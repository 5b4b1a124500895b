"""A fault in the words of the form: fields by their labels, and no lines of a file that nobody sees."""

from __future__ import annotations

import re

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.reader import Source
from mmbuilder.casefile.rules.gives_nothing_away import CODE, stemmer, telling
from mmbuilder.casefile.shape import owner
from mmbuilder.page.form.faults import home
from mmbuilder.page.form.layout import called
from mmbuilder.page.form.layout import words as form_words

_LINE = re.compile(r"\b(?:(on|in) )?line (\d+)\b(?! of the file)")
_KEY = re.compile(r"`([a-z ]+)`")


def in_form(words: str, path: Path, source: Source) -> str:
    """Return words of a fault of the case with each line and the fault's own key as the form calls them.

    Args:
        words: of the fault.
        path: of the field that it concerns.
        source: the case as read.
    """
    inner = owner(Case, path)
    label = ""
    if inner is not None and isinstance(path[-1], str):
        label = form_words(inner.__name__).keys[path[-1]].label

    def key(found: re.Match[str]) -> str:
        return f"“{label}”" if label and found[1] == path[-1] else found[0]

    def line(found: re.Match[str]) -> str:
        place = _at_line(int(found[2]), source)
        return f"{'in ' if found[1] else ''}“{called(Case, place)}”" if place else found[0]

    return _LINE.sub(line, _KEY.sub(key, words))


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


def _at_line(number: int, source: Source) -> Path:
    """What all values that begin on a line are in: the one value, or the entry that stands there whole."""
    first, *more = _on_line(number, source) or [()]
    shared = next(
        (at for at, step in enumerate(first) if any(len(one) <= at or one[at] != step for one in more)),
        len(first),
    )
    return home(first[:shared], Case)


def _on_line(number: int, source: Source) -> list[Path]:
    return [path for path, mark in source.values.items() if mark.line == number]
