"""Every error the library raises, and the exit code each one becomes.

    MMBuilderError
    ├── CaseInvalid            3  the case folder has faults (carries every one)
    ├── MissingDependency      4  an optional part is not installed
    ├── OutputNotWritable      5  the result could not be put where it was asked for
    ├── ReviewPending          6  a final build was asked for before the review
    ├── IdentifierInOutput     7  the finished file still holds an identifier
    ├── PackInvalid            8  a vocabulary file (specialty, use) is wrong
    └── FileRefused            9  a file cannot be read safely, or is of no kind we know

Messages never hold case text: they name places, kinds and remedies.
The library raises; only `mmbuilder.cli.main` prints and exits.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mmbuilder.problem import Problem


class ExitCode(IntEnum):
    """What the command line returns to the shell."""

    OK = 0
    FINDINGS = 1
    USAGE = 2
    CASE_INVALID = 3
    MISSING_DEPENDENCY = 4
    OUTPUT_NOT_WRITABLE = 5
    REVIEW_PENDING = 6
    IDENTIFIER_IN_OUTPUT = 7
    PACK_INVALID = 8
    FILE_REFUSED = 9
    BUG = 15
    INTERRUPTED = 130


def where(error: BaseException) -> str:
    """Say kind and place in our code of an error whose message may hold case text."""
    place, last = error.__traceback__, "unknown place"
    while place is not None:
        module = str(place.tb_frame.f_globals.get("__name__", ""))
        if module.startswith("mmbuilder"):
            last = f"{module}:{place.tb_lineno}"
        place = place.tb_next
    return f"{type(error).__name__} at {last}"


class MMBuilderError(Exception):
    """Anything that stops the work and that its user can mend."""

    exit_code = ExitCode.BUG


class CaseInvalid(MMBuilderError):
    """The case folder has faults; `problems` holds all of them, stops and warnings."""

    exit_code = ExitCode.CASE_INVALID

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        stops = sum(problem.stops for problem in self.problems)
        super().__init__(f"the case has {stops} fault{'s' if stops != 1 else ''} to mend")

    def __reduce__(self) -> tuple[type[CaseInvalid], tuple[tuple[Problem, ...]]]:
        # Exceptions rebuild from `args`, which holds the sentence and not the problems;
        # a build on several processes has to carry them back.
        return type(self), (self.problems,)


class MissingDependency(MMBuilderError):
    """An optional library or program is needed for what was asked."""

    exit_code = ExitCode.MISSING_DEPENDENCY


class OutputNotWritable(MMBuilderError):
    """The result could not be written; what stood there before is untouched."""

    exit_code = ExitCode.OUTPUT_NOT_WRITABLE


class ReviewPending(MMBuilderError):
    """A final build needs a completed review."""

    exit_code = ExitCode.REVIEW_PENDING


Entry = tuple[str, int]
"""An entry of the private list: its part, such as `people`, and its place there, from 0."""


class IdentifierInOutput(MMBuilderError):
    """A known identifier survived into the finished file; names part, kind and entry, never the text."""

    exit_code = ExitCode.IDENTIFIER_IN_OUTPUT

    def __init__(self, message: str, entries: Sequence[Entry] = ()) -> None:
        self.entries = tuple(entries)
        super().__init__(message)

    def __reduce__(self) -> tuple[type[IdentifierInOutput], tuple[str, tuple[Entry, ...]]]:
        return type(self), (str(self), self.entries)  # it comes back from a process beside


class PackInvalid(MMBuilderError):
    """A vocabulary file shipped with the tool, or given by the department, is wrong."""

    exit_code = ExitCode.PACK_INVALID


class FileRefused(MMBuilderError):
    """A file is too large, damaged, mislabelled, or of a kind that cannot be read safely."""

    exit_code = ExitCode.FILE_REFUSED


class LetterNotDrawn(FileRefused):
    """A paper would show a box in place of a letter; names the script, never the text."""
