"""Change one value, or one entry of a list, in the text of a case file, and nothing else in it.

    put(text, model, path, value)     set a value; what it stands in is made where it is not there
    take(text, path)                  remove a value, and what would be left empty by that
    add(text, model, path, value)     a new entry of a list
    shift(text, path, at, to)         an entry before or after its neighbour

A value is text, a list, keys with values, or `Row`: a row of figures in brackets.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from difflib import SequenceMatcher
from typing import TypeAlias

from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.shape import owner, slots
from mmbuilder.page.form.nodes import (
    Item,
    Listed,
    Node,
    Pair,
    Part,
    Words,
    at,
    line_end,
    line_start,
    parsed,
    plain,
)
from mmbuilder.page.form.scalars import WIDTH, folded, rendered, rewritten, tidied

Value: TypeAlias = "str | Row | list[Value] | dict[str, Value]"
Model: TypeAlias = type[BaseModel]


class Row(tuple[str, ...]):
    """Figures in brackets on one line, such as the box of a picture."""


class Gone(LookupError):
    """There is no such place in the file."""


# Setting


def put(text: str, model: Model, path: Path, value: Value) -> str:
    """Return the text with a value set.

    Args:
        text: the file.
        model: of the file; its keys' order is that of new keys.
        path: where; a number may be that of an entry that is there, or 0 where the list is not.
        value: tidied.

    Raises:
        Gone: an entry on the way is not there.
    """
    top = parsed(text)
    if top is None:
        start = text if not text or text.endswith("\n") else text + "\n"
        return start + _pair_lines(_wrapped(path, value), 0, _flush(text)) + "\n"
    node: Node = top
    parents: list[Node] = []
    for done, step in enumerate(path):
        parents.append(node)
        match node:
            case Part() if isinstance(step, str) and step not in node.pairs:
                return _inserted(text, model, path[:done], node, {step: _wrapped(path[done + 1 :], value)})
            case Part() if isinstance(step, str):
                node = node.pairs[step].node
            case Listed() if isinstance(step, int) and step < len(node.items):
                node = node.items[step].node
            case Part() | Words() if step == 0 and not (isinstance(node, Words) and done + 1 < len(path)):
                pass  # one entry stands for a list of one
            case Words():
                return _replaced(text, parents, node, path[:done], _wrapped(path[done:], value))
            case _:
                raise Gone(f"no entry {step} here")
    return _replaced(text, parents, node, path, value)


def put_lines(text: str, model: Model, path: Path, lines: Sequence[str]) -> str:
    """Return the text with a list of lines set; lines that stay keep their place and manner."""
    if not lines:
        return take(text, path)
    node = at(parsed(text), path)
    if isinstance(node, Words) and len(lines) == 1 and node.value.strip():
        return put(text, model, path, lines[0])
    if not isinstance(node, Listed):
        return put(text, model, path, list(lines))
    old = [str(plain(item.node)) for item in node.items]
    for what, left, right, first, last in reversed(SequenceMatcher(None, old, lines, False).get_opcodes()):
        if what == "equal":
            continue
        both = min(right - left, last - first)
        for place in range(left + both, right)[::-1]:
            text = drop(text, path, place)
        for line in reversed(lines[first + both : last]):
            text = add(text, model, path, line, left + both)
        for step in range(both):
            text = put(text, model, (*path, left + step), lines[first + step])
    return text


def _wrapped(path: Path, value: Value) -> Value:
    """The value within the keys and lists that lead to it."""
    for step in reversed(path):
        if isinstance(step, int) and step:
            raise Gone("the entries before this one are not there")
        value = {step: value} if isinstance(step, str) else [value]
    return value


def _replaced(text: str, parents: list[Node], node: Node, path: Path, value: Value) -> str:
    flow = any(isinstance(parent, Part | Listed) and parent.flow for parent in parents)
    indent = _indent_of(text, parents)
    if isinstance(node, Words) and isinstance(value, str):
        if node.end > node.start:
            words = rewritten(text, node, value, flow=flow, indent=indent + 2)
            return text[: node.start] + words + text[node.end :]
        return _spaced(text, node.start, rendered(value, flow=flow))
    if isinstance(node, Listed) and isinstance(value, Row) and len(value) == len(node.items):
        for item, figure in reversed(list(zip(node.items, value, strict=True))):
            text = text[: item.node.start] + figure + text[item.node.end :]
        return text
    if flow or isinstance(value, str | Row):
        new = _in_brackets(value) if not isinstance(value, str) else rendered(value, flow=flow)
        if node.end > node.start:
            return text[: _content_start(text, parents, node)].rstrip() + " " + new + text[node.end :]
        return _spaced(text, node.start, new)
    start = _content_start(text, parents, node)
    keyed = bool(path) and isinstance(path[-1], str)
    if keyed:
        return _with_block(text, start, node.end, value, indent)
    lines = _block(value, indent, _flush(text)).lstrip()
    return text[: node.start] + lines + text[node.end :]


def _with_block(text: str, start: int, end: int, value: Value, indent: int) -> str:
    """Put lines under a key in place of what stands after its colon; a remark on its line stays."""
    lines = "\n" + _block(
        value, indent + (0 if _flush(text) and isinstance(value, list) else 2), _flush(text)
    )
    rest = text[end : line_end(text, end)]
    if start == end or "\n" not in text[start:end]:
        return text[:start].rstrip(" ") + rest.rstrip() + lines + text[line_end(text, end) :]
    return text[:start].rstrip() + lines + text[end:]


def _spaced(text: str, place: int, words: str) -> str:
    """Put words after a colon or dash that has none."""
    after = text[place : place + 1]
    return (
        text[:place] + " " + words + ("" if after in ("", "\n", " ", ",", "}", "]") else " ") + text[place:]
    )


def _content_start(text: str, parents: list[Node], node: Node) -> int:
    """Where what follows the colon begins: the place to which a value on the lines below is tied."""
    last = parents[-1] if parents else None
    if isinstance(last, Part):
        return next((pair.colon for pair in last.pairs.values() if pair.node is node), node.start)
    return node.start


def _indent_of(text: str, parents: list[Node]) -> int:
    """Column of the innermost part or list around a value."""
    last = parents[-1] if parents else None
    for parent in reversed(parents):
        if isinstance(parent, Part):
            first = next(iter(parent.pairs.values()), None)
            return _column(text, first.start) if first is not None else 0
        if isinstance(parent, Listed) and parent.items:
            return _column(text, parent.items[0].dash) + 2
    return _column(text, last.start) if last is not None else 0


def _column(text: str, place: int) -> int:
    return place - line_start(text, place)


def _inserted(text: str, model: Model, path: Path, part: Part, new: dict[str, Value]) -> str:
    """Put a new key where the schema has it: after the last of those that come before it."""
    key = next(iter(new))
    before = _before(model, path, part, key)
    if part.flow:
        words = _in_brackets(new)[1:-1]
        if before is not None:
            return text[: before.node.end] + ", " + words + text[before.node.end :]
        comma = ", " if part.pairs else ""
        return text[: part.start + 1] + words + comma + text[part.start + 1 :]
    first = next(iter(part.pairs.values()))
    indent = _column(text, first.start)
    lines = _pair_lines(new, indent, _flush(text))
    if before is None:
        return text[: first.start] + lines.lstrip() + "\n" + " " * indent + text[first.start :]
    place = line_end(text, before.node.end)
    return text[:place] + "\n" + lines + text[place:]


def _before(model: Model, path: Path, part: Part, key: str) -> Pair | None:
    inner = owner(model, (*path, key))
    order = list(slots(inner)) if inner is not None else []
    earlier = set(order[: order.index(key)]) if key in order else set(part.pairs)
    found = [pair for name, pair in part.pairs.items() if name in earlier]
    return found[-1] if found else None


# Writing new lines


def _flush(text: str) -> bool:
    """Whether lists stand flush with their key."""
    return re.search(r"^[A-Za-z][^\n]*:[ \t]*\n(?:[ \t]*(?:#[^\n]*)?\n)*- ", text, re.MULTILINE) is not None


def _pair_lines(value: Value, indent: int, flush: bool) -> str:
    assert isinstance(value, dict)
    return "\n".join(_pair(key, inner, indent, flush) for key, inner in value.items())


def _pair(key: str, value: Value, indent: int, flush: bool) -> str:
    head = " " * indent + key + ":"
    match value:
        case "":
            return head
        case str() if len(head) + len(value) > WIDTH:
            return f"{head} {folded(value, indent + 2)}"
        case str():
            return f"{head} {rendered(value, flow=False)}"
        case Row():
            return f"{head} {_in_brackets(value)}"
        case list():
            return f"{head}\n{_block(value, indent + (0 if flush else 2), flush)}"
        case dict():
            return f"{head}\n{_block(value, indent + 2, flush)}"


def _block(value: Value, indent: int, flush: bool) -> str:
    """Lines of a list or of keys, all set in."""
    match value:
        case dict():
            return _pair_lines(value, indent, flush)
        case Row() | str():
            words = _in_brackets(value) if isinstance(value, Row) else rendered(value, flow=False)
            return " " * indent + words
        case list():
            inner = [_block(one, indent + 2, flush).lstrip() for one in value]
            return "\n".join(f"{' ' * indent}- {lines}" for lines in inner)


def _in_brackets(value: Value) -> str:
    match value:
        case dict():
            pairs = (f"{key}: {_in_brackets(one)}".rstrip() for key, one in value.items())
            return "{" + ", ".join(pairs) + "}"
        case list() | Row():
            return "[" + ", ".join(map(_in_brackets, value)) + "]"
        case str():
            return rendered(value, flow=True) if value else ""


# Entries of lists


def add(text: str, model: Model, path: Path, value: Value, place: int | None = None) -> str:
    """Return the text with a new entry in a list, at the end or before another."""
    node = at(parsed(text), path)
    if node is None or (isinstance(node, Words) and not node.value.strip()):
        return put(text, model, path, [value])
    if isinstance(node, Words):
        both: list[Value] = [" ".join(node.value.split()), value]
        return put(text, model, path, both if place != 0 else both[::-1])
    if isinstance(node, Part):
        text, node = _as_list(text, path, node)
    if not node.items:
        return put(text, model, path, [value])
    place = len(node.items) if place is None else place
    if node.flow:
        return _added_in_brackets(text, node, value, place)
    indent = _column(text, node.items[0].dash)
    lines = _block([value], indent, _flush(text))
    if place >= len(node.items):
        end = line_end(text, _end(node.items[-1]))
        return text[:end] + "\n" + lines + text[end:]
    start, _ = _lines_of(text, node.items[place])
    return text[:start] + lines + "\n" + text[start:]


def _added_in_brackets(text: str, node: Listed, value: Value, place: int) -> str:
    words = _in_brackets(value)
    if place >= len(node.items):
        end = node.items[-1].node.end
        return text[:end] + ", " + words + text[end:]
    start = node.items[place].node.start
    return text[:start] + words + ", " + text[start:]


def _as_list(text: str, path: Path, part: Part) -> tuple[str, Listed]:
    """Make a list of one of the keys that stand for it."""
    if part.flow:
        text = text[: part.start] + "[" + text[part.start : part.end] + "]" + text[part.end :]
    else:
        start = line_start(text, part.start)
        indent = part.start - start
        lines = text[start : part.end].split("\n")
        body = "\n".join("  " + line if line.strip() else line for line in lines)
        text = text[:start] + " " * indent + "- " + body[indent + 2 :] + text[part.end :]
    node = at(parsed(text), path)
    assert isinstance(node, Listed)
    return text, node


def drop(text: str, path: Path, place: int) -> str:
    """Return the text without an entry of a list, and without the remarks right above it.

    Raises:
        Gone: there is no such entry.
    """
    node = at(parsed(text), path)
    if not isinstance(node, Listed):
        if node is None or place:
            raise Gone("there is no such entry")
        return take(text, path, whole=True)
    if not 0 <= place < len(node.items):
        raise Gone("there is no such entry")
    if len(node.items) == 1:
        return take(text, path, whole=True)
    item = node.items[place]
    if node.flow:
        return _without(text, [one.node for one in node.items], place, item.node.start)
    if not _own_line(text, item):  # the first of a list within a list
        return text[: item.dash] + text[node.items[place + 1].dash :]
    start, end = _lines_of(text, item)
    return text[:start] + text[end + 1 :]


def shift(text: str, path: Path, place: int, to: int) -> str:
    """Return the text with an entry and its neighbour in the other order.

    Raises:
        Gone: there is no such entry, or no such neighbour.
    """
    node = at(parsed(text), path)
    first, second = sorted((place, to))
    if not isinstance(node, Listed) or first < 0 or second >= len(node.items) or second - first != 1:
        raise Gone("there is no such entry")
    one, other = node.items[first], node.items[second]
    if node.flow:
        spans = ((one.node.start, one.node.end), (other.node.start, other.node.end))
    elif _own_line(text, one):
        spans = (_lines_of(text, one), _lines_of(text, other))
    else:
        raise Gone("a list within a list is not sorted here")
    (a, b), (c, d) = spans
    return text[:a] + text[c:d] + text[b:c] + text[a:b] + text[d:]


def _own_line(text: str, item: Item) -> bool:
    return not text[line_start(text, item.dash) : item.dash].strip()


def _lines_of(text: str, item: Item) -> tuple[int, int]:
    """From the remarks right above an entry to the end of its last line."""
    start = line_start(text, item.dash)
    lead = text[start : item.dash] + "#"
    while start and text.startswith(lead, line_start(text, start - 1)):
        start = line_start(text, start - 1)
    return start, line_end(text, _end(item))


def _end(item: Item) -> int:
    return item.node.end


# Removing


def take(text: str, path: Path, *, whole: bool = False) -> str:
    """Return the text without a value. A remark on its line stays, with the key.

    Args:
        text: the file.
        path: of the value; nothing happens if it is not there.
        whole: remarks within the value may go.
    """
    top = parsed(text)
    parent, key = at(top, path[:-1]), path[-1]
    if isinstance(key, int):
        return drop(text, path[:-1], key) if at(top, path) is not None else text
    if not isinstance(parent, Part) or key not in parent.pairs:
        return text
    pair = parent.pairs[key]
    if len(parent.pairs) == 1 and len(path) > 1:
        return _last_taken(text, path, pair, whole=whole)
    if parent.flow:
        pairs = list(parent.pairs.values())
        return _without(text, [one.node for one in pairs], pairs.index(pair), pair.start)
    return _pair_taken(text, parent, pair, whole=whole)


def _last_taken(text: str, path: Path, pair: Pair, *, whole: bool) -> str:
    """Remove the only key of a part: the part goes too, but an entry of a list stays with an empty key."""
    remark = _remark(text, pair.node.end)
    if isinstance(path[-2], str) and not remark:
        return take(text, path[:-1], whole=whole)
    return _emptied(text, pair)


def _pair_taken(text: str, parent: Part, pair: Pair, *, whole: bool) -> str:
    body = text[pair.colon : pair.node.end]
    remarks = re.search(r"^[ \t]*#", body, re.MULTILINE) if isinstance(pair.node, Part | Listed) else None
    if _remark(text, pair.node.end) or (remarks and not whole):
        return _emptied(text, pair)
    start, end = line_start(text, pair.start), line_end(text, pair.node.end)
    if not text[start : pair.start].strip():
        return text[:start] + text[end + 1 :]
    # The first key of an entry, on the line of its dash.
    others = [one.start for one in parent.pairs.values() if one.start > pair.start]
    if not others or text[end : others[0]].strip():
        return _emptied(text, pair)
    return text[: pair.start] + text[others[0] :]


def _emptied(text: str, pair: Pair) -> str:
    return text[: pair.colon] + text[pair.node.end :]


def _remark(text: str, end: int) -> bool:
    """Whether a remark stands after a value, on its line."""
    return "#" in text[end : line_end(text, end)]


def _without(text: str, nodes: list[Node], place: int, start: int) -> str:
    """Remove one of several in brackets, with one comma."""
    if place:
        return text[: nodes[place - 1].end] + text[nodes[place].end :]
    comma = text.index(",", nodes[0].end)
    after = comma + 1 + (len(text[comma + 1 :]) - len(text[comma + 1 :].lstrip(" ")))
    return text[:start] + text[after:]


def as_value(words: str) -> Value:
    """Return what a form sent as a value: tidied words."""
    return tidied(words)


def as_row(words: str, length: int) -> Value:
    """Return figures as a row, or as the words they are where there are not as many as there should be."""
    figures = words.replace(",", " ").replace("[", " ").replace("]", " ").split()
    if len(figures) == length and all(re.fullmatch(r"[-+]?[\d.]+", one) for one in figures):
        return Row(figures)
    return tidied(words)


def keys_of(value: Mapping[str, str]) -> dict[str, Value]:
    """Return keys with tidied words, in their order."""
    return {key: tidied(words) for key, words in value.items()}
