"""What can be wrong with one line, in ward English; the key may be repeated, the words never."""

from __future__ import annotations

from dataclasses import dataclass

_MEANT = "put the words between double quotes, or leave the sign out"


@dataclass(frozen=True)
class LineFault:
    """A kind of fault. `example` holds `{key}`, filled with the author's own key where it is a known one."""

    code: str
    text: str
    found: str
    expected: str
    why: str
    example: str


TAB = LineFault(
    "tab-indent",
    "this line is moved in with a tab",
    "a tab character at the start of the line",
    "spaces: two for each step inwards",
    "a tab is as wide as each editor likes, so which line belongs to which cannot be told",
    "plan:\n  {key}: words, moved in with two spaces",
)
HASH = LineFault(
    "hash-cuts-line",
    "the sign # would cut this line: the rest of it would be lost",
    "a # with a space before it and none after",
    "words with # between double quotes; a remark of your own starts with # and a space",
    "the words after # would be missing from the deck, and nobody would be told",
    '{key}: "size #7 tube"',
)
COLON = LineFault(
    "colon-in-text",
    "a colon within the words",
    "a second colon with a space after it",
    "words with a colon between double quotes, or a dash instead of the colon",
    "a colon and a space mean that a new key begins",
    '{key}: "Note: pain in the shoulder"',
)
SIGN = LineFault(
    "sign-at-start",
    "the words start with a sign that has another meaning here",
    "one of  % @ ` > | ? : , ] }  as the first character",
    _MEANT,
    "the line cannot be read as words",
    '{key}: "> 90 mmHg"',
)
REFERENCE = LineFault(
    "alias-or-anchor",
    "the words start with & or *",
    "& or * as the first character, which names or repeats a part of the file",
    "each part written out; words that start with the sign, between double quotes",
    "copies that point to each other can grow without end, and hide what is repeated",
    '{key}: "* see drawing"',
)
TAG = LineFault(
    "tag",
    "the words start with an exclamation mark",
    "! as the first character, which asks for a type of data",
    "plain words; words that start with the sign, between double quotes",
    "a type asked for by a file can run a program; here every value is words",
    '{key}: "! bleeding"',
)
LIST_ON_LINE = LineFault(
    "list-on-key-line",
    "a dash right after the colon",
    "`- ` on the same line as the key",
    "each entry of a list on its own line; nothing at all where there is nothing to say",
    "the line cannot be read as a list or as words",
    "{key}:\n  - first entry\n  - second entry",
)
QUOTE_INSIDE = LineFault(
    "words-after-quote",
    "more words follow the closing quote mark",
    "a value that starts with a quoted word and goes on",
    "all of it between quote marks, with the other kind of mark inside",
    "only the quoted part would be read",
    "{key}: '\"stop\" was called, and heard'",
)
QUOTE_OPEN = LineFault(
    "quote-not-closed",
    "a quote mark is opened and never closed",
    "an opening quote mark at the start of the words",
    "a closing one at their end, or none at all",
    "everything below would become part of these words",
    '{key}: "these words"',
)
BRACKET = LineFault(
    "bracket-in-text",
    "the words start with a bracket that reads as a list",
    "[ or { as the first character, and words after it or no closing bracket",
    "words that start with a bracket between double quotes; a list of figures closed with ]",
    "the line cannot be read as words",
    '{key}: "[unclear] then bleeding"',
)
BACKSLASH = LineFault(
    "backslash-in-quotes",
    "a backslash between double quotes",
    "a backslash, which changes the letter after it",
    "single quotes around the words, or a forward slash in the name of a file",
    "two characters would become one that cannot be seen",
    "{key}: 'images\\first frame.png'",
)
NO_SPACE = LineFault(
    "no-space-after-colon",
    "no space after the colon",
    "a key and its words joined by the colon",
    "one space after the colon",
    "without it the line is one long word",
    "{key}: words",
)
NO_COLON = LineFault(
    "no-colon",
    "this line has no key",
    "a line without a colon where a key is expected",
    "a key, a colon and a space; a line that goes on from the one above is moved in further",
    "the line belongs to nothing",
    "{key}: words\n  that go on here",
)
TOO_DEEP = LineFault(
    "moved-in-too-far",
    "this line is moved in further than its neighbours",
    "a key deeper than the line above, which already has its words",
    "the same distance from the left as the keys beside it",
    "the distance from the left says what belongs to what",
    "- id: incision\n  {key}: words",
)
