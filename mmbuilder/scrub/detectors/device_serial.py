"""Serial and lot numbers of devices and implants: they lead to one patient through the implant book.

Source: 45 CFR 164.514(b)(2)(i)(M), device identifiers and serial numbers; GS1 General Specifications,
application identifiers (10) lot and (21) serial, whose strings `gs1` reads. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "serial number"
LETTER = "M"
SOURCE = "45 CFR 164.514(b)(2)(i)(M); GS1 General Specifications (from memory)"
EXAMPLES = (
    "stent, serial GTS-4471902",
    "IOL SN 21094477.013 placed",
    "S/N: AB12345",
    "tube lot LJ20931",
    "batch no. 7719203",
    "pacemaker serial no PJX204418S",
    "Seriennummer 21094477",
    "n.º de serie 7719203",
    "Charge LJ20931",
    "B/N QX4481",
    "Ser. No. QX44812",
    "Asset tag EBME44812",
    "lens serial 44812001 013",
    "PUMP SERIAL 8015-221-6630A FAILED",
    "arm 3, serial QX41-0882-XB.",
    "pad lot 2117 A. Photos taken",
    "lots 2117 A and 2118 B",
)
NEAR_MISSES = (
    "a lot of blood, 1400 ml",
    "SN60WF +21.0 D was chosen",
    "serial lactates 4.1, 3.2 and 2.0",
    "serial CT scans at 24 and 48 hours",
    "lost 1200 ml",
    "batch of 20 cases",
    "serial 12 A level",
)

_PARTED = re.compile(
    r"(?<!\w)(?:serial|SN|S/N)(?:\s(?:no|number))?\.?[\s:#]{1,3}(\d{6,9}\s\d{3})(?!\w|[.,]\d)", re.IGNORECASE
)
_LETTERED = re.compile(
    r"(?<!\w)(?:(?<!a\s)lots?|batch(?:es)?|serial|SN|S/N|Charge|lote)(?:\sno\.?)?[\s:#]{1,3}(\d{3,9}\s(?-i:[A-Z]{1,2})(?:(?:,\s|\s(?:and|&|und|y|et)\s)\d{3,9}\s(?-i:[A-Z]{1,2}))*)(?=\s?[,;)]|\.?\s?(?m:$)|\.\s[^\W\d_]{2}|\s(?:n[°º]|r[ée]f|exp|SN|S/N)(?!\w))",
    re.IGNORECASE,
)
_NUMBER = cued(
    r"(?<!a\s)lot|S/N|B/N|B\.\s?No\.?|SN(?![^\W_])|ser(?:ial)?\.?(?:\sno\.?)?|batch|asset(?:\stag)?|EBME|IMEI|UDI-PI|Seriennummer|Serien-?Nr\.?|n(?:úmero|\.?[º°])\sde\s(?:serie|lote)|n(?:uméro|°)\s(?:de\s)?(?:série|lot)|Chargennummer|matricola|Charge(?=\s[A-Z]{1,3}\d)|Ch\.-B\.|lote",
    r"serial|batch|lot|implant|device|asset|pump|machine|ventilator|monitor|scope|model\sserial",
)


def find(text: str) -> Iterator[Span]:
    """Yield the number; the word before it stays."""
    for pattern in (_NUMBER, _PARTED, _LETTERED):
        yield from (span(found, KIND, LETTER, "[serial number]", 0.85, 1) for found in pattern.finditer(text))
