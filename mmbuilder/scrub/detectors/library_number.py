"""National numbers of every country that the number library knows, found in the library and not listed here.

The names of its modules are the cue words (`pesel`, `curp`, `hetu` ...). A module counts if its own description
speaks of a person, citizen, identity, birth, residence or social security; its file is read once its name was met.
All are loaded only for a number whose form no measure has. A right check digit confirms; after a cue word a
mistyped number goes too.

Source: python-stdnum, each module citing its issuer. https://arthurdejong.org/python-stdnum/
"""

from __future__ import annotations

import pkgutil
import re
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from types import ModuleType

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "national number"
LETTER = "G"
SOURCE = "python-stdnum, modules for numbers of persons"
EXAMPLES = (
    "PESEL 44051401359",
    "CURP BOXW310820HNERXN09",
    "HETU 131052-308T",
    "codice fiscale RSSMRA85T10A562S",
    "CPF 390.533.447-05",
    "DNI: 12345678Z",
    "numéro de sécurité sociale 2 95 10 99 126 111 93",
    "BOXW310820HNERXN09 on the card",
    "TCKimlik 17291716060",
    "RUT 12.531.909-2",
    "CNIC 34201-0891231-8",
    "Steuer-ID 36 574 261 809",
)
NEAR_MISSES = (
    "pressures 120-80-60 and 130-85-70",
    "CPR 1430-1445",
    "PIN of the fracture",
    "NIE 3 and CI 4.5",
    "CI 95% 1.20-3.45",
    "2.5-3.5-4.5 mm sizes",
    "TIN 12",
    "CC 1000 ml",
    "RR 16 and RC 4",
    "SSN form",
)

_PERSON = re.compile(
    r"person|citizen|identit|birth|resident|social\s(?:security|insurance)|individual|foreigner|patient|health\snumber|national\sident|tax\sfile",
    re.IGNORECASE,
)
_COMPANY = re.compile(
    r"company|compan|business|VAT|bank|postal|postcode|enterprise|organi[sz]ation|student|receipt|meter|Vehicle|tax\sservice|corporate|legal",
    re.IGNORECASE,
)
_MORE = {
    "es": ("documento nacional", "número de afiliación", "cédula"), "de": ("steuer-id", "steuer-idnr", "sozialversicherungsnummer", "personalausweis"),
    "fr": ("numéro de sécurité sociale", "n° de sécurité sociale", "carte d'identité", "nir"), "it": ("codice fiscale",), "en": ("id number", "identity number", "national id", "id card"),
}  # fmt: skip
"""Cue words that no module is named after."""

_SHORT = word_set("nn ni cc ci cr rc ik in_ in pin tin vid nid bis uid cpr mf eid tn moa pan ric nit")
"""Names that are also clinical abbreviations or words: they need "number", "no" or a colon after them."""

_VALUE = r"[A-Z0-9](?:[ ./-]?[A-Z0-9+]){6,24}"
_WHOLE = re.compile(
    rf"(?<![\w.,/+-])(?=[A-Z0-9./+-]{{0,12}}\d)(?=[A-Z0-9./+-]*[A-Z./+-])[A-Z0-9](?:[./+-]?[A-Z0-9]){{8,20}}(?![\w/+-]|[.,]\d){NOT_MEASURED}"
)


_SIX_FIGURES = re.compile(r"\d(?:[ A-Z./+-]{0,4}\d){5}")
"""No number of a person has fewer figures: without six, nothing is loaded or built."""


def find(text: str) -> Iterator[Span]:
    """Yield numbers after a cue word, then those by form that some country's check confirms."""
    if not _SIX_FIGURES.search(text):
        return
    for found in _cued().finditer(text):
        value = _trimmed(found["value"])
        if sum(sign.isdigit() for sign in value) >= 6 and (asked := _meant(found["cue"])) is not None:
            start = found.start("value")
            sure = any(_valid(module, value) for module in map(_loaded, asked))
            yield Span(start, start + len(value), KIND, LETTER, "[national number]", 0.97 if sure else 0.85)
    for found in _WHOLE.finditer(text):
        figures = sum(sign.isdigit() for sign in found[0])
        if figures >= (7 if any(sign.isalpha() for sign in found[0]) else 10) and any(
            _valid(module, found[0]) and not _lax(module) for module in persons()
        ):
            yield span(found, KIND, LETTER, "[national number]", 0.6)


def _meant(cue: str) -> tuple[str, ...] | None:
    """The modules a cue word stands for; none for other words, and None where it numbers no person."""
    leaf = cue.lower()
    named = [name for name in _names() if name.partition(".")[2].rstrip("_") == leaf]
    persons_ = tuple(name for name in named if _of_person(name))
    return None if named and not persons_ else persons_


def _trimmed(value: str) -> str:
    """The number without words in capitals after it."""
    return re.split(r" (?=[A-Z]{2,}(?: |$))", value)[0]


@cache
def _names() -> tuple[str, ...]:
    """Names of all modules by country, from the library's folder, none of them loaded."""
    root = _root()
    countries = sorted(path for path in root.iterdir() if (path / "__init__.py").is_file())
    return tuple(
        f"{country.name}.{item.name}"
        for country in countries
        for item in pkgutil.iter_modules([str(country)])
    )


@cache
def _cued() -> re.Pattern[str]:
    """Cue words with the number that follows: names of modules, and words no module bears."""
    leaves = sorted({name.partition(".")[2] for name in _names()})
    strong = [re.escape(leaf) for leaf in leaves if leaf not in _SHORT and len(leaf) > 2 and leaf != "nhs"]
    strong += [re.escape(word) for words in _MORE.values() for word in words]
    weak = [re.escape(leaf.rstrip("_")) for leaf in leaves if leaf in _SHORT or len(leaf) <= 2]
    number = r"(?:\s?(?:no|nr|number|num|n[°º])\b\.?)"
    link = r"(?:\s(?:is|was))?\s?[:=#]?\s{0,2}"
    return re.compile(
        rf"(?<![^\W_])(?i:(?P<cue>{'|'.join(strong)}|(?:{'|'.join(weak)})(?={number}|\s?:)))"
        rf"(?i:{number}?{link})(?P<value>{_VALUE})(?!\w)"
    )


@cache
def _root() -> Path:
    spec = find_spec("stdnum")
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError("stdnum")
    return Path(next(iter(spec.submodule_search_locations)))


@cache
def _of_person(name: str) -> bool:
    """Whether the description in a module's file speaks of a person; the file is read as text, not loaded."""
    source = (_root() / (name.replace(".", "/") + ".py")).read_text("utf-8", "replace")
    told = re.search(r'"""(.*?)(?:\n\n.*?\n\n|""")', source, re.DOTALL)
    first = told[1].split("\n")[0] if told else ""
    return bool(_PERSON.search(told[0] if told else "")) and not _COMPANY.search(first)


@cache
def _loaded(name: str) -> ModuleType:
    return import_module(f"stdnum.{name}")


@cache
def persons() -> tuple[ModuleType, ...]:
    """The modules for numbers of persons, loaded."""
    loaded = (_loaded(name) for name in _names() if _of_person(name))
    return tuple(module for module in loaded if hasattr(module, "is_valid"))


@cache
def _lax(module: ModuleType) -> bool:
    """Whether a module takes one in three of some plain figures for right: its word is worth nothing."""
    tried = [
        f"{size * 7919 % 10**length:0{length}d}" for length in (8, 9, 10, 11, 12, 13) for size in range(3, 33)
    ]
    accepted: dict[int, int] = {}
    for number in tried:
        accepted[len(number)] = accepted.get(len(number), 0) + bool(module.is_valid(number))
    return max(accepted.values()) > 10


def _valid(module: ModuleType, number: str) -> bool:
    return bool(module.is_valid(number))
