"""Where a text cites what is printed: a journal's year, volume and pages, a DOI. Its dates and numbers are public.

Source: ICMJE Recommendations, samples of formatted references (NLM style). https://www.nlm.nih.gov/bsd/uniform_requirements.html
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from mmbuilder.scrub.plan import Span

_MAY_CITE = re.compile(r"\d;\s?\d|doi|pmid|accessed|cited|epub", re.IGNORECASE)
_CITED = re.compile(
    r"(?<!\w)(?:19|20)\d\d(?:\s[A-Z][a-z]{2,8}(?:[-/][A-Z][a-z]{2,8})?\.?(?:\s\d{1,2})?)?\s?;\s?\d{1,4}(?:\s?\([^)\n]{1,20}\))?(?:\s?:\s?[\w.-]{1,20}(?:[-–]\w{1,10})?)?"
    r"|(?:https?://(?:dx\.)?doi\.org/|doi[:\s]{1,2})10\.\d{4,9}/\S{1,80}"
    r"|PMID:?\s?\d{1,8}|PMC\d{4,9}"
    r"|(?:accessed|cited|epub)\s(?:online\s|ahead\sof\sprint\s|on\s)?(?:\d{4}\s[A-Z][a-z]{2,8}(?:\s\d{1,2})?|\d{1,2}\s[A-Z][a-z]{2,8}\s\d{4})",
    re.IGNORECASE,
)


def outside(text: str, found: Iterable[Span]) -> Iterator[Span]:
    """Yield the findings that do not lie in a citation."""
    found = list(found)
    if not found or not _MAY_CITE.search(text):
        yield from found
        return
    cited = [citation.span() for citation in _CITED.finditer(text)]
    yield from (
        span for span in found if not any(start <= span.start and span.end <= end for start, end in cited)
    )
