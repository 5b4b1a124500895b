"""How much of burned-in text is covered, and how much of clean pictures is: by hand.

    python -m tests.bench.pictures [dev|held-out|ward|clinic-tuning|clinic|rooms-tuning|rooms] [whole]

With `whole` every finder looks, and looks again after covering, as in a scrub; otherwise text is looked
for once. Seconds are of the processor, so that what else the machine does counts less. An item counts as covered when 90 % of its ink is, as missed when under 10 % is. Nothing may be
tuned on held-out. Needs `pip install mmbuilder[ocr]`; fonts of other scripts: Debian fonts-noto-core.
"""

from __future__ import annotations

import os
import resource
import sys
import time
from collections import Counter

import numpy as np

from mmbuilder.scrub.images import again
from mmbuilder.scrub.images.finders import _detect, _spoken, text
from mmbuilder.scrub.images.finders._net import run
from mmbuilder.scrub.images.finders._pixels import bgr
from mmbuilder.scrub.images.finders._read import read
from mmbuilder.scrub.plan import Decision
from tests.scrub.images.synthetic import clinic, pictures, rooms, ward

SETS = {
    "dev": pictures.dev,
    "held-out": pictures.held_out,
    "ward": ward.held_out,
    "clinic-tuning": clinic.tuning,
    "clinic": clinic.held_out,
    "rooms-tuning": rooms.tuning,
    "rooms": rooms.held_out,
}


def covered(drawn: pictures.Drawn, whole: bool) -> np.ndarray:
    mask = np.zeros((drawn.image.height, drawn.image.width), bool)
    for box in again.propose_boxes(drawn.image, (), ()) if whole else text.find(drawn.image):
        if box.decision is Decision.REPLACE:
            mask[box.top : box.bottom, box.left : box.right] = True
    return mask


def one_pass(drawn: pictures.Drawn) -> float:
    """Seconds of the engine's own single pass, at native size or the most it is given; nothing read."""
    bounded = drawn.image.copy()
    bounded.thumbnail((_detect.LONGEST, _detect.LONGEST))
    pixels = bgr(bounded)
    start = time.process_time()
    run("text_det.onnx", _detect.even(_detect.fit(pixels)))
    return time.process_time() - start


def reading(drawn: pictures.Drawn) -> float:
    """Seconds in which the engine reads, once, every line that its single pass finds: the rest of what it does by itself."""
    pixels = bgr(drawn.image)
    found = [line for line in _detect.seen(pixels).lines() if line.height >= _detect.HEIGHT_LEAST]
    start = time.process_time()
    for line in found:
        read(_spoken.laid(line, pixels))
    return time.process_time() - start


def main(which: str, how: str = "") -> None:
    os.environ["MMBUILDER_CACHE"] = ""
    whole, well, missed = Counter[str](), Counter[str](), Counter[str]()
    clean, own, told, ours, number = [], 0.0, 0.0, 0.0, 0
    for drawn in SETS[which]():
        number += 1
        own += one_pass(drawn)
        told += reading(drawn)
        start = time.process_time()
        mask = covered(drawn, how == "whole")
        ours += time.process_time() - start
        for item in drawn.items:
            share = mask[item.ink].mean()
            whole[item.kind] += 1
            well[item.kind] += share >= 0.9
            missed[item.kind] += share < 0.1
        if not drawn.items:
            clean.append((drawn.name, mask.mean()))
    total = whole.total()
    print(f"{which}: {number} pictures, {total} items")
    print(f"covered by 90 % and more  {well.total() / total:6.3f}   goal >= 0.98")
    print(f"missed                    {missed.total() / total:6.3f}   goal <= 0.01")
    print(f"clean area covered        {np.mean([area for _, area in clean]):6.4f}   goal <= 0.005")
    print(f"seconds a picture         {ours / number:6.2f}   pass {own / number:.2f}, ratio {ours / own:.2f}")
    print(
        f"the engine, with reading  {(own + told) / number:6.2f}   ratio {ours / (own + told):.2f}   goal <= 1.5"
    )
    print(f"peak memory MB            {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:6.0f}")
    for kind in sorted(whole):
        print(f"  {kind:18} {well[kind]:3} of {whole[kind]:3}, missed {missed[kind]}")
    print("  clean pictures touched:", [f"{name} {area:.3f}" for name, area in clean if area])


if __name__ == "__main__":
    main(*sys.argv[1:] or ["held-out"])
