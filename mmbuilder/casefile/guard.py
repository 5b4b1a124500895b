"""The last look at problems before they are told: what the author declared private is in none of them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from mmbuilder.case.freetext import Scalar
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.mark import Tree
from mmbuilder.casefile.reader import Source
from mmbuilder.problem import Problem

_SHORTEST = 3
"""Letters a word needs to count: initials alone would blank every sentence."""
_REPEATED = re.compile(r"`[^`]*`|\"[^\"]*\"")
"""What stands between quote marks in our sentences; the rest is ours."""
_CLOSED = frozenset({"role", "kind"})


def guarded(problems: Sequence[Problem], private: Source | None) -> list[Problem]:
    """Return the problems, without the beats that repeat a declared name, place or number.

    Nothing of ours should ever repeat one; a misspelt word that is offered a correction is the
    one thing that could, so this is looked at and not trusted.
    """
    if private is None or not problems:
        return list(problems)
    words = {word for text in _values(private.tree) for word in re.findall(r"\w+", text)}
    words = {word.casefold() for word in words if len(word) >= _SHORTEST} - _ours()
    return [_without(problem, words) for problem in problems]


def _ours() -> frozenset[str]:
    """Words of the schema itself: `patient` in a sentence of ours names nobody."""
    from mmbuilder.casefile.shape import vocabulary

    return vocabulary(Case) | vocabulary(Declared)


def _values(node: Tree | None) -> Iterator[str]:
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, list):
        for item in node:
            yield from _values(item)
    elif isinstance(node, dict):
        for key, value in node.items():
            if key not in _CLOSED:
                yield from _values(value)


def _without(problem: Problem, words: set[str]) -> Problem:
    repeated = " ".join(_REPEATED.findall(f"{problem.text} {problem.found} {problem.expected}"))
    if not words & {*_words(repeated), *_words(problem.quote)}:
        return problem
    text, found, expected = (
        _REPEATED.sub("this", beat) for beat in (problem.text, problem.found, problem.expected)
    )
    return replace(problem, text=text, found=found, expected=expected, quote="")


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold())
