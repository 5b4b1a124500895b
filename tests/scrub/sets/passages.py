"""The test sets as passages, and their split into a development and a held-out half.

`[A|...]` is an identifier with its class, `{...}` clinical words that must stay. Written passages are
split by a hash of the line; made ones by a hash of their template, and their names by a hash of the name,
so that no template and no name is in both halves. Nothing was tuned on the held-out half.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

Half = Literal["dev", "held"]
HERE = Path(__file__).parent
_MARK = re.compile(r"\[([A-R])\|([^\]]*)\]|\{([^}]*)\}")


@dataclass(frozen=True)
class Planted:
    """An identifier: where it stands and its class."""

    start: int
    end: int
    letter: str


@dataclass(frozen=True)
class Passage:
    text: str
    planted: tuple[Planted, ...]
    keep: tuple[tuple[int, int], ...]
    half: Half


def half_of(key: str) -> Half:
    return "held" if hashlib.sha256(key.encode()).digest()[0] & 1 else "dev"


def parsed(line: str, half: Half) -> Passage:
    text, at = "", 0
    planted, keep = [], []
    for mark in _MARK.finditer(line):
        text += line[at : mark.start()]
        inside = mark[2] if mark[1] else mark[3]
        if mark[1]:
            planted.append(Planted(len(text), len(text) + len(inside), mark[1]))
        else:
            keep.append((len(text), len(text) + len(inside)))
        text += inside
        at = mark.end()
    return Passage(text + line[at:], tuple(planted), tuple(keep), half)


def written(name: str) -> Iterator[Passage]:
    """Passages of a file written by hand."""
    lines = (HERE / name).read_text("utf-8").splitlines()
    return (parsed(line, half_of(line)) for line in lines if line and not line.startswith("#"))
