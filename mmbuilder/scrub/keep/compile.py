"""Make compiled.json from the lists in sources/, and from gathered.txt.

Run after changing one:

python -m mmbuilder.scrub.keep.compile
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

from mmbuilder.scrub.keep.lists import NAMES
from mmbuilder.scrub.keep.words import phrase

SOURCES = Path(__file__).parent / "sources"
COMPILED = Path(__file__).parent / "compiled.json"
GATHERED = Path(__file__).parent / "gathered.txt"
"""More of some lists, from public ones: `gather_named` says from which."""

TERMS = (
    "drugs",
    "organisms",
    "anatomy",
    "findings",
    "devices",
    "products",
    "brands",
    "phrases",
    "units",
    "months_and_days",
    "word_names",
    "general_words",
    "abbreviations",
    "abroad",
)
WORDS = (
    "heads",
    "unlisted_heads",
    "titles",
    "plural_titles",
    "roles",
    "verbs_before",
    "passives",
    "verbs_after",
    "suffixes",
    "endings_abroad",
    "particles",
    "joins",
    "articles",
    "auxiliaries",
    "after_possessive",
    "month_before",
    "shared",
    "surnames",
    "doubles",
    "hindi",
    "hindi_names",
)


def lines(path: Path) -> Iterator[str]:
    """Lines that are no comment."""
    yield from (line for line in path.read_text("utf-8").splitlines() if line.strip() and line[0] != "#")


def terms(name: str) -> list[str]:
    """Terms of one list, folded, sorted, each once."""
    return sorted((own_terms(name) | taken_from(name)) - {""})


def own_terms(name: str) -> set[str]:
    """Terms of one list that were chosen by hand, folded."""
    return {phrase(term) for line in lines(SOURCES / f"{name}.txt") for term in line.split(",")}


def taken_from(name: str) -> set[str]:
    """Terms of one list that come from public ones, folded."""
    rows = dict(row.split(": ", 1) for row in lines(GATHERED))
    return set(rows[name].split(", ")) if name in rows else set()


SPELT_ABROAD = 7
"""Letters of the shortest drug that is spelt for other languages too."""
_ENDINGS_ABROAD = (
    (r"e$", ""),  # Furosemid, omeprazol
    (r"e$", "a"),  # furosemida
    (r"(?<=azol)e$", "o"),
    (r"ate$", "at"),
    (r"ate$", "ato"),
    (r"(?<=[iao]n)$", "a"),  # heparina
    (r"(?<=[iao]n)$", "e"),  # héparine
    (r"(?<=l)$", "o"),
    (r"yl$", "ilo"),
)
_LETTERS_ABROAD = (("ph", "f"), ("th", "t"), ("y", "i"), ("ll", "l"), ("mm", "m"), ("x", "ss"), ("ch", "c"))


def spelt_abroad(drug: str) -> set[str]:
    """One drug as German, Romance and Nordic languages end and spell its international name: `ceftriaxona`, `morfina`."""
    ended = {re.sub(end, put, drug) for end, put in _ENDINGS_ABROAD}
    plainly = set(ended)
    for letters, put in _LETTERS_ABROAD:
        plainly |= {form.replace(letters, put) for form in plainly}
    return plainly | {re.sub(r"c(?=[aoulrt])", "k", form) for form in ended}


def drugs() -> list[str]:
    """Drugs, those of one word also as they are spelt abroad, but for what is somebody's name."""
    listed = terms("drugs")
    names = set(NAMES.read_text("utf-8").split())
    named = [
        drug for drug in own_terms("drugs") if drug.isascii() and drug.isalpha() and len(drug) >= SPELT_ABROAD
    ]
    return sorted({*listed, *({form for drug in named for form in spelt_abroad(drug)} - names)})


def eponyms() -> tuple[dict[str, list[str]], list[str]]:
    """Nouns of every eponym, and the eponyms that are said alone for the thing."""
    nouns: dict[str, set[str]] = {}
    alone = set()
    for path in sorted((SOURCES / "eponyms").glob("*.txt")):
        for line in lines(path):
            named, _, its = line.partition(":")
            for name in named.split(","):
                plain = phrase(name)
                nouns.setdefault(plain, set()).update(phrase(noun) for noun in its.split(",") if noun)
                if name.startswith("*"):
                    alone.add(plain)
    return {name: sorted(its) for name, its in sorted(nouns.items())}, sorted(alone)


def compiled() -> str:
    """Everything, as one line of JSON a class."""
    nouns, alone = eponyms()
    kept: dict[str, object] = {"eponyms": nouns, "alone": alone}
    kept |= {name: terms(name) for name in (*TERMS, *WORDS)}
    kept["drugs"] = drugs()
    kept["vocabulary"] = sorted(taken_from("vocabulary"))
    rows = (f"{json.dumps(name)}: {json.dumps(value, ensure_ascii=False)}" for name, value in kept.items())
    return "{\n" + ",\n".join(rows) + "\n}\n"


if __name__ == "__main__":
    COMPILED.write_text(compiled(), "utf-8")
