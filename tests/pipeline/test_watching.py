"""A case is built again when one of its files was saved, and not otherwise."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from mmbuilder.errors import CaseInvalid
from mmbuilder.pipeline import BuildOptions, BuildReport, Failure, watch
from tests.casefile.minimal import minimal_case

Results = list[BuildReport | Failure]


def _watched(*roots: Path, steps: Callable[[Results], Iterator[None]]) -> Results:
    """Watch; between two looks each time one step is done, and after the last the user ends it."""
    results: Results = []
    going = steps(results)

    def pause(seconds: float) -> None:
        assert 0 < seconds <= 0.2  # a goal of 2 s is not spent on waiting
        try:
            next(going)
        except StopIteration:
            raise KeyboardInterrupt from None

    options = BuildOptions(roots[0].parent / "out")
    with pytest.raises(KeyboardInterrupt):
        watch(roots, options, jobs=1, done=results.append, pause=pause)
    return results


def _write(root: Path, old: str, new: str) -> None:
    case = root / "case.yaml"
    text = case.read_text("utf-8")
    assert old in text
    case.write_text(text.replace(old, new, 1), "utf-8")


def test_built_at_first_and_after_each_change(tmp_path: Path) -> None:
    root = minimal_case(tmp_path / "small")
    title = next(line for line in (root / "case.yaml").read_text("utf-8").splitlines() if "title:" in line)

    def steps(results: Results) -> Iterator[None]:
        yield  # one look alone does not tell whether the file is whole
        yield
        assert len(results) == 1
        yield
        assert len(results) == 1  # nothing was saved
        _write(root, title, title + " once more")
        yield
        assert len(results) == 1  # it may still be written
        yield
        assert len(results) == 2
        yield

    first, second = _watched(root, steps=steps)
    assert isinstance(first, BuildReport)
    assert isinstance(second, BuildReport)
    assert not second.reused


def test_a_fault_is_told_and_mended_without_leaving(tmp_path: Path) -> None:
    root = minimal_case(tmp_path / "small")

    def steps(results: Results) -> Iterator[None]:
        yield from (None, None)
        _write(root, "title:", "titel:")
        yield from (None, None)
        _write(root, "titel:", "title:")
        yield from (None, None)

    kinds = [type(result) for result in _watched(root, steps=steps)]
    assert kinds == [BuildReport, Failure, BuildReport]


def test_of_two_cases_the_changed_one(tmp_path: Path) -> None:
    first, second = minimal_case(tmp_path / "one"), minimal_case(tmp_path / "two")
    code = next(line for line in (second / "case.yaml").read_text("utf-8").splitlines() if "code:" in line)
    with pytest.raises(CaseInvalid):  # one deck would replace the other
        _watched(first, second, steps=lambda results: iter(()))
    _write(second, code, "code: two-01")

    def steps(results: Results) -> Iterator[None]:
        yield from (None, None)
        assert [result.case for result in results] == [first, second]
        (second / "identifiers.yaml").write_text("patient:\n  names: [Quillfeather]\n", "utf-8")
        yield from (None, None)

    assert [result.case for result in _watched(first, second, steps=steps)] == [first, second, second]
