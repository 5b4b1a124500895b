"""Numbers after the many nouns of a house that numbers everything: `ebme job 77140`, `baby tag BT 44180`, `collar no 4418`.

The noun may stand with or without "no."; so the number must be an odd one: five figures, letters with figures, or groups.

Source: 45 CFR 164.514(b)(2)(i)(H) to (R), numbers of records, accounts, licences, devices and any other unique number; the
nouns are common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import NOT_MEASURED
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "record number"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "complaint to PALS 2291, Datix no 448",
    "Az. 3 UJs 1187/26",
    "logged with EBME job 77140",
    "BABY TAG QT 44180",
    "bag nos G0912 24 118 773 K",
    "pt hosp id qx-40 118",
    "policy no QHX 5520-11",
    "recall letter QC-5518 for the coil",
    "collar no 4418",
    "PC 2217 Quenby found him",
    "receipt 004418-B",
    "specimen pot label QDH 771209",
    "chart lists pump serial AL 9902 338",
    "member QRX-2018-4471",
    "prontuário 558201-3",
    "Case M&M 2025-17",
    "lanyard QN55120 left behind",
    "nº afiliación 28/10448812/60",
    "lens box label 7719 0042 81",
    "hosp nos 2093318 and 2093381",
    "service no 30118842",
    "specimen M,25.0331187.Q",
    "call ref QWA 556120",
    "hosp no K 448 112, bleeding",
    "callsign QA417 on scene",
    "Sgt Quenby 2201 attended",
    "ambo crew 7714",
    "zoom id 844 1190 2271",
    "password: Quenby2024!",
    "passcode quill-71-fern",
    "wristband na 33 18 77, says so",
    "donor unit g 1101 24 771 204 3",
    "8 RBC (bag nos 7 118 204 4, 7 118 207 9)",
    "Konserven-Nrn. 7 118 204 4 und 7 118 207 9",
    "Ring im Tresor 118",
    "teeth in locker 12, ward safe 7",
    "BtM-Buch S. 44 stimmt nicht",
    "CD register p. 112",
    "security (radio call-sign 6)",
    "OP-Nummer 26-1184",
    "Path.-Nr. E 1184/26",
    "expediente 118/26",
    "Labornr. 0118 2044",
    "Türcode 2580",
    "Geräte-Nr. 4471",
    "FNr. 118 204",
    "Ringbeutel Nr. 44",
    "property bag #118",
    "wifi pw theatre99",
)
NEAR_MISSES = (
    "inquest 1430, inquest 2025",
    "unit 4 of red cells",
    "policy 2019 and form 4",
    "tray 2 was wet, set 4 used",
    "pack 2 x 100",
    "bag 1000 ml",
    "box 3 of the form",
    "call 1430, log 1220",
    "plate 3 holes, screw 45 mm",
    "order 2 units",
    "sample 24 mm",
    "pot 4.5, na 140",
    "k 4.5 1430",
    "member of staff",
    "pc 20 mmHg and pc 24 1430",
    "run 1430 to 1530",
    "unit 120/80",
    "device 24 Fr 1430",
    "label 20-30 mm",
    "case 2024-25",
    "job 1430-1445",
    "bag 500 1430",
    "set 12 1430",
    "unit of 12 12 14",
    "pin 2 mm and pin 45 mm",
    "crew of 12",
    "numbers 10 000, 20 000 and 30 000",
    "chez nos 12 345 patients",
    "safe 2 cm margin, safe 118",
    "CD4 register, page 44",
    "parte 10/10",
    "Artikelnr. 4471 118, OPS-Nr. 5471",
    "caso de TA 118/76",
    "numbers rose from 12 14 16 18 20",
    "letter sent 1610 by post",
    "box said 0941 then nothing",
    "noticed by student Esme 1126.",
)

_NOUN = (
    r"call\s?sign|flight|sailing|zoom|teams|webex|meeting|passcode|password|token|site(?:\scode)?|ods(?:\scode)?|practice\scode|cost\s(?:code|centre)|pin|cd|dvd|usb|disc|disk|cassette|tape|asset|tag|job|ticket|tray|set|key|lock(?:er)?|pot|specimen|sample|slide|block|bottle|vial|bag|unit|pack|donor|graft|lens|implant|pump|cylinder|monitor|scope|machine|device"
    r"|equipment|hoist|bed|box|label|barcode|sticker|wristband|bracelet|form|card|letter|certificate|voucher|invoice|receipt|bill|statement|quote|order|purchase\sorder|p\.?o|requisition"
    r"|policy|member(?:ship)?|claim|claims|insurance|insurer|authori[sz]ation|auth|pre-?auth|account|acct?|a/c|customer|client|subscriber|scheme|employee|staff|payroll|badge|lanyard|smart\s?card|pass|permit|licen[cs]e|lic|registration|registry|collar|shoulder|warrant"
    r"|officer|prison(?:er)?|inmate|custody|crime|incident|log|event|case|complaint|call|cad|crew|run|job\sno|booking|appointment|appt|referral|request|report|record|chart|file|folder|case\s?notes|notes|study|trial|subject"
    r"|participant|biobank|tissue|accession|radiology|lab|histology|cytology|micro|path|image|film|scan|recall|alert|service|regiment(?:al)?|army|navy|raf|student|pupil|visa|passport|id|ident|identity|h(?:os)?pital|hosp|clinic|patient|pt|unit\sno"
    r"|template|fingerprint|iris|retina|voiceprint|safeguarding|datix|inquest|docket|exhibit|evidence|consignment|parcel|tracking|delivery|serial|s/n|lot|batch|model|version\sid|swab\saudit|audit"
    r"|prontu[aá]rio|expediente|afiliaci[oó]n|p[oó]liza|matr[ií]cula|dossier|akte|vorgang|auftrag|cartella|pratica|sygesikring|personnr|kartotek|numer|nr\skartoteki|kennung"
)
_LINK = r"(?:\s(?:number|numbers|nos?|nr|num|ids?|ref(?:erence)?|code|label|tag|card|box|pot|is|was|reads?|marked))*\.?(?:\s?[:=#№])?\s{1,2}(?:nº|n[.°º]\s?)?"
_NAMED = r"(?:\s(?:number|numbers|nos?|nr|num|ids?|ref(?:erence)?|code)(?![^\W\d_])\.?)"
_GROUPS = (
    r"[A-Za-z]{1,4}[\s-]\d{2,5}(?:[\s-]\d{1,6}){1,4}(?:[\s-][A-Za-z](?!\w))?"  # AL 9902 338
    r"|[A-Za-z]{1,3}\d{2,6}(?:[\s-]\d{2,6}){1,3}(?:[\s-][A-Za-z](?!\w))?"  # G0912 24 118 773 K
    r"|[A-Za-z]{1,4}\s\d{4,8}(?:[-/]\d{1,6})?(?:[-/]?[A-Za-z])?"  # BT 44180
    r"|[A-Za-z]{1,4}\s\d{2,5}[-/]\d{1,6}"
    r"|M&M\s\d{2,4}[-/]\d{1,4}"
    r"|[A-Za-z]{1,2}[,.]\d{2}[.,]\d{4,8}[.,][A-Za-z]"  # M,25.0331187.Q
    r"|\d{2,4}/\d{5,9}/\d{1,3}"
    r"|\d{3,4}(?:\s\d{3,4}){1,3}\s\d{2}|\d{3,4}(?:\s\d{3,4}){2,3}"  # 7719 0042 81
)
_ONE = r"(?=(?:[A-Za-z/.-]*\d){4})(?=[\d/.-]*[A-Za-z]|\d{5}|\d+[/-]\d)[A-Za-z0-9]+(?:[-/.][A-Za-z0-9]+)*"
_ANNOUNCED = re.compile(
    rf"(?<![^\W_])(?P<noun>{_NOUN})(?P<link>{_LINK})(?P<value>{_GROUPS}|{_ONE})(?![\w%]|[.,:/-]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
_SHORT = re.compile(
    rf"(?<![^\W_])(?:collar|shoulder|warrant|badge|lanyard|locker|staff|payroll|prison(?:er)?|officer|exhibit|asset|tag|card|key|record|registry|membership){_NAMED}[\s:#]{{1,2}}(?P<value>\d{{3,4}}(?:\s(?:and|&)\s\d{{3,4}})?)(?![\w%]|[.,:/-]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
_PASSWORD = re.compile(
    r"(?<!\w)(?:password|passwd|pwd|passcode|passwort|kennwort|mdp|mot\sde\spasse|contraseña)(?:\s?(?:is|was|:|=)\s?(?=\S*\d)|\s(?=[^\W\d_]+-\S*\d))(?P<value>[^\s,;]{4,40})"
    r"|(?<!\w)(?:wi-?fi|wlan)\s(?:pw|pass|code|key|schlüssel)[\s:]{1,2}(?P<wireless>(?=\S*\d)[^\s,;]{5,40})",
    re.IGNORECASE,
)
_CONSTABLE = re.compile(
    r"(?<!\w)(?:PC|WPC|PS|DC|DS|Sgt|Officer|Constable|pc)\s(?P<value>[A-Z]{0,2}\d{3,5}[A-Z]{0,2})(?=\s[A-Z][a-z]+)"
)
_CREW = re.compile(
    r"(?<!\w)(?:(?:ambo|amb|ambulance|paramedic|road|air)\s(?:crew|unit)|call\s?sign|helimed|pin(?:\s(?:no|number))?|(?:ward|door|gate|key|alarm)\s?code|tür-?code|zugangscode|zahlencode|code\s(?:portail|porte|d['’]accès)|código\s(?:de\s(?:la\s)?)?puerta|clave|contraseña|keypad)\s(?:is\s|was\s|no\.?\s)?(?P<value>[A-Z]{0,3}\d{3,5}[A-Z]?)(?![\w%]|[.,:/-]\d)(?!\s?(?:mm|cm|mg|ml|kg|g)\b)",
    re.IGNORECASE,
)
_OFFICER = re.compile(
    r"(?<!\w)(?:PC|WPC|PS|DC|DS|Sgt|Officer|Constable)\s[A-Z][^\W\d_]+(?:-[A-Z][^\W\d_]+)?,?\s\(?(?P<value>[A-Z]{0,2}\d{3,5})(?![\w%]|[.,:/-]\d)"
)
_SEVERAL = re.compile(
    r"(?<!\w)(?:nos|numbers|ids|refs)\.?[\s:]{1,2}[\w/-]{4,20}(?:,\s[\w/-]{4,20})*\s(?:and|&)\s(?P<value>(?=[\w/-]*\d{3})[\w/-]{4,20})(?!\w)",
    re.IGNORECASE,
)
_GROUPED = r"(?=(?:[^\d,;\n]?\d){5})[A-Za-z]{0,3}-?\d[\w/-]*(?:\s\d{1,7}){1,4}(?:\s[A-Z](?!\w))?"
_SEVERAL_GROUPED = re.compile(
    rf"(?<!\w)(?:(?<!de\s)(?<!sur\s)(?<!chez\s)(?<!dans\s)nos|numbers|Nrn|Nummern|números|núms|numéros|n[°º]s)\.?[\s:]{{1,2}}{_GROUPED}(?:(?:,\s?|\s(?:and|&|und|y|et)\s){_GROUPED})+(?![\w%])"
)
"""Several numbers written in groups: `bag nos 7 118 204 4, 7 118 207 9`."""
_ONE_GROUPED = re.compile(_GROUPED)
_ROUND = re.compile(r"\d{1,3}(?:\s\d{3})*\s000")
_FILED = re.compile(
    r"(?<![^\W_])(?:(?:OP|Histo(?:logie)?|Zyto(?:logie)?|Path|Labor|Befund|Journal|Protokoll|Fall|Vorgang|Akten|Auftrags?|Proben?|Konserven?|Beutel)\.?[\s-]?(?:Nr\.?|Nummer|Z\.?|zeichen|nummer|nr\.?)|Az\.|GZ|expediente|exp\.|oficio|caso|causa(?:\spenal)?|sumario|diligencias|atestado|parte\sjudicial|dossier|procès-verbal|PV)"
    r"(?:\s(?:n[°º]|núm\.?|no\.?))?[\s:]{1,2}(?P<value>(?:[A-Z]{1,2}\s?)?(?=\d{3}|\d{2}[/-]\d{3})(?:\d{2,6}[/-](?:20)?[0-3]\d|(?:20)?[0-3]\d[/-]\d{3,6}|\d{3,4}(?:\s\d{2,4}){1,3}))(?![\w%]|[.,:/-]\d)",
)
"""A number and its year, as an archive files it: `OP-Nummer 26-1184`, `expediente 118/26`."""
_COURT = re.compile(
    r"(?<![^\W_])(?:Az\.?|Aktenzeichen|Geschäftszeichen)[\s:]{1,2}(?P<value>\d{1,4}\s[A-Z][A-Za-z]{0,3}\s\d{1,6}/\d{2,4})(?!\w)"
)
"""The file of a German court or its prosecutor: `Az. 3 UJs 1187/26`."""
_OF_A_COMPOUND = re.compile(
    r"(?<![^\W_])(?!(?:Art|Bestell|Kat|PZN|OPS|ICD|AWMF|CAS|EC|UN|Lfd|Modell|Typ|Material))[A-ZÄÖÜ][^\W\d_]{0,20}(?:-|\.|\.-)?(?:Nrn?\.?|NR\.?|nr\.?|Nummer|nummer)[\s:]{1,2}(?P<value>(?:[A-Z]{1,3}[\s-]?)?(?:\d{2,4}(?:\s\d{2,4}){1,3}|\d{4,12}))(?![\w%]|[.,:/-]\d)"
    rf"{NOT_MEASURED}"
)
"""A German noun with its number: `Geräte-Nr. 4471`, `FNr. 118 204`; not what is sold or published."""
_STORE = re.compile(
    rf"(?<![^\W_])(?:Tresor(?:fach)?|Schließfach|Spind|Wertfach|Effekten(?:beutel)?|Wertsachen(?:beutel)?|Ringbeutel|Schrank|Garderobe|Park(?:platz|schein)|taquilla|casier|coffre|caja\sfuerte|locker|pigeon\s?hole|(?:ward|property|valuables|night)\s(?:safe|bag|envelope))\s(?:no\.?\s|nr\.?\s|number\s|n[°º]\s?|#)?(?P<value>[A-Z]?\d{{1,6}})(?![\w%]|[.,/:-]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
"""Where somebody's own things are kept."""
_REGISTER = re.compile(
    r"(?<![^\W_])(?:BtM-?Buch|OP-?Buch|Geburtenbuch|CD[\s-](?:book|register)|controlled\sdrugs?\s(?:book|register)|(?:theatre|birth|death|mortuary)\s(?:book|register)|libro\sde\s(?:quirófano|estupefacientes|partos)|registre\s(?:des\sstupéfiants|du\sbloc|des\snaissances))"
    r",?\s(?:S\.|Seite|pp?\.?|pg\.?|page|pág\.?|página|folio|fol\.?|line|entry|Nr\.?|no\.?)\s?(?P<value>\d{1,5})(?![\w%]|[.,:/]\d)",
    re.IGNORECASE,
)
"""The page on which one patient stands."""
_CALL_SIGN = re.compile(
    r"(?<![^\W_])call[\s-]?sign\s(?:is\s|was\s|no\.?\s)?(?P<value>[A-Z]{0,3}\d{1,5})(?![\w%]|[.,:/-]\d)",
    re.IGNORECASE,
)
_REPORTED = re.compile(
    r"(?<![\w-])(?:PALS|FOI|[Dd]atix|StEIS|LFPSE|CIRS|MNSI|HSSIB|[Oo]mbudsman|[Ii]nquest)(?:\s(?:case|no\.?|ref\.?|nr\.?|number|complaint)){0,2}[\s:]{1,2}(?P<value>\d{3,7})(?![\w%]|[.,:/-]\d)"
)
"""What happened is filed under a number with those who are told of it."""
_CALLED = word_set("number numbers no nos id ids ref reference nr num")
"""What stands between the noun and a number that is called one."""
_LABELS = word_set("wristband bracelet label sticker barcode tag")
"""What bears nothing but a number: `wristband na 33 18 77`."""
_TIME = re.compile(
    r"(?:[01]\d|2[0-3])[0-5]\d(?:[\s/-](?:[01]\d|2[0-3])[0-5]\d)*|(?:19|20)\d\d(?:[-/](?:\d\d|(?:19|20)\d\d))?|\d{1,3}[/-]\d{1,3}|\d+000"
)
_UNITS = re.compile(
    r"(?:[^\W\d_]{1,4}\s)?(?:bp|hr|rr|spo|sats?|temp|fio|hb|na|k|cr|ur|crp|wcc|plt|inr|ph|be|bm|gcs|map|cvp|at|and|or|to|of|in|on|was|is|for|from|by|with|size|fr|ch|ga|g|mm|ml|mg|type|grade|day|pod|asa|t|l|c|s|vs|x|no)\s\d",
    re.IGNORECASE,
)
"""Letters before figures that are a measure, a level or a word: `unit of 12 12 14`, `device 24 Fr 1430`."""


def find(text: str) -> Iterator[Span]:
    """Yield the number; the words before it stay, and so does what a citation prints."""
    yield from outside(text, _found(view(text)))


def _found(text: str) -> Iterator[Span]:
    for pattern in (_STORE, _REGISTER, _CALL_SIGN, _FILED, _COURT, _OF_A_COMPOUND):
        for found in pattern.finditer(text):
            yield Span(*found.span("value"), KIND, LETTER, "[record number]", 0.8)
    for found in _REPORTED.finditer(text):
        if not _TIME.fullmatch(found["value"]):
            yield Span(*found.span("value"), KIND, LETTER, "[record number]", 0.8)
    if not _TWO_FIGURES.search(text):
        return
    for found in _ANNOUNCED.finditer(text):
        value = found["value"]
        named = "#" in found["link"] or not _CALLED.isdisjoint(re.findall(r"[a-z]+", found["link"].lower()))
        if (
            _TIME.fullmatch(value)
            or (not (named or _numbers_only(found["noun"], value)) and (_UNITS.match(value) or _said(value)))
            or sum(sign.isdigit() for sign in value) < 4
        ):
            continue
        if (value.isdigit() and len(value) < 5) or all(map(_TIME.fullmatch, re.split(r"[\s/-]", value))):
            continue
        yield Span(*found.span("value"), KIND, LETTER, "[record number]", 0.8)
    for pattern in (_SHORT, _CONSTABLE, _CREW, _OFFICER, _SEVERAL, _PASSWORD):
        for found in pattern.finditer(text):
            yield Span(*found.span(found.lastgroup or 0), KIND, LETTER, "[record number]", 0.8)
    for found in _SEVERAL_GROUPED.finditer(text):
        for one in _ONE_GROUPED.finditer(text, *found.span()):
            if not _ROUND.fullmatch(one[0]):
                yield Span(*one.span(), KIND, LETTER, "[record number]", 0.8)


def _said(value: str) -> bool:
    """Whether a word of the sentence or a name stands before a time or a day: `letter sent 16/10`, `student Esme 1126`."""
    opens = _WORD.match(value)
    if opens is None or not _TIME.fullmatch(value, opens.end() - 1):
        return False
    return opens[1].istitle() or load().known(opens[1])


_WORD = re.compile(r"([a-z]{3,4}|[A-Z][a-z]{2,3})\s\d")


def _numbers_only(noun: str, value: str) -> bool:
    """Whether letters before figures are no measure: on a label, or before more groups than a row of values has."""
    return noun.lower() in _LABELS or len(re.findall(r"\d+", value)) > _ROW


_ROW = 3
_TWO_FIGURES = re.compile(r"\d[\d\s/.,A-Za-z-]{0,6}\d")
