"""The private list filled at once: a list is pasted, and what the note names is proposed, one key each."""

from __future__ import annotations

from mmbuilder.page.late import late

NAME, TITLE, ORDER = "names", "Names", 15
blueprint = late(
    NAME,
    "mmbuilder.page.parts._names_page",
    {
        "GET /": "show",
        "GET /state": "state",
        "POST /list": "take_list",
        "POST /found": "take_found",
        "POST /same": "same",
    },
)
