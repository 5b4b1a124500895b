"""Bank accounts, cards, claims and invoices; policies are in `health_plan`.

Source: 45 CFR 164.514(b)(2)(i)(J) account numbers; ISO 13616 (IBAN, check by mod 97-10);
ISO/IEC 7812-1 (cards, check by Luhn). https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "account number"
LETTER = "J"
SOURCE = "45 CFR 164.514(b)(2)(i)(J); ISO 13616"
EXAMPLES = (
    "account GB29 NWBK 6016 1331 9268 19 was billed",
    "account no. 88412077",
    "Kontonummer 7719203",
    "DE89370400440532013000",
    "card ending 4481",
    "sort code 00-44-81, a/c 44812001",
)
NEAR_MISSES = (
    "account of events at 14:30",
    "on account of 1200 ml blood loss",
    "hospital policy 2019",
    "family members 2 and 3",
)

_IBAN = re.compile(r"(?<!\w)[A-Z]{2}\d{2}(?:\s?[A-Z0-9]{4}){2,7}(?:\s?[A-Z0-9]{1,3})?(?!\w)")
_CARD = re.compile(r"(?<![\w.-])\d{4}([ -])\d{4}\1\d{4}\1\d{4}(?![\w-])")
_ENDING = re.compile(
    r"(?<!\w)(?:card|account|a/c)\s(?:number\s)?ending\s(?:in\s|with\s)?(\d{4})(?!\w)", re.IGNORECASE
)
_NUMBER = cued(
    r"IBAN|BIC|SWIFT(?:\scode)?|sort\scode|Kontonummer|Kontonr\.?|número\sde\scuenta|numéro\sde\scompte",
    r"account|acct\.?|a/c|claim|invoice|billing",
)


def find(text: str) -> Iterator[Span]:
    """Yield IBANs and cards by form, others by their word."""
    for found in _IBAN.finditer(text):
        digits = sum(letter.isdigit() for letter in found[0])
        if digits >= 10:
            yield span(found, KIND, LETTER, "[account number]", 0.98 if _checks(found[0]) else 0.7)
    yield from (span(found, KIND, LETTER, "[account number]", 0.8) for found in _CARD.finditer(text))
    for pattern in (_NUMBER, _ENDING):
        yield from (
            span(found, KIND, LETTER, "[account number]", 0.85, 1) for found in pattern.finditer(text)
        )


def _checks(number: str) -> bool:
    from stdnum.iso7064 import mod_97_10

    compact = number.replace(" ", "")
    return bool(mod_97_10.is_valid(compact[4:] + compact[:4]))
