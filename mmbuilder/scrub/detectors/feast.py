"""Feasts and holidays of many peoples, with what tells a day by them: `two days before Christmas`, `kartik purnima`, `an Pfingsten`.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; names of feasts as calendars print them, from memory.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from mmbuilder.scrub.detectors._calendar import MONTH, YEAR, holds, timed
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "two days before Christmas",
    "after Xmas",
    "the Tuesday after Easter",
    "on xmas day 1949",
    "It was Good Friday",
    "the August bank holiday list",
    "the half-term week",
    "Ash Wednesday",
    "last well boxing day",
    "CICO ON EASTER MONDAY",
    "swap for eid",
    "again on the Epiphany",
    "98 on St Swithin's Day",
    "seen at Michaelmas",
    "id-ul-fitr ke baad",
    "Holi ke baad",
    "kartik purnima ke din",
    "off since Pentecost",
    "the week before Vesak",
    "before Rosh Hashanah",
    "injured on Tet, femur",
    "nach Pfingsten",
    "la veille de l'Ascension",
    "el puente de la Constitución",
    "en Semana Santa",
    "on Midsummer's Day",
    "after st patrick's",
    "seit Allerheiligen",
    "on Founders' Day",
    "2 days prior to Pongal",
    "a fortnight before Hogmanay",
    "Le lendemain de la Toussaint, douleur",
    "Eid ke agle din",
    "Raksha Bandhan se do din pehle",
    "48 h after Sallah",
    "MELBOURNE CUP DAY",
    "Todestag 1. Advent",
    "geb. am 2. Weihnachtstag",
    "el miércoles de ceniza",
    "STEMI on CNY eve",
    "geb. Nikolaus 2020",
    "NYE on call",
    "mercredi des Cendres",
    "Thanksgiving wknd",
    "on the Feast of St Quen",
    "Queens bday wkend",
    "Xmas '23 list",
    "Silvester 19/20",
)
NEAR_MISSES = (
    "bank holiday cover and public holiday rota",
    "Christmas disease",
    "Christmas-tree rash",
    "Easter egg pupil",
    "holiday planned",
    "ascending aorta, assumption made",
    "lent forward to cough",
    "St Mark's score 9",
    "St John's wort stopped",
    "St George's score 40",
    "on Day 3 and on Day Surgery",
    "the tet spells of Fallot",
    "an epiphany of sorts",
    "advent of laparoscopy",
    "holiday of 10 days",
    "id 4 and ID card",
    "CNY 4000 paid",
)

_CHRISTIAN = """
christmas(?:\\s?tide)?|xmas|boxing\\sday|twelfth\\snight|hogmanay|easter|good\\sfriday|holy\\s(?:week|saturday|thursday)|maundy\\sthursday|ash\\swednesday|palm\\ssunday|shrove\\s(?:tuesday|monday)|pancake\\s(?:day|tuesday)
|whitsun(?:tide)?|whit\\s(?:sunday|monday)|pentecost|michaelmas|martinmas|candlemas|lammas|childermas|mothering\\ssunday|corpus\\schristi|trinity\\ssunday|advent\\ssunday|lady\\sday|all\\s(?:saints|souls)['’]?(?:\\sday)?|all\\shallows
|immaculate\\sconception|ascension\\sday|assumption\\sday|orthodox\\s(?:christmas|easter)|theophany
"""
_CIVIL = """
new\\syear['’]?s?|nye|bank\\sholiday|public\\sholiday|half[\\s-]term|mother['’]?s['’]?\\sday|father['’]?s['’]?\\sday|valentine['’]?s?\\sday|hallowe['’]?en|bonfire\\snight|guy\\sfawkes(?:\\s(?:night|day))?|fireworks\\snight|burns\\s(?:night|supper)
|remembrance\\s(?:sunday|day)|armistice\\sday|anzac\\sday|waitangi\\sday|matariki|australia\\sday|canada\\sday|victoria\\sday|thanksgiving|black\\s(?:friday|wednesday)|labou?r\\sday|memorial\\sday|independence\\sday|juneteenth|melbourne\\scup
|fourth\\sof\\sjuly|columbus\\sday|veterans['’]?\\sday|presidents['’]?\\sday|mlk\\sday|groundhog\\sday|cinco\\sde\\smayo|kwanzaa|midsummer['’]?s?(?:\\s(?:day|eve|night))?|harvest\\s(?:festival|supper|home)|summer\\ssolstice|winter\\ssolstice|spring\\sequinox|autumn\\sequinox|vernal\\sequinox|may\\sday|changeover\\sday
|bastille\\sday|heritage\\sday|freedom\\sday|youth\\sday|mandela\\sday|africa\\sday|grand\\s(?:national|final)|reconciliation\\sday|king['’]?s['’]?\\sb(?:irth|-?)day|queen['’]?s['’]?\\sb(?:irth|-?)day|melb\\scup|cup\\sfinal|derby\\sday
"""
_MUSLIM = """
sallah|ramad(?:h)?[aā]n|ramzan|ramazan|eid(?:[\\s-](?:u?l|al|e)[\\s-]?\\w+|[\\s-]milad(?:[\\s-]un[\\s-]nabi)?)?|bakr[ai]?[\\s-]?[ie]d|ashura|muharram|mawlid|milad[\\s-]un[\\s-]nabi|lailat[\\s-]al[\\s-]\\w+|laylat[\\s-]al[\\s-]\\w+|shab[\\s-]e[\\s-]\\w+
|nowruz|norouz|nauroz|navroz|newroz|kurban\\sbayramı|ramazan\\sbayramı
"""
_JEWISH = """
passover|pesach|rosh\\shashan?ah?|yom\\skippur|sukk?oth?|sukkos|simchat\\storah|hann?ukk?ah|chann?ukk?ah|purim|shavu['’]?oth?|tisha\\sb['’]?av|lag\\sb['’]?aomer|shabbat|shabbos
"""
_INDIAN = """
diwali|deepavali|deepawali|dipavali|holi|dussehra|dasara|dasha(?:in|hra)|tihar|nav(?:a)?ratri|durga\\spuj[ao]|kali\\spuja|raksha\\sbandhan|rakhi|janmashtami|ganesh\\schaturthi|ganpati|onam|pongal|makar\\ssankranti|sankranti|lohri|bihu|ugadi
|gudi\\spadwa|vishu|baisakhi|vaisakhi|maha\\sshiva?ratri|shiva?ratri|kar[vw]a\\schauth|chhath(?:\\spuja)?|teej|ram\\s?nava?mi|purnima|amavasya|ekadashi|gurpurab|dhanteras|bhai\\sdooj|republic\\sday
"""
_EASTERN = """
vesak|wesak|losar|songkran|cny(?=\\s(?:eve|day|week|break|holidays?)|\\W*$)|hari\\sraya(?:\\s(?:puasa|haji|aidilfitri|aidiladha))?|chinese\\snew\\syear|lunar\\snew\\syear|spring\\sfestival|mid-?autumn\\sfestival|moon\\sfestival|qing\\s?ming|dragon\\sboat\\sfestival|chuseok|seollal|golden\\sweek|obon|magha\\spuja|makha\\sbucha|loy\\skrathong|thaipusam
"""
_GERMAN = """
weihnachten|weihnachts(?:feier)?tag|heilig(?:er\\s)?abend|neujahr(?:stag)?|karfreitag|gründonnerstag|oster(?:n|montag|sonntag|samstag|wochenende)|pfingst(?:en|montag|sonntag)|fronleichnam|christi\\shimmelfahrt|himmelfahrt|allerheiligen|allerseelen
|totensonntag|buß-?\\s?und\\sbettag|reformationstag|rosenmontag|faschings\\w+|aschermittwoch|nikolaustag|mariä\\shimmelfahrt|dreikönig(?:stag|e)?|heilige\\sdrei\\skönige|tag\\sder\\s(?:deutschen\\seinheit|arbeit)|muttertag|vatertag|martinstag
|koningsdag|sinterklaas|pinksteren|pasen|hemelvaart(?:sdag)?|midsommar(?:afton)?|juhannus
"""
_ROMANCE = """
noël|pâques|mercredi\\sdes\\scendres|toussaint|pentecôte|jour\\sde\\sl['’]an|réveillon|saint-sylvestre|chandeleur|lundi\\sde\\s(?:pâques|pentecôte)|dimanche\\sde\\s(?:pâques|pentecôte)|vendredi\\ssaint|jeudi\\ssaint|fête\\snationale|fête\\sdu\\stravail|fête\\sdes\\smères
|navidad(?:es)?|nochebuena|nochevieja|año\\snuevo|semana\\ssanta|reyes\\smagos|jueves\\ssanto|viernes\\ssanto|sábado\\ssanto|domingo\\sde\\s(?:ramos|resurrección|pascua)|pascua|todos\\slos\\ssantos|día\\sde\\s(?:reyes|muertos|difuntos|navidad|(?:(?:los|la|las|el)\\s)?(?:madre|padre|niño|trabajo|trabajador|constitución|hispanidad|raza|independencia|inmaculada|candelaria|virgen|comunidad|bandera|revolución|santos|reyes|muertos|difuntos|enamorados|inocentes|mujer|patria|tradición|cruz)|(?-i:[A-ZÁÉÍÓÚ])\\w+)
|noche\\sde\\s(?:san|reyes|difuntos)(?:\\s\\w+)?|víspera\\sde\\s\\w+(?:\\s\\w+)?|fiestas?\\sde\\s(?:san|santa|santiago|la\\svirgen|los?|las?)(?:\\s\\w+)?|puente\\sde\\s(?:(?:la|los|el|las)\\s)?\\w+|inmaculada|miércoles\\sde\\sceniza|carnaval(?:es)?|sant\\sjordi|san\\sjuan|pasqua|pasquetta|ferragosto|natale|capodanno
"""
_NAMES = "|".join(
    "".join(names.split())
    for names in (_CHRISTIAN, _CIVIL, _MUSLIM, _JEWISH, _INDIAN, _EASTERN, _GERMAN, _ROMANCE)
)
_AMBIGUOUS = "epiphany|lent|advent|ascension|assumption|tet|tết|natal|silvester|nikolaus|fasching|karneval|weiberfastnacht|jul|corpus|fallas|épiphanie|id|shavuos|beltane|samhain|imbolc|twelfth|yule(?:tide)?"
"""Names that are words too: only after what tells when."""
_WHEN = r"on|since|until|till|by|after|before|during|over|around|for|am|an|nach|vor|seit|bis|zu|à|après|avant|depuis|en|desde|hasta|tras|por"
_NEARBY = re.compile(
    r"(?<!\w)(?:(?:the\s)?(?:(?:\d{1,2}|one|two|three|four|five|six|a|few|couple\sof)\s)?(?:days?|weeks?|fortnight|hours?|hrs?|h|weekend|night|morning|evening|eve"
    r"|(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day)\s(?:before|after|following|of|preceding|prior\sto)\s(?:the\s)?|(?:le\s)?lendemain\s(?:de\s(?:la\s)?|d[eu]s?\s)|(?:la\s)?veille\s(?:de\s(?:la\s)?|d[eu]s?\s)|(?<![\w.])[1-4]\.\s)"
    rf"(?:{MONTH}\s|early\s|late\s|spring\s)?$|(?:(?<!\w)(?:the|early|late)\s)?(?<!\w){MONTH}\s$|(?<!\w)the\s$",
    re.IGNORECASE,
)
"""What tells a day by a feast: `two days before`, `the Tuesday after`."""
_BEHIND = rf"(?:['’]s)?(?:\s(?:day|eve|sunday|monday|friday|saturday|weekend|wk?e?nd|w/e|week|night|morning|evening|holidays?|break))?(?:\ske\s(?:agle|pichhle|doosre)\sdin|\sse\s\w+\sdin\s(?:pehle|baad))?(?:,?\s{YEAR}(?!\d)|\s['’]\d\d(?!\d))?(?!\w)(?![\s-](?:disease|factor|tree|rash|eggs?)\b)"
_FEAST = re.compile(rf"(?:{_NAMES}){_BEHIND}", re.IGNORECASE)
_OTHERS = re.compile(
    rf"(?<!\w)(?:id[\s-]ul[\s-]\w+|4th\sof\sjuly|ve\sday|x-mas|tu\sb[i'’]?shvat|l['’](?:ascension|assomption)|(?:l['’]|día\sde\s)?(?:el\spilar)|[1-4]\.\sadvent(?:ssonntag)?|[a-z]{{4,9}}\spurnima|[a-z]{{5,12}}(?:\s[a-z]{{5,12}})?\sjayanti"
    rf"|st\.?\s(?:patrick|george|andrew|david|valentine|stephen|swithin|nicholas|martin|john)['’]?s(?!\s(?:wort|score|questionnaire|solution|hospital|ward|church|school|wheel|reducing|diet)\b)){_BEHIND}",
    re.IGNORECASE,
)
_WORDS_TOO = re.compile(
    rf"(?<!\w)(?i:{_WHEN})\s(?i:the\s)?(?P<name>(?:(?-i:[A-ZÉ])(?i:{_AMBIGUOUS})|(?i:{_AMBIGUOUS}))(?i:\sday|\ssunday|\seve)?)(?=\s?[,.;:)]|(?m:$)|\s(?i:she|he|they|we|and|by|with|in|at|when|from)\b)"
)
_BY_ITS_YEAR = re.compile(
    rf"(?<!\w)(?:Epiphany|Lent|Advent|Ascension|Assumption|Silvester|Nikolaus|Fasching|Karneval|Weiberfastnacht|Fallas|Épiphanie|Samhain|Beltane|Yule|T[eế]t)\s(?:{YEAR}|['’]\d\d|\d\d/\d\d)(?!\d)"
)
_SAINT = re.compile(
    r"(?<!\w)(?:the\s(?:feast|eve|day)\sof\s)?(?:Saint|St|SAINT|ST|st|saint)\.?\s[^\W\d_]+(?:['’]s|s['’])?\s(?i:day|eve|night)(?!\w)"
    r"|(?<!\w)(?:the\s)?(?:[Ff]east|eve)\sof\s(?:Saint|St|the)\.?\s[A-Z][^\W\d_]+(?!\w)|(?<!\w)(?:à\sla|la)\s(?:Saint|Sainte)-[A-Z][^\W\d_]+(?!\w)"
)
_CALLED_DAY = re.compile(
    r"(?<!\w)(?:on|since|before|after|until|by)\s(?P<name>(?!(?:Day|Post|Op|Study|Treatment|Dose|Rest|Same|Next|Every|Each|Last|The|Cycle|Chemo|Dialysis|Assessment|Surgical|Medical)\b)[A-Z][a-z]{2,}(?:['’]s?|s['’])?\s(?:Day|Eve|Sunday|Saturday))(?!\w)(?!\s(?:\d|Surgery|Unit|Case|Ward|Hospital|Centre|Clinic|Room|List))"
)
"""Any other day that has a name: `on Founders' Day`."""

_KEY = 3
"""Letters with which a name must open for its pattern to be tried."""
_KEYS = frozenset(name[:_KEY] for name in re.split(r"\|(?![^(]*\))", _NAMES))
_WORD = re.compile(r"(?<![\w-])[^\W\d_]{3,}")


def find(text: str) -> Iterator[Span]:
    """Yield every feast with what stands by it; what a citation prints stays."""
    yield from timed(text, outside(text, _found(view(text))))


_OF_ANY = re.compile(
    r"(?:bank|public)\sholiday\s(?:cover|rota|staffing|rates?|working|pay)(?!\w)", re.IGNORECASE
)
"""What there is on every such day tells of none."""


def _found(text: str) -> Iterable[Span]:
    for word in _WORD.finditer(text):
        if word[0][:_KEY].lower() in _KEYS and (found := _FEAST.match(text, word.start())):
            if _OF_ANY.match(text, found.start()):
                continue
            near = _NEARBY.search(text, max(0, found.start() - _NEAR), found.start())
            yield Span(near.start() if near else found.start(), found.end(), KIND, LETTER, "[date]", 0.85)
    if holds(text, _OPENINGS):
        for pattern in (_OTHERS, _SAINT):
            yield from (span(found, KIND, LETTER, "[date]", 0.85) for found in pattern.finditer(text))
    yield from (span(found, KIND, LETTER, "[date]", 0.85) for found in _BY_ITS_YEAR.finditer(text))
    for pattern in (_WORDS_TOO, _CALLED_DAY):
        yield from (span(found, KIND, LETTER, "[date]", 0.75, "name") for found in pattern.finditer(text))


_OPENINGS = (
    "id",
    "4th of",
    "ve day",
    "shvat",
    "l'as",
    "l’as",
    "pilar",
    "purnima",
    "jayanti",
    "st ",
    "st. ",
    "saint",
    "feast of",
    "eve of",
    "x-mas",
    ". advent",
)
"""Letters of which some must stand in a text, or these patterns are not run."""
_NEAR = 40
"""Characters before a feast in which what tells the day by it begins."""
