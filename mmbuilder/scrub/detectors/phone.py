"""Telephone, fax, bleep and extension numbers.

Own patterns find them, by form or by a word ("tel", "bleep"); the phone-number library only
confirms what they found, and its no is never a veto. A fax number is class E; on the page it
cannot be told from a telephone number, which is class D.

Source: ITU-T E.164 (international form, 15 digits at most); E.123 (spacing); numbers for fiction: 555-0100 to
0199, Ofcom 01632 960000-960999 and 07700 900000-900999. https://www.itu.int/rec/T-REC-E.164
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "phone number"
LETTER = "D"
SOURCE = "ITU-T E.164; E.123"
EXAMPLES = (
    "busca 6638 de cirugía",
    "Klappe 4471",
    "int. 4471, poste 982",
    "Tel. -4471",
    "poste 44 71, App. 4471",
    "poste ou bip 982, on attend",
    "Durchwahl -876, nachts",
    "Intercom 6694 do baar",
    "book Quenya (ext 81) for it",
    "ring x 3382 if worse",
    "hotline (x17) rang out",
    "NICU phone x64",
    "x204 for questions, x219 if no answer",
    "Call on 07700 900456 if worse",
    "01632 960 123",
    "(01632) 960123",
    "+44 7700 900456",
    "+44 (0)1632 960123",
    "0044 1632 960123",
    "call 555-0123",
    "(212) 555-0147",
    "212-555-0147",
    "+1 212 555 0147",
    "bleep 4471",
    "Bleeps: reg 2231; SHO 2245",
    "paged on 4471",
    "ext. 5523",
    "extension 5523",
    "tel: 960123",
    "fax no. 01632 960999",
    "020 7946 0018",
    "07700.900.456",
    "07700/900456",
    "07700 90 04 56",
    "44 7700 900456",
    "call me 960123",
    "ring 4471",
    "dect 4471",
    "hotline 4471",
    "555-0123",
    "pager no 12-345",
    "+44 7700 900456",
    "07700‑900456",
    "ringing 4471 got no answer",
    "dial #4471",
    "Bleep 2231/2232, no answer",
    "rang ITU on 4471",
    "M 0491 570 157",
    "98765 43210",
    "x4471 for porters",
    "pgr 2231",
    "Telefon 030/23125 123",
    "móvil 600 12 34 56",
    "Bleep me on 4471 if worse",
    "llamar a su hijo al 600 555 121",
    "avvisata al 055 5550 143",
    "ext no 5 7719",
    "bp 4471 for anaes",
    "01632 960 447 ext 12",
    "fax to the surgery (0113 4960 882) failed",
)
NEAR_MISSES = (
    "extension -10 degrees to 90",
    "knee flex 110 ext 10",
    "clips (x2) and a stitch",
    "adrenaline x3 and shocked x2",
    "magnified x400 in the field",
    "extension of the wound by 10 mm",
    "knee extension 120 degrees",
    "observations at 0912 0930 1015",
    "BP 120/80, 95/60 and 120/80",
    "platelets 150 140 120",
    "called at 1430 and arrived at 1445",
    "phaco power 40%, vacuum 350 mmHg, flow 28 cc/min",
    "called for 1000 ml of saline",
    "text on page 1205",
    "cut rate of 4000 cpm",
    "call 2 units of blood",
    "0.25 mg at 10 20 30 40 50 minutes",
    "ring at 1430",
    "call 1430",
    "ring 1200 microns",
    "the ring 7.0 mm",
    "contact 2 teams",
    "bleep 12-14 times",
    "bleeps answered 1430",
    "x1200 magnification",
    "ringing in the ears 20 years",
    "on 1200 calories",
    "cord pH 7.01/7.12",
    "paged at 1430; bleeped at 0310",
    "Klappe 23 mm, Klappe 2019 ersetzt",
    "poste 24 h, tel -2 Tage",
)

_FORMS = (
    r"\+\d{1,3}[\s.-]?(?:\(0\)[\s.-]?)?(?:\(?\d{1,5}\)?[\s.-]?){1,4}\d{2,4}",  # international
    r"00\d{2}[\s.-](?:\(0\)[\s.-]?)?(?:\d{2,5}[\s.-]?){1,3}\d{2,4}",  # international, dialled
    r"\(0\d{1,5}\)[\s-]?\d{3,4}[\s-]?\d{3,4}",  # area code in brackets
    r"0\d{4}[\s-]\d{5,6}|0\d{4}[\s-]\d{3}[\s-]\d{3}|0\d{3}[\s-]\d{3}[\s-]\d{4}|0\d{2}[\s-]\d{4}[\s-]\d{4}|0\d{9,10}",
    r"0\d{4}[./]\d{3}[\s./-]?\d{3}|0\d{4}(?:\s\d\d){3}|44[\s-]7\d{3}[\s-]\d{6}",
    r"0\d{2}[\s-]\d{3}[\s-]\d{4}|0\d[\s-]\d{4}[\s-]\d{4}|0\d(?:[\s.-]\d{2}){4}",
    r"(?!(?:0\d[0-5]\d\s?){2,})0\d{2,3}[\s-]\d{4}[\s-]\d{3,4}|0\d{2}[\s-]\d{3}[\s-]\d{3,4}",  # other spacings of a city's number
    r"[6-9]\d{4}\s\d{5}|04\d\d\s\d{3}\s\d{3}",  # mobile numbers of India and Australia
    r"(?:\(\d{3}\)[\s-]?|\d{3}[.-])\d{3}[.-]\d{4}",  # North America
)
_FORM = re.compile(
    rf"(?<![\w.+])(?:{'|'.join(_FORMS)})(?:,?\s?(?:ext|extn|x)\.?\s?\d{{1,5}})?(?![\w]|[.,]\d)"
)
_WORD = (
    r"tel(?:ephone|e?phoned)?|phoned?|ph|mobile|mob|cell|fax(?:ed)?|landline|whats\s?app(?:ed)?|hotline"
    r"|switchboard|helpline|telefono|teléfono|tlf|tfno|móvil|handy|portable|tél(?:éphone)?|telefon"
)
_AFTER_WORD = re.compile(
    rf"(?<![^\W_])(?:(?:{_WORD})\.?(?:\s?(?:number|no|is|on|at|to)\b\.?){{0,2}}"
    r"|(?:call(?:ed)?|ring|rang|contact|text)"
    rf"(?:\s\w+){{0,2}}\son)[\s:.=#]{{0,3}}(?!\d\.\d)(\+?\(?\d[\d\s()./-]{{3,18}}\d)(?!\w|[.,:/]\d)(?!\s?(?:ml|mg|mm))",
    re.IGNORECASE,
)
_SHORT = re.compile(
    r"(?<![^\W_])(?:(?:called|rang|contacted|phoned|spoke|reached)(?:\s\w+){0,3}\son|(?:call|ring|rang|ringing|phone|phoning|contact)(?:\s(?:me|us|him|her|back|home|on)){0,2}|dect|hotline|switchboard|helpline)"
    rf"[\s:.=#]{{1,3}}((?!(?:[01]\d|2[0-3])[0-5]\d(?!\d))\d{{4,8}})(?![\w%/]|[.,:-]\d){NOT_MEASURED}(?!\s(?:of|red|times)\b)",
    re.IGNORECASE,
)
_INSIDE = re.compile(
    r"(?<![^\W_])(?:(?:via|on|dial(?:led|ling)?|switch(?:board)?|call|ring|rang)\s(?:on\s)?#(\d{3,6})|dial(?:led|ling)?\s(\d{4,8})|x(?!\d+00(?!\d))(\d{4,5})|(?:call|ring|phone|dial|bleep)\sx\s(\d{3,5})"
    r"|\((?:ext\.?|x)\s?(\d{2,5})(?=\))|(?:phone|hotline|voicemail|office|desk)\sx(\d{2,5})|x(\d{3})(?=\s(?:for|if|or|and|when|please)\s))"
    rf"(?![\w%/]|[.,:-]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
"""Numbers of a house: `dial #4471`, `x4471`."""
_FICTION = re.compile(r"(?<![\w.,/-])555-\d{4}(?![\w-]|[.,]\d)")
_SPANISH = re.compile(
    r"(?<!\w)(?:al|llamar(?:\sa)?|tel\.?|móvil|teléfono|telefone|ligar|appeler\sau|au|unter)\s(?:[^\W\d_]+\s){0,3}?((?:[6-9]\d{2}|2[1-9]\d)\s\d{3}\s\d{3})(?![\w.,/-]?\d)",
    re.IGNORECASE,
)
_LOCAL = re.compile(
    r"(?<![^\W_])(?:call|ring|phone|tel|contact|text|mobile|fax)\w{0,4}[\s:.]{1,3}(\d{3}-\d{4})(?![\w-])",
    re.IGNORECASE,
)
_BLEEP = re.compile(
    r"(?<![^\W_])(?:bleep(?:ed)?|bleeper|pager|paged|pgr|blp|bl(?=\.\s?\d{4}(?!\d)|\s\d{4}(?!\d))\.?|bp(?=\s[1-9]\d{3}\s(?:for|if|to|re|when)\b)|beeper|crash bleep|vocera|busca(?:personas)?|bip|piepser|pieper|air-?call|intercom|page(?=\s\d{4}\s(?:if|for|when|me|with)\b)|(?<=, )page(?=\s\d{4}(?:\s?$|[.;])))"
    r"(?:\s(?:number|no|is|on|at|to|holder|me|us|him|her|them)\b\.?){0,2}"
    rf"[\s:.#=]{{0,3}}(?!(?<=at\s)(?:[01]\d|2[0-3])[0-5]\d(?!\d))(#?(?:\d{{4}}(?:(?:/|,\s|\s(?:or|and)\s)\d{{4}}){{1,3}}|\d{{1,4}}-\d{{3,4}}|\d{{2,7}}))(?![\w]|[.,:/-]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
_BLEEPS = re.compile(
    r"(?<!\w)(?:bleeps|bleep\s(?:nos|numbers|list)|pagers|dects)\s?[:–-]\s?[^\n]{0,120}", re.IGNORECASE
)
_OF_BLEEPS = re.compile(r"(?<![\w.,:/-])\d{3,5}(?![\w%]|[.,:/-]\d)")
"""A list of them: `Bleeps: reg 2231; SHO 2245`."""
_EXTENSION = re.compile(
    rf"(?<![^\W_])(?:ext|extn|xtn|extension|durchwahl|nebenstelle|tel\.?\sdw|klappe|apparat|app(?=\.\s\d{{4}})|funk|anexo|interno|int(?=\.)|poste)(?:\s(?:number|no))?\.?[\s:.#=-]{{0,3}}(?!(?:19|20)\d\d(?!\d))(\d{{3,6}}|\d{{1,2}}\s\d{{3,4}})(?![\w]|[.,:/-]\d)"
    rf"{NOT_MEASURED}|(?<![^\W_])(?:poste|dect|durchwahl|nebenstelle)\s(\d{{2}}[\s-]\d{{2}})(?![\w]|[.,:/-]\d)|(?<![^\W_])(?:tel|mob(?:ile)?|handy|móvil|tfno|fax)\.?:?\s[-–](\d{{3,6}})(?![\w]|[.,:/-]\d)",
    re.IGNORECASE,
)
"""Within a house, or the last figures only: `Klappe 4471`, `Tel. -4471`."""
_DIGITS = 5


def find(text: str) -> Iterator[Span]:
    """Yield numbers by form, then those announced by a word."""
    text = view(text)
    for found in _FORM.finditer(text):
        if sum(letter.isdigit() for letter in found[0]) >= 9:
            yield span(found, KIND, LETTER, "[phone number]", 0.95 if _confirmed(found[0]) else 0.8)
    for found in _AFTER_WORD.finditer(text):
        if sum(letter.isdigit() for letter in found[1]) >= _DIGITS:
            yield span(found, KIND, LETTER, "[phone number]", 0.9, 1)
    for pattern, confidence in (
        (_LOCAL, 0.9),
        (_SPANISH, 0.8),
        (_SHORT, 0.8),
        (_BLEEP, 0.9),
    ):
        yield from (
            span(found, KIND, LETTER, "[phone number]", confidence, 1) for found in pattern.finditer(text)
        )
    for found in (*_EXTENSION.finditer(text), *_INSIDE.finditer(text)):
        yield span(found, KIND, LETTER, "[phone number]", 0.8, found.lastindex or 0)
    several = (one for found in _BLEEPS.finditer(text) for one in _OF_BLEEPS.finditer(text, *found.span()))
    for found in (*_FICTION.finditer(text), *several):
        yield span(found, KIND, LETTER, "[phone number]", 0.8)


def _confirmed(number: str) -> bool:
    """Whether some country's plan has such a number."""
    import phonenumbers  # late: 35 ms, and most cases hold no phone number

    regions = [None] if number.startswith("+") else ["GB", "US", "IE", "AU", "NZ", "IN", "FR"]
    for region in regions:
        try:
            if phonenumbers.is_valid_number(phonenumbers.parse(number, region)):
                return True
        except phonenumbers.NumberParseException:
            continue
    return False
