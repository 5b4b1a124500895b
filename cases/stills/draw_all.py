"""Draw every still and write every readings file of the bundled cases: `python cases/stills/draw_all.py`.

Beside them it writes `geometry.json`: where each still has its burned-in text, the marks
that must stay and the things arrows point at, with the hash of the picture they belong to.
"""

from __future__ import annotations

import hashlib
import io
import json
from collections.abc import Callable, Mapping
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import abdomen
import airway
import eye
import readings
from paint import Still

CASES = Path(__file__).resolve().parents[1]
PICTURES: Mapping[str, Mapping[str, Callable[[], Still]]] = {
    "eye-drainage": eye.PICTURES,
    "abdomen-colon": abdomen.PICTURES,
    "airway-prone": airway.PICTURES,
}


def encoded(still: Still) -> bytes:
    """Return the picture as it is kept: JPEG at quality 90."""
    sheet = io.BytesIO()
    still.image.save(sheet, "JPEG", quality=90, subsampling=0)
    return sheet.getvalue()


def geometry(still: Still) -> dict[str, object]:
    """Return where things are on a still, and whose still it is."""
    return {
        "size": list(still.image.size),
        "sha256": hashlib.sha256(encoded(still)).hexdigest(),
        "strips": {name: list(box) for name, box in still.strips.items()},
        "keeps": {name: list(box) for name, box in still.keeps.items()},
        "marks": {name: [round(x, 1), round(y, 1)] for name, (x, y) in still.marks.items()},
    }


def draw(case: str, name: str) -> dict[str, object]:
    """Draw one still into its case folder; return its geometry."""
    still = PICTURES[case][name]()
    path = CASES / case / "images" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(encoded(still))
    print(f"{case}/images/{name}  {path.stat().st_size // 1000} kB", flush=True)
    return geometry(still)


def tabulate(case: str, name: str) -> str:
    """Write one readings file; return a line for the terminal."""
    path = CASES / case / "readings" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(readings.FILES[case][name](), encoding="utf-8")
    return f"{case}/readings/{name}"


def main() -> None:
    """Draw and write everything, two at a time."""
    for case, files in readings.FILES.items():
        for name in files:
            print(tabulate(case, name))
    jobs = [(case, name) for case, pictures in PICTURES.items() for name in pictures]
    with ProcessPoolExecutor(2) as pool:
        drawn = list(pool.map(draw, *zip(*jobs, strict=True)))
    places: dict[str, dict[str, object]] = {case: {} for case in PICTURES}
    for (case, name), place in zip(jobs, drawn, strict=True):
        places[case][name] = place
    text = json.dumps(places, indent=1, sort_keys=True)
    (CASES / "stills" / "geometry.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
