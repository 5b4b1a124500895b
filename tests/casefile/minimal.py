"""The smallest case there can be, and changes to it: other tests build on it."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import yaml

TEXT = """\
mmbuilder: 1
code: case-a
title: A quiet start and an unplanned end
use: department review
specialty: general surgery
presenter:
  role: Operating surgeon
situation: Something unplanned during a keyhole operation
asked: Agree on when to call for a second pair of hands
patient:
  age: 54
plan:
  procedure: Laparoscopic cholecystectomy
clocks:
  - name: theatre clock
timeline:
  index event: incision
  events:
    - id: incision
      kind: step
      what: Skin incision
      when: 09:30
    - id: sign
      kind: first sign
      what: Dark ooze behind the clip
      when: 10:05
    - id: seen
      kind: recognition
      what: The source is named
      when: 10:15
    - id: acted
      kind: response
      what: Pressure and a second clip
      when: 10:20
frames:
  - file: images/view.png
    shows: The operating field
    caption: The edge of the clip, seen looking back
    cover: none
outcome:
  summary: Recovered and home on Day 2
take away: Call early, a second pair of hands costs nothing
"""

IDENTIFIERS = """\
people:
  - name: Wendeline Orrastal
    role: patient
"""

READINGS = """\
time,MAP
09:30,82
10:00,80
10:10,64
10:20,71
"""


def minimal_case(folder: Path, text: str = TEXT, *, readings: bool = False) -> Path:
    """Write a valid case folder and return it; `text` replaces case.yaml."""
    root = folder / "case"
    (root / "images").mkdir(parents=True)
    (root / "case.yaml").write_text(text, encoding="utf-8")
    (root / "identifiers.yaml").write_text(IDENTIFIERS, encoding="utf-8")
    picture(root / "images" / "view.png")
    if readings:
        (root / "readings").mkdir()
        (root / "readings" / "vitals.csv").write_text(READINGS, encoding="utf-8")
    return root


def picture(path: Path, width: int = 640, height: int = 480) -> None:
    """Write a plain picture of the kind its name says."""
    from PIL import Image

    path.parent.mkdir(parents=True, exist_ok=True)
    Image.new("RGB", (width, height), (90, 40, 30)).save(path)


def changed(change: str) -> str:
    """Return the minimal case with a change in YAML merged into it.

    Keys replace or go deeper; under a list, a number goes into that entry; `null` takes a key out.
    """
    tree = yaml.load(TEXT, Loader=yaml.BaseLoader)
    wanted = yaml.load(change, Loader=yaml.BaseLoader)
    return yaml.safe_dump(_merged(tree, wanted), sort_keys=False, allow_unicode=True, width=1000)


def _merged(base: Any, change: Any) -> Any:
    if isinstance(base, dict) and isinstance(change, dict):
        made = {**base}
        for key, value in change.items():
            if value == "null":
                made.pop(key, None)
            else:
                made[key] = _merged(base.get(key), value)
        return made
    if isinstance(base, list) and isinstance(change, dict):
        made_list = copy.copy(base)
        for place, value in change.items():
            made_list[int(place)] = _merged(base[int(place)], value)
        return made_list
    return change
