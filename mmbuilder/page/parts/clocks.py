"""Two readings of one moment in, the offset of a clock out in words, and into the case by a button."""

from __future__ import annotations

from mmbuilder.page.late import late

NAME, TITLE, ORDER = "clocks", "Clocks", 30
blueprint = late(
    NAME,
    "mmbuilder.page.parts._clocks_page",
    {
        "GET /": "show",
        "POST /work": "work",
        "POST /": "write",
    },
)
