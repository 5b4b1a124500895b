"""User names as social media and chat write them: `@` and a name.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying characteristic; common practice.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "user name"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "user handle qtheatre_kz7.",
    "log in mquorris9 left open",
    "printed by wardclerk_wc22",
    "posted by @quillorne_scrubs last week",
    "(@ward9nurse)",
    "user name: jquillorne7",
    "login hbaek02 was used",
    "user caanzjl97",
    "Log-in hquorne22 was used",
    "Instagram: velkonar.scrubs",
    "insta: velkonar.scrubs",
    "username qvelkonar",
    "posted as u/quenby_scrubs",
    'the WhatsApp group "Quillorne Scrubs" had it',
    "pump=4 user=noreen.q event=start",
    "connecté delqso09 depuis le bloc",
    "entró con usuario mtzlol06 y firmó",
    "angemeldet als kquenb9 am Gerät",
    "Requester VASC_SPR3",
)
NEAR_MISSES = (
    "log in again at 10",
    "saved as a csv by the nurse",
    "infusion @ 20 ml/h",
    "at 40 @20 min",
    "list @0900",
    "the user changed 3 settings",
    "user interface 2.0",
    "login failed at 0930",
    "drug user 20y",
)

_HANDLE = re.compile(r"(?<![\w@.+-])@(?=[\w.]{0,30}[^\W\d_])[^\W\d][\w.]{1,29}\w")
_CUED = re.compile(
    r"(?<!\w)(?:user(?:\s?name|\s?id)?|log[\s-]?in|log[\s-]?on|account\sname|twitter|insta(?:gram)?|telegram(?:\sas)?|snapchat|facebook|tiktok|linkedin|whatsapp|skype|handle|usuario|utilisateur|benutzer(?:name)?|(?:angemeldet|eingeloggt|logged\s(?:in|on))\s(?:als|as)|connectée?(?:\sen\stant\sque)?)"
    r"(?:\s(?:is|was|name|id|handle))?(?P<link>\s?[:=]\s?|\s)(?P<name>[a-z][a-z0-9._-]{1,28}[a-z0-9])(?!\w)",
    re.IGNORECASE,
)
_UNDERLINED = re.compile(
    r"(?<!\w)(?:(?i:by|user|as|from|uploaded|account|console|log[\s-]?in|named)\s(?:the\s)?(?P<name>[a-z][a-z0-9]*(?:_[a-z0-9]+)+)"
    r"|(?i:request[eo]r|ordered\sby|entered\sby|operator|author|editor|user|login)\s?:?\s(?P<given>[A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)+))(?![\w.]\w)"
)
"""Nobody underlines words of a note: `printed by wardclerk_wc22`."""

_GROUP = re.compile(
    r"(?:whats\s?app|telegram|signal|facebook|messenger|teams|viber)\s(?:group|chat|channel|page)(?:\s(?:called|named|chat))?:?\s"
    r"([\"“'‘][^\"”’\n]{2,40}[\"”'’])"
    r"|([\"“'‘][^\"”’\n]{2,40}[\"”'’])\s(?:whats\s?app|telegram|signal|messenger|facebook)\s(?:group|chat|channel)",
    re.IGNORECASE,
)

_FORUM = re.compile(r"(?<![\w/])u/(?=\w{0,20}_|\w{8})[A-Za-z][\w-]{2,29}(?!\w)")
"""A user of a forum: `u/quenby_scrubs`; `u/s` is ultrasound."""

_ACCOUNT = re.compile(r"user\s?name|login|log-?on|handle|telegram|insta", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield every handle."""
    for found in _CUED.finditer(text):
        figures = re.fullmatch(r"[A-Za-z._-]{2,}\d{1,4}", found["name"]) is not None
        if figures or found["link"].strip() or _account(found):
            yield span(found, KIND, LETTER, "[user name]", 0.8, "name")
    yield from (
        span(found, KIND, LETTER, "[user name]", 0.8, found.lastgroup or 0)
        for found in _UNDERLINED.finditer(text)
    )
    yield from (
        span(found, KIND, LETTER, "[user name]", 0.85, found.lastindex or 0)
        for found in _GROUP.finditer(text)
    )
    yield from (span(found, KIND, LETTER, "[user name]", 0.85) for found in _FORUM.finditer(text))
    if "@" in text:
        yield from (span(found, KIND, LETTER, "[user name]", 0.85) for found in _HANDLE.finditer(text))


def _account(found: re.Match[str]) -> bool:
    """Whether no word that notes use follows a cue for an account: `username qvelkonar`, not `login failed`."""
    from mmbuilder.scrub.keep.lists import load

    name = found["name"].rstrip(".").lower()
    return _ACCOUNT.match(found[0]) is not None and len(name) > 5 and load().called(name) is None
