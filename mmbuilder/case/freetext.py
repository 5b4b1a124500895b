"""Text as the author wrote it. It may name anybody, so it never prints itself."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NoReturn, final

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from mmbuilder.case.tidy import seen

Path = tuple[str | int, ...]
"""Where a value stands in the case: keys and list positions (from 0)."""


FILE = "names a file"
"""Marks a field of the model whose text names a file of the folder: it is opened, and crosses nowhere."""


class Scalar(str):
    """A value as read from the case file, with the place it was read at.

    Attributes:
        path: keys and positions from the top of the file.
        line, column: from 1.
    """

    __slots__ = ("column", "line", "path")

    path: Path
    line: int
    column: int

    def __new__(cls, value: str, path: Path, line: int, column: int) -> Scalar:
        """Make a text that knows its place."""
        made = super().__new__(cls, value)
        made.path, made.line, made.column = path, line, column
        return made


def plain(words: str) -> str:
    """Return words with single spaces and in small letters, to be compared."""
    return " ".join(words.split()).casefold()


@final
@dataclass(frozen=True)
class FreeText:
    """Raw words. `value` is read by the scrubber; nothing else has a use for it."""

    value: str = field(repr=False)
    path: Path = ()
    line: int = 0
    column: int = 0

    @property
    def plain(self) -> str:
        """The words as a closed list would have them: single spaces, small letters."""
        return plain(self.value)

    def __bool__(self) -> bool:
        return bool(self.value)

    def __str__(self) -> str:
        raise TypeError("raw text is not for printing; scrub it first")

    def __format__(self, spec: str) -> str:
        raise TypeError("raw text is not for printing; scrub it first")

    def __reduce__(self) -> NoReturn:
        raise TypeError("raw text is not for copying into files; scrub it first")

    @classmethod
    def __get_pydantic_core_schema__(cls, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(_read)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        # Editors see the file as YAML types it: 6/9 is a string there, 71 a number, no a boolean.
        return {"type": ["string", "number", "boolean"]}


def _read(value: object) -> FreeText:
    if isinstance(value, FreeText):
        return value
    if not isinstance(value, str):
        raise PydanticCustomError("text_expected", "words are expected here")
    words = " ".join(seen(value).split())
    if isinstance(value, Scalar):
        return FreeText(words, value.path, value.line, value.column)
    return FreeText(words)
