"""The messy note: pasted, kept on this computer only, and pulled by hand, line by line, into the case."""

from __future__ import annotations

from mmbuilder.page.late import late

NAME, TITLE, ORDER = "note", "Note", 10
blueprint = late(
    NAME,
    "mmbuilder.page.parts._note_page",
    {
        "GET /": "show",
        "POST /": "keep",
        "POST /aside": "set_aside",
        "POST /pull": "pull",
        "GET /several": "show_several",
        "POST /several": "pull_several",
        "POST /parts": "parts",
    },
)
