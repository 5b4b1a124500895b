"""Make medical.txt: words of medicine that no list of names holds, for notes that have no capitals.

From the tabular list of ICD-10-CM (a work of the United States government, as the package simple_icd_10_cm bundles it),
the names of drugs in drug_named_entity_recognition (MIT), and the large lists of SCOWL (Debian packages wamerican-large
and wbritish-large) less what is made like a name. Run by hand where the two packages are installed:

python -m mmbuilder.scrub.keep.gather_medical american-english-large british-english-large
"""

from __future__ import annotations

import bz2
import importlib.util
import io
import pickle
import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from mmbuilder.scrub.keep.likeness import like_a_name
from mmbuilder.scrub.keep.lists import MEDICAL, VOCABULARY, load
from mmbuilder.scrub.keep.words import fold

SHORTEST = 4
SHORTEST_DRUG = 6
SHORTEST_RARE = 6
_WORD = re.compile(r"[^\W\d_]+")


class _Plain(pickle.Unpickler):
    """Reads plain values only."""

    def find_class(self, module: str, name: str) -> type:
        allowed: dict[str, type] = {"set": set, "frozenset": frozenset}
        if module != "builtins" or name not in allowed:
            raise pickle.UnpicklingError(f"{module}.{name} is no plain value")
        return allowed[name]


def folder(package: str) -> Path:
    """Where an installed package lies, which is not imported."""
    spec = importlib.util.find_spec(package)
    if spec is None or spec.origin is None:
        raise ModuleNotFoundError(package)
    return Path(spec.origin).parent


def classified() -> Iterator[str]:
    """Words in small letters of the titles and notes of the classification."""
    for path in (folder("simple_icd_10_cm") / "data").glob("*.xml"):
        source = re.sub(r"<introduction>.*?</introduction>", "", path.read_text("utf-8"), flags=re.DOTALL)
        for said in re.findall(r"<(?:desc|note)>([^<]+)</", source):
            yield from (word for word in _WORD.findall(said) if word.islower())


def drugs() -> Iterator[str]:
    """Words of the names of drugs."""
    packed = (folder("drug_named_entity_recognition") / "drug_ner_dictionary.pkl.bz2").read_bytes()
    listed = _Plain(io.BytesIO(bz2.decompress(packed))).load()
    told = listed["drug_canonical_to_data"]
    for name, known in told.items():
        yield from _long(name, SHORTEST_DRUG)
        if "medline_plus_id" in known or "nhs_url" in known:
            yield from _long(str(known.get("name", "")), SHORTEST_DRUG)
    for variant, canonical in listed["drug_variant_to_canonical"].items():
        if any(
            "medline_plus_id" in told[name] or "nhs_url" in told[name] for name in canonical if name in told
        ):
            yield from _long(variant, SHORTEST_DRUG)


def _long(said: str, least: int) -> Iterator[str]:
    yield from (word for word in _WORD.findall(said) if len(word) >= least)


def rare(paths: Iterable[str]) -> set[str]:
    """Words of the large lists that stand in neither with a capital and are not made like a name."""
    listed = [word for path in paths for word in Path(path).read_text("utf-8").split()]
    names = {fold(word) for word in listed if not word.islower()}
    return {
        fold(word)
        for word in listed
        if word.isalpha() and len(word) >= SHORTEST_RARE and not like_a_name(fold(word))
    } - names


def gathered(paths: Iterable[str]) -> set[str]:
    """Every word that is on no other list."""
    lists = load()
    others = lists.given | lists.family | lists.word_names | lists.eponym_words | set(lists.terms)
    others |= set(VOCABULARY.read_text("utf-8").split())
    found = (
        {fold(word) for word in classified() if len(word) >= SHORTEST}
        | {fold(w) for w in drugs()}
        | rare(paths)
    )
    return {word for word in found - others if word.isascii() and word.isalpha()}


if __name__ == "__main__":
    MEDICAL.write_text("\n".join(sorted(gathered(sys.argv[1:]))) + "\n", "utf-8")
