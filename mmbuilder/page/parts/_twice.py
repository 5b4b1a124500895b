"""People who may stand on the private list twice: under their name, and under a part or the initials of it.

Two entries of one role become `surgeon A` and `surgeon B`; only the author knows whether they are one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import Any

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.fold import folded, words_of
from mmbuilder.scrub.variants import person, untitled

_VAGUE = "colleague"
"""A role that says too little to make two people of two entries."""

_CALLED = 3
"""Letters of the shortest name that somebody is called by who has a longer one."""


@dataclass(frozen=True)
class Twice:
    """Two entries that may be one person: the shorter is a form of the longer.

    Attributes:
        shorter, longer: as they were typed.
    """

    shorter: str
    longer: str
    role: str

    @property
    def told(self) -> str:
        """Names the pair, where it is kept in mind that they are two."""
        return f"{folded(self.shorter)} | {folded(self.longer)}"


def twice(declared: Any, apart: Sequence[str]) -> Iterator[Twice]:
    """Yield every pair of one role that may be one person, and that nobody has said to be two.

    Args:
        declared: the private list as typed.
        apart: what `Twice.told` names of those that are two.
    """
    people = declared.get("people") if isinstance(declared, dict) else None
    listed = [one for one in people if isinstance(one, dict)] if isinstance(people, list) else []
    named = [(str(one.get("name") or ""), str(one.get("role") or "")) for one in listed]
    for (shorter, role), (longer, other) in permutations(named, 2):
        pair = Twice(shorter, longer, role)
        if role in (other, _VAGUE) and _is_form(shorter, longer) and pair.told not in apart:
            yield pair


def join(declared: Any, shorter: str, longer: str) -> None:
    """Make two entries one: the shorter becomes another form of the longer.

    Raises:
        FileRefused: one of them is not there any more.
    """
    people = declared.get("people") if isinstance(declared, dict) else None
    listed = people if isinstance(people, list) else []
    by_name = {one.get("name"): one for one in listed if isinstance(one, dict)}
    if shorter not in by_name or longer not in by_name or shorter == longer:
        raise FileRefused("these are not on the private list any more; load the page again")
    stays, goes = by_name[longer], by_name[shorter]
    stays["also"] = [*_forms(stays), shorter, *_forms(goes)]
    listed.remove(goes)


def fits(declared: Any, words: str) -> list[str]:
    """Return the people of the list whom words may name: a part, the initials, or a title and one letter."""
    people = declared.get("people") if isinstance(declared, dict) else None
    listed = people if isinstance(people, list) else []
    names = [str(one.get("name") or "") for one in listed if isinstance(one, dict)]
    return [name for name in names if name and _is_form(words, name)]


def add_form(declared: Any, words: str, name: str) -> None:
    """Write words as another form of somebody on the list.

    Raises:
        FileRefused: that name is not there any more.
    """
    people = declared.get("people") if isinstance(declared, dict) else None
    listed = people if isinstance(people, list) else []
    one = next((one for one in listed if isinstance(one, dict) and one.get("name") == name), None)
    if one is None:
        raise FileRefused("this name is not on the private list any more; load the page again")
    if words not in _forms(one):
        one["also"] = [*_forms(one), words]


def _forms(one: Any) -> list[Any]:
    also = one.get("also")
    return also if isinstance(also, list) else [also] if also else []


def _is_form(shorter: str, longer: str) -> bool:
    own, whole = words_of(untitled(shorter)), words_of(untitled(longer))
    if not own or own == whole or len("".join(own)) > len("".join(whole)):
        return False
    if any(form.words == own for form in person(longer)):
        return True
    if len(own) == 1 and len(own[0]) >= _CALLED and whole[0].startswith(own[0]):
        return True  # Marjo, of Marjolijn
    if len(own) == 1 and len(own[0]) == 1 and untitled(shorter) != shorter:  # Mr D
        return len(whole) > 1 and whole[-1].startswith(own[0])
    letters, initials = "".join(own), "".join(piece[0] for piece in whole)
    spelt = all(len(piece) == 1 for piece in own) or untitled(shorter).isupper()
    return spelt and len(letters) > 1 and initials.endswith(letters)  # P-V, of a surname in two halves
