"""What holds for every text: nothing declared survives, twice is once, dates map back, kept words stay."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.scrub.crossing.words import replace_all
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.detectors import date as dates
from mmbuilder.scrub.findings import replaced
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.judged import Judged
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.layers import detectors
from mmbuilder.scrub.plan import Decision
from mmbuilder.scrub.propose import in_texts
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.standins import Dates
from tests.scrub.small_case import small

BOUNDED = settings(
    max_examples=30,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
"""Few and always the same: a fault that is found stays found."""

DECLARED = Declared.model_validate(
    {
        "people": [
            {"name": "Jaspin Oswin Tarnvolk", "role": "surgeon"},
            {"name": "Siobhan O'Drellan", "role": "nurse"},
            {"name": "Jörg Müllvann", "role": "anaesthetist"},
            {"name": "Ottilie Brask-Veldhoen", "role": "patient"},
        ],
        "places": [
            {"name": "Saint Orvane's Hospital", "kind": "hospital"},
            {"name": "Ward 7B", "kind": "ward"},
        ],
        "numbers": [
            {"value": "999 000 0018", "kind": "national number"},
            {"value": "H9990417", "kind": "record number"},
            {"value": "01632 960123", "kind": "phone number"},
        ],
    }
)
INDEX = Index(DECLARED)
NOTHING = Index(Declared())
SURNAMES = ("Tarnvolk", "O'Drellan", "Müllvann", "Veldhoen")


@cache
def model() -> Judged:
    return Judged()


def scrubbed(text: str, index: Index = INDEX) -> str:
    return replaced(text, in_texts([text], index, names=model())[0])


# --- texts ------------------------------------------------------------------------------------

WORDS = st.sampled_from(
    [
        *(
            "the graft",
            "a drain",
            "bleeding",
            "then clamped",
            "pressure fell",
            "slowly",
            "anterior",
            "capsule",
        ),
        *("torn suture", "the eye"),
        *("4 mmHg", "T+0:14", "6/9", "Day 3", "ICU", "an NG tube", "Fuchs dystrophy", "Hinchey III", "24 Fr"),
        *("hand movements", "gray matter", "the left", "2.4 mg/dl", "BP 120/80", "Clavien-Dindo IIIb"),
    ]
)
CLAUSE = st.lists(WORDS, min_size=1, max_size=5).map(", ".join)
PEOPLE = st.sampled_from(
    [
        "Dr Quorrin",
        "Mr. P. Velkonar",
        "Nurse Oskavarn",
        "Ms Zebulanthe-Crane",
        "the anaesthetist Dr Quillorne",
    ]
)
DATED = st.dates(date(1990, 1, 1), date(2029, 12, 31))
FORMS = (
    "%d %B %Y", "%-d %b %Y", "%B %-d, %Y", "%b %-d %Y", "%Y-%m-%d", "%d-%b-%Y", "%A %-d %B %Y", "%-d. %B %Y",
    "%-d of %B, %Y", "%d %B, %Y",
)  # fmt: skip
WRITTEN = st.tuples(DATED, st.sampled_from(FORMS)).map(lambda both: both[0].strftime(both[1]))
OTHER = st.sampled_from(
    [
        "MRN 00482913", "NHS 999 000 0018", "tel. 01632 960456", "wheel@example.org", "aged 93", "93-year-old",
        "https://example.org/a?b=1", "192.0.2.7", "bed 14", "on Monday", "lot AX-99012", "born in 1931",
    ]
)  # fmt: skip
THING = st.one_of(PEOPLE, WRITTEN, OTHER)
FRAMES = (
    "{0}, seen by {1}, {2}{3}",
    "{1} was told of {0} and {2}{3}",
    "{0}: {1}; {2}{3}",
    "{0} with {1} {3}",
)
SENTENCE = st.builds(
    str.format, st.sampled_from(FRAMES), CLAUSE, THING, CLAUSE, st.sampled_from([".", "; ", ", ", ":\n", "\n- "]),
)  # fmt: skip
NOTE = st.lists(SENTENCE, min_size=1, max_size=3).map(" ".join)
RAW = st.text(max_size=60)

APART = ("-", "- ", "-\n", "\n", "\u00ad", "\u200b", "_", "\u2010", "/", "&shy;", "&#8203;")
BOLD = str.maketrans(
    {chr(65 + at): chr(0x1D400 + at) for at in range(26)}
    | {chr(97 + at): chr(0x1D41A + at) for at in range(26)}
)
WIDE = str.maketrans({chr(at): chr(at + 0xFEE0) for at in range(0x21, 0x7F)})
CYRILLIC = str.maketrans("aeopcxTKMHO", "аеорсхТКМНО")


@st.composite
def name_in_any_writing(draw: st.DrawFn) -> str:
    """A declared surname, as somebody or some program may have written it."""
    name = draw(st.sampled_from(SURNAMES))
    place = draw(st.integers(2, len(name) - 2))
    ways = {
        "plain": name,
        "upper": name.upper(),
        "lower": name.lower(),
        "apart": name[:place] + draw(st.sampled_from(APART)) + name[place:] if len(name) < 9 else name,
        "letters": " ".join(name.replace("'", "")),
        "dots": ".".join(name.replace("'", "")),
        "bold": name.translate(BOLD),
        "wide": name.translate(WIDE),
        "cyrillic": name.translate(CYRILLIC),
        "apostrophe": name.replace("'", draw(st.sampled_from("’ʼ‘`´＇"))),
        "umlaut": name.replace("ü", draw(st.sampled_from(["ue", "u", "u\u0308"]))),
        "titled": "Dr" + name,
        "user name": f"j{name.replace(chr(39), '').lower()}",
        "file": f"OpNote{name.replace(chr(39), '')}Final",
        "turned": f"{name}, J.O.",
        "plural": f"the {name}s",
        "possessive": f"{name}’s",
        "entity": "".join(f"&#{ord(sign)};" for sign in name),
        "percent": "".join(f"%{byte:02X}" for byte in name.encode()),
        "slip": f"Dr {name[:place]}{name[place + 1 :]}",
        "exchanged": f"Mr {name[: place - 1]}{name[place]}{name[place - 1]}{name[place + 1 :]}",
    }
    return ways[draw(st.sampled_from(sorted(ways)))]


def bare(text: str) -> str:
    """The letters and figures of a text alone, folded, escapes read: what a reader could still make out."""
    import html
    import urllib.parse

    return re.sub(r"[\W_]", "", folded(html.unescape(urllib.parse.unquote(text, errors="replace"))))


@given(CLAUSE, name_in_any_writing(), CLAUSE)
@settings(BOUNDED, max_examples=250)
def test_no_declared_name_survives_in_any_writing(before: str, written: str, after: str) -> None:
    text = f"{before} {written} {after}"
    out = replaced(text, INDEX.find(text))
    assert not re.search("tarnv|nvolk|drellan|mullv|muellv|lvann|veldh|dhoen", bare(out)), out
    assert out != text


SEPARATORS = ("", " ", "-", ".", "/", "\u00a0", " - ", ", ", "·", "\n")


@given(
    CLAUSE,
    st.sampled_from(["9990000018", "h9990417", "H9990417", "01632960123", "9990417", "960123", "999OOOOO18"]),
    st.sampled_from(SEPARATORS),
    st.integers(1, 5),
    st.sampled_from(["", "No", "#", "+44 "]),
)
@settings(BOUNDED, max_examples=150)
def test_no_declared_number_survives_in_any_grouping(
    before: str, number: str, separator: str, place: int, lead: str
) -> None:
    text = f"{before}; {lead}{number[:place]}{separator}{number[place:]} then"
    out = replaced(text, INDEX.find(text))
    assert bare(number)[-6:] not in bare(out), out


# --- twice is once ----------------------------------------------------------------------------


@given(NOTE)
@BOUNDED
def test_scrubbing_what_was_scrubbed_changes_nothing(note: str) -> None:
    once = scrubbed(note, NOTHING)
    assert scrubbed(once, NOTHING) == once


@given(CLAUSE, name_in_any_writing(), THING, CLAUSE)
@BOUNDED
def test_scrubbing_twice_changes_nothing_of_the_declared(
    before: str, name: str, thing: str, after: str
) -> None:
    # Behind a cue what is left of a file's name is a name itself to the second reading: `seen by OpNote the surgeon`.
    cue = "in" if name.startswith("OpNote") else "seen by"
    once = scrubbed(f"{before}, {cue} {name}; {after}, {thing}.")
    assert scrubbed(once) == once


STAND_INS = (
    "the anaesthetist A", "surgeon B", "the surgeon", "Day 3", "Day −12", "[date]", "aged 90 or older", "Hospital A",
    "Ward B", "[record number]", "[ZIP 627xx]", "[name C]", "8 weeks after this meeting", "the patient's",
    "[phone number]", "within 3 days of this meeting", "the technician A2",
)  # fmt: skip


@given(st.lists(st.one_of(st.sampled_from(STAND_INS), CLAUSE), min_size=1, max_size=6))
@BOUNDED
def test_our_own_words_are_left_alone(said: list[str]) -> None:
    text = " and ".join(said)
    assert scrubbed(text) == text


# --- dates ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Case:
    return small(tmp_path_factory.mktemp("case")).case


@given(CLAUSE, st.integers(-9000, 4000), st.sampled_from(FORMS), CLAUSE)
@settings(BOUNDED, max_examples=200)
def test_day_numbers_map_back_to_their_dates(
    case: Case, before: str, off: int, form: str, after: str
) -> None:
    zero = case.timeline.day_zero.date
    text = f"{before}: {(zero + timedelta(days=off)).strftime(form)}; {after}"
    told = [Dates(case).told(("situation",), text, span) for span in settle(text, dates.find(text))]
    numbers = [re.fullmatch(r"Day (−?\d+)", span.stand_in) for span in told]
    counted = [int(found[1].replace("−", "-")) for found in numbers if found]
    assert [zero + timedelta(days=days) for days in counted] == [zero + timedelta(days=off)], text


# --- kept words -------------------------------------------------------------------------------

TERMS = sorted(term for term in load().terms if term.isascii() and term.isalpha() and len(term) > 2)
KEPT = st.sampled_from(TERMS)
FRAME = st.sampled_from(
    ["There was {} beside the {}.", "The {} was seen; no {} followed.", "Then the {} and {} were checked."]
)


@given(FRAME, KEPT, KEPT)
@settings(BOUNDED, max_examples=200)
def test_words_of_the_keep_list_stay(frame: str, one: str, two: str) -> None:
    text = frame.format(one, two)
    assert scrubbed(text) == text


# --- plans ------------------------------------------------------------------------------------


@given(st.one_of(NOTE, RAW, st.builds("{} {} {}".format, RAW, name_in_any_writing(), RAW)))
@BOUNDED
def test_spans_are_apart_and_all_else_is_untouched(text: str) -> None:
    spans = in_texts([text], INDEX, names=model())[0]
    last, rest = 0, []
    for span in spans:
        assert last <= span.start < span.end <= len(text)
        assert span.decision is Decision.REPLACE
        rest.append(text[last : span.start])
        last = span.end
    rest.append(text[last:])
    out = replace_all(text, spans).reveal()
    assert out == replaced(text, spans)
    for kept, span in zip(rest, [*spans, None], strict=True):
        assert out.startswith(kept)
        out = out[len(kept) + (len(span.stand_in) if span else 0) :]
    assert out == ""


# --- any text at all --------------------------------------------------------------------------

LEAVES = detectors()
ODD = st.one_of(
    st.text(max_size=200),
    st.text(alphabet="0123456789 -/.,:()+#ABab\n'’&%;", max_size=200),
    st.lists(st.sampled_from(["Dr ", "12/", "999 ", "((", "born ", "@", "http://", "ward ", "٣", "'s", "bed "])).map("".join),
)  # fmt: skip


@pytest.mark.parametrize("name", sorted(LEAVES))
@given(text=ODD)
@settings(BOUNDED, max_examples=30)
def test_a_detector_reads_any_text(name: str, text: str) -> None:
    for span in LEAVES[name].find(text):
        assert 0 <= span.start < span.end <= len(text)


LONG = (
    "a",
    "1",
    "((",
    "Dr ",
    "1 ",
    "a.",
    "A. ",
    "12/",
    "@a",
    "a@",
    "-",
    " ",
    "\n",
    "0-",
    "born ",
    "ward 7",
    "Aa",
    "é",
    "+1(",
    "&#",
    "%4",
)


@pytest.mark.parametrize("name", [*sorted(LEAVES), "declared"])
def test_repeated_signs_come_to_an_end(name: str) -> None:
    """A pattern that backtracks would never; how the work grows is shown by `python -m tests.bench.linear`."""
    find = INDEX.find if name == "declared" else LEAVES[name].find
    for unit in LONG:
        list(find(unit * (12_000 // len(unit))))


@pytest.fixture(autouse=True)
def _here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(
    "text",
    [
        "Reviewed by Dr Quorrin Day 3 and discharged.",
        "The anaesthetist Dr Quillorne. Dr Quorrin Day 12.",
        "Dr Quorrin and the anaesthetist Dr Quillorne met on 12 March 2024.",
        "Aged 93, seen by Mr Velkonar and Mrs Oskavarn's daughter.",
    ],
)
def test_what_a_property_found_once(text: str) -> None:
    once = scrubbed(text, NOTHING)
    assert scrubbed(once, NOTHING) == once
    assert re.findall(r"Day \d+", once) == re.findall(r"Day \d+", text)
