"""Write words into a case file in the manner in which they stood there."""

from __future__ import annotations

import re

from mmbuilder.casefile.reading.characters import strip_unseen
from mmbuilder.page.form.nodes import Words

WIDTH = 100
"""Columns; new words that are longer stand on several lines."""

_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_FIRST = set("?:,[]{}#&*!|>'\"%@`=<“”„‟«»‘’‚")
_NOTHING = {"", "~", "null", "Null", "NULL"}
_CUT = re.compile(r":(?=\s|$)|(?:^|\s)#")


def tidied(words: str) -> str:
    """Return words on one line, with single spaces and without characters that are not text."""
    return " ".join(strip_unseen(_CONTROL.sub(" ", words)).split())


def rendered(value: str, *, flow: bool, quote: str = "") -> str:
    """Return one line of YAML that is read as this value.

    Args:
        value: tidied words.
        flow: whether it stands within brackets.
        quote: the quotes it stands in already.
    """
    if quote == '"' and "\\" not in value:  # a backslash between double quotes is told as a slip
        return '"' + value.replace('"', '\\"') + '"'
    if quote or not is_plain(value, flow=flow):
        return "'" + value.replace("'", "''") + "'"
    return value


def is_plain(value: str, *, flow: bool) -> bool:
    """Whether words mean themselves without quotes, to YAML and to the reader of slips."""
    if value in _NOTHING or value[0] in _FIRST or value.startswith(("---", "...")) or _CUT.search(value):
        return False
    if value[0] == "-" and not (value[1:2].isalnum() or value[1:2] == "."):
        return False
    if value[0] in "–—•·▪‣":
        return False
    return not (flow and any(sign in value for sign in ",[]{}"))


def folded(value: str, indent: int) -> str:
    """Return long words as a folded block, its lines set in by `indent`."""
    import textwrap

    lines = textwrap.wrap(value, max(WIDTH - indent, 40), break_long_words=False, break_on_hyphens=False)
    return ">-\n" + "\n".join(" " * indent + line for line in lines)


def rewritten(text: str, old: Words, value: str, *, flow: bool, indent: int) -> str:
    """Return what stands in place of words: in the same quotes, with the same line breaks where words stay.

    Args:
        text: the file.
        old: what stands there.
        value: tidied words to stand there.
        flow: whether within brackets.
        indent: of the lines of a block.
    """
    raw = text[old.start : old.end]
    if old.style in ("|", ">") and "\n" in raw:
        head, _, body = raw.partition("\n")
        lead = body[: len(body) - len(body.lstrip(" \n"))].rpartition("\n")[2]
        return (
            head + "\n" + body[: len(body) - len(body.lstrip(" \n"))] + _refitted(body.strip(), value, lead)
        )
    if old.style in ("|", ">"):
        return rendered(value, flow=flow)
    if not old.style and "\n" in raw and is_plain(value, flow=flow):
        return _refitted(raw, value, " " * indent)
    quote = old.style
    if quote == "'" and not is_plain(" ".join(old.value.split()), flow=flow):
        quote = ""  # quotes that were needed go when they no longer are
    return rendered(value, flow=flow, quote=quote)


def _refitted(raw: str, value: str, lead: str) -> str:
    """Return new words in the line breaks of the old ones: those of the words that stay, before and after."""
    pieces = re.split(r"(\s+)", raw)
    words, gaps = pieces[::2], pieces[1::2]
    new = value.split(" ")
    same = _common(words, new)
    rest = min(len(words), len(new)) - same
    after = min(_common(words[::-1], new[::-1]), rest)
    kept = len(new) - 1 - after  # gaps from here on are those before words that stay at the end
    made = new[0]
    for at, word in enumerate(new[1:]):
        if at < same and at < len(gaps):
            gap = gaps[at]
        elif at >= kept and len(gaps) - (len(new) - 1 - at) >= 0:
            gap = gaps[len(gaps) - (len(new) - 1 - at)]
        else:
            gap = " "
        last = len(made) - (made.rfind("\n") + 1)
        if gap == " " and last + 1 + len(word) > max(WIDTH + 20, _longest(raw)):
            gap = "\n" + lead
        made += gap + word
    return made


def _longest(raw: str) -> int:
    return max(len(line) for line in raw.split("\n"))


def _common(one: list[str], other: list[str]) -> int:
    count = 0
    while count < min(len(one), len(other)) and one[count] == other[count]:
        count += 1
    return count
