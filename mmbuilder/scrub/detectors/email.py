"""E-mail addresses, also when the at sign is spelt out.

Source: RFC 5321 section 4.1.2 and RFC 5322 section 3.4.1 (local part, domain); example names RFC 2606.
https://www.rfc-editor.org/rfc/rfc5322
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "e-mail address"
LETTER = "F"
SOURCE = "RFC 5322 section 3.4.1"
EXAMPLES = (
    "Write to theatre.lead@example.org today",
    "mail: k.o'quill+rota@ward-9.example.com.",
    "theatre.lead (at) example.org",
    "theatre.lead [at] example [dot] org",
    "list@trustmail",
)
NEAR_MISSES = (
    "infusion @ 20 ml/h",
    "20 mg @ 09:30",
    "phaco power 40% @ 350 mmHg",
    "looked at the disc, dot haemorrhages were seen",
)

_LOCAL = r"(?<![\w.+'’%&-])[\w.+'’%&-]++"
_DOMAIN = r"[\w-]++(?:\.[\w-]++)*"
_PLAIN = re.compile(rf"{_LOCAL}@(?=[^\W\d_]){_DOMAIN}")
_SPELT = re.compile(
    r"(?<![\w.+-])[\w.+-]++\s?[\[({]\s?at\s?[\])}]\s?[\w-]++(?:\s?(?:\.|[\[({]\s?dot\s?[\])}])\s?[\w-]++)*",
    re.IGNORECASE,
)


def find(text: str) -> Iterator[Span]:
    """Yield every address."""
    if "@" in text:
        yield from (span(found, KIND, LETTER, "[e-mail address]", 0.99) for found in _PLAIN.finditer(text))
    for found in _SPELT.finditer(text):
        yield span(found, KIND, LETTER, "[e-mail address]", 0.8)
