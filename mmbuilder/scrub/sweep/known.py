"""What is known to identify in a case: what to look for in anything that is written from it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from datetime import date
from functools import cached_property
from itertools import chain, count
from pathlib import PurePath

from mmbuilder import cache
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Part
from mmbuilder.case.when import Day, Stamp, When
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import Entry
from mmbuilder.safe.terms import Word
from mmbuilder.scrub import variants
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.pieces import unspaced
from mmbuilder.scrub.sweep.fold import fold, tokens
from mmbuilder.scrub.sweep.needle import RAW_LENGTH, Care, Needle, make
from mmbuilder.scrub.sweep.raw import Forms
from mmbuilder.scrub.variants import Form, Rule
from mmbuilder.scrub.words import EPONYMS, MONTHS, ORDINARY

DECLARED = "declared"
FILE_NAMES = "file names of the case"
DATES = "dates of the case"

BROKEN = 6
"""Letters from which a name is looked for in two halves."""

SHORT = 3
"""Letters up to which a name alone must be used as one: Li, Ng, Day."""


_TITLES = ("professor", "doctor", "nurse", "sister", "prof", "miss", "mrs", "dr", "mr", "ms")


def _list(words: str) -> frozenset[str]:
    return frozenset(words.split())


_GENERIC = _list(
    """image img photo photograph pic picture frame still slide fig figure scan video clip screenshot screen
    case vital vitals reading readings monitor monitors chart trace record log data export obs observation
    observations first second third last before after during demo test example folder draft final copy new
    eye left right action actions previous meeting meetings"""
)


@dataclass(frozen=True)
class Known:
    """Everything to look for.

    Attributes:
        needles: identifiers and file names.
        dates: calendar dates of the case.
        index: the finder that judges everyday words, eponyms and initials in their sentence.
        entries: of the private list; the number of an entry is its place here, from 1.
        listed: a hash of that list, whose words themselves go into no other process.
    """

    needles: tuple[Needle, ...] = field(repr=False, default=())
    dates: frozenset[date] = field(repr=False, default=frozenset())
    index: Index = field(repr=False, default_factory=lambda: Index(Declared()))
    entries: tuple[Entry, ...] = ()
    listed: str = ""

    def __getstate__(self) -> dict[str, object]:
        """The fields alone: what is worked out from them may be added while it is sent to another process."""
        return {one.name: getattr(self, one.name) for one in fields(self)}

    @classmethod
    def from_declared(cls, declared: Declared) -> Known:
        """For files that belong to no case."""
        return cls(_unique(_declared(declared)), frozenset(), *_of_list(declared))

    @cached_property
    def digest(self) -> str:
        """A hash of everything that is looked for."""
        rows = [(*needle.words, needle.literal, needle.kind, needle.care.name) for needle in self.needles]
        # Sorted: variants come out of sets, whose order is another in each process.
        return cache.key(*chain(*sorted(rows)), *map(str, sorted(self.dates)), self.listed)

    @cached_property
    def by_first_word(self) -> Mapping[str, tuple[Needle, ...]]:
        """Needles by the word they start with."""
        found = defaultdict[str, list[Needle]](list)
        for needle in self.needles:
            found[needle.words[0]].append(needle)
        return {word: tuple(needles) for word, needles in found.items()}

    @cached_property
    def numbers(self) -> Mapping[str, Needle]:
        """Needles that are figures, or letters and figures, of five signs or more: run together."""
        return {
            needle.joined: needle
            for needle in self.needles
            if len(needle.joined) >= 5 and any(map(str.isdigit, needle.joined)) and not needle.literal
        }

    @cached_property
    def raw(self) -> Forms:
        """Bytes to look for where there is no text, with the place of their needle."""
        forms = dict[bytes, int]()
        for place, needle in enumerate(self.needles):
            for text in _raw_forms(needle):
                # The zeros at the ends of UTF-16 are left off: what is left is the same in both byte orders.
                for form in (
                    text.encode(),
                    text.encode("latin-1", "ignore"),
                    text.encode("utf-16-be").strip(b"\0"),
                ):
                    if len(form) >= RAW_LENGTH:
                        forms.setdefault(form, place)
        return Forms(forms)

    @cached_property
    def number_starts(self) -> frozenset[str]:
        """Every beginning of a number."""
        return frozenset(number[:size] for number in self.numbers for size in range(1, len(number) + 1))

    @cached_property
    def broken(self) -> Mapping[str, Needle]:
        """Names of one word and six letters or more, which may be parted by a hyphen: `Quill-markton`."""
        return {
            needle.joined: needle
            for needle in self.needles
            if len(needle.words) == 1
            and len(needle.joined) >= BROKEN
            and needle.joined.isalpha()
            and needle.glues
        }

    @cached_property
    def titled(self) -> Mapping[str, Needle]:
        """Names of one word that may stand right against a title: `drquillmark`."""
        return {
            title + needle.joined: needle
            for needle in self.needles
            for title in _TITLES
            if len(needle.words) == 1 and len(needle.joined) > 3 and needle.joined.isalpha() and needle.glues
        }

    @cached_property
    def unspaced(self) -> tuple[tuple[str, Needle], ...]:
        """Names in scripts that put no space between words: they count wherever they stand."""
        return tuple((needle.joined, needle) for needle in self.needles if unspaced(needle.joined))

    @cached_property
    def gluing(self) -> tuple[tuple[str, Needle], ...]:
        """Needles that may count inside a longer word, with their letters run together."""
        return tuple(
            (needle.joined, needle) for needle in self.needles if len(needle.joined) >= 4 and needle.glues
        )


def known(folder: CaseFolder) -> Known:
    """Declared identifiers and their variants, the case's dates, and the names of its files and folder."""
    names = (*_file_names(folder), *_folder_name(folder))
    needles = _unique((*_declared(folder.declared), *names))
    return Known(needles, frozenset(_dates(folder.case)), *_of_list(folder.declared))


def _of_list(declared: Declared) -> tuple[Index, tuple[Entry, ...], str]:
    return Index(declared), _entries(declared), cache.key(*_values(declared))


def _values(part: object) -> Iterator[str]:
    """Every value of a private list, each after the name of its field."""
    match part:
        case FreeText() | Word():
            yield part.value
        case tuple():
            for item in part:
                yield from _values(item)
        case Part():
            for name, value in part:
                yield name
                yield from _values(value)
        case _:
            raise TypeError(f"a private list holds no {type(part).__name__}")


def _unique(needles: Iterable[Needle]) -> tuple[Needle, ...]:
    first: dict[tuple[tuple[str, ...], str], Needle] = {}
    for needle in needles:
        first.setdefault((needle.words, needle.literal), needle)
    return tuple(first.values())


def _raw_forms(needle: Needle) -> Iterator[str]:
    if needle.in_markup and len(needle.joined) >= RAW_LENGTH:
        yield from (separator.join(needle.words) for separator in ("", " ", "-", "_"))


def _keep(declared: Declared) -> frozenset[str]:
    return frozenset(fold(word.value) for word in declared.keep)


def _declared(declared: Declared) -> Iterator[Needle]:
    """Needles of each entry, numbered as `surrogates.subjects` numbers them."""
    keep = _keep(declared)
    entry = count(1)
    for person in declared.people:
        forms = chain(*(variants.person(name.value) for name in (person.name, *person.also)))
        yield from _forms(forms, f"name of the {person.role.value}", keep, next(entry))
    for place in declared.places:
        forms = chain(*(variants.place(name.value) for name in (place.name, *place.also)))
        yield from _forms(forms, f"name of the {place.kind.value}", keep, next(entry))
    for number in declared.numbers:
        yield from _made(number.value.value, number.kind.value, Care.NONE, next(entry))
    for other in declared.other:
        yield from _forms(variants.phrase(other.value), "declared word", keep, next(entry))


def _forms(forms: Iterable[Form], kind: str, keep: frozenset[str], entry: int) -> Iterator[Needle]:
    for form in forms:
        yield from _made(" ".join(form.words), kind, _care(form, keep), entry)


def _care(form: Form, keep: frozenset[str]) -> Care:
    everyday = form.rule is Rule.INITIALS or all(
        len(word) <= SHORT or word in keep or word in EPONYMS or word in ORDINARY or word in MONTHS
        for word in form.words
    )
    return Care.JUDGED if everyday else Care.NONE


def _made(text: str, kind: str, care: Care, entry: int) -> Iterator[Needle]:
    needle = make(text, kind, DECLARED, care, entry=entry)
    if needle:
        yield needle


def _entries(declared: Declared) -> tuple[Entry, ...]:
    """Every entry, in the order in which they are numbered."""
    lists = {name: getattr(declared, name) for name in ("people", "places", "numbers", "other")}
    return tuple((name, place) for name, entries in lists.items() for place in range(len(entries)))


def _file_names(folder: CaseFolder) -> Iterator[Needle]:
    files = [frame.file for frame in folder.case.frames] + [
        readings.file for readings in folder.case.readings
    ]
    files += [folder.case.previous_actions] if folder.case.previous_actions else []
    for file in files:
        path = PurePath(file.value.replace("\\", "/"))
        yield from _name(path.stem, path.name, "original file name")


def _folder_name(folder: CaseFolder) -> Iterator[Needle]:
    name = folder.root.resolve().name
    # The case's code is shown on purpose, and names the output.
    if fold(name) != fold(folder.case.code):
        yield from _name(name, "", "name of the case folder")


def _name(stem: str, whole: str, kind: str) -> Iterator[Needle]:
    """A name with a long number counts however parted, one with underscores as written, others with suffix.

    `second-look.jpg` is looked for, `second-look` is not: the operation is called so, too.
    """
    words = tokens(stem)
    if all(fold(word) in _GENERIC or (word.isdigit() and len(word) < 4) for word in words):
        return
    numbered = any(word.isdigit() and len(word) >= 4 for word in words)
    tied = len(words) > 1 and "_" in stem
    forms = [(stem, not numbered)] if numbered or tied else []
    for form, literal in (*forms, *([(whole, True)] if whole else [])):
        needle = make(form, kind, FILE_NAMES, literal=literal)
        if needle:
            yield needle


def _dates(part: object) -> Iterator[date]:
    """Every calendar date in the times of the case, by walking all its parts."""
    match part:
        case Day():
            yield part.date
        case When():
            yield from _dates((part.first, part.last))
        case Stamp():
            if isinstance(part.day, date):
                yield part.day
        case tuple():
            for item in part:
                yield from _dates(item)
        case Part():
            for _, value in part:
                yield from _dates(value)
        case _:
            return
