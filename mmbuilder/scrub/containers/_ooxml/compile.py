"""Make `vocabulary.txt`: every element of the formats with its attributes, and every word a setting may be.

Run by hand where openxml-audit (MIT) is installed, whose tables are those of the Open XML SDK
(MIT) for ECMA-376: `python -m mmbuilder.scrub.containers._ooxml.compile`. A line is an element
and its attributes, each with what it holds: w one word of the format, n a number or the like, s
a string. The first line is the words.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import cast

from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES

Table = dict[str, dict[str, str]]
Row = dict[str, object]
_SKIPPED = frozenset({"dgm"})
"""SmartArt is turned into the shapes it shows, so its own language is never written."""


def compiled() -> str:
    """The text of the data file."""
    ours = {uri: prefix for prefix, uri in NAMESPACES.items() if prefix not in _SKIPPED}
    schemas = resources.files("openxml_audit") / "data" / "openxml" / "schemas"
    read = [json.loads(file.read_text()) for file in schemas.iterdir() if file.name.endswith(".json")]
    read.sort(key=lambda schema: str(schema["TargetNamespace"]))
    words = {
        str(facet["Value"]) for schema in read for enum in schema.get("Enums", ()) for facet in enum["Facets"]
    }
    lines = [" ".join(sorted(word for word in words if re.fullmatch(r"[\w.:-]+", word)))]
    for schema in read:
        if (prefix := ours.get(schema["TargetNamespace"])) is not None:
            lines += _elements(prefix, schema.get("Types", ()))
    return "\n".join(lines) + "\n"


def _elements(prefix: str, types: list[Row]) -> Iterator[str]:
    named = {cast(str, row["ClassName"]): row for row in types}
    table: Table = {}
    for row in types:
        tag = cast(str, row["Name"]).rpartition("/")[2].rpartition(":")[2]
        if tag:
            table.setdefault(tag, {}).update(_attributes(row, named))
    for tag, attributes in sorted(table.items()):
        yield " ".join([f"{prefix}:{tag}", *(f"{kind}={name}" for name, kind in sorted(attributes.items()))])


def _attributes(row: Row, named: dict[str, Row]) -> dict[str, str]:
    base = named.get(cast(str, row.get("BaseClass", "")))
    found = _attributes(base, named) if base else {}
    for one in cast(list[dict[str, str]], row.get("Attributes", [])):
        held = one["Type"]
        kind = "w" if "Enum" in held else "s" if held in ("StringValue", "ListValue<StringValue>") else "n"
        found[one["QName"].lstrip(":")] = kind
    return found


if __name__ == "__main__":
    Path(__file__).with_name("vocabulary.txt").write_text(compiled(), encoding="utf-8")
