"""Bring the catalogues of fixed words up to date: `python -m tests.labels.gather`.

Words stand in calls of `wording` and `fill` in the code and of `wording` in the templates, and
in data: closed words, the lines of the uses, names and cautions of the figures of the clinic.
New words come into each catalogue untranslated, words that are gone leave it; the English
catalogue says each word as itself.
"""

from __future__ import annotations

import ast
import io
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from enum import StrEnum
from functools import cache
from pathlib import Path
from types import ModuleType

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

import mmbuilder
from mmbuilder import labels, packs, registry, uses
from mmbuilder.clinic import gather, work
from mmbuilder.clinic.severity import agreement
from mmbuilder.resources import templates
from mmbuilder.safe import terms
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.crossing.due import MONTHS
from mmbuilder.scrub.surrogates import BRACKETS, MEETING, OVER_89, PLACES, ROLES, YEARS
from mmbuilder.scrub.surrogates import MONTHS as MONTHS_BACK
from mmbuilder.uses.coverage import CHECKLISTS, checklist

PACKAGE = Path(mmbuilder.__file__).parent
FOLDER = PACKAGE / "labels"
CODE = (
    "safe",
    "analysis",
    "storyboard",
    "figures",
    "formats",
    "scrub/crossing",
    "casefile/rules",
    "clinic/measures",
    "scrub/layers.py",
    "scrub/memory.py",
)
CALLS = ("Answer", "wording", "fill", "say", "join")
_NO_DATE = datetime(2000, 1, 1, tzinfo=UTC)
"""The same words give the same bytes, whenever they are compiled."""

NUMBERS = ("0.5", "1,000")
"""How a language writes a half and a thousand."""


@cache
def words() -> dict[str, list[str]]:
    """Every fixed word, with the places it stands at, in the order of the places."""
    found: dict[str, list[str]] = {}
    for text, place in (*((one, "numbers") for one in NUMBERS), *_of_code(), *_of_templates(), *_of_data()):
        if text and worth_saying(text):
            places = found.setdefault(text, [])
            if place not in places:
                places.append(place)
    return found


UNITS = frozenset(("mmHg", "cmH", "kPa", "mmol", "µmol", "min", "mcg", "log", "logMAR", "ETDRS"))
"""Of three letters or more, among figures of the clinic; written alike in every language."""


def worth_saying(text: str) -> bool:
    """Whether a text has anything to translate: letters of its own, or how numbers are written.

    Among figures (`{n1} mL in swabs`) only a word does, and no unit.
    """
    bare = re.sub(r"\{\w*\}", "", text)
    if "{n1}" in text:
        return bool(set(labels.WORD.findall(bare)) - UNITS)
    return text in NUMBERS or re.search(r"[^\W\d_]", bare) is not None


def _of_code() -> Iterator[tuple[str, str]]:
    """Every literal that opens a call of ours, nested ones too; in the order of the lines."""
    for part in CODE:
        root = PACKAGE / part
        for path in sorted(root.rglob("*.py")) if root.is_dir() else [root]:
            nodes = ast.walk(ast.parse(path.read_text("utf-8")))
            calls = [node for node in nodes if isinstance(node, ast.Call) and node.args]
            for call in sorted(calls, key=lambda call: (call.lineno, call.col_offset)):
                name, first = getattr(call.func, "id", getattr(call.func, "attr", "")), call.args[0]
                if name in CALLS and isinstance(first, ast.Constant) and isinstance(first.value, str):
                    yield first.value, path.relative_to(PACKAGE).as_posix()


def _of_templates() -> Iterator[tuple[str, str]]:
    for path in sorted(templates().glob("*.j2")):
        for text in re.findall(r'wording\("([^"]+)"\)', path.read_text("utf-8")):
            yield text, path.name


def _of_data() -> Iterator[tuple[str, str]]:
    for name, kind in sorted(vars(terms).items()):
        if isinstance(kind, type) and issubclass(kind, StrEnum):
            yield from ((word.value, f"safe.terms.{name}") for word in kind)
    people = (form for role in ROLES for form in (role, f"the {role}"))
    things = (f"[{words}]" for words in BRACKETS)
    yield from (
        (words, "scrub/surrogates")
        for words in (OVER_89, *MEETING, *YEARS, *MONTHS_BACK, *people, *PLACES, *things)
    )
    yield from ((words, "scrub/crossing/due") for words in MONTHS)
    yield from ((words, "labels") for words in labels.BETWEEN)
    yield "letters", "clinic/visual_acuity"  # a label that is chosen by how the acuity was written
    for use in Use:
        yield uses.load(use).closing, f"uses/{use.value}"
        for paper in uses.load(use).papers:
            yield from ((text, f"uses/{use.value}") for text in (paper.name, paper.subtitle) if text)
    yield from ((why, "clinic/severity/agreement") for why in agreement.WHY.values())
    for name in CHECKLISTS:
        listed = checklist(name)
        yield from ((text, f"uses/checklists/{name}") for text in (listed.name, listed.source))
        for item in listed.items:
            yield from ((text, f"uses/checklists/{name}") for text in (item.item, item.topic, item.text))
    for pack in packs.every():
        yield pack.name, f"packs/{pack.name}"
        yield from ((one.source, f"packs/{pack.name}") for one in pack.references)
    for name, leaf in registry.discover("mmbuilder.clinic.measures", "NAME").items():
        yield from ((text, f"clinic/{name}") for text in (leaf.NAME, leaf.FORMULA, leaf.SOURCE, leaf.CAUTION))
        yield from ((one, f"clinic/{name}") for one in leaf.INPUTS)
        shapes = (shape for text in figured(leaf) for shape in labels.shapes(text))
        yield from ((shape, f"clinic/{name}") for shape in shapes if labels.WORD.search(shape))


def figured(leaf: ModuleType) -> Iterator[str]:
    """Every line of figures that the examples of a figure of the clinic come to."""
    for example in leaf.EXAMPLES:
        given = ((key, (told,) if isinstance(told, str) else told) for key, told in example.given.items())
        worked = work(leaf.NAME, gather((key, one) for key, several in given for one in several))
        yield from (*worked.steps, *worked.notes, *(told for _, told in worked.inputs))
        answers = (*worked.answers, *worked.disputed)
        yield from (told for answer in answers for told in (answer.label, answer.figure()))


def read(language: str) -> Catalog:
    """A catalogue as it stands in its file."""
    with (FOLDER / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language, charset="utf-8")


def brought_up(language: str) -> Catalog:
    """The catalogue of a language with all of today's words and no others."""
    old = read(language) if (FOLDER / f"{language}.po").exists() else Catalog(locale=language)
    new = Catalog(locale=language, project="mmbuilder", charset="utf-8", fuzzy=False)
    new.creation_date = new.revision_date = _NO_DATE
    for text, places in words().items():
        before = old.get(text)
        said = text if language == "en" else (before.string if before else "")
        new.add(text, said, locations=[(place, None) for place in places])
    return new


def po(catalogue: Catalog) -> bytes:
    """The catalogue as people edit it; without dates, so that the same words give the same bytes."""
    body = io.BytesIO()
    write_po(body, catalogue, omit_header=True, width=100)
    head = (
        f'msgid ""\nmsgstr ""\n"Language: {catalogue.locale}\\n"\n'
        '"MIME-Version: 1.0\\n"\n"Content-Type: text/plain; charset=utf-8\\n"\n"Content-Transfer-Encoding: 8bit\\n"\n\n'
    )
    return head.encode() + body.getvalue()


def mo(catalogue: Catalog) -> bytes:
    """The catalogue as it is read at run time."""
    body = io.BytesIO()
    write_mo(body, catalogue)
    return body.getvalue()


def main() -> None:
    """Write every catalogue anew."""
    for language in sorted({"en", *(path.stem for path in FOLDER.glob("*.po"))}):
        catalogue = brought_up(language)
        (FOLDER / f"{language}.po").write_bytes(po(catalogue))
        (FOLDER / f"{language}.mo").write_bytes(mo(catalogue))
        waiting = sum(1 for one in catalogue if one.id and not one.string)
        print(f"{language}: {len(catalogue)} words, {waiting} without a translation")  # noqa: T201


if __name__ == "__main__":
    main()
