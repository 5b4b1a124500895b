"""A file of the case as the form has it: its text, its values, and where each of them stands."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from pydantic import BaseModel

from mmbuilder.casefile.reader import Source, read
from mmbuilder.casefile.reading.characters import tidy
from mmbuilder.casefile.reading.lines import LineScan
from mmbuilder.casefile.reading.report import Report
from mmbuilder.casefile.shape import all_keys
from mmbuilder.page.form.nodes import Part, Tangled, Tree, parsed, plain


@dataclass(frozen=True)
class Opened:
    """A file that can be changed in the form.

    Attributes:
        text: what changes are made to; slips of the hand in it are mended, in so far as no word is lost.
        mended: whether that differs from the file.
        values: every value as it was typed.
        source: the same as `check` reads it, with lines and columns.
    """

    text: str = field(repr=False)
    mended: bool
    values: dict[str, Tree] = field(repr=False)
    source: Source = field(repr=False)


@lru_cache(maxsize=8)
def opened(text: str, model: type[BaseModel]) -> Opened | None:
    """Return a file as the form has it; None where its text must be mended by hand first."""
    source = read(text.encode(), "", all_keys(model))
    if not text.strip():
        return Opened(text, False, {}, source)
    if source.tree is None and any(problem.code != "no-keys-at-top" for problem in source.problems):
        return None
    # Where the reader had nothing to tell, there is nothing to mend.
    for base in dict.fromkeys(
        (_mended(text, model) if source.problems else tidy_ends(text), tidy_ends(text))
    ):
        try:
            tree = parsed(base)
        except Tangled:
            continue
        values = plain(tree) if isinstance(tree, Part) else {}
        assert isinstance(values, dict)
        return Opened(base, base != tidy_ends(text), values, source)
    return None


def tidy_ends(text: str) -> str:
    """Return a text with line feeds for line ends."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _mended(text: str, model: type[BaseModel]) -> str:
    """Return the text as the reader understands it: words with a colon in quotes, dashes for bullets.

    Where that would lose a word or sign, it is the text as it is.
    """
    report = Report("")
    mended = LineScan(tidy(text, report), report, all_keys(model)).run()
    return mended if _letters(mended) == _letters(text) else tidy_ends(text)


def _letters(text: str) -> str:
    return "".join(sign for sign in text if sign.isalnum())
