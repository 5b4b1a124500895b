"""Each still at full size: what is covered, what is proposed, what stays; decided by hand."""

from __future__ import annotations

from flask.blueprints import BlueprintSetupState

from mmbuilder.page.late import late
from mmbuilder.page.pictures import Pictures

NAME, TITLE, ORDER = "cover", "Cover", 60
NUMBERS = "numbers of proposals"
blueprint = late(
    NAME,
    "mmbuilder.page.parts._cover_page",
    {
        "GET /": "index",
        "POST /take": "take",
        "POST /several": "take_several",
        "POST /say": "say",
        "POST /first": "first",
        "POST /leftover": "delete",
        "GET /<int:number>": "one",
        "GET /<int:number>/boxes": "boxes",
        "GET /<int:number>/picture": "picture",
        "GET /<int:number>/after": "after",
        "POST /<int:number>": "change",
    },
)


@blueprint.record
def _begin(state: BlueprintSetupState) -> None:
    pictures = state.app.extensions[NAME] = Pictures()
    numbers = state.app.extensions[NUMBERS] = {}
    state.app.extensions["desk"].forgets.extend([pictures.forget, numbers.clear])
