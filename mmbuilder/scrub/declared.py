"""Find what the author declared, in every form it may take.

One index a case, one pass a text: the folded text is cut into words, and a word that begins
a known form is followed to its end, whatever stands between (a space, a hyphen, a dot, an
underscore). Numbers are compared by their figures and letters alone.

The identifier classes are those of the declared things: names (A), places (B), numbers.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.identifiers import Declared, Number, NumberKind
from mmbuilder.scrub import variants
from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.context import capital, in_eponym, opens_sentence, titled, used_as_name
from mmbuilder.scrub.escapes import unescaped
from mmbuilder.scrub.fold import Folded, Token, fold, folded, humps, tokens, words_of
from mmbuilder.scrub.fuzzy import Misspellings
from mmbuilder.scrub.pieces import Pieces, is_word, unspaced
from mmbuilder.scrub.plan import Layer, Span
from mmbuilder.scrub.surrogates import Subject, Subjects, fit, overlaps, role_told, subjects
from mmbuilder.scrub.variants import Form, Rule, compact_dates, written_dates
from mmbuilder.scrub.words import EPONYMS, MONTHS, ORDINARY

NAME = "declared"
"""How this layer is listed in the report."""

_GAP = re.compile(r"[\s.,'’‘`´_/#‐–-]{0,3}")
_SPLIT = re.compile(r"(?:[-‐‑–_]\s*|[./\\*'’·]{1,2}|\s+)")
_WITH_ARTICLE = re.compile(r"[^\W\d_]+,\s(?!\d)[^\W_A-Z]")
_ONWARD = re.compile(r"\s[^\W\d_]")
_APOSTROPHE = re.compile(r"['’‘`´]")
_SPACED = re.compile(r"[\s.\-‐‑–_·*]{1,2}")
_SLIPS = tuple(str.maketrans(f"013457{one}", f"o{one}east{one}") for one in "il")
"""Figures that stand for a letter, by a slip of the eye or on purpose."""

_DOTTED = re.compile(r"(?:[^\W\d_]\.[ ]?)+[^\W\d_]\.?")
_INNER = frozenset({"mc", "mac", "fitz"})
"""What a capital follows within one surname: `McBurney` does not hold the name Burney."""

_HUMP = 4
"""Letters a piece of a run must have, to be a name by itself."""


@dataclass(frozen=True)
class _Entry:
    form: Form
    subject: Subject


@dataclass(frozen=True)
class _Hit:
    start: int
    end: int
    subject: Subject
    confidence: float


class Index:
    """Every form of everything declared, ready to be found in any text.

    Args:
        declared: the author's private list.
    """

    def __init__(self, declared: Declared) -> None:
        self._keep = _keep_words(declared.keep)
        self._ordinary = ORDINARY | MONTHS | self._keep
        self._keep_phrases = [
            words for words in (words_of(one.value) for one in declared.keep) if len(words) > 1
        ]
        self._entries: dict[str, list[_Entry]] = {}
        self._names: dict[str, Subject] = {}
        made = subjects(declared)
        for person, subject in zip(declared.people, made.people, strict=True):
            for name in _every(person.name, person.also):
                self._add(variants.person(name), subject)
        for place, subject in zip(declared.places, made.places, strict=True):
            for name in _every(place.name, place.also):
                self._add(variants.place(name), subject)
        for text, subject in zip(declared.other, made.other, strict=True):
            self._add(variants.phrase(text.value), subject)
            self._add(written_dates(text.value), subject)
        for number, subject in zip(declared.numbers, made.numbers, strict=True):
            self._add(written_dates(number.value.value), subject)
        for entries in self._entries.values():
            entries.sort(key=lambda entry: -len(entry.form.words))
        self._misspelt = Misspellings(self._names)
        self._pieces = Pieces(self._names)
        self._spaced = {name: subject for name, subject in self._names.items() if len(name) >= _LEAST_SPACED}
        self._solid = dict(_solid(declared, made))
        self._numbers = _Numbers(_numbered(declared, made))

    @property
    def empty(self) -> bool:
        """Whether there is nothing to look for: nothing was declared, or nothing that has a form."""
        return not (self._entries or self._solid or self._numbers)

    def find(self, text: str) -> list[Span]:
        """Return everything declared in a text, sorted, not overlapping, fitted to its sentence."""
        return [_span(text, _Hit(*hit)) for hit in self.hits(text)]

    def hits(self, text: str) -> list[tuple[int, int, Subject, float]]:
        """Return (start, end, subject, confidence) of everything declared in a text, sorted."""
        found = self._plain(text)
        shown = unescaped(text)
        for hit in self._plain(shown.text) if shown else ():
            start, end = shown.place(hit.start, hit.end) if shown else (0, 0)
            found.append(_Hit(start, end, hit.subject, hit.confidence))
        return [(hit.start, hit.end, hit.subject, hit.confidence) for hit in _apart(found)]

    def _plain(self, text: str) -> list[_Hit]:
        """Everything in a text as it stands; some may overlap."""
        found = list(self._numbers.find(text))
        if self._entries:
            spread = fold(text)
            words = tokens(spread)
            kept = self._kept(spread, words)
            named = self._in_words(spread, words)
            found += [hit for hit in named if not overlaps(hit.start, hit.end, kept)]
        return [*found, *self._unspaced(text)]

    def keeps(self, text: str, start: int, end: int) -> bool:
        """Whether every word of a stretch is one the author listed to be kept, or part of a phrase listed so."""
        said = words_of(text[start:end])
        if not said:
            return False
        if said in self._keep_phrases or all(word in self._keep for word in said):
            return True
        if not self._keep_phrases:
            return False
        spread = fold(text)
        kept = self._kept(spread, tokens(spread))
        return any(first <= start and end <= last for first, last in kept)

    def _add(self, forms: Iterable[Form], subject: Subject) -> None:
        for form in forms:
            self._entries.setdefault(form.words[0], []).append(_Entry(form, subject))
            if len(form.words) == 1 and form.rule is not Rule.INITIALS and form.words[0].isalpha():
                self._names.setdefault(form.words[0], subject)

    def _kept(self, spread: Folded, words: Sequence[Token]) -> list[tuple[int, int]]:
        """Return where phrases stand that the author wants left alone, in order and apart."""
        found: list[tuple[int, int]] = []
        for place in range(len(words) if self._keep_phrases else 0):
            for phrase in self._keep_phrases:
                run = words[place : place + len(phrase)]
                if tuple(token.text for token in run) == phrase:
                    start, end = spread.place(run[0].start, run[-1].end)
                    if found and start < found[-1][1]:
                        start, end = found[-1][0], max(found.pop()[1], end)
                    found.append((start, end))
        return found

    def _in_words(self, spread: Folded, words: Sequence[Token]) -> Iterator[_Hit]:
        place = 0
        while place < len(words):
            hit, used = self._at(spread, words, place)
            if hit:
                yield hit
            else:
                yield from self._within(spread, words[place])
            place += used

    def _at(self, spread: Folded, words: Sequence[Token], place: int) -> tuple[_Hit | None, int]:
        """Return the longest form that begins with this word, and how many words it takes."""
        for entry in self._entries.get(words[place].text, ()):
            run = words[place : place + len(entry.form.words)]
            if self._matches(spread, run, entry):
                return _hit(spread, run, self._meant(spread, run, entry), 0.99), len(run)
        if len(words[place].text) == 1 and (apart := self._in_letters(spread, words, place)):
            return apart
        if words[place].text in self._pieces.starts and (joined := self._in_pieces(spread, words, place)):
            return joined
        run = words[place : place + 2]
        if (
            len(run) == 2
            and len(run[0].text) == 1
            and _APOSTROPHE.fullmatch(spread.text, run[0].end, run[1].start)
        ):
            whole = Token(run[0].text + run[1].text, run[0].start, run[1].end)
            if hit := self._nearly(spread, whole):  # O'Drellan, misspelt
                return hit, 2
        return self._nearly(spread, words[place]), 1

    def _meant(self, spread: Folded, run: Sequence[Token], found: _Entry) -> Subject:
        """Of several people who bear a name, the one whose role stands before it; else the first on the list."""
        bearers = [one.subject for one in self._entries[run[0].text] if one.form.words == found.form.words]
        if all(one == found.subject for one in bearers):
            return found.subject
        start, _ = spread.place(run[0].start, run[-1].end)
        return next((one for one in bearers if role_told(spread.raw, start, one.role)), found.subject)

    def _in_pieces(self, spread: Folded, words: Sequence[Token], place: int) -> tuple[_Hit, int] | None:
        """A name broken over a line, by a sign, or by the gaps of a page as `Tar nvo lk`."""
        name = words[place].text
        for end in range(place + 1, min(len(words), place + _MOST_SPACED)):
            name += words[end].text
            run = words[place : end + 1]
            gaps = [spread.text[one.end : two.start] for one, two in pairwise(run)]
            if not _SPLIT.fullmatch(gaps[-1]):
                return None
            if name in self._pieces.names and self._broken(spread, run, gaps):
                return _hit(spread, run, self._names[name], 0.7), len(run)
            if name not in self._pieces.starts:
                return None
        return None

    def _in_letters(self, spread: Folded, words: Sequence[Token], place: int) -> tuple[_Hit, int] | None:
        """A name with its letters apart: `T a r n v o l k`."""
        end = place + 1
        while end < len(words) and end - place < _MOST_SPACED and len(words[end].text) == 1:
            if not _SPACED.fullmatch(spread.text, words[end - 1].end, words[end].start):
                break
            end += 1
        for size in range(end - place, _LEAST_SPACED - 1, -1):
            run = words[place : place + size]
            if subject := self._spaced.get("".join(token.text for token in run)):
                return _hit(spread, run, subject, 0.9), size
        return None

    def _broken(self, spread: Folded, run: Sequence[Token], gaps: Sequence[str]) -> bool:
        """Whether it is a name: with spaces alone, and a word among the pieces, a capital must show it."""
        if any(gap.strip() for gap in gaps):
            return True
        start = spread.starts[run[0].start]
        if spread.raw[start].isupper() and not opens_sentence(spread.raw, start):
            return True
        return not any(is_word(token.text) for token in run)

    def _within(self, spread: Folded, token: Token) -> list[_Hit]:
        """Names in a run of words written together, by its capitals if it has any."""
        if token.text.isdigit():
            return []
        found = list(self._inside(spread, token))
        glued = None if found or len(token.text) <= _HUMP else self._glued(spread, token)
        return [glued] if glued else found

    def _glued(self, spread: Folded, token: Token) -> _Hit | None:
        name = self._pieces.glued(token.text)
        if not name or token.text in self._keep:
            return None
        return _Hit(*spread.place(token.start, token.end), self._names[name], 0.7)

    def _unspaced(self, text: str) -> Iterator[_Hit]:
        """Names in scripts that put no space between words."""
        for name, subject in self._solid.items() if not text.isascii() else ():
            for found in re.finditer(r"\s?".join(map(re.escape, name)), text):
                yield _Hit(*found.span(), subject, 0.99)

    def _matches(self, spread: Folded, run: Sequence[Token], entry: _Entry) -> bool:
        form = entry.form
        if tuple(token.text for token in run) != form.words:
            return False
        gaps = (spread.text[one.end : two.start] for one, two in pairwise(run))
        if not all(_GAP.fullmatch(gap) for gap in gaps):
            return False
        start, end = spread.place(run[0].start, run[-1].end)
        if len(run) > 1 and _article(spread.raw, spread.starts[run[-2].start], end):
            return False
        if form.rule is Rule.INITIALS:
            return _initials(spread.raw, start, end, len(run))
        if form.rule is Rule.LETTER:
            return spread.raw[spread.starts[run[-1].start]].isupper()
        if form.rule is Rule.PART:
            return used_as_name(spread.raw, start, end, "".join(form.words), self._keep)
        return _as_declared(entry) or self._whole(spread, run, end) or titled(spread.raw, start)

    def _whole(self, spread: Folded, run: Sequence[Token], end: int) -> bool:
        """Words that are all ordinary ones count as a name only with capitals, and in no eponym."""
        if all(token.text in EPONYMS for token in run) and in_eponym(spread.raw, end):
            return False
        long = [token for token in run if len(token.text) > 1]
        if len(run) == 1 and is_word(run[0].text):
            return False  # "Pat Ent" run together is "patent"
        if any(token.text not in self._ordinary and len(token.text) > 2 for token in long):
            return True
        return all(capital(spread.raw[spread.starts[token.start]]) for token in run if token.text.isalpha())

    def _nearly(self, spread: Folded, token: Token) -> _Hit | None:
        """Return a name with an s too many, or misspelt."""
        if len(token.text) > 4 and not token.text.isalpha() and not token.text.isdigit():
            meant = next((said for slip in _SLIPS if (said := token.text.translate(slip)) in self._names), "")
            return _Hit(*spread.place(token.start, token.end), self._names[meant], 0.7) if meant else None
        if not token.text.isalpha() or len(token.text) <= 4 or token.text in self._keep:
            return None
        start, end = spread.place(token.start, token.end)
        stem = token.text.removesuffix("s")
        if stem != token.text and stem in self._names and len(stem) > 3:
            if used_as_name(spread.raw, start, end, stem, self._keep) and stem not in ORDINARY:
                return _Hit(start, end - 1, self._names[stem], 0.9)
            return None
        name = None if is_word(token.text) else self._misspelt.nearest(token.text)
        if name and _may_be_misspelt(spread.raw, start, name):
            return _Hit(start, end, self._names[name], 0.7)
        return None

    def _inside(self, spread: Folded, token: Token) -> Iterator[_Hit]:
        """Names in a run of words written together, as in file names."""
        pieces = list(humps(spread, token))
        for place, piece in enumerate(pieces):
            if place and pieces[place - 1].text in _INNER:
                continue
            for entry in self._entries.get(piece.text, ()):
                run = pieces[place : place + len(entry.form.words)]
                long = len(run) > 1 or len(piece.text) >= _HUMP
                if entry.form.rule is not Rule.INITIALS and long and self._matches(spread, run, entry):
                    yield _hit(spread, run, entry.subject, 0.9)
                    break


def _article(raw: str, start: int, end: int) -> bool:
    """Whether a name ends in a letter that is a word of the sentence: `Mr Quill, a widower`, and not `quill, a`."""
    return _WITH_ARTICLE.fullmatch(raw, start, end) is not None and _ONWARD.match(raw, end) is not None


def _as_declared(entry: _Entry) -> bool:
    """Whether a form is a place with the word for its kind, or with a number: it counts in lower case too, `rose ward`, `th 6`."""
    words = entry.form.words
    if entry.subject.letter != "B" or entry.form.rule is not Rule.WHOLE or len(words) < 2:
        return False
    numbered = any(word.isdigit() for word in words) and words[0] != "or"  # "one or 2"
    return numbered or words[-1] in _HEADS or words[0] in _HEADS


_HEADS = frozenset({"ward", "theatre", "theater", "hospital", "clinic", "infirmary", "unit"})
_LEAST_SPACED, _MOST_SPACED = 4, 30
"""Letters of a name that is looked for with its letters apart."""


def _numbered(declared: Declared, made: Subjects) -> Iterator[tuple[str, Subject]]:
    """Every declared number and date in its compact forms."""
    for number, subject in zip(declared.numbers, made.numbers, strict=True):
        yield from ((form, subject) for form in number_forms(number))
        yield from ((form, subject) for form in compact_dates(number.value.value))
    for text, subject in zip(declared.other, made.other, strict=True):
        yield from ((form, subject) for form in compact_dates(text.value))


def _solid(declared: Declared, made: Subjects) -> Iterator[tuple[str, Subject]]:
    rows = (
        *(
            (_every(of.name, of.also), subject)
            for of, subject in zip(declared.people, made.people, strict=True)
        ),
        *(
            (_every(of.name, of.also), subject)
            for of, subject in zip(declared.places, made.places, strict=True)
        ),
    )
    for names, subject in rows:
        for name in names:
            written = "".join(name.split())
            if unspaced(written):
                yield from ((form, subject) for form in variants.unspaced_forms(written))


def _every(name: FreeText, also: Sequence[FreeText]) -> Iterator[str]:
    yield from (text.value for text in (name, *also) if text)


def _keep_words(keep: Sequence[FreeText]) -> frozenset[str]:
    return frozenset(words[0] for words in (words_of(one.value) for one in keep) if len(words) == 1)


def _hit(spread: Folded, run: Sequence[Token], subject: Subject, confidence: float) -> _Hit:
    start, end = spread.place(run[0].start, run[-1].end)
    if len(run[-1].text) == 1 and spread.raw[end : end + 1] == "." and len(run) > 1:
        after = spread.raw[end + 1 : end + 2]
        # "Okafor, J." keeps no stray dot in mid-sentence; at its end the full stop stays.
        end += 1 if (after and not after.isspace()) or spread.raw[end + 1 : end + 3].strip().islower() else 0
    return _Hit(start, end, subject, confidence)


def _span(text: str, hit: _Hit) -> Span:
    subject, end = hit.subject, hit.end
    plural = text[end : end + 1] in ("s", "S") and text[end - 1 : end].isalpha()
    if text[hit.start : end].endswith(("'s", "’s", "'S", "’S")):
        end -= 2  # the author listed the possessive: it stays
    fitted = fit(text, hit.start, end, subject.stand_in, subject.role if subject.letter == "A" else "")
    return Span(
        fitted.start,
        fitted.end + plural,
        subject.kind,
        subject.letter,
        f"{fitted.words}'s" if plural else fitted.words,
        hit.confidence,
        Layer.DECLARED,
        subject.group,
    )


def _initials(raw: str, start: int, end: int, count: int) -> bool:
    """Whether these letters stand as somebody's initials: capitals, dotted or no abbreviation."""
    found = raw[start:end]
    letters = [letter for letter in found if letter.isalpha()]
    if not all(letter.isupper() for letter in letters):
        return False
    if count > 1:
        dotted = _DOTTED.fullmatch(raw, start, end) is not None or raw[end : end + 1] == "."
        apart = re.sub(r"[^\W_]", "", found).strip(" -") == "" and "".join(letters) not in ABBREVIATIONS
        return (dotted and "." in raw[start : end + 1]) or (apart and len(found) > len(letters))
    return found not in ABBREVIATIONS and not raw[end : end + 1].isalnum()


def _may_be_misspelt(raw: str, start: int, name: str) -> bool:
    """Whether a misspelling is likely: a capital within a sentence, a title, or a long name."""
    if titled(raw, start) or len(name) >= 8:
        return True
    return raw[start].isupper() and not opens_sentence(raw, start)


def _apart(hits: list[_Hit]) -> list[_Hit]:
    """Sort; of two that overlap the surer, then the longer, stays."""
    kept: list[_Hit] = []
    for hit in sorted(hits, key=lambda hit: (-hit.confidence, hit.start - hit.end, hit.start)):
        # `kept` is in order and free of overlaps, so only the neighbours of its place can touch.
        place = bisect_left(kept, hit.start, key=lambda other: other.start)
        if all(
            other.end <= hit.start or hit.end <= other.start for other in kept[max(0, place - 1) : place + 1]
        ):
            kept.insert(place, hit)
    return kept


# --- numbers ----------------------------------------------------------------------------------

_LEAST = 3
_BETWEEN = r"[\s.,:;·•*#'/|()_‐‑–—-]{0,3}"
_SAID = {"0": "[0o]", "1": "[1li]"}
_AS_FIGURES = str.maketrans("oli", "011")
"""Letters written for a figure: `999 OOO OO18`."""

_LONG = 6
"""Signs from which a number counts also where letters stand right against it."""


class _Numbers:
    """Declared numbers: any spacing and separators, with or without leading zeros."""

    def __init__(self, numbers: Iterable[tuple[str, Subject]]) -> None:
        self._subjects: dict[str, Subject] = {}
        self._looks: dict[str, Subject] = {}
        for form, subject in numbers:
            self._subjects.setdefault(form, subject)
            self._looks.setdefault(form.translate(_AS_FIGURES), subject)
        forms = sorted(self._subjects, key=lambda form: (-len(form), form))
        self._pattern = re.compile("|".join(map(_spread, forms))) if forms else None

    def __bool__(self) -> bool:
        return self._pattern is not None

    def find(self, text: str) -> Iterator[_Hit]:
        if self._pattern is None:
            return
        spread = fold(text)
        for found in self._pattern.finditer(spread.text):
            compact = re.sub(r"[\W_]", "", found[0])
            subject = self._subjects.get(compact) or self._looks[compact.translate(_AS_FIGURES)]
            if sum(map(str.isdigit, compact)) * 2 >= len(compact) or compact in self._subjects:
                yield _Hit(*spread.place(*found.span()), subject, 0.99)


def _spread(form: str) -> str:
    """The pattern of a number; a short one stands alone, a long one may touch letters, no figure."""
    signs = _BETWEEN.join(
        _SAID.get(sign, re.escape(sign)) if len(form) >= _LONG else re.escape(sign) for sign in form
    )
    if len(form) < _LONG or not form[-1].isdigit():
        return rf"(?<![^\W_]){signs}(?![^\W_])"
    return rf"(?<!\d){signs}(?!\d)" if form[0].isdigit() else rf"{signs}(?!\d)"


def number_forms(number: Number) -> Iterator[str]:
    """Return the signs of a number as they may be written, without separators."""
    compact = re.sub(r"[\W_]", "", folded(number.value.value))
    if len(compact) < _LEAST:
        return
    yield compact
    bare = compact.lstrip("0")
    if len(bare) >= 5 and bare != compact:
        yield bare
    letterless = re.sub(r"^[^\W\d_]+|[^\W\d_]+$", "", compact)
    if letterless != compact and letterless.isdigit() and len(letterless) >= _LONG:
        yield letterless
    if number.kind is NumberKind.PHONE:
        yield from _phone_forms(compact)
        groups = re.findall(r"\d+", number.value.value)
        ends = ("".join(groups[at:]) for at in range(1, len(groups)))
        yield from (local for local in ends if len(local) >= _LONG)
        figures = re.sub(r"\D", "", compact)
        yield from (figures[-size:] for size in (6, 7, 8) if len(figures) >= 10)


def _phone_forms(compact: str) -> Iterator[str]:
    """Return the same line with and without its country code (44 stands for any: the rest is matched)."""
    if compact.startswith("00"):
        yield compact[2:]
    elif compact.startswith("0"):
        yield from (f"{code}{compact[1:]}" for code in ("44", "0044", "353", "61", "64", "91", "27"))
    elif len(compact) > 10:
        yield from (compact[size:] for size in (1, 2, 3) if len(compact) - size >= 8)
        yield from (f"0{compact[size:]}" for size in (1, 2, 3) if len(compact) - size >= 8)
