"""Alarm limits come from the case alone, and cross with their line of readings."""

from __future__ import annotations

from pathlib import Path

from mmbuilder.casefile import load
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from tests.scrub.small_case import CASE, folder

READINGS = """
readings:
  - file: readings/monitor.csv
    lines:
      - {column: MAP, name: mean pressure, unit: mmHg, low: 10, high: 200%s}
"""


def limits(root: Path, more: str) -> tuple[float | None, float | None]:
    folder(root, CASE + READINGS % more)
    (root / "readings").mkdir()
    rows = "".join(f"14:{minute:02d},{70 + minute}\n" for minute in range(5, 30, 5))
    (root / "readings" / "monitor.csv").write_text("Time,MAP\n" + rows, encoding="utf-8")
    case = load(root)
    (line,) = apply(case, propose(case, names=NoNameModel())).series
    return line.alarm_low, line.alarm_high


def test_limits_cross_as_they_were_set(tmp_path: Path) -> None:
    assert limits(tmp_path / "case", ", alarm below: 55, alarm above: 110") == (55.0, 110.0)


def test_no_limit_is_taken_from_anywhere_else(tmp_path: Path) -> None:
    assert limits(tmp_path / "case", "") == (None, None)
