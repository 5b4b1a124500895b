"""What the judge sees of each word: how it is written, what the lists say of it, and what stands around it.

Features are short strings; each has a weight for a person, a place and any other identifier in `weights.txt`.
A word's own letters count through their groups only, and its identity only where it is on no list of names: the
judge is to know a name by its place, not by heart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from mmbuilder.scrub.judging.common import LANGUAGES, common
from mmbuilder.scrub.judging.figures import form
from mmbuilder.scrub.judging.reading import NAMES, WORDS, Token, likeness
from mmbuilder.scrub.judging.tongues import tongue

_CLINICAL = frozenset("DGNFVU")
_PERSONS = frozenset("trk")
_PROSE = frozenset("ucj")
_ORDINARY = frozenset("Wohz")
_CUES = frozenset("trkpbvuclmj")
_AROUND = 6
"""Tokens on each side that tell how clinical a stretch is."""
_REACH = 3
"""Tokens on each side that are seen one by one."""
_COARSE = "trkpbvucjlmDGNFVUhWxsweygfoz"
"""Order in which one letter stands for a word that has several."""
_EDGE = "^"
"""What stands before the first token and after the last."""


@dataclass(frozen=True, slots=True)
class Seen:
    """The features of one token: those of the word by itself, which come back with it, and those of its place."""

    own: tuple[str, ...]
    around: list[str]

    def all(self) -> list[str]:
        """Both."""
        return [*self.own, *self.around]


def features(tokens: Sequence[Token]) -> list[Seen]:
    """The features of every token of one sentence."""
    edge = [_EDGE] * _REACH
    row = Row(
        tokens,
        [*edge, *(_coarse(token.plain, token.shape, token.flags) for token in tokens), *edge],
        [*edge, *(_word(token.plain, token.shape, token.flags) for token in tokens), *edge],
        Counter(token.plain for token in tokens),
        [_counts(token.shape, token.flags) for token in tokens],
        _opening(tokens),
    )
    whole = written_as(tokens) + tongue(token.plain for token in tokens)
    return [_of_token(row, at, whole) for at in range(len(tokens))]


@dataclass(frozen=True, slots=True)
class Row:
    """The tokens of a sentence and what its neighbours see of each, with three edges on each side.

    `opening` counts what the items of a list open with: names, and clinical terms.
    """

    tokens: Sequence[Token]
    kinds: list[str]
    words: list[str]
    times: Mapping[str, int]
    counts: list[tuple[int, ...]]
    opening: tuple[int, int]


@lru_cache(maxsize=16_384)
def _coarse(plain: str, shape: str, flags: str) -> str:
    """One sign for a token as a neighbour: its strongest list, how it is written, its form, or the sign itself."""
    if shape in FIGURES and not flags:
        return form(plain)
    if shape not in WORDS or shape in "iI":
        return shape
    letter = next((letter for letter in _COARSE if letter in flags), "?")
    if letter in "?gf":
        letter += str(max(common(plain)) // 3)
    return letter + (shape if shape != "a" else "")


@lru_cache(maxsize=16_384)
def _word(plain: str, shape: str, flags: str) -> str:
    """A neighbour by itself, where it is no name: a cue is known by its word."""
    if flags and not NAMES & set(flags):
        return plain
    if shape in "aAXM9" and _CUES & set(flags):
        return plain
    return _coarse(plain, shape, flags)


FIGURES = frozenset("19")
"""Shapes of figures, and of figures with letters."""


@lru_cache(maxsize=4_096)
def _counts(shape: str, flags: str) -> tuple[int, ...]:
    """What a token adds to a stretch: clinical terms, eponyms, people, figures, commas, small words of prose."""
    its = set(flags)
    return (
        bool(_CLINICAL & its),
        "e" in its and shape in "AX",
        bool(_PERSONS & its),
        shape in "19",
        shape in ",;",
        bool(_PROSE & its),
    )


def _opens_item(tokens: Sequence[Token], at: int) -> bool:
    """Whether a word opens an item of a list: after a sign that parts, or the number of the item."""
    if tokens[at].shape not in "aAXM":
        return False
    if at and tokens[at - 1].shape == "1" and len(tokens[at - 1].text) < 3:
        at -= 1
    return at == 0 or tokens[at - 1].shape in _PARTS


_PARTS = frozenset(",;:/|–-•).")


def _opening(tokens: Sequence[Token]) -> tuple[int, int]:
    """How many items of a list open with a name, and how many with a clinical term."""
    kinds = [_opens_with(token) for at, token in enumerate(tokens) if _opens_item(tokens, at)]
    return sum(name for name, _ in kinds), sum(term for _, term in kinds)


def _opens_with(token: Token) -> tuple[bool, bool]:
    """Whether a word is a name, by the lists or as it is made, and whether a clinical term."""
    its = set(token.flags)
    if _CLINICAL & its:
        return False, True
    if its:
        return bool(its & set("gf")) and not its & _ORDINARY, False
    return likeness(token.plain) > 1, False


def _in_list(row: Row, at: int, whole: str, group: str) -> Iterator[str]:
    """Of a word that opens an item, what the other items open with: a row is of one kind."""
    if _opens_item(row.tokens, at):
        name, term = _opens_with(row.tokens[at])
        names, terms = min(row.opening[0] - name, 4), min(row.opening[1] - term, 3)
        yield f"item {names} {terms} {group}"
        yield f"item {names} {terms} {row.tokens[at].shape}{whole}"


def written_as(tokens: Sequence[Token]) -> str:
    """Whether capitals tell anything here: `C` all capitals, `s` none, `n` a small letter first, `t` written as books are."""
    letters = [token for token in tokens if token.shape in "aAXMiI"]
    if not letters:
        return "0"
    upper = sum(len(token.text) for token in letters if token.shape == "X")
    if upper > 0.7 * sum(len(token.text) for token in letters):
        return "C"
    if all(token.shape in "ai" for token in letters):
        return "s"
    return "n" if letters[0].shape in "ai" else "t"


def _of_token(row: Row, at: int, whole: str) -> Seen:
    token = row.tokens[at]
    glued = int(at + 1 < len(row.tokens) and row.tokens[at + 1].glued)
    if token.shape not in WORDS and token.shape not in FIGURES:
        return Seen((), _of_sign(token, glued, row.kinds[at + _REACH - 1], row.kinds[at + _REACH + 1]))
    opens = at == 0 or row.tokens[at - 1].shape in ".!?:;"
    own, group = _own(token.plain, token.shape, token.flags, whole, opens)
    around = _around(row, at, token.shape, f"{token.shape}{whole}", group)
    k1, l1 = row.kinds[at + _REACH - 1], row.kinds[at + _REACH + 1]
    around.append(f"glue {int(token.glued)}{glued} {k1} {l1} {token.shape}")
    around += _past_signs(row, at, group)
    around += _in_list(row, at, whole, group)
    around += _density(row.counts, at, group, token.shape)
    return Seen(own, around)


def _of_sign(token: Token, glued: int, before: str, after: str) -> list[str]:
    sign = token.shape
    return [
        f"sign {sign}",
        f"sign {sign} {before} {after}",
        f"sign {sign} {int(token.glued)}{glued}",
        f"sign {sign} {before}",
        f"sign {sign} {after}",
    ]


@lru_cache(maxsize=32_768)
def _own(plain: str, shape: str, flags: str, whole: str, opens: bool) -> tuple[tuple[str, ...], str]:
    """What a word shows by itself, and its group."""
    if shape in FIGURES:
        return _of_figures(plain, shape, flags, whole, opens)
    named = may_be_named(flags)
    like = likeness(plain) if named else 0
    own, written, group = flags or f"?{like}", f"{shape}{whole}", _group(flags, like)
    found = [
        "bias",
        f"shape {written}",
        f"own {own}",
        f"own {own} {written}",
        f"own {own} {shape} {int(opens)}",
        f"open {written} {int(opens)}",
        f"long {min(len(plain), 9)} {shape}",
        f"hyphen {int('-' in plain)} {written} {flags[:1]}",
        f"like {like} {written}",
        f"group {group} {written}",
        *_how_common(plain, whole[1:], group, shape),
        *(f"has {letter} {shape}" for letter in flags),
    ]
    if named:
        edged = f"^{plain}$"
        found += [f"gr {edged[:size]}" for size in (3, 4)] + [f"gr {edged[-size:]}" for size in (3, 4, 5)]
    else:
        found.append(f"is {plain}")
    return tuple(found), group


def may_be_named(flags: str) -> bool:
    """Whether a word is on no list, or on one of names: how it is made tells something."""
    return "j" not in flags and (not flags or bool(NAMES & set(flags)))


def _how_common(plain: str, language: str, group: str, shape: str) -> tuple[str, ...]:
    """How common a word is in the language of its sentence, and anywhere: a common word is a name less often."""
    its = common(plain)
    here, most = its[LANGUAGES.index(language) if language in LANGUAGES else 0], max(its)
    return (
        f"common {here} {group} {shape}{language}",
        f"common {here} {most} {shape}",
        f"common {most} {group} {shape}",
    )


def _of_figures(plain: str, shape: str, flags: str, whole: str, opens: bool) -> tuple[tuple[str, ...], str]:
    """What a figure shows by itself, and its form as its group."""
    group = f"{flags[:1]}{form(plain)}"
    found = (
        "bias",
        f"shape {shape}{whole}",
        f"form {group}",
        f"form {group} {whole}",
        f"form {group} {int(opens)}",
    )
    return found, group


def _around(row: Row, at: int, shape: str, written: str, group: str) -> list[str]:
    """What stands on both sides: words where they are cues, and kinds of words."""
    w3, w2, w1, _, n1, n2, n3 = row.words[at : at + 2 * _REACH + 1]
    k3, k2, k1, _, l1, l2, _ = row.kinds[at : at + 2 * _REACH + 1]
    return [
        f"-1 {w1}",
        f"+1 {n1}",
        f"-2 {w2}",
        f"+2 {n2}",
        f"-3 {w3}",
        f"+3 {n3}",
        f"-1k {k1}",
        f"+1k {l1}",
        f"-1ks {k1} {written}",
        f"+1ks {l1} {written}",
        f"-2-1 {w2} {w1}",
        f"+1+2 {n1} {n2}",
        f"-1+1 {k1} {l1}",
        f"-1+1w {w1} {n1}",
        f"-2-1k {k2} {k1} {shape}",
        f"+1+2k {l1} {l2} {shape}",
        f"-1+1+2k {k1} {l1} {l2}",
        f"-2-1+1k {k2} {k1} {l1}",
        f"-3-2-1k {k3} {k2} {k1}",
        f"same {min(row.times[row.tokens[at].plain], 3)} {shape}",
        f"group-1 {group} {w1}",
        f"group+1 {group} {n1}",
        f"group-1k {group} {k1} {shape}",
        f"group+1k {group} {l1} {shape}",
        f"group-1+1k {group} {k1} {l1}",
        f"group-2-1 {group} {k2} {w1}",
        f"group+1+2 {group} {n1} {l2}",
    ]


def _past_signs(row: Row, at: int, group: str) -> Iterator[str]:
    """The nearest word on each side, where signs stand between."""
    for name, step in (("<", -1), (">", 1)):
        past = at + step
        while 0 <= past < len(row.tokens) and row.tokens[past].shape not in "aAXMiI91":
            past += step
        if past != at + step:
            there = row.words[past + _REACH]
            yield f"{name} {there}"
            yield f"{name} {there} {row.kinds[at + step + _REACH]} {group}"


@lru_cache(maxsize=4_096)
def _group(flags: str, like: int) -> str:
    """What sort of word it is, coarsely: the lists of names it is on, and whether it is a word of another kind too."""
    if not flags:
        return f"?{'+' if like > 1 else '-' if like < -1 else '='}"
    names = "".join(letter for letter in "gfwe" if letter in flags)
    if names:
        other = "c" if _CLINICAL & set(flags) else "o" if _ORDINARY & set(flags) else ""
        return names + other
    return next(letter for letter in _COARSE if letter in flags)


def _density(counts: Sequence[tuple[int, ...]], at: int, group: str, shape: str) -> list[str]:
    """How clinical, how full of eponyms, people and figures, and how much of a list the stretch around is."""
    near = [*counts[max(0, at - _AROUND) : at], *counts[at + 1 : at + 1 + _AROUND]] or [_NOTHING]
    clinical, eponyms, people, figures, commas, prose = map(sum, zip(*near, strict=True))
    return [
        f"clin {min(clinical, 4)} {group}",
        f"epon {min(eponyms, 3)} {group} {shape}",
        f"epon {min(eponyms, 3)} {min(people, 2)} {shape}",
        f"pers {min(people, 2)} {group}",
        f"figs {min(figures, 4)} {shape}",
        f"list {min(commas, 4)} {min(prose, 3)} {shape}",
    ]


_NOTHING = (0,) * 6
