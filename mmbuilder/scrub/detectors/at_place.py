"""Places and employers after a preposition, by the words in them: `at Jump Kingdom Ottersby`, `with wend valley coaches`.

Also prisons, camps, convents, roads with their numbers, theatres and rooms called after things.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; the words are common practice, no
source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from mmbuilder.scrub.detectors._of_place import CAP, clinical, plain_of_a_place
from mmbuilder.scrub.detectors._tail import with_town
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "hurt at Jump Kingdom Quenby",
    "bus driver with quenmoor valley coaches",
    "works nights @ quenmoor bakery",
    "booked at quenlea park birth centre",
    "attended at quorrin wood.",
    "flew in from camp quenhelm",
    "discharged to HMP Quenmoor",
    "of the Convent of Our Lady of Quenby",
    "TRANSFER AT QUENKLOOF",
    "struck by a lorry on the B4471 near Quenby's Cross",
    "arrived at Endeavour theatre",
    "baby in tulip nursery, theatre orchid 2",
    "Found on Quenmire Fell",
    "PCP at Quenrace Family Practice, Dunmore Falls, OH 43999",
    "MILAN OFFICE OF QUENFERRO SPA",
    "when I was at Tri-County Feed & Seed",
    "EMS from Quenzanele township",
    "rep of Quenonova Surgical, mobile",
    "chef at the crooked billet",
    "lives in a tent off Route 9",
    "MVC I-80 near Quenby",
    "lives at fernquen cottage, upper quenwick, stairs",
    "is organist at Holy Rood, Market Quenbury and plays",
    "Drove from Quenmere to Port Quorrow",
    "sister runs Bluewater Nails",
    "nursing home: larkspur grange, peg feed",
    "call from somebody at Osprey Orthotics re brace",
    "opérée au CHU de Saint-Quenby",
    "d/c to the laurels residential home",
    "From Quenbilla station via Quendarrie Flats NSW 2999.",
)
NEAR_MISSES = (
    "at McBurney's point",
    "in Trendelenburg with the arms out",
    "from Recovery to High Dependency",
    "switched to Tazocin",
    "with Prolene and Vicryl",
    "via Seldinger technique",
    "at the angle of His",
    "to Day Surgery",
    "from Blood Bank",
    "a lateral park bench position",
    "transferred from theatre to recovery room",
    "in the wood of the plate",
    "with travel abroad",
    "at lock of the canal",
    "of the National Institute",
    "NHS England guidance",
    "AT LAPAROTOMY AND AT CLOSURE",
    "FROM THE LEFT HEMICOLECTOMY",
    "lens clinic and glaucoma clinic",
    "A4 paper and B12 level",
    "on the M1 muscarinic receptor",
    "in Bay 4 and in Room 3",
    "iris theatre",
    "at Hinchey III",
    "Ligament of Berry",
)

_RUN = rf"{CAP}(?:\s(?:(?:of|and|&|the|on|upon|in|de|del|la|le|van)\s){{0,2}}{CAP}){{0,5}}"
_AFTER = re.compile(
    rf"(?<!\w)(?:at|from|near|via|off|outside|behind|visiting|to|in|into|on|of|by|with|for)\s(?P<name>(?:the\s)?(?P<run>{_RUN}))(?![\w'’])"
)
_KINDS = word_set(
    """
    practice surgery clinic hospital infirmary hospice opticians optometrists dental dentists pharmacy chemist colliery museum gallery library park parks zoo
    kingdom world leisure sports stadium arena rink pool gym club fc rfc afc cricket golf racecourse store stores shop shops salon nails barbers hairdressers bakery butchers
    coaches travel tours taxis cabs bus buses haulage logistics couriers removals farm farms dairy foods brewery distillery vineyard works ironworks steelworks foundry forge shipyard
    boatyard mill mills quarry mine castings engineering plastics ceramics textiles carpets tyres motors garage autos bodyshop school primary juniors infants high grammar academy college
    university nursery playgroup kindergarten church chapel cathedral abbey priory convent monastery mosque temple gurdwara synagogue hall house lodge manor grange court cottage cottages villa
    hotel inn arms tavern cafe restaurant diner bistro takeaway supermarket market station airport harbour marina lock locks bridge wood woods moor fell common heath hill hills beach bay cove
    forest prison barracks camp base township county village estate reserve downs flats creek springs ranch colony nagar island islands falls hollow ridge valley glen dale farmhouse caravan
    surgical medical healthcare care pharma systems solutions group holdings ltd limited plc llp inc llc gmbh spa srl company sons daughters brothers partners associates solicitors law insurance
    mutual bank council trust foundation institute society association charity feed seed seeds timber joinery roofing scaffolding builders construction plumbing electrical cleaning security
    recruitment orthotics prosthetics physiotherapy osteopaths chiropractic podiatry audiology imaging diagnostics aesthetics fertility lido villas services theatre suite centre center home homes residence place terrace gardens point cross green end row street road lane avenue close crescent way square moss
    """
)
_STRONG = word_set(
    """
    coaches travel tours taxis cabs haulage logistics couriers removals bakery butchers brewery distillery foundry forge shipyard boatyard colliery ironworks steelworks castings ceramics textiles
    carpets tyres opticians optometrists solicitors llp plc ltd gmbh township county nursery playgroup academy infants juniors cottage cottages lodge grange manor court villa farm farms
    """
)
_SMALL_KINDS = "|".join(
    sorted(
        _KINDS
        | {
            "birth centre",
            "nursing home",
            "care home",
            "residential home",
            "rest home",
            "retirement home",
            "retail park",
            "business park",
            "holiday park",
            "caravan park",
            "health centre",
            "medical centre",
            "leisure centre",
            "day centre",
        },
        key=lambda kind: (-len(kind), kind),
    )
)
_SMALL = re.compile(
    rf"(?<![\w'’-])(?:at|from|in|to|with|for|of|near|via|by|@|on|off|outside|behind)\s(?P<name>(?:the\s|st\s)?(?P<run>(?:(?!(?:at|from|in|to|with|for|near|via|by|off)\s)[^\W\d_]+(?:['’][^\W\d_]+)?\s(?:and\s|&\s|of\s|on\s)?){{1,4}}?)(?P<kind>{_SMALL_KINDS})(?:\s(?:{_SMALL_KINDS}))?)(?![\w'’-])"
    r"(?P<flat>\s(?:flat|room|unit|apt)\s\d{1,4}[a-z]?)?(?P<town>,\s(?:(?:upper|lower|great|little|nether|north|south|east|west|old|new|high)\s)?(?P<own>[a-z]{4,})(?=[,.;)]|$))?"
)
_EMPLOYED = re.compile(
    rf"(?<!\w)(?:driver|drives|works?|worked|working|job|employed|cleaner|chef|cook|manager|nights|shifts|apprentice|labourer|fitter|welder)\s(?:[a-z]+\s){{0,2}}?(?:with|for|at|@)\s(?P<name>(?:the\s)?(?P<run>(?:[^\W\d_]+(?:['’][^\W\d_]+)?\s(?:and\s|&\s)?){{1,3}}?)(?P<kind>{_SMALL_KINDS})(?:\s(?:{_SMALL_KINDS}))?)(?![\w'’-])"
)
_WORKS_AT = re.compile(
    rf"(?<!\w)(?:organist|groundsman|caretaker|teacher|teaches|taught|lecturer|chef|cook|cleaner|porter|manager|bell-?ringer|verger|vicar|pupil|student|lives|resident|works?|worked|volunteers?|coach|plays|studies|apprentice|labourer|welder|driver|foreman|shift|nights)\s(?:[a-z]+\s)?(?:at|for|with)\s(?P<name>(?:the\s)?{_RUN})(?![\w'’])"
)
_JOURNEY = re.compile(
    rf"(?<!\w)(?:[Dd]rove|[Dd]rives|[Tt]ravel\w*|[Ww]alked|[Ff]lew|[Ff]lown|[Cc]ame|[Cc]ycled|[Ss]ailed|[Cc]ommutes|[Mm]oved|[Dd]riven|[Bb]us|[Tt]rain|[Jj]ourney)\s(?:in\s|over\s|back\s|down\s|up\s)?from\s(?P<name>{CAP}(?:\s{CAP})?)(?:\sto\s(?P<other>{CAP}(?:\s{CAP})?))?(?![\w'’])"
)
_RUNS = re.compile(
    rf"(?<!\w)(?:runs|owns|manages|founded|bought|sold)\s(?:the\s)?(?P<name>{CAP}(?:\s(?:&\s|and\s)?{CAP}){{1,3}})(?![\w'’])"
)
_CAP_KIND = re.compile(
    rf"(?<!\w)(?:[Aa]t|[Ff]rom|[Ii]n|[Tt]o|[Nn]ear|[Oo]n)\s(?P<name>(?:the\s)?(?P<own>{CAP})(?:\s{CAP})?\s(?:station|township|county|village|farm|estate|beach|bridge|camp|reserve|mission|settlement|colony|island|valley|quarry|mine|shipyard|works|foundry|mill|school|primary|college|church|chapel|hall|prison|theatre|ward|suite|clinic))(?![\w'’])"
)
_LABEL = re.compile(
    r"(?<!\w)(?:nursing\shome|care\shome|residential\shome|school|employer|gp\spractice|practice|residence|place\sof\swork|workplace|works\sat|home)\s?:\s(?P<name>[^\W\d_A-Z]{3,}(?:['’]s)?(?:\s(?:and\s|&\s|of\s)?[^\W\d_A-Z]{3,}){0,3})(?=[,.;]|$)"
)
_PRISON = re.compile(
    r"(?<!\w)(?P<name>(?:HMP|HMYOI|YOI|HMP\s?/?\s?YOI|hmp|hmyoi)\s(?:[Tt]he\s)?[^\W\d_]{3,}(?:\s[A-Z][^\W\d_]+)?)(?!\w)"
)
_CAMP = re.compile(
    r"(?<![\w'’-])(?P<name>(?:camp|fort|raf|hms|port|mount|lake|loch|lough|river|glen|ben|isle\sof|mission|station)\s(?P<own>[^\W\d_]{4,}))(?!\w)",
    re.IGNORECASE,
)
_ORDER = re.compile(
    rf"(?<!\w)(?P<name>(?:the\s)?(?:Convent|Monastery|Abbey|Priory|Church|Cathedral|Chapel|Order|Parish|Mosque|Temple|Diocese|Sisters|Little\sSisters)\sof\s(?:the\s)?{CAP}(?:\s(?:(?:of|and|the)\s){{0,2}}{CAP}){{0,4}})(?!\w)"
)
_CENTRE_ABROAD = re.compile(
    rf"(?<!\w)(?P<name>(?:CHRU|CHU|CHR|CH|CHI|AOU|ASST|AKH|LKH|UMC|HUC|HGU)\s(?:(?:de|du|des|di|d['’]|del|della|la|le|zu|in)\s?){{0,2}}{CAP}(?:[\s-](?:(?:de|du|la|le|sur)[\s-])?{CAP}){{0,3}})(?!\w)"
)
"""University hospitals of France, Italy, Austria, the Netherlands and Spain by their letters."""
_ROAD = re.compile(
    rf"(?<!\w)(?:on|off|along|by|near|of|at|beside|MVC|RTC|RTA|MVA|crash|collision|pile-up)\s(?:the\s)?(?P<name>(?:[ABMN]\d{{2,4}}|[RED]\d{{3,4}}|(?:Route|Rte|Highway|Hwy|Interstate|US|SR)\s\d{{1,4}}|I-\d{{1,3}})(?:\s(?:near|at|outside|by|towards|behind|past)\s(?:the\s)?{CAP}(?:\s{CAP}){{0,3}})?)(?![\w./-])(?!\s(?:receptor|muscarinic|segment|paper|level|form|pulley|branch))"
)
_THINGS = word_set(
    """
    willow oak elm beech lime laurel holly poplar cedar maple birch rowan hazel ivy rose lavender primrose bluebell foxglove larkspur snowdrop daffodil poppy heather
    thistle violet jasmine magnolia acacia juniper honeysuckle fern bracken chestnut sycamore pine larch hawthorn blackthorn clover marigold buttercup cowslip orchid lily tulip sunflower
    kestrel kingfisher robin swan heron swallow skylark nightingale nightjar falcon eagle osprey puffin dove linnet lapwing curlew wren dolphin seahorse rainbow sunshine butterfly ladybird dragonfly
    squirrel badger otter hedgehog coral pearl ruby sapphire emerald amber topaz opal jade orchard meadow brook riverside lakeside abbey priory camellia fuchsia hydrangea peony aster begonia
    dahlia gannet cormorant petrel tern plover avocet bittern sandpiper redwing starling goldfinch chaffinch merlin harrier
    endeavour discovery victory enterprise challenger horizon aurora phoenix mercury neptune saturn jupiter orion pegasus apollo
    """
)
_ROOM = re.compile(
    r"(?<![\w'’-])(?:theatre|room|ward|bay|suite|pod|nursery|clinic|unit|lounge)\s(?P<name>[^\W\d_]{3,})(?:\s\d{1,2})?(?!\w)(?!\s(?:team|bengal|mark|clip|red))",
    re.IGNORECASE,
)
_CALLED_ROOM = re.compile(
    r"(?<![\w'’-])(?P<name>[^\W\d_]{3,})\s(?:theatre|room|suite|pod|nursery|clinic|ward|bay|lounge|unit|birth\scentre|day\sunit)(?!\w)",
    re.IGNORECASE,
)
_CAPITALS = re.compile(
    r"(?<!\w)(?:AT|FROM|IN|TO|NEAR|VIA)\s(?P<name>(?:ST\s|THE\s)?(?P<own>[A-ZÀ-Þ]{6,}|[A-ZÀ-Þ]{4,}(?:['’]S)?)(?P<rest>(?:\s(?:OF\s|THE\s|& )?[A-ZÀ-Þ.]{2,}){0,3}?))(?=[.,;:)\n]|$|\s(?:BY|WITH|AND|FOR|ON|THEN)\s)"
)
_COMPANY = re.compile(
    r"(?<!\w)(?P<name>[A-ZÀ-Þ][^\W\d_]{2,}(?:\s(?:&\s)?[A-ZÀ-Þ][^\W\d_]+){0,3}\s(?:SPA|S\.p\.A\.|SRL|S\.r\.l\.|GmbH|GMBH|LTD|Ltd|PLC|plc|LLP|LLC|INC|Inc|Pty|PTY|BV|NV|SARL|SL|AB|OY|A/S|KG))(?!\w)"
)
_PUB = re.compile(
    r"(?<!\w)(?:chef|barman|barmaid|cook|landlord|landlady|waiter|waitress|works?|bar\sstaff|collapsed|fell|assaulted|stabbed|fight|drinking|dinner)\s(?:at|in|outside)\s(?P<name>[Tt]he\s[A-Za-z]+\s(?:[Bb]illet|[Ll]ion|[Bb]ull|[Hh]orse|[Ss]wan|[Hh]art|[Bb]oar|[Cc]rown|[Aa]nchor|[Pp]lough|[Bb]ell|[Ff]ox|[Dd]ragon|[Oo]ak|[Ss]hip|[Ww]heatsheaf|[Gg]reyhound|[Rr]ailway|[Kk]ing|[Qq]ueen|[Gg]oat|[Cc]ow|[Ll]amb|[Ss]un|[Mm]oon|[Ss]tar))(?!\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the place with the town and the code behind it."""
    for start, end, confidence in _found(text):
        yield Span(start, end, KIND, LETTER, "[place]", confidence)


def _found(text: str) -> Iterator[tuple[int, int, float]]:
    for found in _AFTER.finditer(text):
        if end := _of_caps(text, found):
            yield found.start("name"), end, 0.65
    for found in _SMALL.finditer(text):
        town = bool(found["town"]) and _own(found["own"])
        if _of_small(found) or town:
            yield found.start("name"), found.end() if town or not found["town"] else found.start("town"), 0.65
    for found in _EMPLOYED.finditer(text):
        words = [word for word in re.findall(r"[^\W\d_]{2,}", found["run"]) if word not in ("and", "the")]
        if words and not any(word in _NEVER or _clinical(word) for word in words):
            yield *found.span("name"), 0.6
    for found in _LABEL.finditer(text):
        words = re.findall(r"[^\W\d_]{3,}", found["name"])
        own = any(_own(word) or word in _THINGS for word in words)
        if (
            (own or fold(words[-1]) in _KINDS)
            and not any(_clinical(word) for word in words)
            and not set(words) & _NEVER
        ):
            yield *found.span("name"), 0.65
    for found in _WORKS_AT.finditer(text):
        words = re.findall(r"[^\W\d_]{3,}", found["name"])
        illness = text.endswith("with ", 0, found.start("name")) and fold(words[0]) in load().eponym_words
        if not (illness or any(map(_clinical, words)) or all(plain_of_a_place(word) for word in words)):
            yield found.start("name"), with_town(text, found.end("name")), 0.65
    for found in _JOURNEY.finditer(text):
        for group in ("name", "other"):
            if found[group] and any(_own(word) for word in found[group].split()):
                yield *found.span(group), 0.65
        if (
            found["other"]
            and _own(found["name"].split()[0])
            and not any(_clinical(word) for word in found["other"].split())
        ):
            yield *found.span("other"), 0.6
    for found in _RUNS.finditer(text):
        words = found["name"].replace("&", " ").split()
        if not any(_clinical(word) for word in words[:-1]) and (
            fold(words[-1]) in _KINDS or any(_own(word) for word in words)
        ):
            yield *found.span("name"), 0.6
    for found in _CAP_KIND.finditer(text):
        if _own(found["own"]) and not _clinical(found["own"]):
            yield found.start("name"), with_town(text, found.end("name")), 0.65
    for pattern, confidence in (
        (_PRISON, 0.8),
        (_ORDER, 0.75),
        (_CENTRE_ABROAD, 0.75),
        (_ROAD, 0.7),
        (_PUB, 0.65),
    ):
        for found in pattern.finditer(text):
            yield found.start("name"), with_town(text, found.end("name")), confidence
    for found in _CAMP.finditer(text):
        if _own(found["own"]) and (
            found["name"][0].isupper() or _TOWARDS.search(text, max(0, found.start() - 12), found.start())
        ):
            yield *found.span("name"), 0.65
    for pattern in (_ROOM, _CALLED_ROOM):
        for found in pattern.finditer(text):
            if found["name"].lower() in _THINGS:
                yield *found.span("name"), 0.65
    for found in _COMPANY.finditer(text):
        words = found["name"].split()[:-1]
        unknown = next((at for at, word in enumerate(words) if _own(word)), None)
        if unknown is not None:
            start = found.start("name") + sum(len(word) + 1 for word in words[:unknown] if text.isupper())
            yield start, found.end("name"), 0.75
    if text.isupper() or sum(map(str.isupper, text)) > 0.5 * len(text):
        for found in _CAPITALS.finditer(text):
            words = re.findall(r"[^\W\d_]{3,}", found["name"])
            if any(_own(word) and len(word) > 4 and _made_like_one(word) for word in words) or (
                len(words) > 1
                and fold(words[-1]) in _KINDS
                and not any(_clinical(word) for word in words)
                and not all(plain_of_a_place(word) for word in words)
            ):
                yield found.start("name"), _with_town_in_capitals(text, found.end("name")), 0.6


_TOWARDS = re.compile(r"(?<!\w)(?:in|at|near|from|to|by|of|outside|via)\s(?:the\s)?$", re.IGNORECASE)


def _with_town_in_capitals(text: str, end: int) -> int:
    found = re.match(r",\s([A-ZÀ-Þ]{5,}(?:\s[A-ZÀ-Þ]{4,})?)(?=[.,;]|$)", text[end : end + 80])
    return end + found.end() if found and any(_own(word) for word in found[1].split()) else end


_WORD_BEFORE = re.compile(r"(\w+)\s$")


def _of_caps(text: str, found: re.Match[str]) -> int:
    """Where a place in words with capitals ends; 0 where nothing shows one."""
    if text.isupper():
        return 0
    words = re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", found["run"])
    names = [word for word in words if word[0].isupper()]
    last = fold(names[-1])
    end = found.end("name")
    if len(names) < 2 and not (last in _KINDS and "-" in names[0]):
        return 0
    lists = load()
    # the last word may tell the kind of place: "Osprey Orthotics"
    if any(
        _clinical(word) or fold(word) in lists.titles for word in names[: -1 if last in _KINDS else None]
    ) or re.match(r"(?:['’]s)?\s(?:[IVX]+\b|\d)", text[end : end + 12]):
        return 0
    own = [word for word in names if _own(word)]
    kind = last in _KINDS or fold(names[0]) in ("mount", "port", "lake", "fort", "camp", "saint", "st")
    before = _WORD_BEFORE.search(text, max(0, found.start() - 24), found.start())
    if kind and not all(plain_of_a_place(word) for word in names[:-1]):
        return with_town(text, end)
    if not own or found[0].split(" ")[0] not in (
        "at",
        "from",
        "near",
        "via",
        "off",
        "outside",
        "behind",
        "visiting",
    ):
        return 0
    if all(fold(word) in lists.given | lists.family for word in names) or (
        before and before[1].lower() in ("letter", "call", "message", "msg", "note", "rang")
    ):
        return 0
    return with_town(text, end)


def _of_small(found: re.Match[str]) -> bool:
    """Whether words in small letters before a kind of place name one."""
    lists, kind = load(), found["kind"]
    words = re.findall(r"[^\W\d_]{2,}", found["run"])
    words = [word for word in words if word not in ("and", "of", "on")]
    if not words or any(_clinical(word) or word in _NEVER for word in words):
        return False
    if any(unlisted(word, lists) and len(word) > 3 and _made_like_one(word) for word in words):
        return True
    nature = all({word, word.removesuffix("s")} & _THINGS or fold(word) in lists.word_names for word in words)
    if kind in ("court", "close", "lodge", "cottage", "grange", "manor", "farm", "house") and found["flat"]:
        return True
    return nature and (kind in _STRONG or kind.endswith(" home")) and len(words) <= 2


_NEVER = word_set(
    """
    the a an this that his her their our my your its no any each every same other new old next last same first second third local private public general day night own main busy big small
    day care short long stay nursing residential rehab high intensive special to from for with by at in on off until since while then or nor but is was has had were are be being been will
    left right upper lower both all some few many more most less under over above below into onto out up down back through good bad own well work works working home school
    """
)


@cache
def _made_like_one(word: str) -> bool:
    """Whether a word on no list is made as names are, and as no verb or adjective."""
    return (
        re.search(
            r"(?:[tsg]ed|ated|i[sz]ed|[tsy]ing|ically|ous|itis|osis|ectomy|otomy|ostomy|plasty|scopy|gram|graphy)$",
            word.lower(),
        )
        is None
    )


def _own(word: str) -> bool:
    return unlisted(word, load())


def _clinical(word: str) -> bool:
    """Whether a word is a term of the clinic, or an eponym that is no other word."""
    lists, plain = load(), fold(word)
    return clinical(word) or (plain in lists.eponyms and plain not in lists.word_names)
