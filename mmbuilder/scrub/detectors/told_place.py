"""Places in ordinary words, by what is said of them: `from teasel ward`, `works at the range`, `lives in holt end`, `bed at the beeches`.

Here the word that tells is enough, and what it tells of need be on no list: it only must not be a word of the clinic, of the house or
of a home as anybody has one (`works at night`, `lives in a flat`, `the surgical ward`).

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; the words are common practice, no
source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import holds
from mmbuilder.scrub.detectors._of_place import CAP, clinical, plain_of_a_place
from mmbuilder.scrub.detectors._tail import with_small_town, with_town
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "hi from teasel ward re the line",
    "moved to teal ward, obs 4 hourly",
    "works at the range",
    "collect her from bay tree lodge on",
    "LETTER. FROM: STOKE QUENLEY INFIRMARY. DATE",
    "dialysis at the Amberquen unit, fistula",
    "stented at the Quenhurst, home next day",
    "from the road end of quencastle",
    "works at skyline trampolines",
    "packs eggs for Quenwick Poultry",
    "fam live in nether quill",
    "usual carer, holt end, lives in holt end",
    "rehab bed at the beeches",
    "saw her in the haven, quenworth",
    "gp is at fountain medical",
    "op mid july, club quenholt rovers",
    "fam from quenfour junction",
    "at her flat in Tollgate Rise, Quenmouth",
    "of the 4th Field Hospital, Camp Quenby",
    "sent to Quenmere Vascular Hub",
    "seen in Quendermoor walk-in",
    "bed on Kingcup please",
    "siobhan from quengrove house care home says",
    "ROOM 14, THE LAURELS, QUENHOLME LEA.",
    "rta junction 7 of the M771",
    "address: The Old Bakehouse, Quenby",
    "tx from qmc quenley for pci",
    "stab outside the drovers, resus",
)
NEAR_MISSES = (
    "the medical ward and our busy ward",
    "works at night, works at height",
    "works for himself, worked for years",
    "lives in a flat, lives in sheltered housing",
    "lives at home, living in fear",
    "ondansetron works for nausea",
    "in the wards, at the limits, from the ribs",
    "at the elbows and in the hands",
    "the distal end, in far end",
    "moved to Theatre and to Recovery",
    "seen on Ward 4, sent to Radiology",
    "changed to Tazocin, on Warfarin",
    "gp at night, gp from out of hours",
    "book club, heart club",
    "the ward round and the next ward",
    "switched from Prolene to Vicryl",
    "in Trendelenburg, in Lloyd-Davies",
    "works in the day",
    "transferred to Critical Care",
    "at Clinic and in Resus",
    "works at sea",
    "tea at the bus station, on a council estate",
    "employed full time, job with risk",
)

_WARD = re.compile(r"(?<![\w'’-])(?P<name>(?P<own>[^\W\d_]{3,}(?:['’]s)?)\sward)(?!['’-]?\w)", re.IGNORECASE)
_END = r"(?=[,.;:)\n]|$|\s(?:as|and|since|until|who|but|when|with|in|on|full|part|says?|for|where|so|is|was|re|she|he|they|has|had|by|after|to|near|please|pls)\b)"
_PHRASE = r"(?P<name>(?:the\s)?(?P<own>[^\W\d_]{3,}(?:['’]s)?(?:-[^\W\d_]+)*)(?:\s(?:&\s|and\s|of\s|on\s)?(?!(?:as|and|since|until|who|but|when|with|for|where|says?|has|had|was|were|please|pls|re)\b)[^\W\d_]{2,}(?:['’]s)?){0,3}?)"
_WORKS = re.compile(
    rf"(?<!\w)(?:works?|worked|working|employed|job|apprentice(?:d)?|foreman|labourer|driver|cleaner|cook|chef|waiter|waitress|barman|barmaid|teacher|teaches|taught|receptionist|secretary|mechanic|fitter|welder|packs?\s[a-z]+|shifts?|nights|trainee|intern|volunteers?|farms|farming|fishes|trades|drinks|plays|trains|coaches|preaches|caretaker|groundsman|gardener|porter|guard|manager|manages|runs|pupil|student|studies|attends)\s(?:at|for|with|by)\s{_PHRASE}{_END}",
    re.IGNORECASE,
)
_LIVES = re.compile(
    rf"(?<!\w)(?:liv(?:e|es|ed|ing)|resides?|resident|brought\sup|grew\sup|born|staying|stays|comes|moved|retired)\s(?:alone\s|now\s)?(?:in|at|near|to|from)\s{_PHRASE}{_END}",
    re.IGNORECASE,
)
_GP = re.compile(
    rf"(?<!\w)gp\s(?:is\s|practice\s|practice\sis\s)?(?:at|@|with)\s{_PHRASE}{_END}", re.IGNORECASE
)
_NO_EMPLOYER = word_set(
    """
    a an his her their our my its own home night nights height heights sea present weekend weekends times least computer desk same this that these those school work himself herself themselves
    themself free year years month months week weeks day days hour hours long some many most several it him them us me you now nhs council charity agency agencies pay both all over about only
    speed full part time first last risk intervals rest bedtime discharge university college hospital hospitals surgery clinic ward theatre once best worst
    shop shops factory factories farm farms office offices local government police army navy railway docks airport post moment trust unit mill mine pit hospice church library pub garage
    warehouse bank one two three four several friends family people children patients others someone somebody everyone what which more less
    """
)
_NO_HOME = word_set(
    """
    a an his her their our my its own home house flat flats bungalow annexe annex apartment apartments bedsit sheltered accommodation caravan caravans hostel hostels tent squat barracks village villages
    town towns city cities country countryside rural urban poverty fear squalor isolation supported supervised lodgings digs halls hall dormitory prison care nursing residential warden retirement
    temporary temp shared rented council social housing community pain peace hope denial sin foreign abroad another one two same this that those these hospital ward it with warm cold
    somewhere anywhere nowhere elsewhere closer nearer where here there both either neither with without
    different various several good poor bad high low damp dirty clean local nearby next hotel hotels bed theatre recovery resus icu itu hdu sight term breech twins labour
    """
)
_HOUSES = "|".join(
    word_set(
        """
        laurels beeches willows oaks elms limes hollies poplars cedars birches rowans chestnuts sycamores pines larches hawthorns firs firs yews maples hazels lavenders primroses bluebells heathers
        haven gables beacon priory mount nook retreat hermitage rectory vicarage parsonage orchards meadows spinney paddocks paddock grange manor manse lodge croft coppice copse grove
        glade glen dell dene dingle hollow hollows knoll lawns fountains towers turrets chimneys cloisters abbey moorings moorlands uplands fairways cottage cottages almshouses old\\sforge
        """
    )
)
_THE_HOUSE = re.compile(
    rf"(?<!\w)(?:in|at|from|to|of|nh|rh|home|carer|resident|bed|place|,)\s(?P<name>the\s(?:{_HOUSES})(?:\s(?:nursing|care|residential|rest)\shome)?)(?P<town>,\s(?P<own>[^\W\d_]{{4,}})(?:\s[^\W\d_]{{3,}})?)?(?!\w)",
    re.IGNORECASE,
)
_HOME_KINDS = r"(?:house|hall|lodge|court|manor|grange|lea|park|view|mount|villas?|towers|rise|bank|gardens)"
_CARE_HOME = re.compile(
    rf"(?<!\w)(?:from|at|in|to|of|near|by)\s(?P<name>(?:the\s)?(?P<own>[^\W\d_]{{4,}})\s{_HOME_KINDS}(?:\s(?:nursing|care|residential|rest|retirement)\shome)?)(?!\w)",
    re.IGNORECASE,
)
_KIND_TAIL = (
    r"(?:junction|crossing|crossroads|corner|gap|ferry|landing|halt|magna|parva|regis|heath|common|green|cross|end|moor|fell|cove|sands|haven|village|townland|estate|nagar|gaon|khurd|kalan|colony|chowk|bazaar|bazar|mohalla|basti"
    r"|tehsil|taluk|mandal|layout|market|mission|station|settlement|township|walk-?in|medical|hub)"
)
_TAILED = re.compile(
    rf"(?<!\w)(?:from|in|at|near|of|to|by|via)\s(?P<name>(?:the\s)?(?P<own>[^\W\d_]{{3,}})\s{_KIND_TAIL}(?:\scentre)?)(?!['’-]?\w)",
    re.IGNORECASE,
)
_COMMON_BEFORE = word_set(
    """
    bus train railway rail fire police petrol filling power service tube metro polling coach nurses nurse work super street flea farmers cattle fish fruit stock job labour housing holiday retirement
    council industrial trading real country zebra pelican level road pedestrian dead loose north south east west front back top bottom top deep big village town city
    """
)
_SIDED = re.compile(
    r"(?<!\w)(?:in|at|near|from|to|by|around)\s(?P<name>(?:nether|chipping|market|much|stoke|abbots?|kirk|inver|llan|castle|temple|church|saint)\s(?P<own>[^\W\d_]{4,}))(?=[,.;)]|$|\s(?:and|with|for|by|since|where|who)\b)",
    re.IGNORECASE,
)
_CLUB = re.compile(
    r"(?<![\w'’-])(?P<name>(?P<own>[^\W\d_]{4,})\s(?:rovers|wanderers|athletic|harriers|albion|rangers|hotspur|a?fc|rfc|rufc|cc|colts|united))(?!\w)",
    re.IGNORECASE,
)
_TWO_WORDS = re.compile(
    r"(?<!\w)(?:from|at|in|to|of|near|by)\s(?P<name>(?:the\s)?(?P<own>[^\W\d_]{3,})\s(?P<other>[^\W\d_]{3,})\s(?:lodge|grange|manor|villas?|towers|rise|mount|lea|court|house|hall|cottage|farm)(?:\s(?:nursing|care|residential|rest|retirement)\shome)?)(?!['’-]?\w)",
    re.IGNORECASE,
)
_LABELLED = re.compile(
    r"(?<!\w)(?:FROM|TO|HOSPITAL|WARD|SITE|UNIT|CLINIC|HOME|SCHOOL|EMPLOYER|ADDRESS|PLACE)\s?:\s(?P<name>[A-ZÀ-Þ][A-ZÀ-Þ'’-]{2,}(?:\s(?:&\s)?[A-ZÀ-Þ'’-]{2,}){0,4})(?=[.,;\n]|$)"
)
_THE_UNIT = re.compile(
    rf"(?<!\w)(?:at|in|to|from|by|of|on|via)\s(?P<name>the\s(?P<own>{CAP})(?:\s{CAP})?\s(?:[Uu]nit|[Ww]ing|[Ss]uite|[Cc]linic|[Cc]entre|[Cc]enter|[Bb]uilding|[Bb]lock|[Hh]ospital|[Hh]ospice|[Ss]urgery|[Ii]nfirmary|[Hh]ome|[Pp]ractice))(?!\w)"
)
_STREETS = r"(?:Street|Road|Lane|Avenue|Rise|Close|Crescent|Terrace|Gardens|Grove|Drive|Mews|Row|Walk|Parade|Square|Quay|Wharf|Wynd|Brae|Croft|Villas|Cottages|Heights|Estate|Nagar|Marg|Towers|Fold|Garth)"
_STREET = re.compile(
    rf"(?<!\w)(?:[Ii]n|[Oo]n|[Aa]t|[Oo]f|[Ff]rom|[Nn]ear|[Tt]o|[Oo]ff|[Oo]utside|,)\s(?P<name>(?P<own>{CAP})(?:\s{CAP})?\s{_STREETS})(?!\w)"
)
_ORDINAL = re.compile(
    r"(?<!\w)(?P<name>\d{1,3}(?:st|nd|rd|th)\s(?:(?:Field|General|Military|Combat\sSupport|Army|Station|Parachute|Infantry|Medical|Armoured|Engineer|Signals?)\s){1,3}(?:Hospital|Regiment|Battalion|Brigade|Squadron|Ambulance|Company|Unit))(?!\w)"
)
_HUB = re.compile(
    rf"(?<![\w.'’-])(?P<name>(?P<own>{CAP})(?:\s{CAP})?\s(?:(?:Vascular|Trauma|Surgical|Diagnostic|Stroke|Cardiac|Eye|Cancer|Elective|Treatment|Community|Health|Imaging|Dialysis|Renal|Rehabilitation|Rehab|Spinal|Birth|Limb|Pain|Fertility)\s){{0,2}}"
    r"(?:Hub|[Ww]alk-?[Ii]n(?:\s[Cc]entre)?|Polyclinic|Dispensary|Sanatorium|Hostel|Refuge|Almshouses?|Rehab(?:ilitation)?\s(?:Unit|Centre|Hospital)|Referral\sLaborator(?:y|ies)|Dialysis\sUnit|Renal\sUnit|Spinal\sUnit))(?!\w)"
)
_ON_WARD = re.compile(
    rf"(?<=[a-z,]\s)(?:on|to|from|in|at)\s(?P<name>{CAP})(?=\s?[,;]|\.?$|\s(?:please|pls|with|for|by|ward|overnight|until|today|tonight|tomorrow|bed|bay)\b)"
)
_THE_ONE = re.compile(
    rf"(?<!\w)(?:at|in|to|from|via|near|of|outside)\s(?P<name>the\s(?P<own>{CAP}))(?=\s?[,.;:)]|$|\s(?:and|on|for|with|by|last|where|who|unit|until|overnight|yesterday|today|in|at|from|to|then|after|before)\b)"
)
"""A hospital or an inn by its short name: `stented at the Quenhurst`."""
_PART_OF = re.compile(
    r"(?<!\w)(?:end|side|part|outskirts|area|north|south|east|west|centre|edge|middle|suburb|people|mayor|streets?)\sof\s(?P<name>(?P<own>[^\W\d_]{5,}))(?!['’-]?\w)",
    re.IGNORECASE,
)
_LABEL_HOUSE = re.compile(
    r"(?<!\w)(?:ROOM|FLAT|UNIT|APT)\s\d{1,4}[A-Z]?,\s(?P<name>(?:THE\s)?[A-ZÀ-Þ]{4,}(?:\s[A-ZÀ-Þ]{3,}){0,2}(?:,\s[A-ZÀ-Þ]{4,}(?:\s[A-ZÀ-Þ]{2,}){0,2})?)(?=[.;\n]|$)"
)
_JUNCTION = re.compile(
    r"(?<!\w)(?P<name>(?:junction|jct|jn|exit)\.?\s?\d{1,2}[a-z]?,?\s(?:of\s|on\s)?(?:the\s)?[AM]\d{1,4})(?!\w)",
    re.IGNORECASE,
)
_ADDRESS = re.compile(
    r"(?<!\w)(?:address|addr|adresse|anschrift|dirección|domicilio|indirizzo|pata)\s?:\s?(?P<name>[^\s.;:\n][^.;:\n]{3,70}?)(?=[.;\n]|$|\s(?:tel|phone|mob|gp|nok|dob|pt)\b)",
    re.IGNORECASE,
)
_FROM_LETTERS = re.compile(
    r"(?<!\w)(?:tx|tfr?d?|trf|transfer\w*|t/f|repat\w*|referred|came|sent|admitted|back|accepted|d/c|moved|rung|call)\s(?:from|to|at|in|by)\s(?P<name>[a-z]{2,5}\s(?P<own>[a-z]{4,}))(?=[,.;)]|$|\s(?:for|with|by|re|on|last|this|at|overnight|in|via)\b)"
)
_OUTSIDE = re.compile(
    r"(?<!\w)(?:stab\w*|assault\w*|fight|punched|glassed|bottled|attacked|drinking|found|collapsed|fell)\s(?:[a-z]+\s){0,2}?(?:outside|in|at|behind|by)\s(?P<name>the\s(?P<own>[a-z]{4,}s))(?=[,.;)]|$|\s(?:on|last|this|by|with|after)\b)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the name of the place with the word that tells its kind."""
    for start, end, confidence in _found(text):
        yield Span(start, end, KIND, LETTER, "[place]", confidence)


def _found(text: str) -> Iterator[tuple[int, int, float]]:
    yield from _said(text)
    yield from _of_homes(text)
    if not text.isupper():
        yield from _with_capitals(text)
    yield from _of_kinds(text)


def _said(text: str) -> Iterator[tuple[int, int, float]]:
    """Wards called by a word, and what stands after `works at`, `lives in` and the like."""
    for found in _WARD.finditer(text):
        own = found["own"]
        if no_ordinary(own) and not _DONE.search(own) and not _ROLES.fullmatch(own):
            yield *found.span("name"), 0.65
    for pattern, never in ((_WORKS, _NO_EMPLOYER), (_LIVES, _NO_HOME), (_GP, _NO_EMPLOYER)):
        for found in pattern.finditer(text):
            if _names_one(found["name"], never):
                yield found.start("name"), with_small_town(text, found.end("name")), 0.6


def _of_homes(text: str) -> Iterator[tuple[int, int, float]]:
    """Homes, villages and stations by the word that tells what they are, whatever their letters."""
    for found in _THE_HOUSE.finditer(text):
        town = found["town"] and unlisted(found["own"], load())
        yield found.start("name"), found.end("town" if town else "name"), 0.65
    for pattern in (_CARE_HOME, _TAILED, _SIDED):
        for found in pattern.finditer(text):
            own = found["own"]
            if no_ordinary(own) and not _DONE.search(own) and own.lower() not in _COMMON_BEFORE:
                yield found.start("name"), with_small_town(text, found.end("name")), 0.6
    for found in _TWO_WORDS.finditer(text):
        pair = (found["own"], found["other"])
        common = any(clinical(word) or word.lower() in _COMMON for word in pair)
        if any(map(no_ordinary, pair)) and not common:
            yield found.start("name"), with_small_town(text, found.end("name")), 0.6


def _with_capitals(text: str) -> Iterator[tuple[int, int, float]]:
    """Streets, units and short names of hospitals, where a capital tells."""
    for found in _THE_UNIT.finditer(text):
        if no_ordinary(found["own"]) and not plain_of_a_place(found["own"]):
            yield *found.span("name"), 0.65
    for pattern in (_STREET, _HUB) if holds(text, _HUBS) else (_STREET,):
        for found in pattern.finditer(text):
            if not clinical(found["own"]) and not plain_of_a_place(found["own"]):
                yield found.start("name"), with_town(text, found.end("name")), 0.7
    for found in _ON_WARD.finditer(text):
        if no_ordinary(found["name"]) and _plain(found["name"]):
            yield *found.span("name"), 0.5
    for found in _THE_ONE.finditer(text):
        own = [part for part in re.split(r"['’-]", found["own"]) if len(part) > 1]
        if not found["own"].isupper() and all(unlisted(part, load()) for part in own):
            yield *found.span("name"), 0.6


def _of_kinds(text: str) -> Iterator[tuple[int, int, float]]:
    """Clubs, regiments, exits of roads, addresses and rooms, each where its words stand."""
    for pattern, keys in _UNLISTED:
        for found in pattern.finditer(text) if holds(text, keys) else ():
            if unlisted(found["own"], load()):
                yield *found.span("name"), 0.65
    for pattern, keys in _BY_FORM:
        for found in pattern.finditer(text) if holds(text, keys) else ():
            yield found.start("name"), with_town(text, found.end("name")), 0.75
    for found in _OUTSIDE.finditer(text) if holds(text, _HURT) else ():
        if no_ordinary(found["own"]) and found["own"] not in _COMMON_PLACES:
            yield *found.span("name"), 0.55
    for found in _LABELLED.finditer(text):
        words = re.findall(r"[A-ZÀ-Þ]{3,}", found["name"])
        if not all(plain_of_a_place(word) for word in words) and not any(
            clinical(word) for word in words[:-1]
        ):
            yield *found.span("name"), 0.65
    for found in _LABEL_HOUSE.finditer(text) if holds(text, _ROOMS) else ():
        if not any(clinical(word) for word in re.findall(r"[A-ZÀ-Þ]{3,}", found["name"])):
            yield *found.span("name"), 0.65


_COMMON = _NO_HOME | _COMMON_BEFORE
_HURT = ("stab", "assault", "fight", "punched", "glassed", "bottled", "attacked", "drinking", "found", "collapsed", "fell")  # fmt: skip
_ROOMS = ("room", "flat", "unit", "apt")
_HUBS = ("hub", "walk", "polyclinic", "dispensary", "sanatorium", "hostel", "refuge", "almshouse", "rehab", "referral", "dialysis", "renal", "spinal")  # fmt: skip
_UNLISTED: tuple[tuple[re.Pattern[str], tuple[str, ...]], ...] = (
    (_CLUB, ("rovers", "wanderers", "athletic", "harriers", "albion", "rangers", "hotspur", "fc", "rufc", "cc", "colts", "united")),
    (_FROM_LETTERS, ("tx ", "tf", "trf", "transfer", "t/f", "repat", "referred", "came", "sent", "admitted", "back", "accepted", "d/c", "moved", "rung", "call")),
    (_PART_OF, (" of ",)),
)  # fmt: skip
_BY_FORM: tuple[tuple[re.Pattern[str], tuple[str, ...]], ...] = (
    (_ORDINAL, ("hospital", "regiment", "battalion", "brigade", "squadron", "ambulance", "company", "unit")),
    (_JUNCTION, ("junction", "jct", "jn", "exit")),
    (_ADDRESS, (":",)),
)
"""Each pattern with letters of which one must stand in a text, or it is not run."""
_DONE = re.compile(r"(?:[^aeiou]ed|[tsy]ing|ly|ous|ical|ish)$", re.IGNORECASE)
_ROLES = re.compile(
    r"(?:sister|charge|nurse|nurses|sisters|the|rang|ring|call|called|phoned|via|per|back|onto|off|post|pre|non|wrong|right|next|other|another|busy|quiet|noisy|full|empty|receiving|parent|host|sending|outlying|outlier|escalation|winter|overflow|buddy)",
    re.IGNORECASE,
)
_COMMON_PLACES = word_set(
    "stairs steps shops pubs woods fields toilets showers gardens stables allotments sands dunes rapids falls docks barracks lights flats doors bins garages offices"
)


def _names_one(name: str, never: frozenset[str]) -> bool:
    """Whether words after `works at` or `lives in` are a name: none is of the clinic, and the first is no common one."""
    words = [fold(word) for word in re.findall(r"[^\W\d_]{2,}", name)]
    article = words[0] == "the"
    words = words[1:] if article else words
    if not words or words[0] in never or any(clinical(word) for word in words):
        return False
    lists = load()
    if words[0] in lists.titles or words[0] in lists.months or words[0] in lists.given:
        return False
    return article or any(lists.called(word) is None for word in words)


def no_ordinary(word: str) -> bool:
    """Whether a word is none of the clinic or the house, chosen by hand."""
    lists, plain = load(), fold(word.removesuffix("'s").removesuffix("’s"))
    return (
        lists.called(plain) is None
        and plain not in lists.heads
        and plain not in lists.roles
        and plain not in lists.titles
        and plain not in lists.months
        and plain not in _NO_HOME
        and not (word.isupper() and len(word) < 5)
    )


def _plain(word: str) -> bool:
    """Whether a word with a capital is one of the language that nothing of the clinic bears."""
    lists, plain = load(), fold(word)
    return (
        plain in lists.vocabulary and plain not in lists.eponym_words and not plain.endswith(lists.suffixes)
    )
