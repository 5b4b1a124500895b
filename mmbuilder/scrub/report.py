"""The scrub report: what was removed, where, by which layer, what was kept and why, what was not checked.

It is made to be filed: it holds counts, places and our own words. No text that was found, no
file name, no date. Every word that reaches the page passes `_ours`.

    of_case(plan)       what a plan says of a case
    of_files(outcomes)  what became of loose files
    as_json(report), as_page(report)
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field
from functools import cache
from typing import TYPE_CHECKING, final

from mmbuilder.case.freetext import Path
from mmbuilder.case.identifiers import PersonRole
from mmbuilder.casefile.places import place
from mmbuilder.errors import MMBuilderError
from mmbuilder.resources import templates
from mmbuilder.safe.terms import Reviewer
from mmbuilder.scrub import outside, times_of_day
from mmbuilder.scrub.findings import NO_REASON, Finding
from mmbuilder.scrub.images.regions import PIXEL_RISKS
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.loose import Outcome
from mmbuilder.scrub.plan import Decision, PixelBox, RedactionPlan, Span
from mmbuilder.scrub.reasons import own

if TYPE_CHECKING:
    from jinja2 import Template

CLASSES = {
    "A": "names",
    "B": "places smaller than a state",
    "C": "dates, and ages over 89",
    "D": "telephone numbers",
    "E": "fax numbers",
    "F": "e-mail addresses",
    "G": "social security and other national numbers",
    "H": "medical record numbers",
    "I": "health plan numbers",
    "J": "account numbers",
    "K": "certificate and licence numbers",
    "L": "vehicle identifiers and plates",
    "M": "device identifiers and serial numbers",
    "N": "web addresses",
    "O": "network addresses",
    "P": "biometric identifiers",
    "Q": "full-face photographs and comparable images",
    "R": "any other unique number, mark or code",
}
"""The eighteen classes of 45 CFR 164.514(b)(2)(i), in our words. Source: that paragraph, (A) to (R)."""

NEVER_CHECKED = (
    "faces turned away, small or partly hidden, and people told by their hair, build or clothes",
    "voices and names in sound",
    "tattoos, scars, jewellery and other marks of one person",
    "reflections in instruments, eyes and glass",
    "how rare the case is: a story with no name in it can still be somebody's",
)
"""What no program here looks for, whatever is installed; a person has to."""

SHORT = "faces half seen, voices, tattoos, scars and other marks, reflections, how rare the case is"
"""The same in one line, for the foot of every page."""

ACROSS_FILES = (
    "whether a stand-in means the same person in two files: it does within one file, and for people "
    "the private list declares"
)

UNCLASSED = "kind without a class of its own"
_ROLES = "|".join(re.escape(role.value) for role in (*PersonRole, *Reviewer))
_ROLE = re.compile(rf"(?:{_ROLES}|reviewer)(?: and (?:{_ROLES}))?", re.IGNORECASE)
_OURS = re.compile(r"[A-Za-z0-9 _,.;:()'`“”/<>&%#\[\]×−–-]*")
_LONG_FIGURES = re.compile(r"\d{6,}")


@dataclass(frozen=True)
class Entry:
    """One kind of finding: its class, how many, by which layers, how sure, and where, each place once.

    Attributes:
        confidence: lowest and highest, 0 to 1; None where no such figure exists.
    """

    kind: str
    letter: str
    count: int
    layers: tuple[str, ...]
    places: tuple[str, ...]
    confidence: tuple[float, float] | None = None


@dataclass(frozen=True)
class Kept:
    """A kind of finding that was left in, how often, and why."""

    kind: str
    count: int
    reason: str


@dataclass(frozen=True)
class Report:
    """What is told of one case, or of one call on loose files.

    Attributes:
        reviewed_by: role of the reviewer; empty means that nobody has.
        files: how many files were written and how many refused; zeros for a case.
        refused: why, in words.
        warnings: by what somebody could still be recognised.
        not_installed: what went unlooked for because an optional part is not there, or was switched off.
        zip_rule: which postal areas keep three digits, by which censuses.
    """

    removed: tuple[Entry, ...]
    kept: tuple[Kept, ...] = ()
    unchecked: tuple[str, ...] = NEVER_CHECKED
    dropped: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    detectors: tuple[str, ...] = ()
    reviewed_by: str = ""
    files: tuple[int, int] = (0, 0)
    warnings: tuple[str, ...] = ()
    not_installed: tuple[str, ...] = ()
    zip_rule: str = field(default_factory=lambda: zip_rule())

    @property
    def total(self) -> int:
        """How many identifiers were removed."""
        return sum(entry.count for entry in self.removed)

    @property
    def by_class(self) -> dict[str, int]:
        """How many of each of the eighteen classes, none left out; "" counts what has no class."""
        counts = dict.fromkeys((*CLASSES, ""), 0)
        for entry in self.removed:
            counts[entry.letter] += entry.count
        return counts

    @property
    def headline(self) -> str:
        """What may be said of the result, and no more."""
        if not self.reviewed_by:
            return "identifiers removed by program, not reviewed by anybody: a draft"
        return f"identifiers removed, reviewed by {_role(self.reviewed_by)}"


def of_case(plan: RedactionPlan) -> Report:
    """Report on a plan. It needs nothing of the case: a plan holds places and decisions, no text."""
    rows = list(_of_plan(plan))
    gone = [row for row in rows if row.decision is Decision.REPLACE]
    return Report(
        _entries(gone),
        _kept(row for row in rows if row.decision is Decision.KEEP),
        _unique(*plan.unchecked, *NEVER_CHECKED),
        detectors=plan.detectors,
        reviewed_by=plan.reviewed_by,
        not_installed=_missing(plan.unchecked),
    )


def of_files(outcomes: Sequence[Outcome]) -> Report:
    """Report on loose files; they are numbered in their order, since a name could identify."""
    rows = list(_of_findings((outcome.findings for outcome in outcomes), Decision.REPLACE))
    kept = _of_findings((outcome.kept for outcome in outcomes), Decision.KEEP)
    refused = [f"file {n}: {one.refused}" for n, one in enumerate(outcomes, 1) if one.refused]
    dropped = [f"file {n}, {part}" for n, one in enumerate(outcomes, 1) for part in one.dropped]
    notes = [note for outcome in outcomes for note in outcome.notes]
    return Report(
        _entries(rows),
        _kept(kept),
        _unique(*notes, *([ACROSS_FILES] if len(outcomes) > 1 else ()), *NEVER_CHECKED),
        tuple(dropped),
        tuple(refused),
        files=(len(outcomes) - len(refused), len(refused)),
        not_installed=_missing(notes),
    )


def zip_rule() -> str:
    """Which censuses say where even three digits of a postal code single somebody out."""
    from mmbuilder.scrub.detectors.postal_code import VINTAGE

    return f"areas of 20,000 people or fewer: {VINTAGE}"


def _missing(notes: Iterable[str]) -> tuple[str, ...]:
    """Of what was not checked, that which an optional part could have looked for."""
    ours = {f"{risk}: not looked for" for risk in PIXEL_RISKS} | set(NoNameModel.unchecked)
    bare = (note.removeprefix("pictures: ").partition(";")[0] for note in notes)
    return _unique(*(note for note in bare if note in ours))


def as_json(report: Report) -> str:
    """Return the report as JSON; refused if anything in it is not our own words."""
    told = asdict(report) | {
        "headline": report.headline,
        "total": report.total,
        "classes": CLASSES,
        "by_class": report.by_class,
    }
    for text in _strings(told):
        _ours(text)
    return json.dumps(told, indent=2, ensure_ascii=False) + "\n"


def as_page(report: Report) -> str:
    """Return the report as one self-contained page for people, to be read, printed and signed."""
    return _template().render(report=_Page(report))


# --- rows -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Row:
    kind: str
    letter: str
    layer: str
    place: str
    decision: Decision = Decision.REPLACE
    reason: str = ""
    confidence: float | None = None


def _of_plan(plan: RedactionPlan) -> Iterator[_Row]:
    for path, spans in plan.texts.items():
        yield from (_row(span, span.letter, place_of(path)) for span in spans)
    for number, boxes in plan.images.items():
        yield from (_row(box, _letter(box.kind), f"frame {number}") for box in boxes)


def _row(found: Span | PixelBox, letter: str, place: str) -> _Row:
    confidence = found.confidence if isinstance(found, Span) else None
    return _Row(found.kind, letter, found.layer.value, place, found.decision, found.reason, confidence)


def _of_findings(listed: Iterable[Iterable[Finding]], decision: Decision) -> Iterator[_Row]:
    for number, findings in enumerate(listed, 1):
        for one in findings:
            place = f"file {number}, {one.where}"
            letter = _letter(one.kind)
            yield _Row(one.kind, letter, one.layer, place, decision, one.kept, one.confidence)


def place_of(path: Path) -> str:
    """`what of event 3`: keys of our schema and positions counted from 1."""
    return place(path).replace("`", "").replace("_", " ")


def _entries(rows: Sequence[_Row]) -> tuple[Entry, ...]:
    kinds: dict[tuple[str, str], list[_Row]] = {}
    for row in rows:
        kinds.setdefault((row.letter, row.kind), []).append(row)
    return tuple(
        Entry(
            kind,
            letter,
            len(found),
            _unique(*(row.layer for row in found if row.layer)),
            _places(found),
            _sure(found),
        )
        for (letter, kind), found in sorted(kinds.items())
    )


def _sure(rows: Iterable[_Row]) -> tuple[float, float] | None:
    figures = [round(row.confidence, 2) for row in rows if row.confidence is not None]
    return (min(figures), max(figures)) if figures else None


def _places(rows: Iterable[_Row]) -> tuple[str, ...]:
    counts = Counter(row.place for row in rows)
    return tuple(f"{place} ×{count}" if count > 1 else place for place, count in counts.items())


def _kept(rows: Iterable[_Row]) -> tuple[Kept, ...]:
    """A reason that a person typed is not repeated: it could hold anything."""
    counts = Counter((row.kind, own(row.reason or NO_REASON)) for row in rows)
    return tuple(Kept(kind, count, reason) for (kind, reason), count in sorted(counts.items()))


@cache
def _letters() -> dict[str, str]:
    from mmbuilder.scrub.layers import detectors

    of_cases: dict[str, str] = dict.fromkeys((outside.AGE, outside.YEAR), outside.LETTER)
    of_cases |= dict.fromkeys((times_of_day.KIND, times_of_day.PERHAPS), times_of_day.LETTER)
    return {leaf.KIND: leaf.LETTER for leaf in detectors().values()} | of_cases


def _letter(kind: str) -> str:
    """The class of a kind: its detector's, or by what a declared thing is; a picture's text has none."""
    bare = kind.removeprefix("declared ")
    if bare in ("name", "place"):
        return {"name": "A", "place": "B"}[bare]
    return _letters().get(kind) or _letters().get(bare, "")


def _unique(*texts: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))


# --- our own words ----------------------------------------------------------------------------


def _role(words: str) -> str:
    """A role from the closed list: a name typed where a role belongs is not passed on."""
    return words.lower() if _ROLE.fullmatch(words.strip()) else "a person whose role was not given"


def _ours(text: str) -> str:
    """Let through words, figures and signs of our own making; stop what they never hold.

    Raises:
        MMBuilderError: signs that we do not write, or a number as long as an identifier.
    """
    if not _OURS.fullmatch(text) or _LONG_FIGURES.search(text):
        raise MMBuilderError("the report would hold words that are not ours; it was not written. Report this")
    return text


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from (*_strings(key), *_strings(inner))
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _strings(inner)


@final
class _Words:
    """A text that may stand on the page."""

    __slots__ = ("text",)

    def __init__(self, text: str) -> None:
        self.text = _ours(text)


class _Page:
    """The report as the template reads it: words, counts and lists of them."""

    def __init__(self, report: Report) -> None:
        self.headline = _Words(report.headline)
        self.total, (self.written, self.turned_down) = report.total, report.files
        self.reviewed = int(bool(report.reviewed_by))
        self.role = _Words(_role(report.reviewed_by) if report.reviewed_by else "")
        self.short, self.zip_rule = _Words(SHORT), _Words(report.zip_rule)
        self.by_class = [
            {"letter": _Words(letter or "-"), "words": _Words(CLASSES.get(letter, UNCLASSED)), "count": count}
            for letter, count in report.by_class.items()
        ]
        self.removed = [
            {
                "kind": _Words(entry.kind),
                "letter": _Words(entry.letter or "-"),
                "words": _Words(CLASSES.get(entry.letter, UNCLASSED)),
                "count": entry.count,
                "layers": _Words(", ".join(entry.layers) or "-"),
                "places": _Words("; ".join(entry.places)),
                "sure": _Words(" to ".join(f"{figure:.2f}" for figure in _ends(entry.confidence))),
            }
            for entry in report.removed
        ]
        self.kept = [
            {"kind": _Words(kept.kind), "count": kept.count, "reason": _Words(kept.reason)}
            for kept in report.kept
        ]
        lists = (
            *(report.unchecked, report.dropped, report.refused),
            *(report.detectors, report.warnings, report.not_installed),
        )
        self.unchecked, self.dropped, self.refused, self.detectors, self.warnings, self.not_installed = (
            [_Words(text.replace("_", " ")) for text in texts] for texts in lists
        )


def _ends(confidence: tuple[float, float] | None) -> tuple[float, ...]:
    return tuple(dict.fromkeys(confidence)) if confidence else ()


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(templates()),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("scrub_report.html.j2")


def _shown(value: object) -> object:
    """Let nothing onto the page but our own words and counts."""
    if isinstance(value, _Words):
        return value.text
    if isinstance(value, int):
        return value
    raise TypeError(f"{type(value).__name__} is not fit for the report")
