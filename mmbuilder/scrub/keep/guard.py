"""Weigh one candidate name against the lists and its context: keep, remove or ask.

The order of the questions is the rule: a measure is never a name; a listed eponym in its frame stays
even where a person of that name is known; then titles and known names remove; then lists keep; what
may be either is asked about; what is left is removed. Reasons hold list words only, never the name.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep import frames, persons, rows
from mmbuilder.scrub.keep.likeness import log_odds
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.keep.words import words
from mmbuilder.scrub.kin import KIN

# Gauges, ratios, acuities, pressures, levels, grades, clock hours: "27G", "1:4", "6/9", "L4/5", "T10", "3-0".
_MEASURE = re.compile(
    r"[\d\s.,:/%+°'’×x\-–−]*\d[\d\s.,:/%+°'’×x\-–−]*(?:[a-zµ]{1,4}(?:/[a-z]{1,4})*)?"
    r"|[IVX]{1,4}[a-dA-D]?"
    r"|[CTLS]\d{1,2}(?:\s?[/-]\s?[CTLS]?\d{1,2})?"
    r"|(?:CT|ST|FY?|ASA|PIRADS|BIRADS|T|N|M|G|Ch|Fr)\s?\d{1,2}[a-d]?",
    re.IGNORECASE,
)
_ROMAN = re.compile(r"(?:I{2,3}|IV|VI{1,3}|IX|XI{1,2})[a-dA-D]?|[IVX][a-d]")
"""A grade in Roman figures of two signs or more."""
GRADED = ("Bismuth", "Carpentier", "Child", "Frankel", "Pugh", "Stanford", "Strasberg", "Vancouver", "Weber")
"""Eponyms of classes that are told by a letter from A to E (common practice, no source): `Weber B`."""
_GRADE = re.compile(rf"(?:{'|'.join(GRADED)})\s[A-E]\.?")
UNSURE = 0.5  # score up to which a finder may not take a word, or an eponym, for a name by itself
DOUBTFUL = 0.25  # ... nor a single word on no list
SURE = 0.9  # least score of a finder that may take a word in small letters for a name
_SUFFIX_AT_LEAST = 8
LIKE_A_PRODUCT = -0.3  # mean log odds of letters up to which a word is made like no name


_OF_THINGS_TOO = frozenset(
    [
        "opened",
        "closed",
        "removed",
        "left",
        "held",
        "passed",
        "developed",
        "has",
        "had",
        "came",
        "went",
        "fell",
        "returned",
        "marked",
    ]
)
"""What a membrane, a clamp or a drain does too."""


class Verdict(StrEnum):
    """What is to be done with a candidate."""

    KEEP = "keep"
    REMOVE = "remove"
    ASK = "ask"


@dataclass(frozen=True)
class Judgement:
    """The verdict on one candidate, with the stretch it holds for and its reason in words."""

    verdict: Verdict
    reason: str
    start: int
    end: int


class Guard:
    """Judges candidates of one text.

    Args:
        text: as written.
        known_names: names already found in the document, whole or in pieces; each removes wherever it
            stands outside an eponym frame.
    """

    def __init__(self, text: str, known_names: Collection[str] = ()) -> None:
        self._lists = load()
        self._passage = Passage.of(text, self._lists)
        pieces = {word.plain for name in known_names for word in words(name)}
        self._known = pieces - self._lists.particles - self._lists.titles

    def judge(self, start: int, end: int, score: float = 1.0) -> Judgement:
        """Decide about one candidate.

        Args:
            start: offset of its first letter.
            end: offset after its last letter.
            score: 0 to 1, how sure its finder is; 1 for a pattern.
        """
        first, last = self._passage.span(start, end)
        while last - first > 1 and self._passage.ends(first) and self._abbreviated(first):
            first += 1  # "REBOA. Sten"
        first, last, titled = self._trimmed(first, self._cut(first, last))
        if first == last:
            return Judgement(Verdict.KEEP, "no word of a name in it", start, end)
        begin, stop = self._offsets(first, last)
        if not titled and _MEASURE.fullmatch(self._passage.text[begin:stop]):
            return Judgement(Verdict.KEEP, "a measure, not a name", begin, stop)
        if not titled and _GRADE.fullmatch(self._passage.text[begin:stop]):
            return Judgement(Verdict.KEEP, "a class told by its letter", begin, stop)
        verdict, reason = self._weighed(first, last, titled, score)
        if verdict is Verdict.REMOVE:
            begin, stop = self._offsets(*self._widened(first, last))
        return Judgement(verdict, reason, begin, stop)

    def of_several_words(self, start: int, end: int) -> bool:
        """Whether a candidate is a part of a listed eponym of several words, or the whole of it: `Ivor Lewis`."""
        first, last = self._passage.span(start, end)
        found = frames.eponym_at(self._passage, first)
        return found is not None and found[1] - found[0] > 1 and found[1] >= last

    def _offsets(self, first: int, last: int) -> tuple[int, int]:
        final = self._passage.words[last - 1]
        return self._passage.words[first].start, final.end - 2 * final.bears_s

    def _widened(self, first: int, last: int) -> tuple[int, int]:
        """The name with the capitalised words on no list, and the initials, that stand right beside it."""
        while first > 0 and self._beside(first - 1, first - 1):
            first -= 1
        while last < len(self._passage.words) and self._beside(last, last - 1):
            last += 1
        return first, last

    def _beside(self, index: int, left: int) -> bool:
        word = self._passage.words[index]
        if not self._passage.cased or not word.capital or self._passage.ends(left):
            return False
        if self._passage.between(left).strip(" -.‐‑"):
            return False
        if word.text.isupper() and not word.initial:
            return False  # an abbreviation
        return word.initial or not (self._kept_class(index) or self._title(index) or self._listed(word.plain))

    def _listed(self, plain: str) -> bool:
        return plain in self._lists.eponym_words or plain in self._lists.word_names

    def _trimmed(self, first: int, last: int) -> tuple[int, int, bool]:
        """The candidate without titles before it, small words around it and a grade behind it; whether it had a title."""
        if self._with_a_grade(first, last):
            last -= 1  # `Clavien-Dindo IVa`
        titled = False
        capital = any(word.capital for word in self._passage.words[first:last])
        while last - first > 1 and (self._title(first) or self._outside(first, last, capital)):
            titled |= self._title(first)
            first += 1
        while last - first > 1 and self._outside(last - 1, last, capital):
            last -= 1
        return first, last, titled

    def _with_a_grade(self, first: int, last: int) -> bool:
        """Whether a grade stands behind the eponym that it belongs to."""
        return (
            last - first > 1
            and self._passage.cased
            and _ROMAN.fullmatch(self._passage.words[last - 1].text) is not None
            and all(word.plain in self._lists.eponym_words for word in self._passage.words[first : last - 1])
        )

    def _abbreviated(self, index: int) -> bool:
        """Whether a word in capitals is a listed one."""
        word = self._passage.words[index]
        return (
            self._passage.cased
            and len(word.text) > 2
            and word.text.isupper()
            and self._lists.known(word.plain)
        )

    def _cut(self, first: int, last: int) -> int:
        """The end without a next sentence of listed words: `SOUNDARARAJAN` of `SOUNDARARAJAN. WHIPPLE`."""
        for at in range(first, last - 1):
            if (
                len(self._passage.words[at].text) > 2
                and self._passage.ends(at)
                and all(
                    word.plain in self._lists.eponyms or self._lists.known(word.plain)
                    for word in self._passage.words[at + 1 : last]
                )
            ):
                return at + 1
        return last

    def _title(self, index: int) -> bool:
        return self._passage.words[index].plain in self._lists.titles

    def _outside(self, index: int, last: int, capital: bool) -> bool:
        """Whether a word in small letters is no part of a name, in a text whose capitals tell."""
        word = self._passage.words[index]
        if word.plain == "the":
            return True
        if not self._passage.cased or not word.text.islower():
            return False
        if not capital:
            return word.plain in self._lists.terms
        particle = word.plain in self._lists.particles and index < last - 1
        joined = index > 0 and self._passage.between(index - 1) in ("-", "‐", "‑")
        return not particle and not joined

    def _weighed(self, first: int, last: int, titled: bool, score: float) -> tuple[Verdict, str]:
        person = titled or persons.titled(self._passage, first)
        after_role = persons.role_before(self._passage, first)
        # After a role only the noun right behind shows a thing: "Surgeon Smith identified the sulcus".
        framed = frames.listed_frame(self._passage, first, last, **({"reach": 1} if after_role else {}))
        if framed and not (person and not frames.holds_the_title(self._passage, first)):
            return Verdict.KEEP, framed
        if person:
            return Verdict.REMOVE, "after a title"
        if any(word.plain in self._known for word in self._passage.words[first:last]):
            return Verdict.REMOVE, "a name found elsewhere in this document"
        acting = after_role or (persons.acts(self._passage, last) and not self._as_things_do(first, last))
        return (
            self._as_term(first, last, acting, after_role)
            or self._as_word_name(first, last, acting, score)
            or self._as_eponym(first, last, acting, score)
            or self._as_unknown(first, last, acting, score)
        )

    def _as_things_do(self, first: int, last: int) -> bool:
        """Whether what seems to act is a thing: after an article, or a rare eponym among others that opened or was left."""
        if (
            first
            and self._passage.words[first - 1].plain in ("a", "an")
            and not self._passage.ends(first - 1)
        ):
            return True
        verb = self._passage.words[last].plain
        return (
            verb in _OF_THINGS_TOO
            and self._rare(first, last)
            and self._passage.words[first].plain in self._lists.eponym_words
            and rows.in_a_clinical_row(self._passage, first, last)
        )

    def _as_term(self, first: int, last: int, acting: bool, after_role: bool) -> tuple[Verdict, str] | None:
        """Keep what is on a list of terms and cannot be a name."""
        over = self._passage.term_over(first, last)
        if over and not acting:
            return Verdict.KEEP, f"part of a listed term: {over}"
        if after_role and last - first > 1 and all(map(self._no_name, range(first, last))):
            return Verdict.KEEP, "ordinary words, none of them a name"
        classes = [self._kept_class(i, after_role=after_role) for i in range(first, last)]
        if not all(classes):
            return None
        return Verdict.KEEP, f"listed as {classes[0]}"

    def _no_name(self, index: int) -> bool:
        """Whether a word is listed, and on no list of names."""
        plain, lists = self._passage.words[index].plain, self._lists
        named = plain in lists.given or plain in lists.family or self._listed(plain)
        return lists.known(plain) and not named

    def _kept_class(self, index: int, *, after_role: bool = False) -> str | None:
        word, lists = self._passage.words[index], self._lists
        if word.plain in lists.word_names:
            return None
        if word.plain in lists.terms or word.plain in lists.eponym_words:
            return lists.terms.get(word.plain)
        if word.plain in lists.heads or word.plain in lists.roles or word.plain in lists.titles:
            return "an ordinary word"
        if not after_role and self._passage.plain_word(index):
            return "an ordinary word"
        if word.text.isupper() and word.text in ABBREVIATIONS:
            return "an abbreviation"
        if word.text in KIN:  # in small letters
            return "a relative"
        if lists.ended_abroad(word.plain):
            return "a clinical word by its ending"
        if self._passage.cased and word.capital and not self._passage.opens(index):
            return None  # an ending alone proves nothing: "Inverness" ends like "thickness"
        if len(word.plain) >= _SUFFIX_AT_LEAST and word.plain.endswith(lists.suffixes):
            return "a clinical word by its ending"
        return lists.called(word.plain)

    def _as_word_name(self, first: int, last: int, acting: bool, score: float) -> tuple[Verdict, str] | None:
        """A name that is also a word: kept in small letters, a person by context, else asked about."""
        plains = [word.plain for word in self._passage.words[first:last]]
        kept = [self._kept_class(index) for index in range(first, last)]
        if not all(p in self._lists.word_names or k for p, k in zip(plains, kept, strict=True)):
            return None
        if any(kept) and not acting:
            return Verdict.KEEP, "an ordinary word beside another"
        if self._month(first, last):
            return Verdict.KEEP, "a month or a day"
        if self._passage.cased and all(word.text.islower() for word in self._passage.words[first:last]):
            return Verdict.KEEP, "an ordinary word in small letters"
        if acting:
            return Verdict.REMOVE, "a word that is also a name, in the place of a person"
        if self._reads_on(first, last):
            return Verdict.KEEP, "an ordinary word before the word it belongs to"
        alone = frames.said_alone(self._passage, first, last)
        if alone:
            return Verdict.KEEP, alone
        if last - first == 1 and score < UNSURE:
            return Verdict.KEEP, "a name that is also an ordinary word, and its finder is not sure"
        if (
            last - first == 1
            and plains[0] in self._lists.eponyms
            and rows.in_a_clinical_row(self._passage, first, last)
        ):
            return Verdict.KEEP, "a listed eponym beside others, and no person"
        return Verdict.ASK, "a name that is also an ordinary word"

    def _month(self, first: int, last: int) -> bool:
        if last - first != 1 or self._passage.words[first].plain not in self._lists.months:
            return False
        before = self._passage.words[first - 1].plain if first else ""
        after = self._passage.words[last].plain if last < len(self._passage.words) else ""
        return before in self._lists.month_before or before[:1].isdigit() or after[:1].isdigit()

    def _reads_on(self, first: int, last: int) -> bool:
        """Whether a single word reads on: it opens the sentence, or case tells nothing."""
        cased = self._passage.cased
        if self._passage.words[last - 1].possessive:
            return False
        if last - first > 1 or self._passage.ends(last - 1) or (cased and not self._passage.opens(first)):
            return False
        after = self._passage.words[last]
        ambiguous = after.plain in ("was", "is", "and", "had", "has", "were", "will", "can", "did")
        listed = after.plain in self._lists.terms and (after.text.islower() or not cased)
        return listed and not ambiguous and not self._passage.between(last - 1).strip(" ")

    def _abbreviation(self, index: int, score: float) -> bool:
        """Capitals, two or three, or more if the finder is not sure, or with a digit, where case tells.

        None where a first name follows: `VASHT, Ada`.
        """
        text = self._passage.words[index].text.removesuffix("s")
        most = 3 if score >= SURE else 5
        short = (2 <= len(text) <= most and text.isalpha()) or any(c.isdigit() for c in text)
        surname = index + 1 < len(self._passage.words) and self._passage.between(index).startswith(",")
        return self._passage.cased and text.isupper() and short and not surname

    def _as_eponym(self, first: int, last: int, acting: bool, score: float) -> tuple[Verdict, str] | None:
        """A listed eponym without its noun."""
        whole = self._passage.plain(first, last) in self._lists.eponyms
        if not whole and not all(
            word.plain in self._lists.eponym_words or word.plain in self._lists.word_names
            for word in self._passage.words[first:last]
        ):
            return None
        if acting:
            return Verdict.REMOVE, "an eponym's name, in the place of a person"
        alone = frames.said_alone(self._passage, first, last)
        if alone:
            return Verdict.KEEP, alone
        if last - first == 1 and self._among_things(first):
            return Verdict.KEEP, "a listed eponym in a row of things"
        if last - first == 1 and score < UNSURE:
            return Verdict.KEEP, "a listed eponym, and its finder is not sure"
        if self._rare(first, last):
            return Verdict.KEEP, "a listed eponym that no list of names has"
        if last - first == 1 and rows.in_a_clinical_row(self._passage, first, last):
            return Verdict.KEEP, "a listed eponym beside others, and no person"
        return Verdict.ASK, "an eponym's name without its noun"

    def _rare(self, first: int, last: int) -> bool:
        """Whether nobody is likely to bear the name: `Metzenbaum`, and not `Kelly`."""
        names = (self._lists.given, self._lists.family, self._lists.word_names)
        return not any(word.plain in listed for word in self._passage.words[first:last] for listed in names)

    def _among_things(self, index: int) -> bool:
        """Whether a neighbour in a row is a thing: another eponym or a term (`Babcock, Lahey; bougie`)."""
        return any(
            0 <= other < len(self._passage.words)
            and self._passage.between(min(index, other)).strip() in ("", ",", ";", "/", "-", ", then", "and")
            and self._thing(other)
            for other in (index - 1, index + 1, *self._past_joins(index))
        )

    def _half_an_eponym(self, first: int, last: int) -> bool:
        """Whether a double with a hyphen has a half that is a rare eponym: `Blumgart-Kakita`."""
        if last - first != 2 or self._passage.between(first) not in ("-", "‐", "‑"):
            return False
        return any(
            self._passage.words[at].plain in self._lists.eponym_words and self._rare(at, at + 1)
            for at in (first, first + 1)
        )

    def _made_like_a_product(self, first: int, last: int) -> bool:
        """Whether a word on no list looks like no name and stands among eponyms and products: `Opsite, Mefix`."""
        word = self._passage.words[first]
        listed = word.plain in self._lists.given or word.plain in self._lists.family
        return (
            self._passage.cased
            and word.capital
            and not listed
            and not word.possessive
            and log_odds(word.plain) <= LIKE_A_PRODUCT
            and rows.in_a_clinical_row(self._passage, first, last)
            and rows.is_an_item(self._passage, first, last)
        )

    def _past_joins(self, index: int) -> tuple[int, ...]:
        """The words behind a joining word on either side: `Macintosh, then McCoy`, `Heller and Dor`."""
        words, joins = self._passage.words, ("and", "then", "or", "with", "x2")
        before = (index - 2,) if index > 1 and words[index - 1].plain in joins else ()
        after = (index + 2,) if index + 2 < len(words) and words[index + 1].plain in joins else ()
        return before + after

    def _thing(self, index: int) -> bool:
        word = self._passage.words[index]
        if word.plain in self._lists.word_names:
            return False
        if word.plain in self._lists.eponym_words:
            return word.capital
        return self._lists.terms.get(word.plain, "an ordinary word") != "an ordinary word"

    def _as_unknown(self, first: int, last: int, acting: bool, score: float) -> tuple[Verdict, str]:
        if not acting and last - first == 1 and self._abbreviation(first, score):
            return Verdict.KEEP, "an abbreviation"
        if not acting and last - first == 1 and score < DOUBTFUL:
            return Verdict.KEEP, "one word on no list, and its finder doubts it"
        frame = None if acting else frames.unlisted_frame(self._passage, first, last)
        if frame:
            return Verdict.KEEP, frame
        if not acting and rows.among_terms_alone(self._passage, first, last):
            return Verdict.KEEP, "before a thing, beside clinical terms, and nobody named"
        if not acting and self._half_an_eponym(first, last):
            return Verdict.KEEP, "half of it is a listed eponym that no list of names has"
        if not acting and last - first == 1 and self._made_like_a_product(first, last):
            return Verdict.KEEP, "made like a word and beside things, and no person"
        if self._passage.cased and not acting and self._passage.words[first].text.islower():
            if score < SURE:
                return Verdict.KEEP, "in small letters, and its finder is not sure"
            return Verdict.ASK, "taken for a name, in small letters and on no list"
        return Verdict.REMOVE, "taken for a name, and on no list"
