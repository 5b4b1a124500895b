"""The readings files: what a monitor and a ward's observation rounds would have written.

Values run between knots taken from the story, with the jitter of a device; sentinels, blanks,
artefacts and silences are put where the story has them. Seeded, so a file is the same each time.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

import numpy as np

Knots = Sequence[tuple[float, float]]
"""(minutes since midnight, value), in order."""
SENTINEL = "8388607"
"""What a monitor writes where it has no reading (the largest signed 24-bit number)."""


def _minutes(clock: str) -> float:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


def _knots(text: str) -> Knots:
    """Read `09:00 78, 09:05 70` as knots."""
    pairs = (knot.split() for knot in text.split(", "))
    return [(_minutes(clock), float(value)) for clock, value in pairs]


def _along(knots: Knots, at: Iterable[float], jitter: float, rng: np.random.Generator) -> list[int]:
    times, values = [time for time, _ in knots], [value for _, value in knots]
    wanted = np.fromiter(at, float)
    return [round(v) for v in np.interp(wanted, times, values) + rng.normal(0, jitter, len(wanted))]


def _clock(minutes: float) -> str:
    seconds = round(minutes * 60)
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def _table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    sheet = io.StringIO()
    writer = csv.writer(sheet, lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows)
    return sheet.getvalue()


# The eye case: the monitor writes every 2.5 min, and its clock is 3 min slow.

EYE_HR = _knots(
    "13:47 74, 13:58 82, 14:10 70, 14:33 71, 14:43 80, 14:50 83, 14:55 92, 14:57 64, 15:02 78, "
    "15:15 72, 15:30 68"
)
EYE_MAP = _knots(
    "13:47 106, 14:02 99, 14:20 97, 14:35 102, 14:43 118, 14:50 121, 14:55 128, 15:00 127, "
    "15:06 109, 15:15 98, 15:30 94"
)
EYE_SPO2 = _knots("13:47 96, 14:20 98, 14:50 97, 15:30 98")


def eye_monitor() -> str:
    """Anaesthetic monitor of the eye case; five rows are missing while it restarted."""
    rng = np.random.default_rng(41)
    times = [_minutes("13:47") + 2.5 * i for i in range(42)]
    columns = [
        _along(EYE_HR, times, 1.3, rng),
        _along(EYE_MAP, times, 1.2, rng),
        _along(EYE_SPO2, times, 0.4, rng),
    ]
    rows = []
    for time, hr, mean, spo2 in zip(times, *columns, strict=True):
        if _minutes("14:18") < time < _minutes("14:30"):
            continue
        cuff = SENTINEL if _minutes("15:07") < time < _minutes("15:13") else mean
        probe = 0 if time == _minutes("14:04") + 0.5 else min(spo2, 100)
        rows.append((_clock(time), hr, cuff, probe, "H9990417"))
    return _table(("Time", "HR", "NIBP mean", "SpO2", "Case"), rows)


# The airway case: every minute, and the monitor's clock is 2 min 25 s fast.

AIRWAY_HR = _knots(
    "09:00 78, 09:05 70, 09:24 68, 09:33 72, 09:39 86, 09:43 106, 09:44 112, 09:45 112, "
    "09:48 119, 09:54 131, 09:59 127, 10:02 138, 10:12 117, 10:22 104, 10:35 98"
)
AIRWAY_MAP = _knots(
    "09:00 84, 09:03 66, 09:10 72, 09:24 70, 09:33 68, 09:39 62, 09:42 57, 09:44 54, 09:45 54, "
    "09:47 60, 09:51 49, 09:55 44, 10:01 48, 10:03 55, 10:12 64, 10:22 71, 10:35 74"
)
AIRWAY_SPO2 = _knots(
    "09:00 98, 09:24 99, 09:39 97, 09:44 95, 09:45 95, 09:48 91, 09:50 87, 09:54 93, 09:58 92, "
    "10:05 94, 10:22 97, 10:35 98"
)
AIRWAY_CO2 = _knots(
    "09:00 46, 09:24 45, 09:39 42, 09:44 34, 09:48 27, 09:50 19, 09:55 23, 10:01 22, 10:12 38, 10:35 48"
)
SAID = {"09:44": (112, 54, 95), "09:45": (112, 54, 95)}
"""What the photographed screen shows, so that the file says the same."""


def airway_monitor() -> str:
    """Theatre monitor of the airway case: 96 min, the cuff unreadable for six of them."""
    rng = np.random.default_rng(42)
    times = [_minutes("09:00") + i for i in range(96)]
    drawn = [_along(knots, times, jitter, rng) for knots, jitter in
             ((AIRWAY_HR, 1.6), (AIRWAY_MAP, 1.4), (AIRWAY_SPO2, 0.4), (AIRWAY_CO2, 0.6))]  # fmt: skip
    rows = []
    for time, hr, mean, spo2, co2 in zip(times, *drawn, strict=True):
        clock = _clock(time)
        hr, mean, spo2 = SAID.get(clock[:5], (hr, mean, min(spo2, 100)))
        rows.append((clock, hr, _cuff(clock, mean), _probe(clock, spo2), f"{co2 / 10:.1f}", "00990-7714"))
    return _table(("Time", "HR /min", "NIBP mean mmHg", "SpO2 %", "etCO2 kPa", "Patient"), rows)


def _cuff(clock: str, mean: int) -> object:
    if "09:56:00" <= clock <= "10:01:00":
        return SENTINEL
    # Turning: the cuff hose was off, and later somebody leant on the arm.
    return "" if clock in ("09:25:00", "09:26:00") else 142 if clock == "09:49:00" else mean


def _probe(clock: str, spo2: int) -> object:
    return -1 if clock in ("09:25:00", "09:26:00", "10:13:00") else spo2


# The abdomen case: rounds of observations over five days, and the blood results beside them.

WARD = (
    # round, respiratory rate, heart rate, mean arterial pressure, temperature, score as written
    ("2024-02-27 12:40", 14, 76, 84, 36.2, 0), ("2024-02-27 13:40", 15, 78, 82, 36.4, 0),
    ("2024-02-27 16:00", 16, 80, 80, 36.7, 0), ("2024-02-27 20:05", 16, 82, 79, 37.0, 0),
    ("2024-02-28 00:10", 15, 84, 78, 37.1, 0), ("2024-02-28 06:00", 16, 86, 80, 37.2, 0),
    ("2024-02-28 10:15", 16, 88, 81, 37.4, 0), ("2024-02-28 14:00", 17, 90, 80, 37.5, 0),
    ("2024-02-28 18:10", 17, 92, 79, 37.6, 1), ("2024-02-28 22:00", 18, 96, 80, 37.6, 1),
    ("2024-02-29 06:00", 18, 98, 78, 37.7, 1), ("2024-02-29 10:00", 19, 101, 76, 37.7, 1),
    ("2024-02-29 14:20", 20, 104, 74, 37.8, 1), ("2024-02-29 16:45", 19, 97, 80, 37.6, 1),
    ("2024-02-29 21:50", 20, 99, 81, 37.7, 1), ("2024-03-01 06:05", 22, 108, 79, 37.9, 3),
    ("2024-03-01 10:00", 22, 106, 80, 37.9, 3), ("2024-03-01 15:00", 21, 999, 82, 37.8, 2),
    ("2024-03-01 18:30", 21, 107, 80, 38.0, 3), ("2024-03-01 22:10", 22, 110, 77, 38.1, 4),
    ("2024-03-02 05:40", 24, 118, 72, 38.3, 6), ("2024-03-02 09:15", 25, 121, 70, 38.4, 7),
    ("2024-03-02 11:30", 26, 119, 72, 38.3, 7), ("2024-03-02 17:00", 18, 102, 76, 37.6, 3),
    ("2024-03-02 21:00", 16, 94, 78, 37.3, 3), ("2024-03-03 02:00", 16, 92, 80, 37.2, 1),
    ("2024-03-03 06:00", 17, 90, 81, 37.1, 0), ("2024-03-03 10:00", 16, 88, 82, 37.0, 0),
)  # fmt: skip
BLOODS = (
    # taken, haemoglobin g/L, C-reactive protein mg/L, white cells, lactate mmol/L
    ("2024-02-21 10:30", 128, 6, 7.1, ""), ("2024-02-28 06:30", 111, 92, 11.4, ""),
    ("2024-02-29 06:20", 91, 168, 12.9, ""), ("2024-02-29 20:30", 104, "", "", 1.6),
    ("2024-03-01 06:30", 101, 212, 13.8, 1.9), ("2024-03-02 05:55", 103, 287, 17.6, 2.9),
    ("2024-03-02 18:10", 98, 240, 16.0, 1.4), ("2024-03-03 06:10", 96, 231, 13.9, 1.0),
)  # fmt: skip


def ward_rounds() -> str:
    """Ward observations; the monitor wrote 999 once, and two nights have a silence."""
    head = ("Recorded", "Resp rate", "Heart rate", "MAP", "Temp", "Score", "Nurse")
    nurses = ("AF", "JO", "PT")
    return _table(head, ((*row, nurses[i % 3]) for i, row in enumerate(WARD)))


def ward_bloods() -> str:
    """Blood results; one before the operation, then daily with an extra after transfusion."""
    return _table(
        ("Taken", "Hb", "CRP", "WCC", "Lactate", "Specimen"), ((*row, _specimen(row[0])) for row in BLOODS)
    )


def _specimen(taken: str) -> str:
    return f"99{(datetime.fromisoformat(taken) - datetime(2024, 1, 1)) // timedelta(hours=1):05d}"  # noqa: DTZ001


# The aorta case: an arterial line every two minutes, and the monitor's clock is 1 min 40 s fast.

AORTA_HR = _knots(
    "09:14 68, 09:34 74, 10:00 70, 10:40 71, 10:44 94, 10:46 104, 10:50 118, 10:54 128, 11:02 134, "
    "11:08 122, 11:30 118, 12:00 112, 12:40 110"
)
AORTA_MAP = _knots(
    "09:14 84, 09:22 72, 09:34 78, 10:00 75, 10:40 76, 10:43 54, 10:46 61, 10:49 44, 10:52 38, 11:02 34, "
    "11:04 36, 11:06 67, 11:12 58, 11:30 62, 12:00 60, 12:40 63"
)
FLUSHED = ("2026-03-24 09:45:40", "2026-03-24 11:33:40")
"""When the line was flushed or drawn from: the pressure of the bag."""


def aorta_monitor() -> str:
    """Theatre monitor of the aorta case; the line was flushed twice."""
    rng = np.random.default_rng(43)
    times = [_minutes("09:14") + 2 * i for i in range(104)]
    columns = [_along(AORTA_HR, times, 1.4, rng), _along(AORTA_MAP, times, 1.1, rng)]
    stamps = [f"2026-03-24 {_clock(time + 5 / 3)}" for time in times]
    rows = [
        (stamp, hr, 296 if stamp in FLUSHED else mean, "990-63 1185")
        for stamp, hr, mean in zip(stamps, *columns, strict=True)
    ]
    return _table(("Time", "HR", "ART mean", "Patient"), rows)


FILES = {
    "eye-drainage": {"monitor.csv": eye_monitor},
    "abdomen-colon": {"observations.csv": ward_rounds, "bloods.csv": ward_bloods},
    "airway-prone": {"monitor.csv": airway_monitor},
    "aorta-graft": {"monitor.csv": aorta_monitor},
}
