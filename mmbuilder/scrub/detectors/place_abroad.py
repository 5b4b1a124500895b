"""Places in German, French, Spanish, Dutch and Hindi-English notes, by their words: `aus Oberquendorf`, `EHPAD les Tamarins`, `gaon Quenlapur`.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; the words are common practice, no
source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._of_place import CAP
from mmbuilder.scrub.detectors._tail import with_town
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "gaon Quenlapur, fever",
    "aus Quenwendorf verständigt",
    "EHPAD les Tamarins, escarre",
    "trabaja en la conservera Quiñequen",
    "Hausarzt in Quenau am See",
    "Quenpur se refer, pet dard",
    "rehta hai gali no 4, Quenabad",
    "from Ziekenhuis De Quenkraag te Oosterquen",
    "Arztpraxis am Quenplatz, Nissen vor acht Tagen",
)
NEAR_MISSES = (
    "aus Angst, in Narkose, nach Aufklärung",
    "Haus und Hof",
    "nach Lösen am Berry-Ligament",
    "travaille à domicile",
    "trabaja en casa",
    "sector 4 of the retina",
    "bei Cholezystitis, von Herzen",
)

_Keyed = tuple[re.Pattern[str], tuple[str, ...]]
_VILLAGE_FIRST = re.compile(
    r"(?<!\w)(?P<name>(?:gaon|gram|village|mohalla|tehsil|zila|dist(?:rict)?\.?|taluka?|mauza)\s(?P<own>[^\W\d_]{4,}))(?!\w)",
    re.IGNORECASE,
)
_GERMAN_TOWN = re.compile(
    r"(?<!\w)(?:aus|wohnt\sin|wohnhaft\sin|lebt\sin|geboren\sin|nach|bei|von|in)\s(?P<name>(?:Bad\s|Sankt\s|St\.\s|Groß-|Klein-|Ober-|Nieder-|Neu-|Alt-)?(?P<own>[A-ZÄÖÜ][a-zäöüß]{2,}(?:dorf|stadt|heim|hausen|berg|burg|bach|ingen|furt|kirchen|hofen|brunn|thal|rode|brück|münde|stein|kirch|moor|haven|büttel|leben|scheid|weiler|reuth|zell|walde|hagen|lohe|trup|beck)))(?!\w)"
)
_OF_A_HOUSE = re.compile(
    rf"(?<!\w)(?P<name>(?i:ehpad|usld|ssr|résidence|maison\sde\sretraite|foyer|cabinet|pharmacie|lycée|collège|école|mairie|usine|ferme|residencia|colegio|instituto|centro\sde\ssalud|ambulatorio|geriátrico|hogar|fábrica|finca|bodega|conservera"
    rf"|transportes|wohnheim|pflegeheim|seniorenheim|altenheim|heim|hospiz|(?:haus|zahn|fach)?(?:arzt)?praxis|gemeinschaftspraxis|apotheke|grundschule|gymnasium|kita|werk|firma|fa\.|gasthof|hotel|hof|haus)\s(?:(?i:de|du|des|la|le|les|del|los|las|el|der|zum|zur|am|im)\s){{0,2}}(?P<own>{CAP})(?:[\s-](?:(?:de|du|des|la|le|les|del|am|im|der)\s)?{CAP}){{0,2}}(?:,\s(?:Tor|Halle|Haus|Bâtiment|bât\.)\s\d{{1,3}})?)(?!\w)"
)
_WORKS_ABROAD = re.compile(
    rf"(?<!\w)(?i:trabaja(?:ba|dora?)?|emplead[oa]|obrer[oa]|camionero|cociner[oa]|travaille|ouvri(?:er|ère)|employée?|chauffeur|cuisini(?:er|ère)|apprentie?|salariée?|stagiaire|arbeitet|angestellte?r?|beschäftigt|tätig|arbeiter(?:in)?|fahrer(?:in)?|lehrling|azubi|lehrer(?:in)?)"
    rf"\s(?i:en|de|para|chez|à|pour|bei|in|im|am|der)\s(?P<name>(?:(?i:la|el|los|las|le|les|der|den|dem|una?)\s)?(?:[a-zà-ÿ]{{4,}}\s)?(?P<own>{CAP})(?:\s{CAP}){{0,2}})(?!\w)"
)
_TOWN_ON = re.compile(
    rf"(?<!\w)(?:in|aus|nach|bei|von|an|à|en|te)\s(?P<name>(?P<own>{CAP})(?:\s(?:am|an\sder|ob\sder|im|bei|in\sder|auf)\s|-(?:sur|sous|en|lès|le|la|les)-|\s(?:del?|de\sla|de\slos)\s)(?P<on>{CAP}))(?!\w)"
)
_GALI = re.compile(
    rf"(?<!\w)(?P<name>(?i:gali|galli|plot|flat|makaa?n|h\.?\s?no\.?|sector|block)\s(?i:no\.?|number|nr)?\s?\d{{1,4}}[A-Za-z]?,\s(?P<own>{CAP})(?:\s{CAP})?)(?!\w)"
)
_SENT_FROM = re.compile(
    rf"(?<!\w)(?P<name>(?P<own>{CAP})(?:\s{CAP})?)\s(?:se|mein|main|me)\s(?:refer|aaya|aayi|aaye|aayi|admit|laya|laye|laaye|rehta|rehti|rehte|bheja|transfer)(?!\w)"
)
_WITH_PLACE = re.compile(
    rf"(?<!\w)(?P<name>(?:Ziekenhuis|Hospital|Hôpital|Clinique|Klinik|Krankenhaus|Clínica|Ospedale|Sjukhus|Szpital)\s(?:(?:de|du|des|del|della|di|da|do|la|le|De|Het|La|El|Le)\s){{0,2}}{CAP}(?:\s{CAP})?\s(?:te|in|à|a|en|zu|ob|am|di|i|w)\s{CAP}(?:[\s-]{CAP})?)(?!\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the name of the place with the word that tells its kind."""
    lists, low = load(), text.lower()
    for pattern, keys in _OF_HOUSES:
        for found in pattern.finditer(text) if any(key in low for key in keys) else ():
            if pattern is _TOWN_ON and "-" in found["on"] and lists.known(fold(found["on"].split("-")[-1])):
                continue  # "nach Lösen am Berry-Ligament"
            if _no_ordinary(found["own"]) and fold(found["own"]) not in lists.eponym_words:
                yield _span(found.start("name"), with_town(text, found.end("name")))
    for pattern, keys in _OF_TOWNS:
        for found in pattern.finditer(text) if any(key in low for key in keys) else ():
            if unlisted(found["own"], lists):
                yield _span(*found.span("name"))
    for found in _WITH_PLACE.finditer(text):
        yield _span(found.start("name"), with_town(text, found.end("name")))


def _span(start: int, end: int) -> Span:
    return Span(start, end, KIND, LETTER, "[place]", 0.65)


_OF_HOUSES: tuple[_Keyed, ...] = (
    (_OF_A_HOUSE, ("ehpad", "usld", "ssr ", "résid", "maison", "foyer", "cabinet", "pharm", "lycée", "coll", "école", "mairie", "usine", "ferme", "resid", "coleg", "instit", "centro", "ambulat", "geri", "hogar", "fábrica", "finca", "bodega", "conserv", "transp", "heim", "hospiz", "praxis", "apotheke", "schule", "gymnas", "kita", "werk", "firma", "fa.", "gasthof", "hotel", "hof", "haus")),
    (_WORKS_ABROAD, ("trabaja", "emplead", "obrer", "camion", "cocin", "travaille", "ouvri", "employé", "chauffeur", "cuisin", "apprenti", "salarié", "stagiaire", "arbeit", "angestellt", "beschäft", "tätig", "fahrer", "lehr", "azubi")),
    (_GALI, ("gali", "gall", "plot", "flat", "makaan", "makan", "h no", "h. no", "sector", "block")),
    (_TOWN_ON, (" am ", " an der ", " ob der ", " im ", " bei ", " in der ", " auf ", "-sur-", "-sous-", "-en-", "-lès-", "-le-", "-la-", "-les-", " de ", " del ")),
)  # fmt: skip
_OF_TOWNS: tuple[_Keyed, ...] = (
    (_VILLAGE_FIRST, ("gaon", "gram ", "village", "mohalla", "tehsil", "zila", "dist", "taluk", "mauza")),
    (_GERMAN_TOWN, ("aus ", "wohn", "lebt", "geboren", "nach ", "bei ", "von ", "in ")),
    (_SENT_FROM, (" se ", " mein ", " main ", " me ")),
)
"""Each pattern with letters of which one must stand in a text, or it is not run."""


def _no_ordinary(word: str) -> bool:
    """Whether a word is none of the clinic or the house, chosen by hand."""
    lists, plain = load(), fold(word.removesuffix("'s").removesuffix("’s"))
    return (
        lists.called(plain) is None
        and plain not in lists.heads
        and plain not in lists.roles
        and plain not in lists.titles
        and plain not in lists.months
        and not (word.isupper() and len(word) < 5)
    )
