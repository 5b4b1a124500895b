"""Street addresses: a house number with a street word, a flat, a box; also Spanish, German and French forms.

Source: 45 CFR 164.514(b)(2)(i)(B), street address; the street words are common practice.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._tail import with_town
from mmbuilder.scrub.plan import Span

KIND = "address"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "lives at 14 Pellow Lane now",
    "Flat 3, 27 Marrow Street",
    "PO Box 4471",
    "Calle de las Encinas 14",
    "Lindenstraße 12",
    "12 rue des Tilleuls",
    "3 quai des Quenouilles",
    "en calle Encinas 31",
    "2 Quillorne Cottages, Mill Road",
    "1180 N Belvash Ave",
    "nok brother, 14 quennion rise, tregarrow",
    "Unit 4, 77 Quella Parade, Mooralong QLD 4999",
    "fourteen Quince Terrace, Quenmere, postcode",
    "2209 Quorghum Pike, Apt 6B, Wexcombe, TN 37999",
    "r/o Door No 4-112, Quenkancharlu, c/o pain",
    "2/41 Quōkio Crescent, Quenbury 5510",
    "Level 3, 88 Quandoon Terrace",
    "care of Box 771, Quitwe",
    "calle Quendro 9, 3.º B, Quartana",
    "DISCHARGED TO 9 COBBLER'S WYND, QUENDURROCH MAINS",
    "Elle habite 6, venelle des Quenneurs",
    "voisine du 17 cité Quel-Air",
    "Vecino de calle del Pozo Quenargo 17, bajo",
    "stays at Blk 77 Lorong Quireh #12-304",
    "Box 12, Quentoyaktuk.",
    "address 3/2, 18 Quengate, Quendrum FK9 5QX",
    "calle Quendro 9, 2º izq., 22999 Quartana",
    "lives RR 3, Quentoba",
)
NEAR_MISSES = (
    "2 Way tap",
    "5 Lane traffic",
    "at 14 Road traffic collisions",
    "street drugs denied",
    "a 3 Way stopcock",
    "Close 2 ports",
    "box 3 of the form",
    "Drive 2 screws",
    "a 2 way tap and a 10 minute walk",
    "3 hole row of screws",
    "went to a 20 minute drive",
    "showed three SSIs. Close watch kept",
    "re-explored 2315, Steep Rise in pressure",
    "RR 3, naloxone given",
)

_WORD = (
    r"Street|St\.?|Road|Rd\.?|Lane|Ln\.?|Avenue|Ave\.?|Drive|Dr\.?|Close|Crescent|Cres\.?|Terrace|Place|Court|Ct\.?|Gardens|Grove|Hill|Mews"
    r"|Parade|Row|Square|Sq\.?|Walk|Boulevard|Blvd\.?|Highway|Hwy\.?|Quay|Wharf|Rise|Cottages?|House|Way|Green|Park|Villas|Pike|Trail|Turnpike|Loop|Circle|Ridge|Bend|Wynd|Croft|Brae|Yard|Yd|Gdns|Cl|Pl|Tce|Ter|Pde|Cct|Hts|Bldgs?|Buildings|Nagar|Marg|Colony"
)
_OWN = r"(?:[A-Z]['’]?[^\W\d_]+(?:['’-][^\W\d_]+)*\s|(?:St|Mt|Ste)\.\s|[NSEW]\.?\s)"
_STREET = re.compile(
    rf"(?<![\w.,/:-])(?:(?:Flat|Apt\.?|Apartment|Unit|Suite|House|Level|Floor|Shop|Lot)\s\d{{1,4}}[A-Za-z]?,?\s)?(?:(?:\d{{1,3}}[A-Za-z]?/)?\d{{1,5}}[A-Za-z]?|(?i:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty(?:[\s-]\w+)?|thirty(?:[\s-]\w+)?|forty(?:[\s-]\w+)?)),?\s{_OWN}{{1,3}}(?:{_WORD})(?!\w)"
    rf"(?:,\s{_OWN}{{1,2}}(?:{_WORD})(?!\w))?"
)
_TOWN = re.compile(
    rf"(?i:address|home|lives|living|resid\w+)[^.;\n]{{0,40}}\s(?:{_WORD}),\s((?:[A-Z][^\W\d_]{{3,}}[\s-]?){{1,2}})(?=[,.;]|$)"
)
"""The town behind a street, where an address was announced."""
_NO_NUMBER = re.compile(
    rf"(?:lives|address|resides|home|of)\s?(?:at|in|on|:)?\s(?P<street>{_OWN}{{1,2}}(?:Street|Road|Lane|Avenue|Close|Crescent|Terrace))(?!\w)"
)
_BOX = re.compile(
    r"(?<!\w)(?:P\.?O\.?|care\sof|c/o|private|locked)\sB(?:ox|ag)\s(\d{1,6})(?!\w)", re.IGNORECASE
)
_FLAT = re.compile(
    r"(?:lives|address|resides|home)\s?(?:at|in|:)?\s?((?:Flat|Apt\.?|Apartment)\s\d{1,4}[A-Za-z]?)(?!\w)",
    re.IGNORECASE,
)
_SPANISH = re.compile(
    r"(?<!\w)(?:[Cc]alle|[Cc]/|[Aa]vda\.?|[Aa]venida|[Pp]laza|[Pp]aseo|[Cc]arrer|[Rr]ua)\s(?:(?:de|del|la|las|los|da|do)\s){0,2}[^\W\d_a-z][^\W\d_]+(?:\s[^\W\d_a-z][^\W\d_]+)?,?\s(?:n[º°]?\s?)?\d{1,4}(?!\w)(?:,\s\d{1,2}\.?[ºª°o]\.?\s?(?:[A-Z](?![^\W\d_])|(?:izq|dcha|dch|ctro)(?![^\W\d_])\.?)?)?(?:,\s(?:bajo|ático|entresuelo|principal)(?!\w))?(?:,\s[^\W\d_a-z][^\W\d_]+(?:\s(?:del?\s|la\s|los\s)?[^\W\d_a-z][^\W\d_]+){0,2})?"
)
_GERMAN = re.compile(
    r"(?<!\w)[^\W\d_a-z][^\W\d_]+(?:straße|strasse|str\.|weg|gasse|platz|allee)\s\d{1,4}[a-z]?(?!\w)|(?<!\w)[^\W\d_a-z][^\W\d_]+er\s(?:Straße|Weg|Platz|Allee)\s\d{1,4}(?!\w)"
)
_FRENCH = re.compile(
    r"(?<![\w.,/:-])\d{1,4}(?:\s(?:bis|ter))?,?\s(?:rue|avenue|av\.|boulevard|bd|chemin|place|impasse|allée|quai|cours|square|passage|faubourg|route|sentier|venelle|ruelle|cité|résidence|lotissement|traverse|esplanade|Rue|Avenue|Place|Chemin|Impasse|Quai)\s(?:(?:de|du|des|la|le|les)\s|[dl]['’]){0,2}[^\W\d_a-z][^\W\d_]+(?:[\s-][^\W\d_a-z][^\W\d_]+)?(?!\w)"
)


_RURAL = re.compile(r"(?:lives|address|resides|home)(?:\s(?:at|on|in))?:?\s(RR\s?#?\d{1,2})(?!\w)")
"""A rural route of Canada: `lives RR 3, Quentoba`."""
_DOOR = re.compile(
    r"(?<!\w)(?:(?:D(?:oor)?|H(?:ouse)?|Plot|Flat|Ward|Khasra)\.?\s?No\.?|#)\s?\d{1,4}(?:[-/]\d{1,4}[A-Z]?){0,2}(?=,\s[A-Z])"
)
"""A door of an Indian town: `Door No 4-112, Quenkancharlu`."""
_BLOCK = re.compile(
    r"(?<!\w)(?:Blk|Block)\s\d{1,4}[A-Z]?,?\s[A-Z][^\W\d_]+(?:\s[A-Z][^\W\d_]+){0,3}(?:\s\d{1,2})?(?:,?\s#\d{1,2}-\d{1,4}[A-Z]?)?(?![\w-])|(?:^|(?<=[.;]\s))Box\s\d{1,5}(?=,\s[A-Z])"
)
"""A block of Singapore with its unit; a box of a settlement that has no streets."""
_ANY_CASE = re.compile(
    r"(?<![\w.,/:-])(?P<street>\d{1,4}[a-z]?,?\s(?P<own>(?:[^\W\d_]+(?:['’][^\W\d_]+)?\s){1,3}?)(?:street|road|rd|lane|avenue|ave|crescent|cres|terrace|gardens|grove|mews|wynd|quay|villas|cottages|rise|row|hill|close|drive|way|court"
    r"|place|park|view|walk|square|parade|croft|brae|fold|garth|causeway|heights|estate|towers|yard|yd|gdns|nagar|marg|colony|gali))(?!\w)(?:,\s(?P<town>[^\W\d_]{4,})(?P<more>\s[^\W\d_]{4,})?)?",
    re.IGNORECASE,
)
_UP_TO_CODE = re.compile(
    r"(?<!\w)(?i:address|addr\.?)\s?:?\s(?P<street>\d[^\n;]{4,80}?,\s[^\n;]{2,30}?)(?=,?\s[A-Z]{1,2}\d[A-Z\d]?\s?\d[A-Z]{2}(?!\w))"
)
"""What stands between the word address and a postal code, whatever the street is called: `3/2, 18 Quengate, Town`."""
_AT_A_TIME = re.compile(r"(?:[01]\d|2[0-3])[0-5]\d,\s")
"""A time of day and who came then is no house: `2315, Zara Pike`."""
_SOMEBODY = re.compile(r"(?<!\w)(?:Frau|Herrn?|Fr|Hr|Mrs?|Ms|Miss|Prof)\.?\s")
"""No street is called so, but doctors are: `Intensiv 2, Frau Dr. Lenz`."""
_ANNOUNCED = re.compile(
    r"(?:lives|living|address|home|resid\w*|of|at|to|from)\s?(?:at|in|on|:)?\s?$", re.IGNORECASE
)
_TIMES = re.compile(
    r"(?:mins?|minutes?|hours?|hrs?|days?|weeks?|miles?|steps?|metres?|yards?|further|other|more|chest|hole|lead|she|he|they|it|was|is|were|had|has|with|and|for|of|to|at|in|on|by|still|then|year|years|old|who|his|her|their|per|a|an)",
    re.IGNORECASE,
)


def _in_any_case(text: str) -> Iterator[Span]:
    """Yield addresses in small letters or all capitals: a word on no list in the street or the town, or a word before it."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.unlisted import unlisted

    lists = load()
    for found in _ANY_CASE.finditer(text):
        own = found["own"].split()
        if any(_TIMES.fullmatch(word) for word in own):
            continue
        town = bool(found["town"]) and unlisted(found["town"], lists)
        announced = _ANNOUNCED.search(text, max(0, found.start() - 16), found.start())
        clinical = any(lists.called(word.lower()) not in (None, "an ordinary word") for word in own)
        if any(unlisted(word, lists) for word in own) or town or (announced and not clinical):
            more = town and bool(found["more"]) and unlisted(found["more"].strip(), lists)
            end = (
                found.end("more")
                if more or (town and found["more"] and text.isupper())
                else found.end("town" if town else "street")
            )
            yield Span(found.start(), end, KIND, LETTER, "[address]", 0.8)


def find(text: str) -> Iterator[Span]:
    """Yield the address from its number to its street word."""
    for pattern in (_STREET, _SPANISH, _GERMAN, _FRENCH, _DOOR, _BLOCK):
        for found in pattern.finditer(text):
            if _AT_A_TIME.match(found[0]) or _SOMEBODY.search(found[0]):
                continue
            yield Span(found.start(), with_town(text, found.end()), KIND, LETTER, "[address]", 0.9)
    yield from _in_any_case(text)
    yield from (span(found, KIND, LETTER, "[address]", 0.9, "street") for found in _UP_TO_CODE.finditer(text))
    for found in _TOWN.finditer(text):
        yield span(found, KIND, LETTER, "[address]", 0.8, 1)
    for pattern in (_NO_NUMBER, _BOX, _FLAT, _RURAL):
        yield from (span(found, KIND, LETTER, "[address]", 0.85, 1) for found in pattern.finditer(text))
