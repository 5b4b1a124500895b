"""What a field may be chosen from: closed words, and what the case itself holds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from pathlib import Path as Folder

from mmbuilder.case.freetext import Path
from mmbuilder.case.freetext import plain as spaced
from mmbuilder.case.tidy import tidy
from mmbuilder.page.form.in_time import places
from mmbuilder.page.form.nodes import Tree
from mmbuilder.safe.terms import GRADES, Scale

Choice = tuple[str, str]
"""A value as it is written in the file, and what it is told by."""

NEW_NAME = "@"
"""Before the number of an entry that has no short name yet: choosing it gives it one."""

NAMED: dict[str, Path] = {
    "events": ("timeline", "events"),
    "frames": ("frames",),
    "actions": ("actions",),
}
"""Lists whose entries are pointed to by short names, by the kind of choice."""
OF_THE_CASE = frozenset({*NAMED, "clocks", "phases", "options", "pictures", "readings"})
"""Choices that a case itself holds: no example of one is true of another case."""
_MOST_UNNAMED = 60
_LONGEST = 60

ELSEWHERE = {"options": "", **dict.fromkeys(("grades", "treatments", "symptoms"), " (not of this scale)")}
"""What is said of a value that is not among its choices, where it is not that the case does not hold it."""

OPEN = frozenset({"usual phases", "figures", "logs"})
"""Choices that are only offered: any other words may be written too."""


def choices(kind: str, values: dict[str, Tree], path: Path, root: Folder) -> list[Choice]:
    """Return what a field may be chosen from.

    Args:
        kind: as `words.yaml` has it.
        values: of the file.
        path: of the field.
        root: the case folder.
    """
    return list(_KINDS[kind](values, path, root))


def entry(values: Tree | None, path: Path) -> Tree | None:
    """Return the value at a path; one entry may stand for a list of one."""
    node = values
    for step in path:
        if isinstance(node, dict) and isinstance(step, str):
            node = node.get(step)
        elif isinstance(node, list) and isinstance(step, int):
            node = node[step] if 0 <= step < len(node) else None
        elif step != 0:
            return None
    return node


def entries(values: Tree | None, *path: str | int) -> list[dict[str, Tree]]:
    """Return the entries of a list that have keys."""
    found = entry(values, path)
    listed = found if isinstance(found, list) else [found]
    return [one for one in listed if isinstance(one, dict)]


def word(values: Tree | None, *path: str | int) -> str:
    """Return the text at a path, or nothing."""
    found = entry(values, path)
    return found if isinstance(found, str) else ""


def listed(values: Tree | None, *path: str | int) -> list[str]:
    """Return the texts of a list; one text may stand for a list of one."""
    found = entry(values, path)
    return [one for one in (found if isinstance(found, list) else [found]) if isinstance(one, str) and one]


ANSWERS = "answers"
"""The causes that an action answers: asked as if a key of it. In the case each cause names its actions."""


def answered(values: dict[str, Tree], action: Path) -> list[str]:
    """Return the causes that an action answers, each as it is chosen."""
    name = word(values, *action, "id")
    causes = enumerate(entries(values, "factors"))
    return [f"{NEW_NAME}{at}" for at, one in causes if name and name in listed(one, "actions")]


def _causes(values: dict[str, Tree], *_: object) -> Iterator[Choice]:
    for at, one in enumerate(entries(values, "factors")):
        told = " · ".join(filter(None, (word(one, "row"), word(one, "what"))))
        yield f"{NEW_NAME}{at}", _cut(told)


def _named(*path: str, told: tuple[str, ...] = ()) -> Callable[..., Iterator[Choice]]:
    def offered(values: dict[str, Tree], _: Path, __: Folder) -> Iterator[Choice]:
        found: dict[str, str] = {}  # a name that stands twice is told as a fault, and offered once
        for one in entries(values, *path):
            if name := word(one, "name"):
                words = " · ".join(filter(None, [name, *(word(one, also) for also in told)]))
                found.setdefault(name, _cut(words))
        yield from found.items()

    return offered


def _pointed_to(kind: str, called: str, *keys: str) -> Callable[..., Iterator[Choice]]:
    def listed(values: dict[str, Tree], _: Path, __: Folder) -> Iterator[Choice]:
        found = entries(values, *NAMED[kind])
        for at in places(found, values) if kind == "events" else range(len(found)):
            one = found[at]
            told = " · ".join(filter(None, (next(filter(None, _words(one, key)), "") for key in keys)))
            if name := word(one, "id"):
                yield name, _cut(f"{name} · {told}")
            elif at < _MOST_UNNAMED:
                yield f"{NEW_NAME}{at}", _cut(f"{called} {at + 1} · {told}")

    return listed


def _words(one: dict[str, Tree], keys: str) -> Iterator[str]:
    """The words of an entry under each of several keys: `label/what`."""
    return (word(one, key) for key in keys.split("/"))


def _options(values: dict[str, Tree], path: Path, root: Folder) -> Iterator[Choice]:
    now = word(values, *path)
    for at, one in enumerate(entries(values, *path[:-1], "options"), 1):
        option = word(one, "option")
        yield option if option and option == now else str(at), _cut(f"{at}. {option}")


def _grades(values: dict[str, Tree], path: Path, root: Folder) -> Iterator[Choice]:
    scale = tidy(word(values, *path[:-1], "scale"))
    found = next((one for one in Scale if tidy(one.value) == scale), None)
    for grade in GRADES[found] if found else ():
        yield grade, grade


def _treatments(values: dict[str, Tree], path: Path, root: Folder) -> Iterator[Choice]:
    from mmbuilder.clinic.severity import classintra, clavien_dindo

    known: dict[str, Iterable[str]] = {
        tidy(Scale.CLAVIEN_DINDO.value): clavien_dindo.TREATMENTS,
        tidy(Scale.CLASSINTRA.value): classintra.TREATMENT,
    }
    yield from _spelled(known.get(tidy(word(values, *path[:-1], "scale")), ()), entry(values, path))


def _symptoms(values: dict[str, Tree], path: Path, root: Folder) -> Iterator[Choice]:
    from mmbuilder.clinic.severity.classintra import SYMPTOMS

    of_scale = tidy(word(values, *path[:-1], "scale")) == tidy(Scale.CLASSINTRA.value)
    yield from _spelled(SYMPTOMS if of_scale else (), entry(values, path))


def _spelled(known: Iterable[str], typed: Tree | None) -> Iterator[Choice]:
    """Words of a scale, each spelled as it stands in the case."""
    there = typed if isinstance(typed, list) else [typed]
    spelled = {spaced(one): one for one in there if isinstance(one, str)}
    return ((spelled.get(one, one), "none was needed" if one == "none" else one) for one in known)


def _in_folder(place: str, *endings: str) -> Callable[..., Iterator[Choice]]:
    def listed(_: dict[str, Tree], __: Path, root: Folder) -> Iterator[Choice]:
        folder = root / place if place else root
        for one in sorted(folder.iterdir()) if folder.is_dir() else ():
            if one.is_file() and one.name[0] != "." and (not endings or one.suffix.lower() in endings):
                name = f"{place}/{one.name}" if place else one.name
                yield name, one.name

    return listed


def _specialties(*_: object) -> Iterator[Choice]:
    from mmbuilder.packs.schema import specialties

    return ((name, name) for name in specialties())


def _languages(*_: object) -> Iterator[Choice]:
    from mmbuilder.labels import languages

    return ((name, {"en": "en, English", "de": "de, German"}.get(name, name)) for name in languages())


def _usual_phases(values: dict[str, Tree], _: Path, __: Folder) -> Iterator[Choice]:
    from mmbuilder.errors import PackInvalid
    from mmbuilder.packs.schema import load

    try:
        pack = load(word(values, "specialty"))
    except PackInvalid:
        return iter(())
    return ((str(phase), str(phase)) for phase in pack.phases)


@cache
def _figure_names() -> tuple[Choice, ...]:
    from mmbuilder import registry

    found = registry.discover("mmbuilder.clinic.measures", "NAME").values()
    return tuple((leaf.NAME, leaf.NAME) for leaf in found)


_KINDS: dict[str, Callable[..., Iterator[Choice]]] = {
    "events": _pointed_to("events", "event", "when", "clock", "label/what"),
    "causes": _causes,
    "frames": _pointed_to("frames", "picture", "shows"),
    "actions": _pointed_to("actions", "action", "what"),
    "clocks": _named("clocks", told=("kind",)),
    "phases": _named("timeline", "phases"),
    "options": _options,
    "grades": _grades,
    "treatments": _treatments,
    "symptoms": _symptoms,
    "pictures": _in_folder("images"),
    "readings": _in_folder("readings", ".csv"),
    "logs": _in_folder("", ".csv", ".xlsx"),
    "specialties": _specialties,
    "languages": _languages,
    "usual phases": _usual_phases,
    "figures": lambda *_: iter(_figure_names()),
}


def _cut(words: str) -> str:
    return words if len(words) <= _LONGEST else words[: _LONGEST - 1].rstrip() + "…"
