"""Places whose names are made of ordinary words, by the words around them: wards named after flowers, villages, firms, surgeries.

`foxglove ward`, `WARD: LADY PENHALE`, `Upper Cawthwick`, `isle of corran vey`, `gp at the old forge surgery`, `Harbour & Vane
Mutual`, `Clinique des Aulnes`, `transferred from QEH`.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; that wards are called after flowers,
trees, birds and stones and hospitals by their first letters is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._of_place import CAP, clinical, plain_of_a_place
from mmbuilder.scrub.detectors.small_place import place_word
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "send her to foxglove ward",
    "moved to Kestrel Suite overnight",
    "on Bluebell HDU",
    "WARD: LADY QUENBY. CONS: on call",
    "fell by Upper Quenwick",
    "lives above the shop in lower wexmoor bridge",
    "flown from isle of quorran vey",
    "spoke to gp, the old forge surgery, re warfarin",
    "Insurer: Harbour & Vane Mutual",
    "works for Quenby & Rowe",
    "operated at CLINIQUE DES QUENELLES",
    "Hospital Comarcal de Valdequenby",
    "seen at QXH last week",
    "repatriated from RQXI",
    "seen by somebody at QMHH",
    "The Tollgate ED to us",
    "WARD CURLEW, CONS on call",
)
NEAR_MISSES = (
    "upper lobe and lower limb",
    "Upper GI and Lower GI lists",
    "great saphenous vein",
    "the medical ward and the day unit",
    "gp, after bowel surgery",
    "Head & Neck list",
    "islands of Langerhans",
    "admitted from ICU and back to HDU",
    "seen at OPD and sent to CT",
    "TRANSFERRED FROM CATH LAB",
    "referred to SALT",
    "Smith & Nephew plate",
    "rose to 12 in the unit",
    "the hospital de novo",
    "Extubated ICU day 2",
)

_NATURE = word_set(
    """
    willow willows oak oaks elm elms beech beeches lime limes laurel laurels holly hollies poplar poplars cedar cedars maple birch
    rowan hazel ivy rose lavender primrose bluebell foxglove larkspur snowdrop daffodil poppy heather thistle iris violet jasmine
    magnolia acacia juniper honeysuckle fern bracken chestnut sycamore pine larch hawthorn blackthorn clover marigold buttercup
    cowslip orchid lily tulip sunflower kestrel kingfisher robin swan heron swallow skylark nightingale falcon eagle osprey puffin
    dove linnet lapwing curlew wren dolphin seahorse rainbow sunshine butterfly ladybird dragonfly squirrel badger otter hedgehog
    coral pearl ruby sapphire emerald amber topaz opal jade orchard meadow meadows brook riverside lakeside mill abbey priory
    grange manor cathedral castle forge tollgate harbour lighthouse
    """
)
_WARD = r"(?:ward|suite|hdu|icu|itu|nicu|picu|unit|wing|surgery|practice|hospice|nursery|lodge|medical\scent(?:re|er)|health\scent(?:re|er)|nursing\shome|care\shome)"
_NAMED_WARD = re.compile(
    rf"(?<![\w'’-])(?P<name>(?:(?:old|new|royal|the\sold|the\snew)\s)?(?P<own>{'|'.join(sorted(_NATURE, key=len, reverse=True))})(?:\s(?:hill|green|road|house|park|bank|view|lodge|grove|tree))?\s{_WARD})(?!\w)",
    re.IGNORECASE,
)
_WARD_FIRST = re.compile(
    r"(?<!\w)(?:ward|WARD|Ward)\s(?P<name>(?P<own>[^\W\d_]{4,}))(?=[\s]?[,.;:/)]|$|\s(?:CONS|BED|bed|cons)(?!\w))"
)
_LABELLED = re.compile(
    rf"(?<!\w)(?i:ward|hospital|surgery|practice|school|employer|insurer|place\sof\s(?:work|birth)|workplace|gp\spractice|nursing\shome|residence|town|village|site)\s?:\s(?P<name>{CAP}(?:\s(?:&\s|and\s|of\s|the\s)?{CAP}){{0,4}})(?=\s?[.,;/|)\n]|$)"
)
_VILLAGE_TAIL = r"(?:\s(?:bridge|green|end|hill|heath|common|cross|magna|parva|regis|abbas|st\s[a-z]+|(?:on|upon)[\s-](?:the\s)?[a-z]+))?"
_SIDE = (
    r"(?:upper|lower|little|great|nether|much|over|market|chipping|north|south|east|west|old|new|high|castle|king['’]?s|bishop['’]?s|abbots?"
    r"|stoke|port|long|broad|temple|church|kirk|glen|ballin?|llan|inver|lough|loch)"
)
_VILLAGE = re.compile(
    rf"(?<![\w.'’-])(?P<name>(?P<side>{_SIDE})\s(?P<own>[^\W\d_]{{4,}}){_VILLAGE_TAIL})(?!\w)", re.IGNORECASE
)
_TOWARDS = re.compile(
    r"(?<!\w)(?:in|at|near|from|to|by|of|outside|behind|via|towards)\s(?:the\s)?$", re.IGNORECASE
)
_ISLE = re.compile(
    r"(?<!\w)(?P<name>(?:isle|island|village|town|hamlet|parish|glen|vale|county|borough|port)\sof\s(?P<own>[^\W\d_]{4,})(?:\s(?P<more>[^\W\d_]{3,}))?)(?!\w)",
    re.IGNORECASE,
)
_OF_THE_GP = re.compile(
    r"(?<!\w)(?i:gp|registered\s(?:at|with))(?:\s(?:dr\s)?[^\W\d_][\w'’-]*){0,3}?(?:,|\sat|\sfrom|\sof|(?<=at)|(?<=with))\s(?P<name>(?:the\s)?(?:[^\W\d_]+\s){0,2}(?P<own>[^\W\d_]{4,})\s(?:surgery|practice|medical\scent(?:re|er)|health\scent(?:re|er)))(?!\w)",
    re.IGNORECASE,
)
_FIRM_KIND = (
    r"(?:Sons|Daughters|Co|Partners|Mutual|Insurance|Assurance|Opticians|Optometrists|Solicitors|Law|LLP|Ltd|Limited|Bakery|Builders|Motors|Haulage|Hauliers|Foods"
    r"|Farms?|Brewery|Stores|Engineering|Dental|Dentists|Pharmacy|Chemists?|Physiotherapy|Funeral|Bank|Trust|Recruitment|Logistics|Couriers)"
)
_FIRM = re.compile(
    rf"(?<![\w.'’-])(?P<cue>(?i:insurer\s?:?|works?\s(?:for|at|with)|worked\s(?:for|at)|employed\s(?:by|at)|employer\s?:?|owner\sof|retired\sfrom|referred\sby|optician\s\(?|solicitors?)\s(?:the\s)?)?(?P<name>(?P<own>{CAP})\s(?:&|and)\s(?P<other>{CAP})(?P<kind>\s{_FIRM_KIND}){{0,2}})(?!\w)"
)
_ABROAD = re.compile(
    r"(?<!\w)(?P<name>(?:(?:[Ll]a|[Ll]e|[Ee]l|[Ii]l|[Dd]ie|[Dd]as)\s|[Ll]['’])?(?i:clinique|cl[íi]nica|h[ôo]pital|hospital|hosp\.?|krankenhaus|klinikum|klinik|spital|ospedale|policlinico|szpital|sairaala|sjukhus|sygehus|sykehus|ziekenhuis"
    r"|centre\shospitalier|maternit[ée]|sanatorio|ambulatorio)[^\S\n](?i:(?:comarcal|general|provincial|universitari[oa]|universitaire|regional|régional|cl[íi]nico|civil|central|nacional|municipal"
    r"|sankt|saint|san|santa)\s){0,2}(?i:(?:de|du|des|del|della|di|da|do|la|le|les|los|las|der|zum|zur|am|im|w|we|na|dos|das)\s){0,3}"
    rf"(?P<own>{CAP})(?:\s(?i:(?:de|du|des|del|la|le|sur)\s)?{CAP}){{0,3}})(?!\w)"
)
_UNIT = r"(?:HDU|ICU|ITU|NICU|PICU|CCU|SAU|ED|A&E|MIU|Suite|Wing|Emergency\sDepartment)"
_THE_UNIT = re.compile(
    rf"(?<![\w.'’-])(?:the\s(?P<name>(?P<own>{CAP}))|(?P<opens>The\s(?P<its>{CAP}))|(?P<bare>(?P<alone>{CAP})))\s{_UNIT}(?!\w)"
)
"""The unit itself may stay: it tells how ill somebody was."""
_LETTERS = re.compile(
    r"(?<!\w)(?i:seen|admitted|reviewed|treated|done|performed|delivered|born|transferred|transfer|t/f|tfr?|trf|referred|referral|sent|moved|repatriated|accepted|back|flown|brought"
    r"|operated|scanned|imaged|surgery|inserted|notes|op|stented|discharged|works|working|worked|called|trained)\s(?i:in\s|over\s|across\s)?"
    r"(?:(?i:at|from)\s(?:the\s)?(?P<name>[A-Z]{3,5})|(?i:to|by|with)\s(?:the\s)?(?P<other>[A-Z]{2,4}H|R[A-Z]{1,2}I))(?![\w/&-])"
    r"|(?<!\w)(?:at|from)\s(?:the\s)?(?P<more>[A-Z]{2,4}H)(?![\w/&-])"
)
_DEPARTMENTS = word_set(
    """
    SAU AMU MAU EAU CDU OPD ITU ICU HDU CCU PACU NICU PICU SCBU TCU DCU DSU POCU ACU SDEC AEC EPAU EPU GAU ANC PNC LW MLU HOME WARD CATH LAB
    PREOP POD ERAS MDT SMDT SALT CMHT HIPAA CQC GMC NMC HSE HSIB HSSIB MHRA NICE RCOA RCS BSG ASGBI FICM BMA MDU MPS NCEPOD ATLS DVLA CPN
    TVN CNS ANP ACP DSN LVH RVH BPH PPH LDH FSH TSH SAH SDH EDH ICH NAH LMWH UFH DDH TAH TLH LAVH CVVH PTH ACTH GH LH PAH NRH EDTA
    STAT TIME REST RISK LEVEL ONCE ABOVE BELOW BASE APEX L4 T10 UGIB NEWS MEWS SBAR EEG EMG EOG VEP ERG OCT FFA ICG DSA ERCP MRCP
    PET SPECT DEXA HIDA DMSA MAG USG CTPA CTA MRA KUB IVU VCUG AXR CXR PCNL ESWL TURP TURBT HOLEP RIRS CABG AVR MVR PCI TAVI
    """
)


def find(text: str) -> Iterator[Span]:
    """Yield the name of the place with the word that tells its kind."""
    for start, end, confidence in _found(text):
        yield Span(start, end, KIND, LETTER, "[place]", confidence)


def _found(text: str) -> Iterator[tuple[int, int, float]]:
    lists = load()
    low = text.lower()
    if any(kind in low for kind in _WARDS):
        for found in _NAMED_WARD.finditer(text):
            yield *found.span("name"), 0.75
    for found in _WARD_FIRST.finditer(text):
        if found["own"].lower() in _NATURE or place_word(found["own"], lists):
            yield *found.span("name"), 0.7
    for found in _LABELLED.finditer(text):
        if not all(plain_of_a_place(word) for word in found["name"].split()):
            yield *found.span("name"), 0.75
    for found in _VILLAGE.finditer(text):
        both = found["side"][:1].isupper() and found["own"][:1].isupper() and not text.isupper()
        if unlisted(found["own"], lists) and (
            both or _TOWARDS.search(text, max(0, found.start() - 14), found.start())
        ):
            yield *found.span("name"), 0.75
    for found in _ISLE.finditer(text):
        if unlisted(found["own"], lists):
            more = found["more"] and unlisted(found["more"], lists)
            yield found.start("name"), found.end("more") if more else found.end("own"), 0.75
    for found in (
        _OF_THE_GP.finditer(text) if "surgery" in low or "practice" in low or "centre" in low else ()
    ):
        if not clinical(found["own"]) and found["own"].lower() not in _NO_SURGERY:
            yield *found.span("name"), 0.75
    for found in _FIRM.finditer(text):
        if _a_firm(found):
            yield *found.span("name"), 0.7
    for found in _ABROAD.finditer(text) if any(kind in low for kind in _HOUSES) else ():
        if not plain_of_a_place(found["own"]) and not _eponym(found["own"]):
            yield *found.span("name"), 0.8
    for found in _THE_UNIT.finditer(text):
        own = found["own"] or found["its"]
        if own and not plain_of_a_place(own) and not own.isupper():
            yield *found.span("name" if found["own"] else "opens"), 0.7
        elif found["alone"] and place_word(found["alone"], lists) and not found["alone"].isupper():
            yield *found.span("bare"), 0.7
    if not text.isupper():
        for found in _LETTERS.finditer(text):
            group = found.lastgroup or "name"
            if not known_letters(found[group]):
                yield *found.span(group), 0.6


_WARDS = (
    "ward",
    "suite",
    "hdu",
    "icu",
    "itu",
    "unit",
    "wing",
    "surgery",
    "practice",
    "hospice",
    "nursery",
    "lodge",
    "centre",
    "center",
    "home",
)
_HOUSES = (
    "clini",
    "clíni",
    "pital",
    "hosp",
    "krankenhaus",
    "klini",
    "ospedale",
    "hus",
    "sair",
    "matern",
    "torio",
)
"""Letters of which one must stand in a text, or the pattern is not run."""
_NO_SURGERY = word_set(
    "after before recent previous elective emergency planned keyhole major minor bowel general day further urgent their good best private"
)


def known_letters(letters: str) -> bool:
    """Whether capitals are an abbreviation, a department or a word."""
    return letters in ABBREVIATIONS or letters in _DEPARTMENTS or load().known(letters.lower())


def _a_firm(found: re.Match[str]) -> bool:
    """Whether two words joined are a firm: told so, or no list knows one of them; no two eponyms, no two specialties."""
    lists = load()
    pair = (found["own"], found["other"])
    if all(_eponym(word) for word in pair) or any(clinical(word) for word in pair):
        return False
    if " and " in found["name"] and not (found["kind"] and found["cue"]):
        return False
    if not (found["cue"] or found["kind"]) and fold(found["other"]) in lists.given:
        return False  # two people: `Nasser & Agnes`
    return bool(found["cue"] or found["kind"]) or any(unlisted(word, lists) for word in pair)


def _eponym(word: str) -> bool:
    return fold(word) in load().eponym_words
