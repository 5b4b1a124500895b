"""A small case folder with everything in it that crosses the line; wholly invented."""

from __future__ import annotations

import shutil
from pathlib import Path

from PIL import Image

from mmbuilder.casefile import load
from mmbuilder.casefile.folder import CaseFolder

CASE = """
mmbuilder: 1
code: wheel-01
title: A pump that would not start
use: department review
specialty: general surgery
presenter: {role: surgical trainee}
meeting: 2026-05-12
situation: The pump stopped while Dr Velkonar was closing, on Rose Ward, on 14 March 2026.
background: Seen by Mr Velkonar's team in Quenbyford; MRN 00482913; write to wheel@example.org.
asked: Was the pump checked?
patient:
  age: 93
  sex: female
  side: right
  history: [Foley catheter since February 2026, "Mrs Oskavarn said: fine"]
plan:
  procedure: Pump exchange
  findings: [Acuity 6/9 and 20/40]
clocks:
  - {name: wall clock, reference: yes}
  - {name: Velkonar recorder, offset: -2 min 15 s}
timeline:
  index event: stop
  day zero: 2026-03-14
  phases:
    - {name: closing, starts: "14:00", ends: "15:00"}
  events:
    - {id: start, kind: step, what: Pump started by Velkonar, when: "14:00"}
    - {id: sign, kind: first sign, what: Hum heard, noticed: in hindsight, when: "14:10",
       source: Velkonar's log}
    - {id: stop, kind: recognition, recognised: complication, what: Pump found still, when: "14:20"}
    - {id: spare, kind: response, what: Spare fetched, when: "14:25"}
frames:
  - file: images/Oskavarn pump.png
    event: stop
    shows: A pump
    caption: The still pump, label of Oskavarn covered
    crop: [10, 20, 60, 40]
    arrows: [{from: [10, 20], to: [40, 40], label: rotor}]
    circles: [{at: [70, 60], radius: 6}]
    cover: [{box: [12.5, 22.5, 5, 5], why: label}]
decisions:
  - at: stop
    question: Which way now?
    options:
      - {option: Restart it, reason: quick}
      - {option: Fetch the spare, reason: safe}
    chosen: 2
    because: Velkonar asked for it
outcome:
  summary: Ended well; the patient, aged 93, went home on 20 March 2026
  grades: [{scale: Clavien-Dindo, grade: I}]
  visits: [{when: day 7, label: Clinic, measures: [{name: Acuity, value: 6/9}]}]
factors:
  - {row: task, what: No check, evidence: [stop, log of 14 March 2026], actions: check}
held:
  - {what: Spare was near, evidence: spare}
actions:
  - {id: check, what: Daily check, owner: theatre lead, due: by 7 July 2026, measure: log complete}
questions:
  - {ask: What would you check?, answer: The fuse}
take away: Check the pump.
"""

IDENTIFIERS = """
people:
  - {name: Jane Oskavarn, role: patient}
  - {name: Peter Velkonar, role: surgeon}
places:
  - {name: Rose Ward, kind: ward}
  - {name: Quenbyford, kind: town}
numbers:
  - {value: "00482913", kind: record number}
"""

NAMES = ("oskavarn", "velkonar", "quenbyford", "00482913", "482913", "rose ward")


def folder(root: Path, case: str = CASE, identifiers: str = IDENTIFIERS) -> Path:
    """Write the folder anew."""
    shutil.rmtree(root, ignore_errors=True)
    (root / "images").mkdir(parents=True)
    (root / "case.yaml").write_text(case, encoding="utf-8")
    (root / "identifiers.yaml").write_text(identifiers, encoding="utf-8")
    Image.new("RGB", (100, 80), (200, 10, 10)).save(root / "images" / "Oskavarn pump.png")
    return root


def small(root: Path, case: str = CASE, identifiers: str = IDENTIFIERS) -> CaseFolder:
    """Write the folder and read it."""
    return load(folder(root, case, identifiers))
