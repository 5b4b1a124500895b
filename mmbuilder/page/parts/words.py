"""Findings in words: each in its sentence, to be removed, kept with a reason, or put on the private list."""

from __future__ import annotations

from mmbuilder.page.late import late

NAME, TITLE, ORDER = "words", "Words", 50
blueprint = late(
    NAME,
    "mmbuilder.page.parts._words_page",
    {
        "GET /": "show",
        "GET /state": "state",
        "POST /decide": "decide",
        "POST /agree": "agree",
        "POST /back": "take_back",
        "POST /list": "put_on_list",
    },
)
