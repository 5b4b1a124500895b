"""Neural networks that ship with the tool: opened once, on one thread, from files beside this one."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

WEIGHTS = Path(__file__).parent / "_weights"
THREADS = 1
"""Pictures are spread over processes, so that each takes one core."""


@cache
def _opened(name: str) -> object:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = THREADS
    # Nothing is asked of a network in more than a piece of a picture, so that what is kept for the next one is bounded;
    # to ask the system for it anew each time takes half as long again as the network itself.
    options.enable_cpu_mem_arena = True
    return onnxruntime.InferenceSession(str(WEIGHTS / name), options, providers=["CPUExecutionProvider"])


def run(name: str, batch: NDArray[np.float32]) -> Sequence[NDArray[np.float32]]:
    """Return every output of the network for a batch.

    Args:
        name: file of the weights.
        batch: number, channel, row, column.
    """
    import onnxruntime

    session = cast(onnxruntime.InferenceSession, _opened(name))
    return cast("Sequence[NDArray[np.float32]]", session.run(None, {session.get_inputs()[0].name: batch}))
