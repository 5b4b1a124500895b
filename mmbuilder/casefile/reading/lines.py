"""Read a case file line by line, before YAML does: the slips of the hand are told all at once.

YAML stops at its first error and explains it to programmers. Here each line is looked at
for the slips clinicians make; a line at fault is told, then mended on a copy of the text
(never in the file), so that the rest of the file can be checked in the same run.
"""

from __future__ import annotations

import re
from collections.abc import Collection

from mmbuilder.casefile.mark import Mark
from mmbuilder.casefile.reading import faults
from mmbuilder.casefile.reading.faults import LineFault
from mmbuilder.casefile.reading.keys import plain_key
from mmbuilder.casefile.reading.report import Report

_ENTRY = re.compile(
    r"""(?P<lead>[ ]*(?:-[ ]+)*)
        (?:(?P<key>"[^"]*"|'[^']*'|[^\s"'#\[\]{}&*!|>%@`,-](?:[^:#]|:(?![ ]|$)|(?<![ ])\#)*?):(?=[ ]|$)[ ]*)?
        (?P<value>.*)""",
    re.VERBOSE,
)
_BULLET = re.compile(r"(?P<lead> *)[–—•·▪‣*](?= )")
_BLOCK = re.compile(r"[|>][-+0-9]{0,2} *(?:$| #)")
_CUT = re.compile(r"(?:^|\s)#(?=\S)")
_REMARK = re.compile(r"(?:^|\s)#(?=\s|$)")
_COLON = re.compile(r":(?=\s|$)")
_ESCAPE = re.compile(r'\\(?!["\\xuU])')
_JOINED = re.compile(r"(?P<lead> *(?:- +)*)(?P<key>[A-Za-z][A-Za-z _-]*):(?=[^\s:/\\])")
_AHEAD = 500
"""Lines looked ahead for the end of one value."""
_LONGEST = 25_000
"""Characters of a line that is looked at; a longer one is past the bound on a value, and YAML tells it."""
_ENOUGH = 200
"""Slips after which the rest is left to YAML: such a file is no case, and time is bounded."""

_SIGNS = {**dict.fromkeys("%@`>|,]}", faults.SIGN), **dict.fromkeys("&*", faults.REFERENCE), "!": faults.TAG}
_SMART = {"“": "”", "„": "”“", "‟": "”", "«": "»", "‘": "’", "‚": "‘’"}


class LineScan:
    """One pass over the lines of a file."""

    def __init__(self, text: str, report: Report, known: Collection[str]) -> None:
        self._lines = text.split("\n")
        self._report = report
        self._known = known
        self._at = 0
        self._told = 0
        self._above = ""
        self._waiting: tuple[str, int] | None = None
        """The key above that has no words yet, and its column: words may stand on the lines below it."""

    def run(self) -> str:
        """Tell every slip; return the text with the slips mended."""
        self._even_out_tabs()
        listing: int | None = None
        while self._at < len(self._lines) and self._told < _ENOUGH:
            line = self._lines[self._at]
            if not line.strip() or line.lstrip().startswith("#") or line.startswith(("---", "...")):
                self._at += 1
                continue
            listing = self._bullet(listing)
            self._above = self._lines[self._at]
            self._entry()
        return "\n".join(self._lines)

    def _even_out_tabs(self) -> None:
        for number, line in enumerate(self._lines):
            if "\t" in line:
                body = line.lstrip(" \t")
                lead = line[: len(line) - len(body)]
                if "\t" in lead and body:
                    self._tell(number, lead.index("\t"), faults.TAB, _first_key(body))
                self._lines[number] = lead.replace("\t", "  ") + body.replace("\t", " ")

    # One entry: a key or a dash with its value, which may go on over several lines

    def _bullet(self, listing: int | None) -> int | None:
        """Read the bullets and long dashes of a word processor as the dash of a list."""
        line = self._lines[self._at]
        indent = _indent(line)
        match = _BULLET.match(line)
        if match and (listing == indent or self._opens_list(indent)):
            self._lines[self._at] = f"{match['lead']}-{line[match.end() :]}"
            return indent
        return None if listing is not None and indent <= listing else listing

    def _opens_list(self, indent: int) -> bool:
        return self._above.rstrip().endswith(":") and _indent(self._above) <= indent

    def _entry(self) -> None:
        line = self._lines[self._at]
        if len(line) > _LONGEST:
            self._at += 1
            return
        match = _ENTRY.match(line)
        assert match is not None  # every part of the pattern may be empty
        lead, key, value = match["lead"], match["key"], match["value"].rstrip()
        # What the value's further lines must be deeper than: its key, or the last dash.
        owner = len(lead) if key is not None else lead.rfind("-")
        if key is None and self._waiting and owner < 0 and len(lead) > self._waiting[1]:
            key, owner = self._waiting
        elif key is None and self._keyless(line, lead, value):
            return
        self._waiting = (key, owner) if key is not None and not value else None
        if value and value != "-":
            self._value(key, owner, match.start("value"), value)
        elif value and match["key"] is not None:
            self._mend(key, match.start("value"), faults.LIST_ON_LINE, match.start("value"), self._at)
        self._at += 1

    def _keyless(self, line: str, lead: str, value: str) -> bool:
        """Tell a line without a key where only a key can stand; returns whether it was dealt with."""
        if joined := _JOINED.match(line):
            key = plain_key(joined["key"])
            if key in self._known:
                self._tell(self._at, joined.end() - 1, faults.NO_SPACE, key)
                self._lines[self._at] = f"{line[: joined.end()]} {line[joined.end() :]}"
                return True  # the line is looked at again
        if "-" in lead or value == "-" or value[0] in "[{]}\"'?&*!%:":
            return False
        word = next((word for word in self._known if plain_key(value).startswith(word + " ")), "")
        self._tell(self._at, len(lead), faults.NO_COLON, word)
        self._lines[self._at] = ""
        self._at += 1
        return True

    def _value(self, key: str | None, owner: int, start: int, value: str) -> None:
        first = value[0]
        if first in "\"'":
            self._quoted(key, owner, start, value)
        elif first in _SMART and self._smart(start, value):
            return
        elif first in "[{":
            self._bracketed(key, owner, start, value)
        elif _BLOCK.match(value):
            self._skip_block(owner)
        elif first == "#":
            if _CUT.match(value):
                self._mend(key, start, faults.HASH, start, self._at)
        elif fault := self._first_sign(key, value):
            self._mend(key, start, fault, start, self._last_line(owner))
        else:
            self._plain(key, owner, start)

    def _first_sign(self, key: str | None, value: str) -> LineFault | None:
        if value[0] == "-" and key is not None and value[1:2] == " ":
            return faults.LIST_ON_LINE
        if value[0] in "?:" and (len(value) == 1 or value[1] == " "):
            return faults.SIGN
        return _SIGNS.get(value[0])

    # Kinds of value

    def _plain(self, key: str | None, owner: int, start: int) -> None:
        last = self._last_line(owner)
        for number in range(self._at, last + 1):
            line = self._lines[number]
            begin = start if number == self._at else _indent(line)
            if number > self._at and self._known_key_too_deep(number, owner):
                return
            remark = _REMARK.search(line, begin)
            end = remark.start() if remark else len(line)
            for pattern, fault in ((_CUT, faults.HASH), (_COLON, faults.COLON)):
                if match := pattern.search(line, begin, end):
                    column = match.end() - 1 if fault is faults.HASH else match.start()
                    self._mend(key, column, fault, start, last, number)
                    return
            if remark:
                break
        self._at = last

    def _known_key_too_deep(self, number: int, owner: int) -> bool:
        """Tell a known key that stands among the further lines of a value; the line is moved back."""
        line = self._lines[number]
        entry = _ENTRY.match(line[:_LONGEST])
        assert entry is not None
        if entry["key"] is None or plain_key(entry["key"]) not in self._known:
            return False
        self._tell(number, len(entry["lead"]), faults.TOO_DEEP, entry["key"])
        self._lines[number] = " " * max(owner, 0) + line.lstrip()
        self._at = number - 1
        return True

    def _quoted(self, key: str | None, owner: int, start: int, value: str) -> None:
        mark = value[0]
        line = self._lines[self._at]
        for number in self._ahead(self._at):
            text = self._lines[number]
            if number > self._at and self._is_next_entry(text, owner):
                break
            begin = start + 1 if number == self._at else 0
            close = _closing(text, begin, mark)
            if mark == '"' and (escape := _ESCAPE.search(text, begin, len(text) if close < 0 else close)):
                self._mend(key, escape.start(), faults.BACKSLASH, start, number, number, strip=True)
                return
            if close >= 0:
                rest = text[close + 1 :].strip()
                if rest and not (rest.startswith("#") and text[close + 1] == " "):
                    self._mend(key, close + 1, faults.QUOTE_INSIDE, start, number, number)
                    return
                self._at = number
                return
        self._tell(self._at, start, faults.QUOTE_OPEN, key)
        self._lines[self._at] = line[:start] + _single(line[start:].strip().lstrip(mark))

    def _smart(self, start: int, value: str) -> bool:
        """Read curly quotes around the whole of a value as quote marks."""
        inner = value[1:-1]
        if len(value) < 2 or value[-1] not in _SMART[value[0]] or any(c in inner for c in _SMART[value[0]]):
            return False
        self._lines[self._at] = self._lines[self._at][:start] + _single(inner)
        return True

    def _bracketed(self, key: str | None, owner: int, start: int, value: str) -> None:
        depth = 0
        for number in self._ahead(self._at):
            text = self._lines[number]
            if number > self._at and self._is_next_entry(text, owner):
                break
            close, depth = _balance(text, start if number == self._at else 0, depth)
            if close >= 0:
                rest = text[close + 1 :].strip()
                if rest and not rest.startswith("#"):
                    self._mend(key, close + 1, faults.BRACKET, start, number, number)
                else:
                    self._at = number
                return
        self._mend(key, start, faults.BRACKET, start, self._at)

    def _skip_block(self, owner: int) -> None:
        while self._at + 1 < len(self._lines):
            line = self._lines[self._at + 1]
            if line.strip() and _indent(line) <= max(owner, 0):
                return
            self._at += 1

    # Help

    def _ahead(self, start: int) -> range:
        return range(start, min(len(self._lines), self._at + _AHEAD))

    def _last_line(self, owner: int) -> int:
        """Number of the last line of a plain value: its further lines are deeper than its key."""
        last = self._at
        for number in self._ahead(self._at + 1):
            line = self._lines[number]
            if not line.strip():
                continue
            if _indent(line) <= owner or line.lstrip().startswith(("#", "- ")):
                break
            last = number
        return last

    def _is_next_entry(self, line: str, owner: int) -> bool:
        entry = _ENTRY.match(line[:_LONGEST])
        assert entry is not None
        found = entry["key"] is not None and plain_key(entry["key"]) in self._known
        return (found or "-" in entry["lead"]) and _indent(line) <= max(owner, 0)

    def _tell(self, number: int, column: int, fault: LineFault, key: str | None) -> None:
        plain = plain_key(key) if key else ""
        own = plain if plain in self._known else ""
        self._told += 1
        self._report.tell(
            Mark(number + 1, column + 1),
            fault.code,
            fault.text + (f" of `{own}`" if own and fault in (faults.COLON,) else ""),
            found=fault.found,
            expected=fault.expected,
            why=fault.why,
            example=fault.example.replace("{key}", own or "what"),
            quote=f"{own}: …" if own else "",
        )

    def _mend(
        self,
        key: str | None,
        column: int,
        fault: LineFault,
        start: int,
        last: int,
        number: int | None = None,
        *,
        strip: bool = False,
    ) -> None:
        """Tell a fault, and put the whole value between quotes on the copy that is read on."""
        self._tell(self._at if number is None else number, column, fault, key)
        first = self._lines[self._at]
        lines = [first[start:], *self._lines[self._at + 1 : last + 1]]
        joined = _single("\n".join(lines).rstrip().strip('"' if strip else "")).split("\n")
        self._lines[self._at] = first[:start] + joined[0]
        self._lines[self._at + 1 : last + 1] = [*joined[1:], *[""] * (len(lines) - len(joined))]
        self._at = last


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _single(words: str) -> str:
    return "'" + words.replace("'", "''") + "'"


def _first_key(body: str) -> str | None:
    entry = _ENTRY.match(body[:_LONGEST])
    return entry["key"] if entry else None


def _closing(text: str, begin: int, mark: str) -> int:
    r"""Return where a quoted stretch ends, or -1: '' and \" stand for the mark itself."""
    place = begin
    while place < len(text):
        if mark == '"' and text[place] == "\\":
            place += 2
            continue
        if text[place] == mark:
            if mark == "'" and text[place + 1 : place + 2] == "'":
                place += 2
                continue
            return place
        place += 1
    return -1


def _balance(text: str, begin: int, depth: int) -> tuple[int, int]:
    """Return (where the outermost bracket closes or -1, how many are open at the end of the line)."""
    place = begin
    while place < len(text):
        sign = text[place]
        if sign in "\"'" and (close := _closing(text, place + 1, sign)) >= 0 and text[place - 1] in " [{,:":
            place = close
        elif sign == "#" and text[place - 1 : place] == " ":
            break
        elif sign in "[{":
            depth += 1
        elif sign in "]}":
            depth -= 1
            if depth == 0:
                return place, 0
        place += 1
    return -1, depth
