"""Look for what is known in every piece of a file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain

from mmbuilder.errors import IdentifierInOutput
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.images.sniff import HEAD, container
from mmbuilder.scrub.surrogates import Subject
from mmbuilder.scrub.sweep import dates
from mmbuilder.scrub.sweep.clean import Clean, mark
from mmbuilder.scrub.sweep.fold import fold, humps, tokens
from mmbuilder.scrub.sweep.known import DATES, DECLARED, Known
from mmbuilder.scrub.sweep.needle import GLUED_FIGURES, GLUED_LENGTH, Care, Needle
from mmbuilder.scrub.sweep.ours import without
from mmbuilder.scrub.sweep.parts import Budget, Piece, apart, is_zip, pages, pieces
from mmbuilder.scrub.sweep.views import View, embedded, is_readable, is_text, views

_PRINTABLE = re.compile(rb"(?:[\x20-\x7e\xa0-\xff]{4,}|(?:[\x20-\x7e]\0){4,}|(?:\0[\x20-\x7e]){4,})")
_ADDRESS = r"[^\s<>\"']*"


@dataclass(frozen=True, order=True)
class Leak:
    """Where an identifier was found, and what kind it is; never its text.

    Attributes:
        part: place in the file. A part is named by its name unless the name itself leaks; then by number.
        kind: what was found, such as "name of the surgeon".
        detector: the list it is on.
        entry: its number on the private list; 0 if it is none of it.
    """

    part: str
    kind: str
    detector: str
    entry: int = 0


def sweep(name: str, data: bytes, known: Known, clean: Clean | None = None) -> tuple[Leak, ...]:
    """Every identifier found, by part; none twice.

    Args:
        name: what to call the file in a refusal; it is searched as well.
        data: the finished file.
        known: what to look for.
        clean: parts that were clean before, which are not searched again; takes in those that are now.

    Raises:
        FileRefused: a package that is damaged, locked, or unpacks beyond the bounds: nobody can
            say it is clean.
    """
    clean = clean or Clean()
    found = {_leak(FILE_NAME, needle) for needle in _in_view(View(name, True), known)}
    whole = mark(Piece(name, data), known)
    if clean.holds(whole):
        return tuple(sorted(found))
    for piece in chain(pieces("the file", data), pages("the file", data)):
        named = list(_in_view(View(piece.label, True), known)) if piece.label else []
        place = piece.name if named or not piece.label else piece.label
        found |= {_leak(f"{piece.name}, its name", needle) for needle in named}
        found |= {_leak(place, needle) for needle in _unless_clean(piece, known, clean)}
    if not found:
        clean.add(whole)
    return tuple(sorted(found))


def _unless_clean(piece: Piece, known: Known, clean: Clean) -> list[Needle]:
    """What a piece holds that was not found clean before, in this file or an earlier one."""
    its = mark(piece, known)
    found = [] if clean.holds(its) else list(_in_piece(piece, known))
    if not found:
        clean.add(its)
    return found


def guard(name: str, data: bytes, known: Known, before: bytes = b"") -> bytes:
    """Refuse a finished file that still identifies.

    Args:
        name: as for `sweep`.
        data: as for `sweep`.
        known: as for `sweep`.
        before: what was returned for this file before; empty to have all of it searched.

    Returns:
        Hashes of its parts, all of them clean.

    Raises:
        IdentifierInOutput: names parts and kinds.
        FileRefused: as for `sweep`.
    """
    clean = Clean(before)
    leaks = sweep(name, data, known, clean)
    if leaks:
        slides = _with_notes(data)
        told = "; ".join(
            f"the {leak.kind} in {_where(leak.part, slides)} ({_listed(leak, known)})"
            for leak in leaks[:MOST]
        )
        more = f"; and {len(leaks) - MOST} more" if len(leaks) > MOST else ""
        called = "the file" if any(leak.part == FILE_NAME for leak in leaks) else name
        raise IdentifierInOutput(
            f"the finished file still holds what identifies somebody, and was not written. In {called}: {told}{more}. "
            "If it names somebody, change the words of the case that it comes from; if it is an everyday word there, "
            f"write the word on the private list, under {STAY}",
            sorted({known.entries[leak.entry - 1] for leak in leaks if leak.entry}),
        )
    return clean.told()


def _leak(part: str, needle: Needle) -> Leak:
    return Leak(part, needle.kind, needle.detector, needle.entry)


def _listed(leak: Leak, known: Known) -> str:
    """Say where a leak is listed: `person 3 of the private list`."""
    if not leak.entry:
        return leak.detector
    name, place = known.entries[leak.entry - 1]
    one = {"people": "person", "places": "place", "numbers": "number", "other": "other entry"}[name]
    return f"{one} {place + 1} of the private list"


FILE_NAME = "file name"
MOST = 6
"""Places that one message tells."""
STAY = "\u201cWords that stay\u201d (`keep`)"
_PLACES = (
    (re.compile(r"ppt/slides/slide(\d+)\.xml"), r"slide \1"),
    (re.compile(r"the file: text of (page \d+)"), r"\1"),
    (re.compile(r"the file: strings"), "its title, a bookmark or a description"),
    (re.compile(r"the file"), "its text"),
)


_NOTES = re.compile(r"ppt/notesSlides/(notesSlide\d+\.xml)")
_NOTES_OF = re.compile(r"ppt/notesSlides/_rels/(notesSlide\d+\.xml)\.rels")
_SLIDE = re.compile(rb"slides/slide(\d+)\.xml")


def _with_notes(data: bytes) -> dict[str, int]:
    """The slide of each part of a deck that holds notes: the two are numbered apart."""
    named = ((_NOTES_OF.fullmatch(piece.label), piece.data) for piece in pieces("the file", data))
    told = {part[1]: _SLIDE.search(content) for part, content in named if part}
    return {part: int(slide[1]) for part, slide in told.items() if slide}


def _where(part: str, slides: dict[str, int]) -> str:
    """Return a place as a reader of the file would call it."""
    if (notes := _NOTES.fullmatch(part)) and notes[1] in slides:
        return f"the notes of slide {slides[notes[1]]}"
    return next((pattern.sub(words, part) for pattern, words in _PLACES if pattern.fullmatch(part)), part)


def _in_piece(piece: Piece, known: Known) -> Iterator[Needle]:
    if piece.syntax:
        yield from chain.from_iterable(_in_piece(part, known) for part in apart(piece))
        return
    if piece.whole:
        yield from (known.needles[place] for place in known.raw.within(piece.data))
        return
    # Asked first: a blank picture has so many zeros that it looks like UTF-16.
    picture = container(piece.data[:HEAD]) is not None
    if piece.structure or picture or (piece.data and not is_text(piece.data)):
        yield from _in_binary(piece, known)
    else:
        yield from _in_text(piece.data, known, prose=True)


def _in_binary(piece: Piece, known: Known) -> Iterator[Needle]:
    """Metadata and readable strings as text; everything else by exact bytes.

    Packed pixels are no text: read as letters they would hold every short name by chance, so
    they are searched only for the exact bytes of identifiers of six signs or more.
    """
    leaf = container(piece.data[:HEAD])
    if leaf is not None:
        for chunk in leaf.chunks(piece.data):
            yield from _in_text(chunk.payload, known, words=False)
    else:
        yield from _in_text(b"\n".join(_PRINTABLE.findall(piece.data)), known, words=False)
    yield from (known.needles[place] for place in known.raw.within(piece.data))


def _in_text(
    data: bytes, known: Known, words: bool = True, nested: bool = True, prose: bool = False
) -> Iterator[Needle]:
    for view in views(data):
        seen = view._replace(words=view.words and words, prose=view.prose and prose)
        if (found := _read(seen, known)) and (rest := without(view.text)) != view.text:
            found = _read(seen._replace(text=rest), known)
        yield from found
        if nested:
            yield from _in_embedded(view.text, known)


def _read(view: View, known: Known) -> list[Needle]:
    return [*_in_view(view, known), *(_as_written(view.text, known) if view.prose else ())]


def _in_embedded(text: str, known: Known) -> Iterator[Needle]:
    rest = []
    for content in embedded(text):
        if is_zip(content) or container(content[:HEAD]) is not None:
            for piece in pieces("embedded", content, Budget()):
                yield from _in_piece(piece, known)
        elif len(content) < 2**20 and is_text(content) and is_readable(content):
            yield from _in_text(content, known, words=False, nested=False)
        else:
            rest.append(content)
    yield from (known.needles[place] for place in known.raw.within(b"\n".join(rest)))


def _as_written(text: str, known: Known) -> Iterator[Needle]:
    """What the finder of the scrubber sees in the words: misspelt, in pieces, local parts of a number."""
    for kind, entry in {(_told(subject), subject.group) for _, _, subject, _ in known.index.hits(text)}:
        yield Needle((), kind, DECLARED, entry=entry)


def _told(subject: Subject) -> str:
    """The kind of a declared thing as the needles say it."""
    if subject.letter in "AB":
        return f"name of the {subject.role}"
    return subject.kind.removeprefix("declared ").replace("words", "declared word")


def _in_view(view: View, known: Known) -> Iterator[Needle]:
    written = tokens(view.text)
    distinct = {word: fold(word) for word in set(written)}
    folded, words = [distinct[word] for word in written], frozenset(distinct.values())
    for needle in dict.fromkeys(_in_rows(folded, words, known)):
        if (view.words or needle.in_markup) and _stands(needle, view.text, known):
            yield needle
    yield from _numbers(folded, words, known)
    yield from _glued(view.text, distinct, known)
    yield from _hidden(view, words, known)
    if dates.holds(view.text, known.dates):
        yield Needle((), "calendar date", DATES)


def _in_rows(folded: list[str], words: frozenset[str], known: Known) -> Iterator[Needle]:
    """Needles whose words stand in a row."""
    firsts = known.by_first_word
    met = firsts.keys() & words
    for place in [place for place, word in enumerate(folded) if word in met] if met else ():
        for needle in firsts[folded[place]]:
            row = slice(place, place + len(needle.words))
            if tuple(folded[row]) == needle.words:
                yield needle


def _stands(needle: Needle, text: str, known: Known) -> bool:
    """Whether a needle whose words are there is meant: spelt as a file name is, or used as a name."""
    if needle.literal:
        return needle.literal in fold(text)
    if needle.care is Care.NONE:
        return True
    # Rare and dear, so only here: the finder that knows eponyms and abbreviations judges each line.
    lines = (line for line in text.splitlines() if needle.words[0] in fold(line))
    return any(_judged(needle, line, known.index) for line in lines)


def _judged(needle: Needle, line: str, index: Index) -> bool:
    hits = index.hits(line)
    return any(tuple(map(fold, tokens(line[start:end]))) == needle.words for start, end, _, _ in hits)


def _numbers(folded: list[str], words: frozenset[str], known: Known) -> Iterator[Needle]:
    """Numbers however they are grouped: 943 476 5919, 943-476-5919, 9434765919."""
    starts = known.number_starts
    if starts.isdisjoint(words):
        return
    for place in [place for place, word in enumerate(folded) if word in starts]:
        joined, end = folded[place], place + 1
        while joined in starts and joined not in known.numbers and end < len(folded):
            joined, end = joined + folded[end], end + 1
        if joined in known.numbers:
            yield known.numbers[joined]


def _glued(text: str, distinct: dict[str, str], known: Known) -> Iterator[Needle]:
    """Needles run together with other letters: in CamelCase, in an address, or too long to be chance."""
    all_words = "\n".join(distinct.values())
    for joined, needle in known.gluing:
        if joined in all_words:
            holders = [word for word, plain in distinct.items() if joined in plain and joined != plain]
            if any(_counts(needle, word, text) for word in holders):
                yield needle


_HALVES = re.compile(r"(?<![^\W\d_])([^\W\d_]{2,})[-\u2010\u2011\u00ad_]\s{0,3}(?=([^\W\d_]{2,}))")


def _hidden(view: View, words: frozenset[str], known: Known) -> Iterator[Needle]:
    """Names in halves, right against a title, or within a script that has no spaces."""
    for one, two in _HALVES.findall(view.text) if view.words else ():
        if (joined := fold(one) + fold(two)) in known.broken:
            yield known.broken[joined]
    yield from (known.titled[word] for word in known.titled.keys() & words)
    for name, needle in known.unspaced if not view.text.isascii() else ():
        if name in fold(view.text):
            yield needle


def _counts(needle: Needle, word: str, text: str) -> bool:
    size = len(needle.joined)
    if needle.joined.isdigit():
        return size >= GLUED_FIGURES
    if size >= GLUED_LENGTH or (size > 5 and fold(word) == needle.joined + "s"):
        return True
    return needle.joined in map(fold, humps(word)) or (size > 4 and _in_address(word, text))


def _in_address(word: str, text: str) -> bool:
    runs: Iterable[str] = (found[0] for found in re.finditer(f"{_ADDRESS}{re.escape(word)}{_ADDRESS}", text))
    return any("@" in run or "\\" in run or run.startswith("file:") for run in runs)
