"""Characters nobody sees: told where they may hide something, evened out where they mean a space."""

from __future__ import annotations

import re

from mmbuilder.casefile.mark import Mark
from mmbuilder.casefile.reading.report import Report
from mmbuilder.problem import Severity

# Spaces of typesetters and word processors, and the line breaks that only some programs see.
_SPACES = dict.fromkeys(
    (*map(ord, "\u00a0\u1680\u202f\u205f\u3000\u0085\u2028\u2029"), *range(0x2000, 0x200B)), " "
)
# Zero width, direction and joining marks (Unicode Standard: General Category Cf, in the main).
_UNSEEN = re.compile("[\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]")
# C0 and C1 controls without tab and line feed, lone surrogates, the two non-characters.
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def strip_unseen(text: str) -> str:
    """Return the text without direction marks and characters of no width."""
    return _UNSEEN.sub("", text)


def tidy(text: str, report: Report) -> str:
    """Return the text with line feeds for line ends and plain spaces for spaces.

    Columns stay, save on lines that held characters of no width.
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if text.isascii() and not _CONTROL.search(text):
        return text
    _tell_controls(text, report)
    text = _CONTROL.sub(" ", text).translate(_SPACES)
    if seen := _UNSEEN.search(text):
        _tell_unseen(text, seen.start(), report)
        text = strip_unseen(text)
    return text


def _mark(text: str, offset: int) -> Mark:
    return Mark(text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset))


def _tell_controls(text: str, report: Report) -> None:
    for number, line in enumerate(text.split("\n"), 1) if _CONTROL.search(text) else ():
        if control := _CONTROL.search(line):
            kind = (
                "an empty (NUL) byte" if control[0] == "\0" else f"control character U+{ord(control[0]):04X}"
            )
            report.tell(
                Mark(number, control.start() + 1),
                "control-character",
                "this line holds a character that is not text",
                found=kind,
                expected="letters, figures and signs; delete the character, or type the line again",
                why="it is unseen in an editor and comes from copying out of another program",
            )


def _tell_unseen(text: str, offset: int, report: Report) -> None:
    lines = sum(1 for line in text.split("\n") if _UNSEEN.search(line))
    report.tell(
        _mark(text, offset),
        "unseen-character",
        f"direction marks or characters of no width on {lines} line{'s' if lines > 1 else ''}",
        found=f"U+{ord(text[offset]):04X} first",
        expected="nothing to do: they are left out",
        why="they can hide a name from a search and turn round what the eye reads",
        severity=Severity.WARN,
    )
