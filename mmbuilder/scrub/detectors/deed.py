"""Names told by a deed that only a person does, whatever else the name means: `Graham drew up the adrenaline`, `0340 okafor back`.

A surgeon may be called as a clamp is, a nurse as a month. So the deed decides, and the word before it must only be one that
somebody bears: no role, no department, no abbreviation, no ordinary word. Of words that name things too, only the deeds
that need a mouth or two feet tell.

Source: 45 CFR 164.514(b)(2)(i)(A), names, also of relatives and staff as this house has it; what people do is common
practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "Graham drew up the adrenaline and gave it.",
    "Swab missing: Novak looked in the bin.",
    "When the vein tore, Thornton put a finger on it.",
    "The list ran late because Graham was stuck on the motorway.",
    "19:40 Henderson back, theatre 6.",
    "Church said that it had been escalated.",
    "the vein tore and henderson put a finger on it",
    "0340 henderson back, theatre",
    "HENDERSON DREW UP THE PHENYLEPHRINE",
    "CT read by Weber as normal.",
    "Weber then ran for the vascular tray",
    "Goldmann 14; Descamps released the aqueous",
    "Henderson coming in from home",
    "09:52 IVC injury. Hope activates MHP.",
    "Grace in the lab confirmed it.",
    "Fri add-ons (Henderson running board)",
)
NEAR_MISSES = (
    "Pharmacy drew up the adrenaline",
    "Foley put in, Kocher put back",
    "Theatre was stuck with one team",
    "GRACE looked at 200 patients",
    "Cochrane looked at 12 trials",
    "Hand looked dusky, Back was stuck",
    "Winter was late this year",
    "Foley drew air into the bladder",
    "the nurse drew up the drug, she rang twice",
    "she told us, nobody said so",
    "1410 bloods back, 0300 CT back",
    "0200 Foley back in",
    "BLOOD RAN TO THE FLOOR",
    "Hartmann's ran to 125 ml/h",
    "Wire was stuck in the filter",
    "line put in, drain put on suction",
    "CT read by night team as normal",
    "as Medicine said, as Radiology thought",
    "which is what the guideline said",
    "patient said, wife rang, daughter said",
    "Zavanelli thought of. Rubin done",
    "bloods arrived, film arrived, Kocher released",
    "Foley was on the list, Harmonic did not",
    "team thought so, boss said no",
    "Hope was away, Joy was late",
    "sie sagte, er said",
    "Switchboard rang twice, then Outreach said no",
    "registrar covering the wards, theatre called a code",
    "Microbiology in the lab confirmed it, blood in the lab rang",
    "police said, school rang, family thought it over",
)

_SAID = (
    r"said(?!\s(?:to\sbe|in\sthe))|says|wondered|apologi[sz]ed|thought(?!\sto\sbe|\sof(?!\w))|thinks|rang|phoned|telephoned|bleeped|promised|insisted|remembered"
    r"|told\s(?:me|us|him|her|them|the|his)|asked\s(?:for|if|whether|me|us|him|her|them|about|to\sbe)"
    r"|shouted|admitted\s(?:that|to\sme)|agreed\s(?:to|that|with|and)|disagreed|suggested|advised|explained|mentioned|recalled|believed|realised"
)
"""What needs a mouth or a mind."""
_DID = (
    r"drew\s(?:it\s|them\s)?up|put\s(?:a|an|one|two|his|her|the)\s(?:finger|fingers|hand|hands|fist|thumb|swab|pack|clamp|stitch|suture|clip|sponge|tourniquet|chest\sdrain|scope|phone)"
    r"|looked\s(?:in|for|under|after|through|again|up)|ran\s(?:for|to\s(?:get|fetch))|fetched|went\s(?:to\s(?:get|fetch|see|find|tell|talk|call)|home|off\ssick|on\sleave)|came\sin\sto"
    r"|was\s(?:stuck\s(?:on|in)\s(?:the|a|traffic|clinic)|scrubbed|driving|on\s(?:the\sphone|leave|call|holiday|annual|nights|his|her)|at\s(?:home|lunch|another)|not\s(?:told|happy|scrubbed)|unhappy|worried|called\saway)"
    r"|scrubbed|squeezed|bagged|counted\s(?:with|again|and)|tried\s(?:to|twice|once|again)|spoke|drove|forgot|signed\s(?:the|it|for|off)|dictated|took\sover|handed\sover|held\s(?:the\s(?:camera|retractor|sucker|light)|pressure)"
    r"|(?:oversewed|repaired|resected|mobili[sz]ed|ligated|sutured|stitched|explored|re-?explored|reopened|cannulated|released|examined|assessed|reviewed|did)\s(?:the|a|it|him|her|them|both|his)"
    r"|(?:activate[sd]|calle?[sd])\s(?:the\s)?(?:MHP|MTP|MOH|code|arrest|crash|major)|(?:running|covering)\s(?:the\s)?(?:board|list|lists|theatres?|wards?|nights|icu|itu|labour)"
    r"|(?:holding|carrying)\s(?:the\s)?(?:bleep|bag|camera|retractor|baton|phone)|noticed|noted\sthat|arrived|coming\sin(?!\s(?:the|a))|is\scoming|on\s(?:his|her)\sway|came\s(?:in|back)\sfrom"
)
"""What needs hands or feet."""
_DEED = re.compile(rf"\s(?:(?P<said>{_SAID})|(?:{_DID}))(?!\w)", re.IGNORECASE)
_OPENS = word_set(
    """
    said says wondered apologised apologized thought thinks rang phoned telephoned bleeped promised insisted remembered told asked shouted admitted
    agreed disagreed suggested advised explained mentioned recalled believed realised drew put looked ran fetched went came was scrubbed squeezed
    bagged counted tried spoke drove forgot signed dictated took handed held holding carrying running covering activates activated calls called oversewed repaired resected mobilised mobilized ligated sutured stitched
    explored reexplored re reopened cannulated released examined assessed reviewed did noticed noted arrived coming is on
    """
)
"""How deeds open: the pattern is tried at these words alone."""
_EACH = re.compile(r"\s([^\W\d_]+)")
_WORD = r"(?P<name>[^\W\d_]{3,}(?:-[^\W\d_]{2,})?)"
_WHO = re.compile(
    rf"(?:^|(?<![\w.'’/-])){_WORD}(?:\s(?:then|also|again|immediately|quickly|kindly|later|still|himself|herself|had|has|only|just|never|both)){{0,2}}$",
    re.IGNORECASE,
)
_BEFORE = 60
"""Characters before a deed in which its doer stands."""
_BY_TIME = re.compile(
    rf"(?<![\w:.,/])(?:[01]?\d|2[0-3])[:.h]?[0-5]\d\s{_WORD}\s(?:back(?!\s(?:in|on|up|to|from))|here|arrives|arrived|leaves|leaving|at\sbedside|rung|bleeped|paged|scrubs|scrubbing|informed)(?!\w)",
    re.IGNORECASE,
)
_BY = re.compile(
    rf"(?<!\w)(?:read|reported|interpreted)\sby\s{_WORD}(?=\s(?:as|to)\s|,|\.|;|$)",
    re.IGNORECASE | re.MULTILINE,
)
_BY_HOUSE = re.compile(
    rf"(?<![\w.'’/-]){_WORD}\s(?:in|from|at)\s(?:the\s)?(?:(?:haem(?:atology)?|biochem(?:istry)?|micro(?:biology)?|path(?:ology)?)\s)?(?:lab|blood\sbank|pharmacy|switchboard|stores|radiology|theatres?|recovery|sterile\sservices)"
    rf"\s(?:confirmed|reported|checked|found|issued|sent|{_SAID})(?!\w)"
)
"""Somebody of another department: `Comfort in the lab confirmed`."""
_NOBODY = word_set(
    """
    she he they who i we it you that this which there someone somebody nobody everyone anyone everybody both all none each one others other another
    doctor nurse surgeon patient team staff boss locum colleague colleagues family police coroner school school lab home trust ward theatre hospital
    ambulance crew security medicine surgery radiology pharmacy recovery estates guideline protocol policy report paper study trial book letter
    mother father mum dad wife husband son daughter sister brother partner parents parent aunt uncle cousin friend neighbour carer child boy girl man woman
    switchboard outreach datix will may can not and but then also when what as or if so had has was were
    """
)
_THINGS_TOO = word_set(
    """
    hand head back foot line drain block case tube wire stone wall hall house field street bridge gate church school park mill bell ball ring nail pin key
    lock book page price cost winter summer spring autumn may march april june august rain snow frost storm wind light power force heart bone vein blood
    brain hair skin palm body stitch tear plate rod staple wedge lens glass cross case cases will well bank day night hour minute field judge marshal
    bishop king queen prince lord shepherd cook baker porter hunter
    """
)
"""Names that are things or trades beside: only speech tells them, if they have a capital."""


def find(text: str) -> Iterator[Span]:
    """Yield who did it."""
    shouted = text.isupper()
    for opening in _EACH.finditer(text):
        if opening[1].lower() in _OPENS and (deed := _DEED.match(text, opening.start())):
            yield from _who(text, deed, shouted=shouted)
    for pattern in (_BY_TIME, _BY):
        for found in pattern.finditer(text):
            if _somebody(found["name"], shouted=shouted, said=pattern is _BY):
                yield span(found, KIND, LETTER, "[name]", _sure(found["name"]), "name")
    for found in _BY_HOUSE.finditer(text):
        if found["name"][0].isupper() and _somebody(found["name"], shouted=shouted, said=True):
            yield span(found, KIND, LETTER, "[name]", _sure(found["name"]), "name")


def _who(text: str, deed: re.Match[str], *, shouted: bool) -> Iterator[Span]:
    begin = max(0, deed.start() - _BEFORE)
    found = _WHO.search(text[begin : deed.start()])
    if found and _somebody(found["name"], shouted=shouted, said=deed["said"] is not None):
        start, end = (begin + at for at in found.span("name"))
        yield Span(start, end, KIND, LETTER, "[name]", _sure(found["name"]))


def _sure(name: str) -> float:
    """A word with a capital is surer than one without: the judge may speak against this one."""
    return 0.86 if name[0].isupper() else 0.8


def _somebody(name: str, *, shouted: bool, said: bool) -> bool:
    """Whether a word may be who did it: borne by people or on no list, and no part of the house."""
    lists, plain = load(), fold(name.split("-")[0])
    cased = name[0].isupper() and not name.isupper()
    if plain in _NOBODY or name.upper() in ABBREVIATIONS or (name.isupper() and not shouted):
        return False
    if plain in lists.titles or plain in lists.roles or plain in lists.heads or plain in lists.articles:
        return False
    if plain in lists.word_names:
        return cased and (said or plain not in _THINGS_TOO) and (said or plain not in lists.months)
    if lists.known(plain) or lists.plain_abroad(plain):
        return False
    borne = lists.borne(plain) or plain in lists.shared
    return borne or (cased and not plain.endswith("s"))
