"""The name model in jax: what it was taught with, and what the NumPy one is checked against (`reference.json`).

It unpacks the archive by code of its own, so that the check is one of that as well.

Not needed to run or to test: `pip install jax optax` for the two programs that use it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import jax  # type: ignore[import-not-found, unused-ignore]  # needed for teaching alone
import jax.numpy as jnp  # type: ignore[import-not-found, unused-ignore]
import numpy as np

from mmbuilder.scrub.names.weights import HEADS, LAYERS, NIBBLE_CENTRE, PUBLISHED

Tree = dict[str, Any]
Arrays = Mapping[str, Any]
LINEARS = ("query", "key", "value", "attended", "widen", "narrow")
NORMS = ("attended_norm", "narrow_norm")
DROPPED = 0.1


def unpacked(arrays: Arrays) -> tuple[Tree, list[Tree]]:
    """What stays as published, and the layers that are taught, from an archive in either form of block."""
    tables = ("words", "positions", "segments")
    fixed: Tree = {name: _table(arrays, name) for name in tables}
    layers = [_layer(arrays, f"layer{at}") for at in range(LAYERS)]
    fixed |= {"norm": _norm(arrays, "norm"), "layers": layers[:PUBLISHED]}
    return fixed, layers[PUBLISHED:]


def _table(arrays: Arrays, name: str) -> Any:
    rows = arrays[f"{name}.rows"].astype(np.float32) - float(arrays[f"{name}.zero"])
    return jnp.array(rows * float(arrays[f"{name}.scale"]))


def _layer(arrays: Arrays, at: str) -> Tree:
    linears = {name: _linear(arrays, f"{at}.{name}") for name in LINEARS}
    return linears | {name: _norm(arrays, f"{at}.{name}") for name in NORMS}


def _linear(arrays: Arrays, name: str) -> Tree:
    if f"{name}.blocks" in arrays:
        numbers = arrays[f"{name}.blocks"].astype(np.float32)
    else:
        packed = arrays[f"{name}.packed"].astype(np.uint8)
        numbers = np.stack([packed & 15, packed >> 4], -1).reshape(*packed.shape[:2], -1)
        numbers = numbers.astype(np.float32) - NIBBLE_CENTRE
    numbers = numbers * arrays[f"{name}.scales"].reshape(*numbers.shape[:2], 1)
    weight = numbers.reshape(len(numbers), -1).T
    return {"weight": jnp.array(weight), "bias": jnp.array(arrays[f"{name}.bias"])}


def _norm(arrays: Arrays, name: str) -> Tree:
    return {part: jnp.array(arrays[f"{name}.{part}"]) for part in ("weight", "bias")}


def _normalised(norm: Tree, x: Any) -> Any:
    x = x - x.mean(-1, keepdims=True)
    return x / jnp.sqrt((x * x).mean(-1, keepdims=True) + 1e-12) * norm["weight"] + norm["bias"]


def _through(linear: Tree, x: Any) -> Any:
    return x @ linear["weight"] + linear["bias"]


def _dropped(key: Any, x: Any) -> Any:
    if key is None:
        return x
    return jnp.where(jax.random.bernoulli(key, 1 - DROPPED, x.shape), x / (1 - DROPPED), 0)


def _encoded(layer: Tree, x: Any, hidden: Any, keys: tuple[Any, Any]) -> Any:
    batch, length, width = x.shape

    def by_head(name: str) -> Any:
        return _through(layer[name], x).reshape(batch, length, HEADS, -1).transpose(0, 2, 1, 3)

    query, key, value = map(by_head, ("query", "key", "value"))
    scores = query @ key.transpose(0, 1, 3, 2) * (width / HEADS) ** -0.5 + hidden
    mixed = (jax.nn.softmax(scores, -1) @ value).transpose(0, 2, 1, 3).reshape(batch, length, width)
    x = _normalised(layer["attended_norm"], x + _dropped(keys[0], _through(layer["attended"], mixed)))
    wide = jax.nn.gelu(_through(layer["widen"], x), approximate=False)
    return _normalised(layer["narrow_norm"], x + _dropped(keys[1], _through(layer["narrow"], wide)))


def logits(taught: Tree, fixed: Tree, numbers: Any, signs: Any, key: Any = None) -> Any:
    """Scores of every label for every piece, (windows, length, labels); with a key some numbers are dropped, as in teaching."""
    real = numbers != 0
    hidden = jnp.where(real, 0.0, -1e9)[:, None, None, :]
    x = fixed["words"][numbers] + fixed["positions"][: numbers.shape[1]] + fixed["segments"][0]
    x = _normalised(fixed["norm"], x)
    for layer in fixed["layers"]:
        x = _encoded(layer, x, hidden, (None, None))
    count = 2 * len(taught["layers"]) + 1
    keys = [None] * count if key is None else list(jax.random.split(key, count))
    x = _dropped(keys[-1], x + _through(taught["signs"], signs))
    for at, layer in enumerate(taught["layers"]):
        x = _encoded(layer, x, hidden, (keys[2 * at], keys[2 * at + 1]))
    return _through(taught["classify"], x)
