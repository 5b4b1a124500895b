"""Readings of a monitor: a table is dropped in, looked at, and taken into the case with its columns named."""

from __future__ import annotations

from flask.blueprints import BlueprintSetupState

from mmbuilder.page.late import late

NAME, TITLE, ORDER = "readings", "Readings", 35
blueprint = late(
    NAME,
    "mmbuilder.page.parts._readings_page",
    {
        "GET /": "show",
        "POST /look": "look",
        "POST /of-note": "look_at_note",
        "POST /again": "look_again",
        "POST /leave": "leave",
        "POST /": "take",
        "POST /remove": "remove",
        "POST /leftover": "delete",
    },
)


@blueprint.record
def _begin(state: BlueprintSetupState) -> None:
    state.app.extensions["desk"].forgets.append(_forget)


def _forget() -> None:
    from mmbuilder.page.parts._table import preview

    preview.cache_clear()
