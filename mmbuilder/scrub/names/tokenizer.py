"""Cut a text into the word pieces the model knows, and remember where each one stood.

Source: the WordPiece scheme of BERT (Devlin and others 2019, arXiv:1810.04805): clean, lower-case,
strip accents, split at spaces and punctuation, then the longest known piece first.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

UNKNOWN, OPENING, CLOSING = 1, 2, 3  # [UNK], [CLS], [SEP]; padding is 0
LONGEST_WORD = 100
VOCABULARY = Path(__file__).parent / "data" / "vocabulary.txt"

# The blocks that BERT calls Chinese characters: each one stands as a word of its own.
_IDEOGRAPHS = (
    (0x4E00, 0x9FFF),
    (0x3400, 0x4DBF),
    (0x20000, 0x2A6DF),
    (0x2A700, 0x2B73F),
    (0x2B740, 0x2B81F),
    (0x2B820, 0x2CEAF),
    (0xF900, 0xFAFF),
    (0x2F800, 0x2FA1F),
)


@dataclass(frozen=True, slots=True)
class Piece:
    """One word piece: its number in the vocabulary and its place in the text as written."""

    number: int
    start: int
    end: int


@cache
def vocabulary() -> dict[str, int]:
    """Number of every word piece, in the order of the file."""
    lines = VOCABULARY.read_text("utf-8").split("\n")
    return {piece: number for number, piece in enumerate(lines) if piece}


@cache
def _normal(character: str) -> str:
    """What one character becomes: "" if dropped, " " if it parts words, else its plain form."""
    category = unicodedata.category(character)
    if character in "\t\n\r" or category[0] == "Z":
        return " "
    if character in "\0\ufffd" or category[0] == "C":
        return ""
    plain = (c for c in unicodedata.normalize("NFD", character) if unicodedata.category(c) != "Mn")
    return "".join(c.lower() for c in plain)


@cache
def _alone(character: str) -> bool:
    """Whether a character stands as a word of its own: punctuation or an ideograph."""
    code = ord(character)
    if code < 128:
        return not character.isalnum() and character.isprintable() and character != " "
    return unicodedata.category(character)[0] == "P" or any(a <= code <= b for a, b in _IDEOGRAPHS)


def _words(text: str) -> Iterator[list[tuple[str, int]]]:
    """Words as lists of (plain character, its offset in the text)."""
    word: list[tuple[str, int]] = []
    for offset, character in enumerate(text):
        for plain in _normal(character):
            if plain == " " or _alone(plain) or _alone(character):
                if word:
                    yield word
                word = []
                if plain != " ":
                    yield [(plain, offset)]
            else:
                word.append((plain, offset))
    if word:
        yield word


@cache
def _cut(word: str) -> tuple[tuple[int, int], ...]:
    """Word pieces of one word, as (number, length); one unknown piece if any part is unknown."""
    if len(word) > LONGEST_WORD:
        return ((UNKNOWN, len(word)),)
    known, pieces, start = vocabulary(), [], 0
    while start < len(word):
        prefix = "##" if start else ""
        end = len(word)
        while end > start and prefix + word[start:end] not in known:
            end -= 1
        if end == start:
            return ((UNKNOWN, len(word)),)
        pieces.append((known[prefix + word[start:end]], end - start))
        start = end
    return tuple(pieces)


def pieces(text: str) -> list[Piece]:
    """Cut a text into word pieces, without the opening and closing marks.

    Offsets count characters of `text` as it was given; the end is not included.
    """
    return _of_plain(text) if text.isascii() and text.isprintable() else _of_any(text)


def _of_any(text: str) -> list[Piece]:
    found = []
    for word in _words(text):
        start = 0
        for number, length in _cut("".join(plain for plain, _ in word)):
            found.append(Piece(number, word[start][1], word[start + length - 1][1] + 1))
            start += length
    return found


_PLAIN_WORD = re.compile(r"[0-9a-z]+|[!-/:-@\[-`{-~]")


def _of_plain(text: str) -> list[Piece]:
    """The same for printable ASCII, where each character is one character in its plain form: three times as fast."""
    found = []
    for word in _PLAIN_WORD.finditer(text.lower()):
        end = word.start()
        for number, length in _cut(word[0]):
            start, end = end, end + length
            found.append(Piece(number, start, end))
    return found
