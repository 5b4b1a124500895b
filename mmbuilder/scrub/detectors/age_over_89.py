"""Ages over 89, in figures and words. 89 may be stated; 90 and more become "90 or older".

Source: 45 CFR 164.514(b)(2)(i)(C): all ages over 89, which may be put into one category of age 90 or older.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "age over 89"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "96 kg, 93 y, 1.6 m",
    "Aged 93, lives alone",
    "a 93-year-old woman",
    "91 years old",
    "age: 104",
    "a 93 yo man",
    "93F with a fall",
    "a nonagenarian",
    "the centenarian",
    "ninety-three year old",
    "in her nineties",
    "at the age of 95",
    "90 y/o",
    "92 yrs",
    "She turned 90 last week",
    "in her hundredth year",
    "her 95th birthday",
    "a ninety-first birthday",
    "mujer de 93 años",
    "eine 92-jährige Patientin",
    "91 Jahre alt",
    "patiente de 91 ans",
    "92 saal ki mareez",
    "turning 100",
    "Man, 94, right eye",
    "Woman of 93",
    "93/M",
    "M93",
    "93 male",
    "93, female",
    "93y",
    "93yF",
    "93yoM",
    "he is 93",
    "turned 93",
    "age ~93",
    "age approx 93",
    "aged (93)",
    "90+ years",
    "Ninety One years",
    "93–year–old",
    "93 and a half years old",
    "93.5 years old",
    "130 years old",
    "94F",
    "٩٣ years old",
    "edad 94",
    "Alter: 94",
    "patient is 97, lives alone",
    "at 93 she still gardens",
    "95 F, found on the floor",
    "F/95 with perforation",
    "pt 94 (approx)",
    "92 baras ki",
    "94 anni",
    "94 Jahre",
    "Rabbi Feivel Quenby, 93, aortic stenosis",
    "aged 90 and a half",
    "resident, 102, for hemi",
    "great gran, 94, fell off",
    "mrs quenby (96) declined",
    "tavi wl: mr d'quenby 91 ef 28",
    "his sister quella is 96, mdt",
    "he'll be 90 in spring",
    "who will turn 98 on a feast",
    "MALE 95 FOUND BY NEIGHBOUR",
    "her aunt lived to 99",
    "Old boy of 95, fit as a flea",
    "widow of a judge, ninety-one, living",
    "patient, nearly ninety-five, delirious",
    "Sturz (94 J.)",
    "dame de quatre-vingt-quinze ans",
    "señor de noventa y tres años",
    "dreiundneunzigjährige Dame",
    "dadi ki umar 95",
    "Pat. ist 93, lebt allein",
    "sie wird bald 94 und kocht noch",
    "la paciente tiene 93, vive sola",
    "chacha 92 ke hain",
    "or rather ninety-eight and a half, she says",
    "pcte de 94 a. q vive sola",
    "Er ist 95 J. und fährt noch Rad",
    "Age: 95Y 4M",
    "Nana ji 96 ke hain",
    "mi mamá tiene 95 y no conoce a nadie",
    "Don H., centenario, marcapasos",
    "Centenaire depuis lundi",
    "dans sa quatre-vingt-dix-huitième année",
    "Die Dame ist neunzig geworden",
    "celebrated her hundredth with a sherry",
    "Her husband's ninetieth was the reason",
    "feiert seinen 100. Geburtstag",
    "umar bayanve saal",
    "Hr. Quenby, 91 J.!! Z.n. Sturz",
    "96jähr. Patientin",
    "Pat., 93j.",
)
NEAR_MISSES = (
    "a 62-year-old man",
    "aged 89",
    "saturation 93 on air",
    "pulse 95, pressure 95/60",
    "aged 9 and 8",
    "temperature 98F",
    "93 mmHg at 92 minutes",
    "average 93 ml",
    "95 cases over 20 years",
    "the 90 degree turn",
    "page 93",
    "turned 90 degrees",
    "seit 95 Jahren bekannt",
    "rotated and turned 95 times",
    "62-jährige Frau",
    "the 95th centile",
    "sats 93 M",
    "98M cells",
    "93 F",
    "SpO2 93/95",
    "a patient of 95 kg",
    "she was 93 on air",
    "he was 95% saturated",
    "93 male patients and 95 female patients",
    "coded as ICD-10 M93",
    "ICD code M93.0",
    "pressure 95, female luer",
    "ninety years of experience",
    "man, 95 kg",
    "he is 93 kg",
    "CI 1.2; 95 F peaks",
    "patient is 93 kg",
    "the patient was 93% saturated",
    "95 in M, 93 in F",
    "at 93 he arrested",
    "FiO2 94 (approximate)",
    "Hb, 94, 93, 92",
    "the patient had hb 92, sats 94, now 95",
    "pt 95 on air, female 95 mm",
    "his sister was 93 kg",
    "turning 95 degrees, will turn 90 degrees",
    "nearly ninety minutes",
    "Pat. ist 93 kg schwer",
    "FiO2 0.6, P/F 110, for HFNO",
    "ninety-two and a half minutes",
    "Sättigung ist 93, Puls 95",
    "el paciente tiene 93 de pulso",
    "her hundredth case, their ninetieth minute",
    "a 90 a las 3",
    "le centième patient",
    "MAP over 90, HR over 95; keep sats over 92.",
    "93 J shock, pulse reached 98",
)

_OVER = r"(?:9\d|1[0-4]\d)"
_UNITS = r"(?:one|two|three|four|five|six|seven|eight|nine)"
_TENS = rf"(?:ninety|one\shundred|a\shundred)(?:[\s-](?:and[\s-])?{_UNITS})?"
_HALF = r"(?:\.\d|\s?½|\sand\sa\s(?:half|quarter))?\+?"
_SOMEBODY = r"(?:m[ae]n|wom[ae]n|lady|gentleman|male|female|mother|father|widow(?:er)?|pensioner|resident|boy|girl|lad|lass|chap|fellow|soul|gent)"
_KIN = (
    r"(?:great[\s-])?(?:gran(?:d(?:ad|ma|pa|mother|father|mum))?|granny|nan(?:a|na|ny)?|mum|mom|mam|mother|dad|father|aunt(?:ie|y)?|uncle|sister|brother|wife|husband|cousin|neighbou?r|friend|partner"
    r"|oma|opa|mutter|vater|tante|onkel|schwester|bruder|abuel[oa]|madre|padre|tí[oa]|hermana|hermano|mère|père|grand-?mère|grand-?père|tante|oncle|dadi|dada|nani|nana|mata|pita|bua|chacha|mam[áa]|pap[áa]|mami|abuelit[oa])"
)
_ANYBODY = rf"(?:{_KIN}|{_SOMEBODY}|gent|patient(?:in)?|pt|nun|priest|vicar|veteran|farmer|teacher|nurse|doctor|lady|dame|señora?|herr|frau|monsieur|homme|femme|hombre|mujer|(?:retired|former|ex)[\s-][^\W\d_]{{3,}}(?:\s[^\W\d_]{{3,}})?)"
_TITLED = r"(?:mrs?|ms|miss|mx|prof|sir|rev|canon|dame|lady|lord|herr|frau|hr|fr|mme|m|sra?|señora?|doña|don|monsieur|madame|shri|smt|srimati)\.?\s(?!(?:over|under|above|below|around|about|was|is|now|up|down|at)\b)[^\W\d_][\w'’-]+"
_NOT_A_VALUE = rf"(?![\w%/+]|[.,:-]\d|\s?[-–]\s?\d){NOT_MEASURED}(?!\s?(?:on\s(?:air|o2|oxygen|ra|room|\d)|mm|bpm|sat\w*|percent|per\s|systolic|over\s\d|and\s\d|to\s\d))"
_IN_WORDS = (
    r"(?:(?:ein|zwei|drei|vier|fünf|sechs|sieben|acht|neun)und)?neunzig|(?:ein)?hundert(?:eins?|zwei|drei|vier|fünf|sechs)?|quatre-vingt-(?:dix(?:-(?:sept|huit|neuf))?|onze|douze|treize|quatorze|quinze|seize)|nonante(?:[\s-]\w+)?|cent(?:\s(?:un|deux|trois|quatre|cinq))?"
    r"|noventa(?:\sy\s\w+)?|cien(?:to\s\w+)?|nabbe|ikyanve|ikyanabe|banve|baanve|bayanve|tiranve|chauranve|pachanve|chhiyanve|sattanve|atthanve|ninyanve"
)
"""Ninety and more in German, French, Spanish and Hindi, from memory."""
_YEARS = r"(?:years?|yrs?|year['’]s)"
_PATTERNS = (
    re.compile(
        rf"(?<![\w.,/:])(?:{_OVER}|{_TENS}){_HALF}[\s-]?"
        rf"(?:{_YEARS}[\s-]{{0,2}}olds?|{_YEARS}[\s-]of[\s-]age|y\.?/?o\.?|yr\.?)(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<![\w.,/:])(?:{_OVER}|{_TENS})\s?\+?\s?(?:years|yrs)(?!\w)(?!\s(?:ago|later|of|before|after|follow))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)age[ds]?(?:\s(?:of|is|was|at|over|about|nearly|approx\.?|approximately|around|circa))?[\s:=~≈(]{{0,3}}((?:{_OVER}|{_TENS})(?:\sand\sa\s(?:half|quarter))?)"
        r"(?![\w/%]|[.,]\d)(?!\s?(?:mm|cm|ml|mg|kg|days|weeks|months|hours|min))",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?<!\w)(?:in|into|well\sinto)\s(?:his|her|their|the)\s((?:early|mid|late)?[\s-]?(?:nineties|90['’]?s))(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)(?:turn(?:ed|ing|s)|celebrat\w+|reached|nearly|almost|over)\s(?P<turned>{_OVER}|{_TENS})(?!\w|[.,:/%]\d|%)"
        rf"(?=\s(?:last|this|next|in|on|yesterday|today|a\s|and\slives|years)|[.,;]|(?m:$))(?!\sin\s\d)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)(?:his|her|their|a|the)\s((?:{_OVER}(?:st|nd|rd|th)|(?:ninety[\s-])(?:first|second|third|fourth|fifth|sixth|seventh"
        rf"|eighth|ninth)|ninetieth|(?:one\s)?hundredth|hundred\sand\s\w+th)\s(?:birthday|year(?=,|\.|\s(?:of|and)|(?m:$))))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<![\w.,/:])((?:{_OVER})[\s-]?(?:años|ans(?!\w)|anos(?!\w)|anni(?!\w)|jaar(?!\w)|jährig\w*|Jahre(?:\salt\w*)?|j\.?\sa\.|saal(?:\s(?:ki|ke|ka))?|sal\s(?:ki|ke|ka)|baras|varsh))(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w){_KIN}(?:\sji)?\s({_OVER})(?=\sk[aei]\s(?:hai|hain|the|thi|tha)(?!\w))", re.IGNORECASE
    ),  # chacha 92 ke hain
    re.compile(  # Man, 94, right eye; woman of 93
        rf"(?<!\w){_SOMEBODY}(?:,\s|\s(?:of|aged)\s)({_OVER}|{_TENS})(?![\w%/]|[.,:]\d){NOT_MEASURED}(?=\s?[,;.)]|(?m:$)|\swith\b)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)((?:{_IN_WORDS})(?:[\s-]?jährig\w*|\s(?:jahre|geworden|ans|años|anni|anos|saal|sal|baras|varsh)(?:\salt\w*)?))(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)(ninety-{_UNITS}\sand\sa\s(?:half|quarter))(?=[,;.)]|\s(?:as|she|he|now|years?)\b)",
        re.IGNORECASE,
    ),
    re.compile(rf",\s({_TENS})(?=[,;)])", re.IGNORECASE),  # a judge, ninety-one, living
    re.compile(
        rf"(?<![\w.,/:])({_OVER}\s?J\.?)(?=\s?[),;/:!?]|\s?(?m:$)|\.?\s(?-i:[A-ZÄÖÜ])|\s(?:alt|m|w|und|mit|lebt)\b)"
    ),  # (94 J.)
    re.compile(  # edad 94, Alter: 94, âge : 94, umr 92
        rf"(?<!\w)(?:edad|alter|âge|âgée?\sde|umr|umar|aayu|idade|età|leeftijd)[\s:=]{{1,3}}({_OVER})(?![\w%/]|[.,:]\d){NOT_MEASURED}",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)at\s(?:only\s)?({_OVER})(?=,?\s(?:she|he|they)\s(?:still|lives|walks|is|was|has|had)\b)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)(?:Mrs?|Ms|Miss|Dr|Sr|Frau|Herr|Mme|M)\.?\s[^\W\d_]+,\s(?:aged\s)?({_OVER}|{_TENS})(?=[,.;)]|(?m:$))",
        re.IGNORECASE,
    ),
    re.compile(  # Canon Featherling, 94, fell: between commas after a name or a person's word
        rf"(?<![\w-])(?:[A-Z][a-zà-ÿ]{{2,}}|[A-Z]{{5,}}|resident|widow(?:er)?|nun|priest|farmer|patient|lady|gentleman|father|mother|husband|wife|[a-z]{{3,}}er)(?<!PLT)(?<!Plt)(?<!over)(?<!after)(?<!other)(?<!Sats)(?<!sats)(?<!number)(?<!lower)(?<!higher),\s({_OVER})(?=,\s(?:[A-Za-z]{{2,}}(?!\s\d)|an?\s))"
    ),
    re.compile(rf"(?:(?m:^)|[.;]\s)({_OVER}\s[FM])(?=[,:;]\s)"),  # 95 F, at the start
    re.compile(rf"(?<![\w./])[FM](?:/|,\s?|\s)({_OVER})(?=\swith\b|,|;|\.?(?m:$))"),  # F, 95, with; F/95
    re.compile(
        rf"(?:(?m:^)|[.;(]\s?)(?:(?:pt|patient)\s)?({_OVER}\s?\((?:approx|about|estimated|est|circa)[a-z]*\.?\))",
        re.IGNORECASE,
    ),
    re.compile(  # 93 male; 93, female
        rf"(?<![\w.,/:-])(?<!sats\s)(?<!pressure\s)(?<!pulse\s)({_OVER})(?=,?\s(?:male|female|man|woman|lady|gentleman)(?!\w)"
        r"(?!\s(?:patients|cases|donors|controls|subjects|luer|connector|end|and)))",
        re.IGNORECASE,
    ),
    re.compile(rf"(?<![\w.,/:])({_OVER}-?j(?:\.|ähr\.?)?)(?!\w)"),  # 93j., 96jähr.
    re.compile(rf"(?<![\w.,/:])({_OVER}(?:y(?:o|/o|rs?)?|a)[MF]?)(?!\w)", re.IGNORECASE),  # 93y, 93yF, 93yoM
    re.compile(rf"(?<![\w.,/:])({_OVER}\s(?:yo|y/o|y))(?=[,;.)]|(?m:$))", re.IGNORECASE),  # 93 y, 1.6 m
    re.compile(rf"(?<![\w.,/:-])({_OVER}\s?/\s?[MF])(?!\w|/)"),  # 93/M
    re.compile(r"(?<![\w.,/:-])(?<!ICD-10 )(?<!code )(?<!coded )([MF]\s?/?\s?9\d)(?!\w|[.,/-]\d)"),  # M93
    re.compile(rf"(?<![\w.,/:])({_OVER}\sa\.)(?=\s[a-z]|[,;)])"),  # 94 a. con caída
    re.compile(rf"(?<![\w.,/:])({_OVER}\s?[Yy]\s?\d{{1,2}}\s?[Mm])(?!\w)"),  # 95Y 4M
    re.compile(  # celebrated her hundredth; her husband's ninetieth
        r"(?<!\w)(?:his|her|their|[^\W\d_]+['’]s)\s((?:ninety-(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth)|ninetieth|(?:one\s)?hundredth))"
        r"(?=\s?[,.;]|(?m:$)|\s(?:was|is|with|and|party|last|this|next|in|on|at)\b)",
        re.IGNORECASE,
    ),
    re.compile(rf"(?<!\w)({_OVER}\.\sGeburtstag)(?!\w)"),
    re.compile(  # dans sa quatre-vingt-dix-huitième année
        r"(?<!\w)sa\s((?:quatre-vingt-(?:dix(?:-(?:sept|huit|neuv))?|onz|douz|treiz|quatorz|quinz|seiz)ième|nonantième|centième)\sannée)(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?<!\w)(?:(?:a|an|the)\s)?(?:(?:nona|cente|supercente)(?:ge)?narians?|(?:centen|nonagen)ari[oa]s?|(?:centen|nonagén)aires?)(?!\w)",
        re.IGNORECASE,
    ),
)
_CANDIDATE = re.compile(
    rf"(?<![\w.,/:+-])(?:{_OVER}|{_TENS}){_NOT_A_VALUE}(?!,\s?\d)(?=\s?[,.;:)]|(?m:$)|\s[^\W\d_])",
    re.IGNORECASE,
)
_ABOUT = r"(?:now|nearly|almost|only|just|about|over|aged?|circa|c\.)\s"
_AFTER_SOMEBODY = re.compile(
    rf"(?<!\w)(?:{_ANYBODY}(?:\s[^\W\d_][\w'’-]+)?(?:,\s|\s?\(\s?|\s-\s|\s(?=now|nearly|almost|aged|about))|(?:lived|survived|got|made\sit)\sto\s(?:be\s)?|(?:oldest|youngest)[^.;\n]{{0,24}}\sat\s|(?:cumpl\w+|wird(?:\s(?:nächste\w*|bald|heute|morgen|im|am)\s\w+|\s(?:bald|heute|morgen))?)\s|{_SOMEBODY}\s|{_TITLED}(?:,\s|\s?\(\s?|\s)"
    r"|(?:will|to|would|just|have|has)\sturn(?:ed)?\s|(?:turning|turns)\s)("
    rf"(?:{_ABOUT})?)$",
    re.IGNORECASE,
)
"""`great gran, 94, fell`; `MALE 95 FOUND`; `mrs quenby (96)`; `who will turn 98 on`."""
_SOMEBODY_IS = re.compile(
    rf"(?<!\w)(?:he|she|who|patient|pt|{_KIN})(?:\s[^\W\d_][\w'’-]+)?(?:\s(?:is|was|(?:will|would)\sbe)|['’](?:s|ll\sbe|d\sbe))\s((?:{_ABOUT})?)$"
    rf"|(?<!\w)(?:er|sie|pat\.|patient(?:in)?|{_KIN})\s(?:ist|war|wird)\s((?:(?:schon|jetzt|fast|bald|etwa|ca\.)\s)?)$"
    rf"|(?<!\w)(?:paciente|{_KIN})\stiene\s((?:(?:ya|casi)\s)?)$",
    re.IGNORECASE,
)
"""The one group of each way to say it, as above: the words that say how near the age is."""
_AND_GOES_ON = re.compile(
    r"\s?[,.;:)]|(?m:$)|\s(?:and|und|y|lebt|vive|in|on|next|this|now|with|but|who|at\sthe|years|today|tomorrow)\b",
    re.IGNORECASE,
)
_REACH = 64
"""Characters before an age in which the word for its bearer stands."""
_LETTER_SEX = re.compile(
    rf"(?<![\w.,/:°-]){_OVER}[MF](?!\w)(?!\s(?:cells|copies|platelets|units|reads|spermatozoa|sperm|per|/))"
)
_TURNED = re.compile(r"\s(?:degrees|times|°)", re.IGNORECASE)
_SEX = re.compile(r"(?<=[\dyo/\s])[MF]$|^[MF](?=[\s/]?\d)")
_POOLED = re.compile(r"\sor\s(?:older|over)(?!\w)")
_HEAT = re.compile(r"sat|spo2|temp|fever|°|core|pyrexi|warm|degrees", re.IGNORECASE)


_MAY_BE = re.compile(
    r"9\d|1[0-4]\d|ninet|hund|arian|nari|naire|quatre-vingt|nonante|cent|neunzig|noventa|cien|nabbe|a(?:n|r)ve|abe\s",
    re.IGNORECASE,
)
"""What must stand in a text, or no pattern is run."""


def find(text: str) -> Iterator[Span]:
    """Yield the words that tell the age; the sentence around them stays."""
    text = view(text)
    if not _MAY_BE.search(text):
        return
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            if not _POOLED.match(text, found.end()) and not _of_a_value(
                text, found
            ):  # told as a category already
                yield span(found, KIND, LETTER, told(found[found.re.groups]), 0.95, found.re.groups)
    for found in _CANDIDATE.finditer(text):
        begin = max(0, found.start() - _REACH)
        before = _AFTER_SOMEBODY.search(text, begin, found.start()) or (
            _SOMEBODY_IS.search(text, begin, found.start()) if _AND_GOES_ON.match(text, found.end()) else None
        )
        if before and not _TURNED.match(text, found.end()) and not _POOLED.match(text, found.end()):
            yield Span(before.start(before.lastindex or 0), found.end(), KIND, LETTER, told(found[0]), 0.85)
    for found in _LETTER_SEX.finditer(text):
        if not _HEAT.search(text, max(0, found.start() - 30), found.start()):
            yield span(found, KIND, LETTER, told(found[0]), 0.7)


def _of_a_value(text: str, found: re.Match[str]) -> bool:
    """Whether what has turned ninety is a value: `MAP over 90`."""
    return (
        "turned" in found.re.groupindex
        and _VALUE.search(text, max(0, found.start() - 24), found.start()) is not None
    )


_VALUE = re.compile(
    r"(?<!\w)(?:map|cpp|s?bp|hr|rr|sats?|s[pa]o2|o2|pulse|puls|fc|rate|pressure|systolic|diastolic|temp\w*|hb|ef|gcs|kps|score|weight|wt|bmi|egfr|flow|cvp|etco2)(?!\w)[^.;\n]{0,16}$",
    re.IGNORECASE,
)


def told(words: str) -> str:
    """The category, with the sex where a letter of the words tells it: `94F`, `93/M`."""
    sex = _SEX.search(words)
    return "90 or older" if sex is None else f"90 or older, {'female' if sex[0] in 'Ff' else 'male'}"
