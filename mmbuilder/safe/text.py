"""Text that may leave the building.

`SafeText` is not a `str`: it cannot slip into an f-string, a log line or a slide by
accident, and a `str` cannot pass for it. It is read in one place per output format,
through `reveal()`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any, LiteralString, NoReturn, final

from mmbuilder import labels
from mmbuilder.safe import direction
from mmbuilder.safe.bound import bound
from mmbuilder.safe.mint import KEY as _KEY
from mmbuilder.safe.mint import MintKey

_BREAKS = re.compile(r"[ \t\n\r]+")

_STEM = 5
"""Letters of a word that tell which it is, whatever its ending."""

_BEGINNING = 3
"""Words that a text begins with: `call for help`."""


@final
class SafeText:
    """Words that have crossed the line, or that we wrote ourselves.

    Our own words are told in the language of the reader, which is known only when they are
    written: so they are kept as what to say, and said by `reveal()`.
    """

    __slots__ = ("_parts", "_said", "_say", "_text")

    def __init__(self, key: MintKey, text: str) -> None:
        if key is not _KEY:
            raise TypeError("safe text is minted by the scrubber, not made by hand")
        self._text = text
        self._say: Callable[..., str] | None = None
        self._parts: tuple[Any, ...] = ()
        self._said: tuple[str, str] = ("", "")

    def reveal(self) -> str:
        """Return the words as `str`; called where a format writes them out and nowhere else."""
        if self._say is None:
            return self._text
        language = labels.spoken()
        if self._said[0] != language:
            self._said = (language, self._say(*self._parts))
        return self._said[1]

    def __len__(self) -> int:
        return len(self.reveal())

    def words(self) -> int:
        """How many words, for timing."""
        return len(self.reveal().split())

    def lengths(self) -> tuple[int, ...]:
        """How many letters each word has, for measuring."""
        return tuple(map(len, self.reveal().split()))

    def split(self) -> tuple[SafeText, ...]:
        """Return the words one by one."""
        return tuple(SafeText(_KEY, word) for word in self.reveal().split())

    def pieces(self) -> tuple[SafeText, ...]:
        """Return what a line may be broken between: words, a figure with its unit in one."""
        held = (" ".join(piece.split()) for piece in _BREAKS.split(bound(self.reveal())))
        return tuple(SafeText(_KEY, piece) for piece in held if piece)

    def within(self, other: SafeText) -> bool:
        """Whether `other` already says this, letter case aside."""
        return self.reveal().casefold() in other.reveal().casefold()

    def shared(self, other: SafeText) -> frozenset[str]:
        """Return the words of some length that stand in both, letter case and endings aside."""
        return self._stems() & other._stems()

    def _stems(self) -> frozenset[str]:
        words = re.findall(r"[^\W\d_]{4,}", self.reveal().casefold())
        return frozenset(word[:_STEM] if len(word) > _STEM else word.removesuffix("s") for word in words)

    def __bool__(self) -> bool:
        return bool(self.reveal())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, SafeText) and self.reveal() == other.reveal()

    def __hash__(self) -> int:
        return hash(("SafeText", self.reveal()))

    def __lt__(self, other: SafeText) -> bool:
        return self.reveal() < other.reveal()

    def __repr__(self) -> str:
        return f"SafeText({self.reveal()!r})"

    def __str__(self) -> NoReturn:
        raise TypeError("safe text is written out by a format, through reveal()")

    def __format__(self, spec: str) -> NoReturn:
        raise TypeError("safe text is put together with safe.text.fill or join, not with an f-string")


EMPTY = SafeText(_KEY, "")


def _later(say: Callable[..., str], *parts: Any) -> SafeText:
    text = SafeText(_KEY, "")
    text._say, text._parts = say, parts
    return text


def ours(key: MintKey, text: str) -> SafeText:
    """Words of our own that stand in data: the name of a figure, the closing line of a use.

    Raises:
        TypeError: the key is not the mint's.
    """
    if key is not _KEY:
        raise TypeError("words from data are minted where the data is read")
    return _later(labels.say, text)


def figured(key: MintKey, text: str) -> SafeText:
    """Figures with words of ours among them, as a figure of the clinic comes out.

    Raises:
        TypeError: the key is not the mint's.
    """
    if key is not _KEY:
        raise TypeError("words from data are minted where the data is read")
    return _later(labels.told, text)


def wording(text: LiteralString) -> SafeText:
    """Words of our own, written in the source."""
    return _later(labels.say, text)


def number(value: float, spec: LiteralString = "") -> SafeText:
    """Return a count or measure as text; `spec` as in `format()`.

    Raises:
        TypeError: it is no number.
    """
    if not isinstance(value, int | float):
        raise TypeError("a number is needed here")
    return _later(labels.figures, format(value, spec))


def join(separator: LiteralString, parts: Iterable[SafeText]) -> SafeText:
    """Join the parts that are not empty; before a comma or a semicolon a part loses its full stop."""
    return _later(_joined, separator, tuple(part for part in parts if part))


def _joined(separator: str, parts: tuple[SafeText, ...]) -> str:
    said, between = [part.reveal() for part in parts], labels.say(separator)
    if between[:1] in (",", ";"):
        said[:-1] = map(_unstopped, said[:-1])
    whole = between.join(said)
    # Without anything between them they are pieces of one text.
    if not separator or not direction.holds_leftward(whole):
        return whole
    leftwards = direction.runs_left(whole) and not _letters(separator)
    return between.join(direction.apart(one, leftwards=leftwards) for one in said)


def _letters(text: str) -> bool:
    """Whether words of ours have letters, and so say which way a line with them runs."""
    return any(map(str.isalpha, _PLACE.sub("", text)))


_PLACE = re.compile(r"\{\w+\}")


def _unstopped(words: str) -> str:
    """Take the full stop off a sentence; that of `a.m.` and of `...` belongs to the word."""
    bare = words.rstrip(direction.LAST)
    last = bare.rpartition(" ")[2]
    return bare[:-1] + words[len(bare) :] if last.endswith(".") and "." not in last[:-1] else words


def again(words: Iterable[SafeText]) -> SafeText:
    """Put words of one text together again, as they stood: its order is its own."""
    return _later(_again, tuple(words))


def _again(words: tuple[SafeText, ...]) -> str:
    return " ".join(word.reveal() for word in words if word)


def fill(template: LiteralString, **parts: SafeText | int) -> SafeText:
    """Fill `{name}` places in a sentence of ours with safe parts.

    Raises:
        KeyError: the template names a part that was not given.
        TypeError: a part is neither safe text nor a count.
    """
    for part in parts.values():
        if not isinstance(part, SafeText | int):
            raise TypeError("only safe text and counts are put into a sentence")
    filled = _later(_filled, template, parts)
    filled.reveal()
    return filled


def _filled(template: str, given: dict[str, SafeText | int]) -> str:
    shown = {name: part.reveal() if isinstance(part, SafeText) else str(part) for name, part in given.items()}
    whole = labels.say(template).format_map(shown)
    if not direction.holds_leftward(whole):
        return whole
    leftwards = direction.runs_left(whole) and not _letters(template)
    parts = {name: direction.apart(part, leftwards=leftwards) for name, part in shown.items()}
    return labels.say(template).format_map(parts)


def isolated(text: SafeText) -> SafeText:
    """Keep the order of a text of its own within one that may run the other way."""
    return _later(_isolated, text)


def _isolated(text: SafeText) -> str:
    return direction.isolated(text.reveal())


def sentence(text: SafeText) -> SafeText:
    """Capital first letter, and a full stop unless it ends in punctuation, be it within quotation marks."""
    return _later(_sentence, text)


def _sentence(text: SafeText) -> str:
    words = text.reveal().strip()
    ended = words.rstrip(direction.LAST).rstrip(_QUOTES)[-1:] in (*_ENDS, "")
    return _capitalised(words) + ("" if ended else ".")


_ENDS = ".?!:…؟۔।。？！"
"""What a sentence ends in, in the scripts we have letters for or may be given."""

_QUOTES = "\"'”’“‘»«"
"""What may stand behind that, in the languages we write."""


def capital(text: SafeText) -> SafeText:
    """Capital first letter, and nothing else changed."""
    return _later(_capital, text)


def _capital(text: SafeText) -> str:
    return _capitalised(text.reveal())


def _capitalised(words: str) -> str:
    """Leave a word that has its own capitals, a unit and a Greek letter: `pH`, `mL`, `mg`, `β-blocker`."""
    return words if _OWN_LETTERS.match(words) else words[:1].upper() + words[1:]


_OWN_LETTERS = re.compile(r"[^\W\d_]+[A-Z]|[\u03b1-\u03c9]-|(?:[kmnµμ]?g|[kcmnµμ]?m|[dcmµμ]?l|mmol|mol)\b")


def inline(text: SafeText) -> SafeText:
    """Lower the article of an English text that stood alone, and drop its full stop: within a sentence."""
    return _later(_inline, text)


def _inline(text: SafeText) -> str:
    words = _unstopped(text.reveal())
    article = words.split(" ", 1)[0]
    return words[0].lower() + words[1:] if article in ("The", "A", "An") else words


def labelled(label: SafeText, text: SafeText) -> SafeText:
    """`Help: second surgeon called`; what the text begins with is not said by the label again."""
    return _later(_labelled, label, text)


def _labelled(label: SafeText, text: SafeText) -> str:
    """`Recognised: a leak` of `recognised: a leak`, `Call for help` of `call for help`."""
    name, said = label.reveal(), text.reveal()
    head = name.partition(",")[0].casefold()
    written, colon, rest = said.partition(":")
    if colon and rest.strip() and written.strip().casefold() == head:
        text = SafeText(_KEY, rest.strip())
    elif name.casefold() in re.findall(r"\w+", said.casefold())[:_BEGINNING]:
        return _capital(text)
    return _filled("{label}: {text}", {"label": label, "text": text})


def unbroken(text: SafeText) -> SafeText:
    """Keep on one line: `4 min` is not torn apart at a line's end."""
    return _later(_unbroken, text)


def _unbroken(text: SafeText) -> str:
    return text.reveal().replace(" ", "\N{NO-BREAK SPACE}")


def phrase(text: SafeText, limit: int) -> SafeText:
    """Keep at most `limit` first words, up to where a part of the text ends.

    That is before a comma and the like, or else before a word that joins on more: from half the limit on.
    An ellipsis shows that more was said, unless what is kept stood whole before a comma.
    """
    return _later(_phrase, text, limit)


def cut_short(text: SafeText, limit: int) -> SafeText:
    """Keep a phrase of at most `limit` first words; an ellipsis always shows that more was said."""
    return _later(_cut_short, text, limit)


def _cut_short(text: SafeText, limit: int) -> str:
    kept = _phrase(text, limit)
    # Bound to the last word: alone on a line it would cost one.
    return kept if kept == text.reveal() else kept.removesuffix(" …") + "\N{NO-BREAK SPACE}…"


def _phrase(text: SafeText, limit: int) -> str:
    words = text.reveal().split()
    if len(words) <= limit:
        return text.reveal()
    ends = range(limit, (limit - 1) // 2, -1)
    stops = (end for end in ends if _STOP.search(" ".join(words[end - 1 : end + 1])))
    if end := next(stops, 0):
        return " ".join(words[:end]).rstrip(",;:.–—- ")
    end = next((end for end in ends if words[end].lower() in _JOINING), limit)
    while end > 1 and words[end - 1].lower() in _JOINING:
        end -= 1
    return " ".join(words[:end]) + " …"


_STOP = re.compile(r"^\S*[,;:–—] |^\S*\. [^\W\d_a-z]| [(–—]")
"""Between two words: a part of a sentence ends at the first, or begins with the second."""

_JOINERS = """
a an and as at because before but by for from if in into of off on or over so than that the then to until when
where which while with without
als am an auf aus bei bis das dem den der des die ein eine einem einen einer für im in mit nach oder ohne und
unter vom von vor weil zu zum zur über
"""
"""Words that join on what follows; a label does not end in one."""

_JOINING = frozenset(_JOINERS.split())


def clip(text: SafeText, limit: int) -> SafeText:
    """Keep the first `limit` words; an ellipsis shows that more was said."""
    return _later(_clip, text, limit)


def _clip(text: SafeText, limit: int) -> str:
    words = text.reveal().split()
    return text.reveal() if len(words) <= limit else " ".join(words[:limit]) + " …"
