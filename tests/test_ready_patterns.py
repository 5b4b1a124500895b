"""Patterns that an earlier run compiled are the patterns that Python would compile."""

from __future__ import annotations

import marshal
import re
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path

import pytest

from mmbuilder import cache, ready_patterns

NAMED = r"(?P<day>\d{1,2})[./](?P<month>\d{1,2})(?=\W|$)"


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    re.purge()


def _in_block(pattern: str, flags: int = 0) -> re.Pattern[str]:
    re.purge()
    with ready_patterns.kept("test"):
        return re.compile(pattern, flags)


@pytest.mark.parametrize("flags", [0, re.IGNORECASE, re.VERBOSE | re.ASCII])
def test_the_same_as_python_compiles(flags: int) -> None:
    twice = _in_block(NAMED, flags), _in_block(NAMED, flags)
    re.purge()
    plain = re.compile(NAMED, flags)
    assert twice == (plain, plain)  # patterns are equal if flags, text and code are
    assert [one.groupindex for one in twice] == [plain.groupindex] * 2
    assert [one.groups for one in twice] == [plain.groups] * 2
    found = twice[1].search("on 14/11 at noon")
    assert found is not None
    assert found.groupdict() == {"day": "14", "month": "11"}
    assert found.lastgroup == "month"


def test_taken_and_not_compiled_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    _in_block(NAMED)
    as_ever, anew = re._compiler._code, []  # type: ignore[attr-defined]
    with monkeypatch.context() as patch:
        patch.setattr("re._compiler._code", lambda tree, flags: anew.append(1) or as_ever(tree, flags))
        taken = _in_block(NAMED)
        assert anew == []
        _in_block(NAMED + "x")
        assert anew == [1]
    assert taken.search("14.11")


def test_what_is_no_longer_asked_for_goes(tmp_path: Path) -> None:
    _in_block("older")
    _in_block("newer")
    (entry,) = (path for path in tmp_path.rglob("*") if path.is_file())
    content = cache.get(entry.name)
    assert content is not None
    assert [text for text, _ in marshal.loads(content)] == ["newer"]


def test_another_threads_patterns_are_not_kept(tmp_path: Path) -> None:
    with ready_patterns.kept("test"):
        other = threading.Thread(target=re.compile, args=("told by a case",))
        other.start()
        other.join()
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_threads_that_import_side_by_side_put_back_what_python_has() -> None:
    before, all_in = re._compiler.compile, threading.Barrier(2, timeout=0.3)  # type: ignore[attr-defined]

    def imports(name: str) -> None:
        with ready_patterns.kept(name):
            re.compile(f"{name}+")
            with suppress(threading.BrokenBarrierError):  # the other waits before its block
                all_in.wait()

    both = [threading.Thread(target=imports, args=(name,)) for name in "ab"]
    for one in both:
        one.start()
    for one in both:
        one.join()
    assert re._compiler.compile is before  # type: ignore[attr-defined]


def test_without_pythons_insides_patterns_are_compiled_as_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.delattr("re._compiler._parser")
        with ready_patterns.kept("test"):
            pass
    assert not list(tmp_path.iterdir())


def test_outside_the_block_python_compiles_itself() -> None:
    before = re._compiler.compile  # type: ignore[attr-defined]
    with pytest.raises(re.error), ready_patterns.kept("test"):
        re.compile("(")
    assert re._compiler.compile is before  # type: ignore[attr-defined]


_DETECTED = """
import re
from mmbuilder.scrub.layers import detectors
held = [one for leaf in detectors().values() for one in vars(leaf).values() if isinstance(one, re.Pattern)]
re.purge()
assert len(held) > 100
assert all(one == re.compile(one.pattern, one.flags) for one in held)
"""


def test_every_detector_has_what_python_compiles() -> None:
    for _ in range(2):
        subprocess.run([sys.executable, "-c", _DETECTED], check=True)
