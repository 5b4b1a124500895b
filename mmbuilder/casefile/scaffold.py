"""A commented case to write over, in the words of a specialty; it passes `check` as it stands.

No schema file is put beside the case, and no editor line into it: a copy would grow old. Who
wants help from an editor has `mmbuilder schema` write the schema where the editor looks.
"""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Sequence

from mmbuilder import resources
from mmbuilder.packs.schema import Pack, load
from mmbuilder.safe.terms import EventKind, Use

_PLAIN = re.compile(r"[^\W_][^:#\n]*[^\s:#]|[^\W\d_]")
"""Text that YAML reads as written without quotes."""


def scaffold(specialty: str, code: str = "my-case") -> dict[str, bytes]:
    """Return the files of a new case: relative name to content; a name that ends in `/` is an empty folder.

    Args:
        specialty: its name, or what it is called (`packs.load`).
        code: what the deck's file name begins with: small letters, figures and hyphens.

    Raises:
        PackInvalid: there is no such pack.
    """
    private = (resources.templates() / "identifiers.yaml").read_bytes()
    return {
        "case.yaml": _case(load(specialty), code).encode(),
        "identifiers.yaml": private,
        "images/": b"",
        "readings/": b"",
    }


def _case(pack: Pack, code: str) -> str:
    from jinja2 import Environment, StrictUndefined

    environment = Environment(undefined=StrictUndefined, keep_trailing_newline=True)
    environment.filters["line"] = _line
    environment.filters["comment"] = _comment
    environment.filters["figure"] = lambda number: f"{number:g}"
    template = environment.from_string((resources.templates() / "case.yaml.j2").read_text("utf-8"))
    return template.render(
        pack=pack,
        code=code,
        example=pack.example,
        uses=", ".join(Use),
        kinds=[kind.value for kind in EventKind],
    )


def _line(text: str) -> str:
    """Return a value for one line of YAML, in quotes only where it needs them."""
    return text if _PLAIN.fullmatch(text) else json.dumps(text, ensure_ascii=False)


def _comment(words: Sequence[str]) -> str:
    """Return words as lines of a comment, with commas between them."""
    return textwrap.fill(
        ", ".join(words), 100, initial_indent="#   ", subsequent_indent="#   ", break_on_hyphens=False
    )
