"""Make names.txt from the lists of names in Faker, a general library that invents people.

Run by hand, where Faker is installed (it is no dependency):

python -m mmbuilder.scrub.keep.gather_names
"""

from __future__ import annotations

import importlib
import pkgutil
import re
import unicodedata
from collections.abc import Iterator

from mmbuilder.scrub.keep.lists import NAMES
from mmbuilder.scrub.keep.words import fold

SHORTEST = 3


def gathered(kind: str) -> set[str]:
    """Names of all languages in Latin letters, folded; `kind` is `first_name` or `last_name`."""
    person = importlib.import_module("faker.providers.person")

    found: set[str] = set()
    for language in pkgutil.iter_modules(person.__path__):
        provider = importlib.import_module(f"{person.__name__}.{language.name}").Provider
        for attribute in dir(provider):
            if attribute.startswith(kind):
                found.update(_words(getattr(provider, attribute)))
    return found


def _words(listed: object) -> Iterator[str]:
    if not isinstance(listed, (dict, list, tuple)):
        return
    for entry in listed:
        said = entry[0] if isinstance(entry, tuple) else entry
        for word in re.split(r"[\s'-]+", str(said)):
            if len(word) >= SHORTEST and all(_latin(letter) for letter in word):
                yield fold(word)


def _latin(letter: str) -> bool:
    return unicodedata.name(letter, "").startswith("LATIN")


if __name__ == "__main__":
    rows = (" ".join(sorted(gathered(kind))) for kind in ("first_name", "last_name"))
    NAMES.write_text("\n".join(rows) + "\n", "utf-8")
