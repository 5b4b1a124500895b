"""Never run, only type-checked: every bad line must fail, and its ignore must be needed.

mypy (strict, `warn_unused_ignores`) and pyright fail if a line below starts to pass. `wording(name)` is
the one that mypy cannot see, since `LiteralString` is `str` to it: pyright sees it.
"""

# pyright: reportUnnecessaryTypeIgnoreComment=true

from __future__ import annotations

from datetime import date
from pathlib import Path

from mmbuilder.analysis import build_timeline
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Case, Event
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.text import SafeText, fill, join, wording
from mmbuilder.storyboard.blocks import Callout, Cell, Paragraph, Picture


def raw_words_are_no_block(name: str, note: FreeText, day: date, event: Event) -> None:
    Paragraph(name)  # type: ignore[arg-type]
    Paragraph(note)  # type: ignore[arg-type]
    Paragraph(event.what)  # type: ignore[arg-type]
    Callout(day)  # type: ignore[arg-type]
    Cell(f"{day}")  # type: ignore[arg-type]


def raw_pictures_are_no_block(file: Path, pixels: bytes, alt: SafeText) -> None:
    Picture(file, alt)  # type: ignore[arg-type]
    Picture(pixels, alt)  # type: ignore[arg-type]


def safe_values_ask_for_the_key(name: str, pixels: bytes) -> None:
    SafeText(name)  # type: ignore[call-arg, arg-type]
    SafeText(None, name)  # type: ignore[arg-type]
    SafeImage(None, 1, 1, pixels)  # type: ignore[arg-type]


def our_own_words_are_literals(name: str, words: SafeText) -> None:
    wording(name)  # pyright: ignore[reportArgumentType]
    fill(name, words=words)  # pyright: ignore[reportArgumentType]
    fill("{name}", name=name)  # type: ignore[arg-type]
    join(", ", [name])  # type: ignore[list-item]


def a_raw_case_is_not_drawn(case: Case) -> None:
    build_timeline(case)  # type: ignore[arg-type]


def a_scrubbed_case_is(case: ScrubbedCase) -> None:
    Paragraph(case.situation)
    build_timeline(case)
