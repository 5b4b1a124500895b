"""What the judge says of invented sentences, and that its file is what its recipe makes."""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
import pytest

from mmbuilder.scrub.judged import TAKEN
from mmbuilder.scrub.judging import chances
from mmbuilder.scrub.judging.chain import LABELS
from mmbuilder.scrub.judging.judge import LEARNED, PULLS, figures_in, weights
from tests.scrub.judging.learning import Learned
from tests.scrub.judging.train import recipe, sets, write


def people(text: str) -> list[str]:
    (judged,) = chances([(text, ())])
    return [one.token.text for one in judged if one.person >= TAKEN["A"] and one.token.text[0].isalnum()]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("bleeped zelandrou re wound ooze", ["zelandrou"]),
        ("Grace asked for a second suction.", ["Grace"]),
        ("grace period for the bed is over", []),
        ("Dr Foley passed a Foley catheter.", ["Foley"]),
        ("SCRUB QUENDELINE, RUNNER KWABENA, SWABS CORRECT", ["QUENDELINE", "KWABENA"]),
        ("Quandt sign was absent and the Zelandrou clamp slipped.", []),
    ],
)
def test_the_place_of_a_word_tells(text: str, names: list[str]) -> None:
    assert people(text) == names


def test_the_file_is_made_by_the_recipe_that_stands_here() -> None:
    # Making it again takes minutes; that its sets, copies and seed are those of train.py is told by its head.
    head = [line for line in LEARNED.read_text("utf-8").splitlines()[:10] if line.startswith("# ")]
    assert head == recipe(list(sets()))


def test_the_file_is_small_and_whole() -> None:
    assert LEARNED.stat().st_size + PULLS.stat().st_size < 7_000_000
    assert len(weights().follows) == len(LABELS)
    assert len(weights().of) > 10_000


def test_what_training_writes_is_what_the_judge_reads(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    of = np.array([[0.5, 1.0, 0.5, 0.25], [0.0, 0.01, 0.0, 0.0], [0.0, -3.0, 0.0, 2.0]])
    write(tmp_path / "w.txt", ["lessons"], {"own mrs": 0, "too light": 1, "+1 ü": 2}, Learned(of, np.eye(4)))
    monkeypatch.setattr("mmbuilder.scrub.judging.judge.LEARNED", tmp_path / "w.txt")
    monkeypatch.setattr("mmbuilder.scrub.judging.judge.PULLS", tmp_path / "w.bin")
    read = weights.__wrapped__()
    assert {name: tuple(read.pulls[at : at + 3]) for name, at in read.of.items()} == {
        "own mrs": (50, 0, -25),
        "+1 ü": (-300, 0, 200),
    }
    assert np.array_equal(read.follows, np.eye(4))


def test_figures_are_read_low_byte_first() -> None:
    assert list(figures_in(struct.pack("<3h", -386, 254, 0))) == [-386, 254, 0]


def test_two_files_that_do_not_belong_together_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "short.bin").write_bytes(PULLS.read_bytes()[:-6])
    monkeypatch.setattr("mmbuilder.scrub.judging.judge.PULLS", tmp_path / "short.bin")
    with pytest.raises(ValueError, match="shorter"):
        weights.__wrapped__()


def test_the_name_model_is_asked_only_in_doubt(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def scores(read):
        asked.extend(sentence for sentence, _ in read)
        raise AssertionError

    monkeypatch.setattr("mmbuilder.scrub.judging.second.scores", scores)
    chances([("The wound was closed with nylon.", ()), ("Hb 82, lactate 4, urine 20 ml.", ())])
    assert not asked


def test_where_it_is_asked_it_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    def says(person: float):
        def scores(read):
            return [[(0.0, person, 0.0, 0.0) for _ in tokens] for _, tokens in read]

        return scores

    def likeliest(person: float) -> float:
        monkeypatch.setattr("mmbuilder.scrub.judging.second.scores", says(person))
        (judged,) = chances([("Grace was late and asked for it again", ())])
        return judged[0].person

    assert likeliest(-20) < 0.01 < 0.99 < likeliest(20)
