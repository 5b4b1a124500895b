"""The test sets as passages, and their split into a development and a held-out half.

`[A|...]` is an identifier with its class, `{...}` clinical words that must stay. Written passages are
split by a hash of the line; made ones by a hash of their template, and their names by a hash of the name,
so that no template and no name is in both halves. A passage of the held-out half that was looked at bears
a mark and counts for development. The misses of the held-out halves of 25 November 2026 were looked at once,
after they had been counted (names 0.94, clean passages touched 5 %); figures after that day are of known ground.
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
SEEN = "= "
"""Opens a line that was held out and then looked at: from there on it is for development."""
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


def written(name: str, half: Half | None = None) -> Iterator[Passage]:
    """Passages of a file written by hand; a half that is given is the half of all that nobody looked at."""
    for line in (HERE / name).read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            seen, line = line.startswith(SEEN), line.removeprefix(SEEN)
            yield parsed(line, "dev" if seen else half or half_of(line))


def by_hand() -> Iterator[Passage]:
    """Every passage written by hand: those of names and all, and the three sets of numbers, dates and addresses."""
    for name in ("written.txt", "clean_written.txt", "written_structured.txt", "clean_structured.txt"):
        yield from written(name)
    for name in ("written_second.txt", "clean_second.txt", "written_third.txt", "clean_third.txt"):
        yield from written(name, "held")
    for name in ("written_names.txt", "clean_names.txt"):
        yield from written(name, "dev")


def hurried() -> Iterator[Passage]:
    """The fourth set, harder than the others, counted by itself."""
    for name in ("written_fourth.txt", "clean_fourth.txt"):
        yield from written(name, "held")


def fifth() -> Iterator[Passage]:
    """The fifth set, by an independent hand; counted by itself."""
    for name in ("written_fifth.txt", "clean_fifth.txt"):
        yield from written(name, "held")


def sixth() -> Iterator[Passage]:
    """The sixth set, by a hand that had not seen the scrubber; counted by itself."""
    for name in ("written_sixth.txt", "clean_sixth.txt"):
        yield from written(name, "held")


def seventh() -> Iterator[Passage]:
    """The seventh set, the ordinary mix of six countries; known ground now, the judge learns from it."""
    for name in ("written_seventh.txt", "clean_seventh.txt"):
        yield from written(name, "held")


def eighth() -> Iterator[Passage]:
    """The eighth set, what a meeting deals with; counted twice, on 27 November 2026, and never looked at."""
    for name in ("written_eighth.txt", "clean_eighth.txt"):
        yield from written(name, "held")


def ninth() -> Iterator[Passage]:
    """The ninth set, the ordinary mix with clean passages full of what looks like a name; known ground now, the judge
    learns from it. Five years that stand alone are marked in it: they may stay."""
    for name in ("written_ninth.txt", "clean_ninth.txt"):
        yield from written(name, "held")


def tenth() -> Iterator[Passage]:
    """The tenth set, the ordinary mix with what a meeting deals with, five languages; counted before and after one
    change, on 27 November 2026. Then the words it harmed were looked at, and the least chance of a name was chosen; the judge
    learns from it."""
    for name in ("written_tenth.txt", "clean_tenth.txt"):
        yield from written(name, "held")


def eleventh() -> Iterator[Passage]:
    """The eleventh set, ordinary notes in five languages; counted before and after one change, on 28 November 2026.
    Then its misses were looked at, and eight of them mended by rule: known ground, the judge learns from it."""
    for name in ("written_eleventh.txt", "clean_eleventh.txt"):
        yield from written(name, "held")


def twelfth() -> Iterator[Passage]:
    """The twelfth set, five languages, by a hand that had not read the scrubber; counted on 28 November 2026.
    Then its misses were looked at: known ground, the judge learns from it."""
    for name in ("written_twelfth.txt", "clean_twelfth.txt"):
        yield from written(name, "held")


def thirteenth() -> Iterator[Passage]:
    """The thirteenth set, notes of the days after a complication in five languages, by a hand that had not read the
    scrubber; counted before and after the judge was taught, on 28 November 2026. Then its misses were looked at."""
    for name in ("written_thirteenth.txt", "clean_thirteenth.txt"):
        yield from written(name, "held")


def fourteenth() -> Iterator[Passage]:
    """The fourteenth set, what a complication review reads in five languages, by a hand that had not read the scrubber;
    words that must stay are marked in its clean passages too. Counted before and after one change, on 29 November 2026
    (names 0.96, clean passages touched 3 %); its misses were looked at for that change: known ground."""
    for name in ("written_fourteenth.txt", "clean_fourteenth.txt"):
        yield from written(name, "held")


def structured() -> Iterator[Passage]:
    """Short lines of numbers, dates and places, all of them looked at since; counted by themselves."""
    for name in ("written_structured_second.txt", "clean_structured_second.txt"):
        yield from written(name, "dev")
