"""E-mail addresses, also when the at sign is spelt out.

Source: RFC 5321 section 4.1.2 and RFC 5322 section 3.4.1 (local part, domain); example names RFC 2606.
https://www.rfc-editor.org/rfc/rfc5322
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "e-mail address"
LETTER = "F"
SOURCE = "RFC 5322 section 3.4.1"
EXAMPLES = (
    "k punkt quenby at gmx punkt example",
    "copie sophie point quenby arobase ch-quenbrune point example",
    "Write to theatre.lead@example.org today",
    "mail: k.o'quill+rota@ward-9.example.com.",
    "theatre.lead (at) example.org",
    "theatre.lead [at] example [dot] org",
    "list@trustmail",
    "a.b @ example.org",
    "a.b＠example.org",
    "a.b at example.org",
    "a.b[@]example.org",
    "a.b@192.0.2.4",
    "a.b AT example DOT org",
    'To: "labour.ward.lead" <lwl@example.org>',
)
NEAR_MISSES = (
    "dolor en el punto de McBurney",
    "at a point in theatre",
    "infusion @ 20 ml/h",
    "20 mg @ 09:30",
    "phaco power 40% @ 350 mmHg",
    "looked at the disc, dot haemorrhages were seen",
    "looked at disc dot haemorrhage",
    "flow 28 @ start. The rest",
    "held at 3.5 mm and at 20 mmHg",
)

_LOCAL = r"(?<![\w.+'’%&-])[\w.+'’%&-]++"
_DOMAIN = r"[\w-]++(?:\.[\w-]++)*"
_PLAIN = re.compile(rf"{_LOCAL}@(?=[^\W\d_]){_DOMAIN}")
_TOP = r"(?:com|org|net|edu|gov|uk|int|info|health|nhs|de|fr|es|eu|ie|nz|au|ca|in|example|test)"
_SPACED = re.compile(
    rf"{_LOCAL}\s?@\s?[a-z][\w-]*+(?:\.[a-z][\w-]*+)+|{_LOCAL}@\[?\d{{1,3}}(?:\.\d{{1,3}}){{3}}\]?",
    re.IGNORECASE,
)
_WORDS = re.compile(
    rf"(?<![\w.+-])(?:[\w+-]++[._][\w.+-]++\sat\s(?:[\w-]++\.)++{_TOP}|[\w.+-]++\sat\s[\w-]++(?:\sdot\s[\w-]++)*?\sdot\s{_TOP})(?!\w)",
    re.IGNORECASE,
)
_DOT = r"(?:dot|punkt|punto|point)"
_SAID = re.compile(
    rf"(?<![\w.+-])(?:[\w+-]++\s{_DOT}\s){{0,3}}[\w.+-]++\s(?:at|arobase|arroba|en)\s(?!(?:el|la|los|las|the|a|an|le|un|une)\s)[\w-]++(?:\.[\w-]++)*?(?:\s{_DOT}\s[\w-]++)*?\s{_DOT}\s{_TOP}(?!\w)",
    re.IGNORECASE,
)
"""As it is spoken: `quenby punkt m at klinik punkt example`."""
_SPELT = re.compile(
    r"(?<![\w.+-])[\w.+-]++\s?[\[({]\s?(?:at|@)\s?[\])}]\s?[\w-]++(?:\s?(?:\.|[\[({]\s?dot\s?[\])}])\s?[\w-]++)*",
    re.IGNORECASE,
)


_CALLED = re.compile(
    rf"(?:[\"“][^\"“”\n@<>]{{2,60}}[\"”]|(?<![\w.])\w++(?:[._]\w++)++)\s?<{_LOCAL}@(?=[^\W\d_]){_DOMAIN}>"
)
"""With what its owner is called before it: `"labour.ward.lead" <lwl@example.org>`."""


def find(text: str) -> Iterator[Span]:
    """Yield every address."""
    text = view(text)
    if "@" in text:
        yield from (span(found, KIND, LETTER, "[e-mail address]", 0.99) for found in _PLAIN.finditer(text))
        for pattern in (_SPACED, _CALLED):
            yield from (
                span(found, KIND, LETTER, "[e-mail address]", 0.9) for found in pattern.finditer(text)
            )
    for found in (*_SPELT.finditer(text), *_WORDS.finditer(text), *_SAID.finditer(text)):
        yield span(found, KIND, LETTER, "[e-mail address]", 0.8)
