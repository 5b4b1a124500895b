"""Numbers in the cases agree with each other, with the pictures and with the trade's formulae."""

from __future__ import annotations

import csv
import re

import pytest

from mmbuilder.case.clocks import Reckoner

from .conftest import CASES, stills


def rows(code: str, name: str) -> list[dict[str, str]]:
    with (CASES / code / "readings" / name).open(encoding="utf-8", newline="") as sheet:
        return list(csv.DictReader(sheet))


def text_of(code: str) -> str:
    return (CASES / code / "case.yaml").read_text(encoding="utf-8")


def minutes(case, event_id: str) -> float:
    event = next(event for event in case.timeline.events if event.id == event_id)
    moment = Reckoner(case).moment(event.when, event.clock)
    assert moment.lo is not None
    return moment.lo


def test_burned_in_clock_agrees_with_time_into_the_file(checked):
    """Recorder 1 min 45 s fast; file 2 starts at 14:51:10 on it; the still shows 14:56:35 at 05:25."""
    case = checked["eye-drainage"].folder.case
    # 14:56:35 - 1:45 - 14:20:00 = 34 min 50 s
    assert minutes(case, "iris-forward") == pytest.approx(34 + 50 / 60)
    source = (CASES / "stills" / "eye.py").read_text(encoding="utf-8")
    assert '"14:56:35", "F2 00:05:25"' in source
    assert '"14:59:35", "F2 00:08:25"' in source
    assert '"14:40:00", "F1 00:18:20"' in source


def test_recorder_offset_and_drift(checked):
    offsets = {clock.name: clock for clock in Reckoner(checked["eye-drainage"].folder.case).offsets()}
    assert offsets["recorder"].offset.lo == pytest.approx(-105 / 60)
    assert offsets["recorder"].drift.lo == pytest.approx(1 / 60)


def test_index_day_offsets_count_the_leap_day(checked):
    """27 February 2024 to 2 March 2024 is 4 days, as 2024 has a 29 February (civil calendar)."""
    case = checked["abdomen-colon"].folder.case
    reckoner = Reckoner(case)
    dated = {event.id: event.when.first.day for event in case.timeline.events if event.id}
    assert reckoner.days_from_zero(dated["blocked"]) == 4
    assert reckoner.days_from_zero(dated["vomit"]) == 2


def test_clock_hours_and_sides_in_the_words_of_the_eye_case():
    """Temporal is 9 o'clock seen from the front in a right eye (convention, check-values E3, from memory)."""
    assert "side: right" in text_of("eye-drainage")
    said = re.findall(r"(\d{1,2})(?:\.\d\d)? o'clock \(temporal\)|temporal[^.]{0,40}\((\d{1,2}) o'clock\)",
                      text_of("eye-drainage"))  # fmt: skip
    hours = [int(first or second) for first, second in said]
    assert len(hours) >= 2
    assert set(hours) == {9}


@pytest.mark.parametrize(
    ("hour", "right_of_centre", "below_centre"), [(9, True, None), (12, None, True), (3, False, None)]
)
def test_picture_from_the_head_turns_clock_hours_by_six(hour, right_of_centre, below_centre):
    """Seated above: the screen hour is the anatomical hour + 6 (practice.md (e) 21)."""
    eye = stills("eye")
    x, y = eye.at_hour(hour, 100)
    if right_of_centre is not None:
        assert (x > eye.CENTRE[0]) is right_of_centre
        assert y == pytest.approx(eye.CENTRE[1])
    if below_centre is not None:
        assert (y > eye.CENTRE[1]) is below_centre


def test_crescent_is_drawn_and_pointed_at_on_the_temporal_side(geometry, checked):
    eye = stills("eye")
    still = geometry["eye-drainage"]["tube-in.jpg"]
    frame = next(f for f in checked["eye-drainage"].folder.case.frames if f.id == "tube-in")
    assert still["marks"]["crescent"][0] > eye.CENTRE[0]
    assert frame.arrows[0].end[0] > eye.CENTRE[0]


def test_dome_heights_follow_from_pixels_and_scale():
    """690 px are 25.5 mm on the scan, so 176 and 128 px are 6.5 and 4.7 mm."""
    eye = stills("eye")
    heights = [round(tall / eye.SCAN_MM, 1) for _, _, tall in eye.DOMES]
    assert heights == [6.5, 4.7]
    assert "domes 6.5 mm temporal and 4.7 mm nasal" in text_of("eye-drainage")


def test_doses_follow_from_strength_and_volume():
    """1% is 10 mg/mL (definition); mannitol 1 g/kg for 71 kg; infusion mL/h x µg/mL / 60 / kg."""
    assert 4 * 2 * 10 == 80
    assert "lidocaine 2% 4 mL (80 mg)" in text_of("eye-drainage")
    assert 355 * 20 * 10 / 1000 == 71
    assert "mannitol 20% 355 mL (71 g)" in text_of("eye-drainage")
    assert "weight: 71 kg" in text_of("eye-drainage")
    assert round(5 * (5000 / 50) / 60 / 84, 1) == 0.1
    assert "5 mg in 50 mL at 5 mL/h" in text_of("airway-prone")
    assert "weight: 84 kg" in text_of("airway-prone")


def test_tryptase_is_above_the_limit_of_its_baseline():
    """Acute > 1.2 x baseline + 2 µg/L (Valent 2012, from memory; practice.md (e) 32)."""
    limit = 1.2 * 5.2 + 2
    assert round(limit, 1) == 8.2
    assert limit < 14.1
    assert "1.2 × 5.2 + 2 = 8.2" in text_of("airway-prone")


def test_stated_minutes_of_the_airway_case(checked):
    case = checked["airway-prone"].folder.case
    assert minutes(case, "slope") == pytest.approx(6, abs=0.5)
    assert minutes(case, "bag") - minutes(case, "alarm") == pytest.approx(7.5)
    assert minutes(case, "changed") == 19
    # photograph of the ventilator 3 min 25 s after the filter was changed
    assert minutes(case, "still") - minutes(case, "changed") == pytest.approx(3 + 25 / 60)


def test_photographed_screen_and_file_say_the_same():
    row = next(row for row in rows("airway-prone", "monitor.csv") if row["Time"] == "09:44:00")
    assert (row["HR /min"], row["NIBP mean mmHg"], row["SpO2 %"]) == ("112", "54", "95")
    source = (CASES / "stills" / "airway.py").read_text(encoding="utf-8")
    for value in ("112", "54", "95", "09:44:35"):
        assert value in source


def test_monitor_files_have_sentinels_gaps_and_an_artefact():
    sentinel = stills("readings").SENTINEL
    airway = rows("airway-prone", "monitor.csv")
    assert len(airway) >= 90
    assert sum(row["NIBP mean mmHg"] == sentinel for row in airway) == 6
    assert [row["Time"] for row in airway if row["NIBP mean mmHg"] == "142"] == ["09:49:00"]
    assert any(row["SpO2 %"] == "-1" for row in airway)
    eye = rows("eye-drainage", "monitor.csv")
    assert any(row["NIBP mean"] == sentinel for row in eye)
    assert not [row for row in eye if "14:19" < row["Time"] < "14:29"]


def test_ward_observations_have_silent_nights():
    """No round between midnight and 05:00 on the three nights before the second operation."""
    nights = {
        row["Recorded"][:10]
        for row in rows("abdomen-colon", "observations.csv")
        if "00:00" <= row["Recorded"][11:] < "05:00"
    }
    assert nights == {"2024-02-28", "2024-03-03"}
    assert any(row["Heart rate"] == "999" for row in rows("abdomen-colon", "observations.csv"))


def test_blood_results_in_the_words_are_those_in_the_file():
    text = text_of("abdomen-colon")
    for row in rows("abdomen-colon", "bloods.csv")[1:3]:
        assert f"Hb {row['Hb']} g/L" in text
        assert f"CRP {row['CRP']} mg/L" in text
    day4 = next(
        row for row in rows("abdomen-colon", "bloods.csv") if row["Taken"].startswith("2024-03-02 05")
    )
    assert f"lactate {day4['Lactate']} mmol/L, CRP {day4['CRP']} mg/L, white cells {day4['WCC']}" in text


def test_readings_files_are_what_their_code_writes():
    for code, files in stills("readings").FILES.items():
        for name, made in files.items():
            assert (CASES / code / "readings" / name).read_text(encoding="utf-8") == made()
