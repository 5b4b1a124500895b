"""Four bare figures that a word tells to be a time of day, and all the others that are none.

Sentences are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.case import counted_time
from mmbuilder.case.bare_time import find
from mmbuilder.case.counted_time import Counting
from mmbuilder.case.freetext import Path as Place
from mmbuilder.case.model import Case
from mmbuilder.casefile import load
from tests.casefile.minimal import changed, minimal_case
from tests.scrub.sets.passages import parsed

LESSONS = Path(__file__).parents[1] / "scrub" / "judging"

TIMES = {
    "still nothing, called surgeon A, came 1030": ["1030"],
    "Told the patient the same evening 1840, apologised": ["1840"],
    "1027 still nothing": ["1027"],
    "1022: tourniquet down": ["1022"],
    "vascular trainee, then the consultant in room 1048": ["1048"],
    "called the surgeon 1027, back in theatre 1031": ["1027", "1031"],
    "tourniquet up 0832. Tourniquet down 1022, foot white": ["0832", "1022"],
    "~0905 meniscus trimmed": ["0905"],
    "no output since 1030 and on pressors": ["1030"],
    "left theatre 1315; out of theatre 1315 -> ITU": ["1315", "1315"],
    "home 1700": ["1700"],
    "arrived about 1045": ["1045"],
    "started 1100. Stopped 1140.": ["1100", "1140"],
    "finished 1210, back on ward 1430": ["1210", "1430"],
    "bleeped the trainee 1142, no answer": ["1142"],
    "1030 off bypass. 1005 lost the view": ["1030", "1005"],
    "1058 heparin 5000 u": ["1058"],
    "informed that evening 1940": ["1940"],
    "6 Fr 26 cm stent in 1014": ["1014"],
    "16 F catheter, 1025 lactate 4.8": ["1025"],
}
NO_TIMES = (
    "EBL approx 1400 ml, EBL 1000, blood loss 1400, called for help",
    "EBL 1200, called",
    "lactate back, bag in suction, 1400 ml; blood loss told, 1200 then",
    "operated in 1014 patients, done 1200 times, passed 1034 to the bag",
    "Prev ACL same knee 2014 at another hospital",
    "since 2014, left hospital 2014, home 2014, back 2014, 2014 ACL repair",
    "in 2014 by another surgeon; seen in clinic 2014 and 2015",
    "heparin 5000 u; heparin 1000 given; 1000 heparin; 1000 units",
    "scanner model 1200, model 0915, lot 1034, ref 1034, serial 0931, code 0915",
    "1400 ml in suction. 1400 blood in the suction. 1400 out. 1500 saline",
    "1200 patients a year",
    "drain left 1400",
    "drain output back 1200",
    "ascites drained, taken off 1400.",
    "came with CK 1840. hCG came back 1200. WCC came back 1840. Called back with troponin 1034",
    "told loss 1400, told of 1200, called for 1200",
    "bleep 1034, called ext 1034, called 2222, on-call phone 0117 496 0123, 0812-3345-01",
    "pressure pump up to 1000, tidal volume 1200, energy 1200",
    "feed started 1200 kcal, started 1000 metformin, home on 1000 bd, vancomycin started 1000",
    "urine 1200 since morning, weight 1200, fluid balance 1200 at close",
    "closed with 1034 staples, came 1200 miles, came 1030.5, came 10300",
    "tourniquet 300 mmHg, took 1030, ratio 1030",
)


@pytest.mark.parametrize(("text", "expected"), TIMES.items())
def test_a_word_or_a_place_tells_a_time(text: str, expected: list[str]) -> None:
    assert [text[one.start : one.end] for one in find(text)] == expected


@pytest.mark.parametrize("text", NO_TIMES)
def test_what_is_counted_or_numbered_is_no_time(text: str) -> None:
    assert [*find(text)] == []


def test_what_could_be_a_year_says_so() -> None:
    assert [one.year for one in find("came 2014. Came 1030")] == [True, False]


# In a case


TIMED = (
    "{{timeline: {{events: {{0: {{when: '{}'}}, 1: {{when: '{}'}}, 2: {{when: '{}'}}, 3: {{when: '{}'}}}}}}}}"
)
"""Times for the events of the minimal case; the first is its index event."""
MORNING, WITH_COLONS = ("0930", "1005", "1015", "1020"), ("09:30", "10:05", "10:15", "10:20")


def case_of(into: Path, times: tuple[str, ...] = MORNING) -> Case:
    return load(minimal_case(into, changed(TIMED.format(*times)))).case


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Case:
    return case_of(tmp_path_factory.mktemp("bare"))


def told(case: Case, text: str, path: Place = ("situation",)) -> list[tuple[str, str]]:
    return [(time.instead, time.why) for time in Counting(case).find(text, path)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("called surgeon A, came 1030", "T+1:00"),
        ("1027 still nothing", "T+0:57"),
        ("in room 1048", "T+1:18"),
        ("cuff up 0832", "T−0:58"),
        ("told the same evening 1840", "T+9:10"),
    ],
)
def test_it_is_counted_within_the_story(bare: Case, text: str, expected: str) -> None:
    assert told(bare, text) == [(expected, "")]


@pytest.mark.parametrize(
    ("text", "path", "why"),
    [
        ("told in the evening 1840", ("outcome", "told"), counted_time.OUTCOME),
        ("came 1840", ("situation",), counted_time.FAR),
        ("the wall clock: came 1010", ("situation",), counted_time.OTHER_CLOCK),
        ("Day 2: home 1010", ("situation",), counted_time.OTHER_DAY),
    ],
)
def test_what_cannot_be_counted_is_told_with_the_reason(bare: Case, text: str, path: Place, why: str) -> None:
    assert told(bare, text, path) == [(counted_time.LOST, why)]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("home 1700", "a word of much else, and far from the story"),
        ("came 2014", "a year, for the story is of the morning"),
        ("EBL 1000", "a volume, though it lies in the story"),
    ],
)
def test_what_lies_elsewhere_is_left_alone(bare: Case, text: str, why: str) -> None:
    assert told(bare, text) == [], why


def test_where_times_have_a_colon_only_a_word_right_beside_tells(tmp_path: Path) -> None:
    case = case_of(tmp_path, WITH_COLONS)
    assert told(case, "surgeon A came 1030") == [("T+1:00", "")]
    assert told(case, "1027 still nothing; in room 1010; cuff up 0932; surgeon A came 1840") == []


def test_a_year_in_a_story_of_the_evening_is_never_counted(tmp_path: Path) -> None:
    case = case_of(tmp_path, ("1930", "1950", "1955", "2020"))
    assert told(case, "surgeon A came 2014") == [(counted_time.LOST, counted_time.FIGURE)]
    assert told(case, "ACL repair 2014, since 2014; left 2014") == []


class _AllDay(Counting):
    """Counts every time of the day, in figures alone too."""

    def __init__(self, case: Case) -> None:
        super().__init__(case)
        self._writes_bare = True

    def _windows(self, path: Place, *, same_day: bool) -> list[list[tuple[float, float]]]:
        return [[(-570, 869)]]


def test_what_must_stay_in_the_lessons_is_no_bare_time(bare: Case) -> None:
    """The marks are those of the lessons, by hands that had not read this."""
    counting, touched, marks, times = _AllDay(bare), [], 0, 0
    for file in sorted(LESSONS.glob("clean*.txt")):
        for line in file.read_text("utf-8").splitlines():
            passage = parsed(line, "dev")
            found = [(time.start, time.end) for time in counting.find(passage.text) if time.bare]
            marks, times = marks + len(passage.keep), times + len(found)
            touched += [
                passage.text[start:end]
                for start, end in passage.keep
                if any(first < end and start < last for first, last in found)
            ]
    assert marks > 5_000
    assert times > 15
    assert touched == []
