"""A case with nearly everything wrong, as a tired registrar may write it; every name in it is invented."""

from __future__ import annotations

from pathlib import Path

from tests.casefile.minimal import picture

CANARY = "Quillfeather"
"""A surname found nowhere else; it stands in every free text and file name of the bad case."""

TEXT = f"""\
mmbuilder: 7
code: Case A {CANARY}
title: Mr {CANARY} and the bile leak that nobody saw until the evening round on the ward
use: departmental review
specialty: general surgry
presenter:
  role: {CANARY}
sitation: Note: pain after {CANARY}
asked: > what {CANARY} should have done
patient:
  age: 54
  sex: femal
  history: [asthma, {{{CANARY}: smoker}}]
plan:
  procedure: size #7 {CANARY}
clocks:
  - name: theatre clock
  - name: recorder
timeline:
  index event: incison
  closed: 09:00
  events:
    - id: incision
      kind: step
      what: "{CANARY}" started
      when: 09:30
    - id: sign
      kind: fist sign
      what: {CANARY} saw ooze
      when: 03/04/2025
    - id: sign
      kind: first sign
      what: {CANARY} saw more
      when: 10:26
    - kind: recognition
      what: {CANARY} named it
      when: 10:20
      wehn: 10:21
      {CANARY.lower()}: was there
    - kind: response
      what: @{CANARY} clipped it
      when: quarter past {CANARY}
held:
  - {CANARY} rang the ward
frames:
  - file: images/{CANARY.lower()} op.png
    event: sing
    shows: the bile leak of {CANARY}
    caption: {CANARY}
    crop: [0, 0, wide, 480]
  - file: ../{CANARY}.png
    shows: {CANARY}
    caption: {CANARY}
    cover:
      - box: [600, 470, 400, 0]
        why: {CANARY}
decisions:
  - at: sign
    question: What would {CANARY} do
    options:
      - option: Ask {CANARY}
    chosen: 4
    because: {CANARY} said so
outcome:
  summary: {CANARY} went home
  grades:
    - scale: clavien dindo
      grade: 3b {CANARY}
factors:
  - row: individual
    what: {CANARY} was tired
    changed: {CANARY}
  - row: team
    role: considered and excluded
    what: {CANARY} blamed the team
actions:
  - what: Remind {CANARY}
title: {CANARY} again
take away: Ask {CANARY}. Then ask again.
hold back: bile leak
"""

IDENTIFIERS = f"""\
people:
  - name: {CANARY}
    rol: patient
    also: @{CANARY}
  - {CANARY}: surgeon
places: {{{CANARY}: [}}
"""


def bad_case(folder: Path) -> Path:
    """Write the bad case and return its folder."""
    root = folder / "bad"
    picture(root / "images" / f"{CANARY} spare.jpg", 320, 200)
    picture(root / "images" / "second.png")
    (root / "case.yaml").write_text(TEXT, encoding="utf-8")
    (root / "identifiers.yaml").write_text(IDENTIFIERS, encoding="utf-8")
    return root
