"""Teach the upper half of the name model from our passages, and write mmbuilder/scrub/names/data/weights.npz.

By hand; forty minutes of two processors, 3 GB:

    pip install jax optax
    python -m tests.scrub.names.teach published.npz      # as `mmbuilder/scrub/names/convert.py` makes it

Each sentence is read with its signs, as it stands and with other people in it (`tests.scrub.judging.swaps`). Teach the
judge beside it (`tests.scrub.judging.train`) from the same sets.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path
from random import Random
from typing import Any

import jax  # type: ignore[import-not-found, unused-ignore]  # needed for this program alone
import jax.numpy as jnp  # type: ignore[import-not-found, unused-ignore]
import numpy as np
import optax  # type: ignore[import-not-found, unused-ignore]
from numpy.typing import NDArray

from mmbuilder.scrub.judging.chain import LABELS
from mmbuilder.scrub.judging.reading import Token
from mmbuilder.scrub.judging.second import tokens_of
from mmbuilder.scrub.judging.signs import SIGNS, signs
from mmbuilder.scrub.names import pieces
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING
from mmbuilder.scrub.names.weights import ARCHIVE
from tests.scrub.judging.swaps import labelled, lesson, varied
from tests.scrub.judging.train import sets
from tests.scrub.names.in_jax import LINEARS, NORMS, Tree, logits, unpacked
from tests.scrub.sets.passages import Passage

ROUNDS = ((4e-4, (1, 0)), (2.5e-4, (2, 0)))
"""Highest rate of each round, and the variants of the passages that it reads: 0 is as they stand."""
SEED, VARIANTS, READ, PIECES, WARMING = 7, 3, 0.8, 1024, 150
"""`READ`: how much of its variants a round reads; `PIECES`: those of a step, with their padding."""
LENGTHS = (10, 14, 18, 22, 26, 32, 40, 52, 72, 104, 260)
"""To which windows are padded: each is compiled once."""
BLOCK, HIGHEST = 32, 127


@dataclass(frozen=True)
class Sample:
    """A sentence: numbers of its pieces, the token of each, and of each token its signs and its label."""

    numbers: NDArray[np.uint16]
    of: NDArray[np.uint16]
    signs: NDArray[np.uint8]
    labels: NDArray[np.uint8]


def sample(sentence: str, tokens: Sequence[Token], labels: Sequence[int]) -> Sample:
    cut = pieces(sentence)
    return Sample(
        np.array([piece.number for piece in cut], np.uint16),
        np.array(list(tokens_of(cut, tokens)), np.uint16),
        signs(tokens).astype(np.uint8),
        np.array(labels, np.uint8),
    )


def variants(passage: Passage) -> list[list[Sample]]:
    """The sentences of a passage as they stand, and with other people in them."""
    whole = lesson(passage)
    others = (varied(whole, Random(f"{SEED} {copy} {passage.text}")) for copy in range(VARIANTS))
    return [[sample(*one) for one in labelled(*its)] for its in ((whole,), *others)]


def samples() -> list[list[Sample]]:
    """Every sentence of every set, by variant."""
    passages = [passage for its in sets().values() for passage in its]
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as pool:  # jax has threads of its own
        every = list(pool.map(variants, passages, chunksize=100))
    return [[one for its in every for one in its[at]] for at in range(VARIANTS + 1)]


Batch = tuple[NDArray[np.int32], NDArray[np.float32], NDArray[np.int32]]
"""Numbers of the pieces, their signs, their labels; -1 where there is none."""


def batches(read: Sequence[Sample], random: np.random.Generator) -> Iterator[Batch]:
    """Steps of like length, in any order."""
    groups: list[tuple[int, int, list[Sample]]] = []
    by_length: dict[int, list[Sample]] = {length: [] for length in LENGTHS}
    for at in random.permutation(len(read)):
        its = len(read[at].numbers) + 2
        by_length[next(length for length in LENGTHS if length >= its)].append(read[at])
    for length, its in by_length.items():
        size = max(4, PIECES // length)
        groups += [(length, size, its[at : at + size]) for at in range(0, len(its), size)]
    for at in random.permutation(len(groups)):
        yield _padded(*groups[at])


def _padded(length: int, size: int, group: Sequence[Sample]) -> Batch:
    numbers, told = np.zeros((size, length), np.int32), np.zeros((size, length, SIGNS), np.float32)
    labels = np.full((size, length), -1, np.int32)
    for row, one in enumerate(group):
        end = len(one.numbers) + 1
        numbers[row, : end + 1] = [OPENING, *one.numbers, CLOSING]
        told[row, 1:end], labels[row, 1:end] = one.signs[one.of], one.labels[one.of]
    return numbers, told, labels


def loss(taught: Tree, fixed: Tree, batch: Batch, key: Any) -> Any:
    """How unlikely the right labels are, a piece."""
    numbers, told, labels = batch
    likely = jax.nn.log_softmax(logits(taught, fixed, numbers, told, key))
    right = jnp.take_along_axis(likely, jnp.maximum(labels, 0)[..., None], -1)[..., 0]
    return -(right * (labels >= 0)).sum() / (labels >= 0).sum()


def begun(layers: Sequence[Tree]) -> Tree:
    """What a round begins with: the published layers, and small numbers for what is new."""
    random, width = np.random.default_rng(1), len(layers[0]["query"]["bias"])

    def small(inputs: int, outputs: int, size: float) -> Tree:
        weight = random.normal(size=(inputs, outputs)) * size
        return {"weight": jnp.array(weight, jnp.float32), "bias": jnp.zeros(outputs, jnp.float32)}

    return {
        "layers": list(layers),
        "signs": small(SIGNS, width, 0.005),
        "classify": small(width, len(LABELS), 0.02),
    }


def taught(fixed: Tree, now: Tree, read: Sequence[Sequence[Sample]]) -> Tree:
    """Every round: AdamW (Loshchilov and Hutter 2019, arXiv:1711.05101) with a rate that warms up and falls as a cosine."""
    for number, (rate, its) in enumerate(ROUNDS, 1):
        random = np.random.default_rng(number)
        every = [batch for variant in its for batch in batches(read[variant], random)]
        every = every[: int(READ * len(every))]
        rates = optax.warmup_cosine_decay_schedule(0, rate, WARMING, len(every), rate / 50)
        method = optax.chain(optax.clip_by_global_norm(1.0), optax.adamw(rates, b2=0.98, weight_decay=0.01))
        step, state, key = stepping(method), method.init(now), jax.random.PRNGKey(number)
        for at, batch in enumerate(every):
            key, own = jax.random.split(key)
            now, state, lost = step(now, state, fixed, batch, own)
            if at % 100 == 0:
                print(f"round {number}, step {at} of {len(every)}: {float(lost):.3f}", flush=True)  # noqa: T201 - a program by hand
    return now


def stepping(method: Any) -> Callable[..., Any]:
    """One step of teaching, compiled."""

    @jax.jit
    def step(now: Tree, state: Any, fixed: Tree, batch: Batch, key: Any) -> Any:
        lost, slopes = jax.value_and_grad(loss)(now, fixed, batch, key)
        changes, state = method.update(slopes, state, now)
        return optax.apply_updates(now, changes), state, lost

    return step


def archived(published: dict[str, Any], taught: Tree) -> dict[str, Any]:
    """The archive: what stays as it was, and what was taught, its layers in 8-bit blocks."""
    first = len(unpacked(published)[0]["layers"])
    ours = tuple(f"layer{first + at}." for at in range(len(taught["layers"])))
    arrays = {name: its for name, its in published.items() if not name.startswith((*ours, "classify."))}
    for prefix, layer in zip(ours, taught["layers"], strict=True):
        for name in LINEARS:
            arrays |= {f"{prefix}{name}.{part}": its for part, its in _blocks(layer[name]).items()}
        for name in NORMS:
            arrays |= _plain(f"{prefix}{name}", layer[name])
    return arrays | _plain("signs", taught["signs"]) | _plain("classify", taught["classify"])


def _plain(name: str, its: Tree) -> dict[str, Any]:
    return {f"{name}.{part}": np.array(numbers, np.float32) for part, numbers in its.items()}


def _blocks(linear: Tree) -> dict[str, Any]:
    rows = np.array(linear["weight"]).T
    blocks = rows.reshape(len(rows), -1, BLOCK)
    scales = np.abs(blocks).max(-1) / HIGHEST
    numbers = np.rint(blocks / np.maximum(scales, 1e-12)[..., None]).astype(np.int8)
    return {"blocks": numbers, "scales": scales.astype(np.float32), "bias": np.array(linear["bias"])}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("published", type=Path)
    parser.add_argument("--to", type=Path, default=ARCHIVE)
    asked = parser.parse_args()
    with np.load(asked.published, allow_pickle=False) as stored:
        published = dict(stored)
    fixed, layers = unpacked(published)
    arrays = archived(published, taught(fixed, begun(layers), samples()))
    np.savez(asked.to, allow_pickle=False, **arrays)


if __name__ == "__main__":
    main()
