"""Parts that are left out, told by what they are and never by their name, which can identify."""

from __future__ import annotations

import re

_SILENT = re.compile(
    r"(?i)\[content_types\]\.xml$|(?:^|/)(?:presProps|viewProps|webSettings|stylesWithEffects|calcChain)\.xml$"
)
"""Left out without a word: nothing in them is shown."""

_WORDS: tuple[tuple[str, str], ...] = (
    (r"core-properties|extended-properties|custom-properties", "document properties, blanked"),
    (r"(?i)thumbnail", "preview picture of an old first page"),
    (r"(?i)comments|commentAuthors|authors|person|people|threadedComment", "comments and their authors"),
    (r"(?i)notesSlide", "notes of slides that are left out"),
    (r"(?i)presentationml\.slide\+xml", "hidden slides, or slides that nothing shows"),
    (r"(?i)slideLayout|slideMaster", "layouts or masters that nothing uses"),
    (r"(?i)handoutMaster", "handout master"),
    (r"(?i)tags", "data of add-ins (tags)"),
    (r"(?i)customXml", "bound data (custom XML)"),
    (r"(?i)printerSettings", "printer settings"),
    (r"(?i)signature", "digital signatures"),
    (r"(?i)changesInfo|revisionInfo|revisionLog", "editing history"),
    (r"(?i)externalLink|connections|queryTable", "links to other workbooks and databases"),
    (r"(?i)pivot", "pivot tables and the data behind them"),
    (r"(?i)spreadsheetml\.sheet$|/embeddings/.*\.xls", "workbooks behind charts or embedded"),
    (r"(?i)oleObject|/embeddings/|package", "embedded documents"),
    (r"(?i)font", "embedded fonts"),
    (r"(?i)worksheet|chartsheet|dialogsheet", "hidden sheets, or sheets of another kind"),
    (r"(?i)\.table\+xml", "table frames of sheets (their cells stay)"),
    (
        r"(?i)chartstyle|chartcolorstyle|chartex|themeOverride",
        "chart extras (styles, chart kinds of after 2013)",
    ),
    (r"(?i)vmlDrawing", "old drawings, used for comments and controls"),
    (r"(?i)^(?:audio|video)|\.(?:mp[34]|m4[av]|wav|wmv|avi|mov|wma)\b", "sound and video"),
    (r"(?i)svg|wdp|vnd\.ms-photo", "second forms of pictures (vector drawings, originals before editing)"),
    (r"(?i)^image/|/media/", "pictures that nothing shows"),
    (r"(?i)webextension|taskpane|activeX|control|userCustomization|customUI", "add-ins and controls"),
    (r"(?i)ink", "handwriting in ink"),
    (r"(?i)glossary", "building blocks"),
    (r"(?i)theme", "themes that nothing uses"),
)


def in_words(name: str, kind: str) -> str:
    """What a part is; empty where its loss needs no mention."""
    if _SILENT.search(name):
        return ""
    for pattern, words in _WORDS:
        if re.search(pattern, kind) or re.search(pattern, f"/{name}"):
            return words
    return "parts of a kind that is not known"
