from __future__ import annotations

import os
from pathlib import Path

import pytest

from mmbuilder import cache


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))


def test_what_is_put_comes_back() -> None:
    cache.put(cache.key("a"), b"drawing")
    assert cache.get(cache.key("a")) == b"drawing"
    assert cache.get(cache.key("b")) is None


def test_what_is_kept_is_made_once() -> None:
    made: list[bytes] = []

    def make() -> bytes:
        made.append(b"drawing")
        return made[-1]

    assert [cache.kept(cache.key("a"), make) for _ in range(2)] == [b"drawing"] * 2
    assert len(made) == 1


def test_parts_cannot_run_together() -> None:
    assert cache.key("ab", "c") != cache.key("a", "bc")


def test_a_damaged_entry_is_a_miss(tmp_path: Path) -> None:
    name = cache.key("a")
    cache.put(name, b"drawing")
    path = tmp_path / "kept" / name[:2] / name
    path.write_bytes(path.read_bytes()[:-1] + b"X")
    assert cache.get(name) is None


def test_the_oldest_entries_go_first(tmp_path: Path) -> None:
    for place, name in enumerate("abc"):
        cache.put(cache.key(name), bytes(1000))
        stored = tmp_path / "kept" / cache.key(name)[:2] / cache.key(name)
        os.utime(stored, (1000 + place, 1000 + place))
    cache.trim(limit=2200)
    assert [cache.get(cache.key(name)) is None for name in "abc"] == [True, False, False]


def test_an_empty_setting_switches_it_off(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    cache.put(cache.key("a"), b"drawing")
    assert cache.get(cache.key("a")) is None
    cache.trim()


def test_a_folder_that_cannot_be_written_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocked = tmp_path / "file"
    blocked.write_bytes(b"")
    monkeypatch.setenv("MMBUILDER_CACHE", str(blocked))
    cache.put(cache.key("a"), b"drawing")
    assert cache.get(cache.key("a")) is None


def test_what_is_held_is_kept_only_if_all_went_well() -> None:
    def refused() -> None:
        with cache.held():
            cache.put(cache.key("a"), b"drawing")
            assert cache.get(cache.key("a")) == b"drawing"
            raise ValueError("swept and refused")

    with pytest.raises(ValueError, match="swept"):
        refused()
    assert cache.get(cache.key("a")) is None
    with cache.held():
        cache.put(cache.key("a"), b"drawing")
    assert cache.get(cache.key("a")) == b"drawing"


def test_nobody_else_may_look_into_the_folder(tmp_path: Path) -> None:
    cache.put(cache.key("a"), b"drawing")
    assert (tmp_path / "kept").stat().st_mode & 0o077 == 0
