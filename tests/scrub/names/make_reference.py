"""Make reference.json anew after teaching: `python -m tests.scrub.names.make_reference` (needs jax).

Texts, numbers and offsets of the pieces stay: they were made by `tokenizers` with the vocabulary of the published model.
"""

from __future__ import annotations

import json
from importlib.metadata import version
from pathlib import Path

import jax.numpy as jnp  # type: ignore[import-not-found, unused-ignore]  # needed for this program alone
import numpy as np

from mmbuilder.scrub.judging.reading import read
from mmbuilder.scrub.judging.second import tokens_of
from mmbuilder.scrub.judging.signs import signs
from mmbuilder.scrub.names import pieces
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING
from mmbuilder.scrub.names.weights import ARCHIVE
from tests.scrub.names.in_jax import logits, unpacked

REFERENCE = Path(__file__).parent / "reference.json"


def main() -> None:
    with np.load(ARCHIVE, allow_pickle=False) as stored:
        arrays = dict(stored)
    fixed, layers = unpacked(arrays)
    small = {
        name: {part: jnp.array(arrays[f"{name}.{part}"]) for part in ("weight", "bias")}
        for name in ("signs", "classify")
    }
    made = json.loads(REFERENCE.read_text("utf-8"))
    for passage in made["passages"]:
        text, tokens = passage["text"], read(passage["text"])
        of = list(tokens_of(pieces(text), tokens))
        rows = np.pad(signs(tokens)[of], ((1, 1), (0, 0)))
        numbers = np.array([[OPENING, *passage["numbers"], CLOSING]])
        found = np.array(logits({"layers": layers, **small}, fixed, numbers, rows[None]))[0, 1:-1]
        passage.pop("labels", None)
        passage["signs"] = [np.flatnonzero(row).tolist() for row in rows[1:-1]]
        passage["logits"] = np.round(found, 4).tolist()
    made["source"] = (
        "Pieces and offsets: the tokenizer of the published model, by the package tokenizers. Logits: the same weights "
        f"in jax {version('jax')} (make_reference.py), on invented sentences, rounded to 4 decimals."
    )
    REFERENCE.write_text(json.dumps(made, ensure_ascii=False), "utf-8")


if __name__ == "__main__":
    main()
