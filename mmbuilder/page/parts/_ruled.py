"""Decisions about words as `decisions.yaml` holds them: a later one stands in place of an earlier one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from mmbuilder.case.decided import Ruling
from mmbuilder.case.freetext import plain

NO_NAME = "a word, not a name"


def take(tree: Any, entries: Iterable[dict[str, str]]) -> None:
    """Take decisions into the file, each in place of what was decided about the same words."""
    listed = tree.get("findings") or []
    for entry in entries:
        listed = [one for one in listed if not same(one, entry["words"], entry.get("only in", ""))]
        listed.append(entry)
    tree["findings"] = listed


def same(one: Any, words: str, only_in: str) -> bool:
    """Whether a decision is about these words, in the same text or everywhere."""
    return plain(str(one["words"])) == plain(words) and one.get("only in", "") == only_in


def left_in(words: str, why: str) -> dict[str, str]:
    """Return the decision that words stay, everywhere."""
    return {"words": words, "ruling": Ruling.KEEP.value, "why": why}


def staying(tree: Any) -> Iterator[str]:
    """Yield the words that were decided to stay everywhere."""
    for one in tree.get("findings") or []:
        if one.get("ruling") == Ruling.KEEP.value and not one.get("only in"):
            yield str(one["words"])
