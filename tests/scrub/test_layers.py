from __future__ import annotations

import traceback
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import ModuleType

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import MMBuilderError
from mmbuilder.scrub import layers, read_before
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import replaced
from mmbuilder.scrub.layers import Found, NoMemory, NoNameModel, Patterns
from mmbuilder.scrub.plan import Layer, Span
from mmbuilder.scrub.propose import in_texts, propose
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.standins import lettered
from tests.scrub.small_case import small

SECRET = "oskavarn".upper()


def test_a_detector_that_fails_stops_the_build_by_its_name(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = ModuleType("broken")

    def find(text: str) -> Iterator[Span]:
        raise RuntimeError(f"could not read {text}")

    broken.find = find  # type: ignore[attr-defined]
    monkeypatch.setattr(layers, "detectors", lambda: {"broken_one": broken})
    with pytest.raises(MMBuilderError, match="broken_one") as caught:
        Patterns().find([SECRET])
    assert SECRET not in "".join(traceback.format_exception(caught.value))


def test_a_text_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """After one sentence is changed, a build reads that sentence alone; what it tells is the same."""
    counting, read = ModuleType("counting"), []

    def find(text: str) -> Iterator[Span]:
        read.append(text)
        yield Span(0, len(text), "name", "A", "[name]", 1.0, Layer.PATTERN)

    counting.find = find  # type: ignore[attr-defined]
    monkeypatch.setattr(layers, "detectors", lambda: {"counting": counting})
    monkeypatch.setattr(read_before, "MOST", 3)
    patterns = Patterns()
    first = patterns.find(["one", "two", "one"])
    assert patterns.find(["one", "two", "one", "three"])[:3] == first
    assert read == ["one", "two", "three"]
    patterns.find(["four"])
    patterns.find(["five", "four"])  # more than are remembered: what is not asked for now is forgotten
    patterns.find(["one", "four"])
    assert read == ["one", "two", "three", "four", "five", "one"]


def test_a_model_and_a_memory_plug_in(tmp_path: Path) -> None:
    class Model:
        name = "test model"
        unchecked: tuple[str, ...] = ()

        def find(self, texts: Sequence[str]) -> Found:
            found = []
            for text in texts:
                at = text.find("Hum")
                span = Span(at, at + 3, "name", "A", "[name]", 0.6, Layer.MODEL)
                found.append((span,) if at >= 0 else ())
            return found

    plan = propose(small(tmp_path / "case"), names=Model())
    assert "test model" in plan.detectors
    assert not any("nobody declared and that stand" in line for line in plan.unchecked)
    spans = plan.texts["timeline", "events", 1, "what"]
    assert [(span.start, span.end, span.layer) for span in spans] == [(0, 3, Layer.MODEL)]


def test_the_null_layers_find_nothing_and_say_so() -> None:
    assert list(NoNameModel().find(["a", "b"])) == [(), ()]
    assert list(NoMemory().find(["a"], [()])) == [()]
    assert NoNameModel().unchecked
    assert NoMemory().unchecked


def test_what_overlaps_is_joined_and_declared_gives_the_words() -> None:
    text = "so Dr Anna Velkonar came"
    by_title = Span(3, 19, "titled name", "A", "the doctor", 0.9)
    declared = Span(11, 19, "declared name", "A", "the surgeon", 0.7, Layer.DECLARED, 1)
    joined = settle(text, [by_title, declared])
    assert [(span.start, span.end, span.stand_in) for span in joined] == [(3, 19, "the surgeon")]


@pytest.mark.parametrize(
    ("said", "end"), [("so Velkonar's clinic is full", 11), ("so Velkonar Road is shut", 16)]
)
def test_what_a_declared_person_has_stays_beside_the_stand_in(said: str, end: int) -> None:
    place = Span(3, 20 if "clinic" in said else 16, "place", "B", "[place]", 0.65)
    declared = Span(3, 11, "declared name", "A", "the surgeon", 0.99, Layer.DECLARED, 1)
    assert [(span.start, span.end) for span in settle(said, [place, declared])] == [(3, end)]


def test_two_doctors_found_by_title_keep_their_letters() -> None:
    texts = ["Dr Quorrin came, then Dr Belvash.", "So Dr Quorrin left Dr A. Belvash's room."]
    found = [settle(text, Patterns().find([text])[0]) for text in texts]
    named = lettered(texts, found, 100)
    assert [[span.stand_in for span in spans] for spans in named] == [
        ["Doctor A", "doctor B"],
        ["doctor A", "doctor B"],
    ]
    assert [span.group for spans in named for span in spans] == [100, 101, 100, 101]


def test_somebody_told_behind_a_profession_keeps_both() -> None:
    # Common practice, no source. The third is found by two layers, so it is fitted twice.
    texts = [
        "The retina consultant Dr Quorrin came",
        "consultant radiologist Dr Belvash",
        "consultant surgeon Mr Tarnvolk",
        "the registrar Dr Quorrin's note",
        "the radiologist Dr Vashters' report",
    ]
    index = Index(Declared.model_validate({"people": [{"name": "Tarnvolk", "role": "surgeon"}]}))
    found = in_texts(texts, index, names=NoNameModel())
    told = [replaced(text, spans) for text, spans in zip(texts, found, strict=True)]
    assert told == [
        "The retina consultant (doctor A) came",
        "consultant radiologist (doctor B)",
        "consultant surgeon",
        "the registrar's (doctor A) note",
        "the radiologist's (doctor C) report",
    ]
