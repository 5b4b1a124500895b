"""Put into a tree of a file and take out of it without harm to the comments round about.

ruamel keeps a comment with what stands before it, also where it speaks of what follows: whatever is
taken out would take along the comment on its neighbour.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any


def put(mapping: Any, key: str, value: Any) -> None:
    """Set a key; a new one goes before the last, which holds the comments on what follows the mapping."""
    if key not in mapping:
        mapping.insert(max(1, len(mapping) - 1), key, value)
        return
    told = mapping.ca.items.pop(key, None)
    mapping[key] = value
    if _listed(value) and told and told[2] is not None:
        _end(value, told[2].value.partition("\n")[2])
    elif told:
        mapping.ca.items[key] = told


def take_out(holder: Any, key: Any) -> None:
    """Take an entry out of a list or mapping; the lines of comment after it stay."""
    text, keys = _after(holder, key), _keys(holder)
    place = keys.index(key)
    if not _listed(holder):
        del holder[key]
        if place:
            _append(holder, keys[place - 1], text)
        return
    if place == len(keys) - 1:
        text, holder.ca.end = text + _ending(holder), []
    del holder[key]
    if place == len(holder):
        _end(holder, text)
    else:  # what comes next moves up, with the lines before it
        told = holder.ca.items.setdefault(place, [None, None, None, None])
        told[1] = [*_lines(text), *(told[1] or [])]


def _after(holder: Any, key: Any) -> str:
    """Return the lines of comment and the empty lines after a value."""
    value = holder[key]
    text = _after(value, _keys(value)[-1]) if _block(value) else ""
    told = holder.ca.items.get(key)
    token = told[_slot(holder)] if told else None
    return text + _ending(value) + (token.value.partition("\n")[2] if token is not None else "")


def _append(holder: Any, key: Any, text: str) -> None:
    """Put lines after a value, behind those that stand there."""
    value = holder[key]
    if not text:
        return
    if _block(value) and _listed(value):
        _end(value, text)
    elif _block(value):
        _append(value, _keys(value)[-1], text)
    else:
        told = holder.ca.items.setdefault(key, [None, None, None, None])
        before = told[_slot(holder)]
        told[_slot(holder)] = _token((before.value if before is not None else "\n") + text)


def _end(listed: Any, text: str) -> None:
    if text:
        listed.ca.comment = listed.ca.comment or [None, None]  # else the end is not written
        listed.ca.end = [*(getattr(listed.ca, "end", None) or []), *_lines(text)]


def _ending(value: Any) -> str:
    tokens = (getattr(value.ca, "end", None) or []) if _listed(value) else []
    return "".join(" " * token.start_mark.column + token.value for token in tokens)


def _listed(value: Any) -> bool:
    return isinstance(value, list)


def _block(value: Any) -> bool:
    """Whether a value is a list or mapping over several lines."""
    style = getattr(value, "fa", None)
    return style is not None and bool(value) and not style.flow_style()


def _keys(holder: Any) -> list[Any]:
    return list(range(len(holder)) if _listed(holder) else holder)


def _slot(holder: Any) -> int:
    """Where ruamel keeps the comment after a value."""
    return 0 if _listed(holder) else 2


def _lines(text: str) -> Iterator[Any]:
    for line in text.splitlines():
        yield _token(line.lstrip() + "\n", len(line) - len(line.lstrip()))


def _token(text: str, column: int = 0) -> Any:
    from ruamel.yaml.error import CommentMark
    from ruamel.yaml.tokens import CommentToken

    return CommentToken(text, CommentMark(column), None)
