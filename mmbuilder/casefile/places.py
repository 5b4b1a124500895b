"""Where something stands, in words: `event 3`, `option 2 of decision 1`; never a path with brackets."""

from __future__ import annotations

from mmbuilder.case.freetext import Path

_ONE = {
    "events": "event",
    "phases": "phase",
    "clocks": "clock",
    "frames": "frame",
    "decisions": "decision",
    "options": "option",
    "readings": "readings file",
    "lines": "line",
    "gaps": "gap",
    "grades": "grade",
    "visits": "visit",
    "measures": "measure",
    "factors": "factor",
    "held": "what held, entry",
    "actions": "action",
    "questions": "question",
    "arrows": "arrow",
    "circles": "circle",
    "cover": "covered part",
    "keep": "kept part",
    "also": "other record",
    "people": "person",
    "places": "place",
    "numbers": "number",
    "previous actions": "previous actions, row",
}


def place(path: Path) -> str:
    """Return words for a part or value: the innermost first, positions from 1; empty for the whole file."""
    words: list[str] = []
    for step in path:
        if isinstance(step, int):
            listed = words.pop() if words else "entry"
            words.append(f"{_ONE.get(listed, f'{listed}, entry')} {step + 1}")
        elif step != "timeline" or len(path) == 1:
            words.append(step)
    return " of ".join(reversed([f"`{word}`" if word in path else word for word in words]))


def ordinal(number: int) -> str:
    """Return 1st, 2nd, 3rd, 4th, 11th, 21st ..."""
    suffix = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{suffix}"
