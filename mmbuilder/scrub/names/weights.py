"""Load the weights of the name model and widen them to the numbers NumPy multiplies.

On disk: 4-bit blocks of 32 with one float32 scale each (centre 8), in the layers that we taught 8-bit ones (centre 0),
and 8-bit embeddings. In memory the layers are float32 (42 MB), cut into blocks of columns; the embeddings stay 8-bit
and are widened row by row when used.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float32]
    Bytes = NDArray[np.uint8]

ARCHIVE = Path(__file__).parent / "data" / "weights.npz"
LAYERS = 6
PUBLISHED = 3
"""The first layers, which are as published. Behind them the signs of a word are added, and the others were taught."""
HEADS = 12
NIBBLE_CENTRE = 8
BLOCK = 24_576
"""Numbers of a matrix that lie together in memory, a few columns of it. A sentence is a dozen rows: their product with
a block so small is worked out where it lies; one with the whole matrix copies it first, which takes twice as long as
the work itself."""


@dataclass(frozen=True)
class Linear:
    """A matrix as blocks of its columns, (blocks, inputs, columns of a block), and its bias."""

    blocks: Floats
    bias: Floats


@dataclass(frozen=True)
class Small:
    """A matrix that is small enough to be multiplied as it is, (inputs, outputs), and its bias."""

    weight: Floats
    bias: Floats

    def of(self, x: Floats) -> Floats:
        """The product with rows of inputs, and the bias."""
        result: Floats = x @ self.weight + self.bias
        return result


@dataclass(frozen=True)
class Norm:
    """Scale and shift of one layer normalisation."""

    weight: Floats
    bias: Floats


@dataclass(frozen=True)
class Table:
    """An 8-bit embedding table with its scale and zero point."""

    rows: Bytes
    scale: float
    zero: int

    def at(self, numbers: NDArray[np.intp]) -> Floats:
        """Rows as float32, in the shape of `numbers` with the width added."""
        import numpy as np

        return (self.rows[numbers].astype(np.float32) - np.float32(self.zero)) * np.float32(self.scale)


@dataclass(frozen=True)
class Layer:
    """One block of the transformer; query, key and value side by side in `attend`."""

    attend: Linear
    attended: Linear
    attended_norm: Norm
    widen: Linear
    narrow: Linear
    narrow_norm: Norm


@dataclass(frozen=True)
class Weights:
    """Everything the forward pass needs."""

    words: Table
    positions: Table
    segments: Table
    norm: Norm
    layers: tuple[Layer, ...]
    signs: Small
    classify: Small


Archive = Mapping[str, "NDArray[np.generic]"]


def _floats(archive: Archive, name: str) -> Floats:
    import numpy as np

    return archive[name].astype(np.float32, copy=False)


def _widen(archive: Archive, name: str) -> Floats:
    """Numbers of a matrix that is stored in 4-bit or in 8-bit blocks of 32: (outputs, inputs)."""
    import numpy as np

    scales = _floats(archive, f"{name}.scales")[:, :, None]
    if f"{name}.blocks" in archive:  # (outputs, blocks, 32)
        numbers = archive[f"{name}.blocks"].astype(np.float32)
    else:  # (outputs, blocks, 16 bytes)
        packed = archive[f"{name}.packed"].astype(np.uint8, copy=False)
        halves = np.stack([packed & 15, packed >> 4], axis=-1)  # the low half of a byte comes first
        numbers = halves.reshape(*packed.shape[:2], -1).astype(np.float32) - NIBBLE_CENTRE
    numbers *= scales
    return numbers.reshape(len(numbers), -1)


def _linear(archive: Archive, *names: str) -> Linear:
    """One matrix, or several side by side."""
    import numpy as np

    rows = [_widen(archive, n) for n in names]
    bias = [_floats(archive, f"{n}.bias") for n in names]
    whole = np.concatenate(rows)
    outputs, inputs = whole.shape
    columns = BLOCK // inputs if outputs % (BLOCK // inputs) == 0 else outputs
    blocks = whole.reshape(-1, columns, inputs).transpose(0, 2, 1)
    return Linear(np.ascontiguousarray(blocks), np.concatenate(bias))


def _small(archive: Archive, name: str) -> Small:
    return Small(_floats(archive, f"{name}.weight"), _floats(archive, f"{name}.bias"))


def _norm(archive: Archive, name: str) -> Norm:
    return Norm(_floats(archive, f"{name}.weight"), _floats(archive, f"{name}.bias"))


def _table(archive: Archive, name: str) -> Table:
    import numpy as np

    rows = archive[f"{name}.rows"].astype(np.uint8, copy=False)
    return Table(rows, float(_floats(archive, f"{name}.scale")), int(_floats(archive, f"{name}.zero")))


def _layer(archive: Archive, number: int) -> Layer:
    at = f"layer{number}"
    return Layer(
        attend=_linear(archive, f"{at}.query", f"{at}.key", f"{at}.value"),
        attended=_linear(archive, f"{at}.attended"),
        attended_norm=_norm(archive, f"{at}.attended_norm"),
        widen=_linear(archive, f"{at}.widen"),
        narrow=_linear(archive, f"{at}.narrow"),
        narrow_norm=_norm(archive, f"{at}.narrow_norm"),
    )


@cache
def load() -> Weights:
    """Weights of the bundled model, read once per process."""
    import numpy as np

    with np.load(ARCHIVE, allow_pickle=False) as archive:
        return Weights(
            words=_table(archive, "words"),
            positions=_table(archive, "positions"),
            segments=_table(archive, "segments"),
            norm=_norm(archive, "norm"),
            layers=tuple(_layer(archive, number) for number in range(LAYERS)),
            signs=_small(archive, "signs"),
            classify=_small(archive, "classify"),
        )
