"""The line as the type checkers see it, and what it does where they cannot see: at run time."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from mmbuilder.case.freetext import FreeText
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.mint import MintKey
from mmbuilder.safe.text import SafeText, wording

ROOT = Path(__file__).parents[2]


def test_mypy_refuses_every_bad_line() -> None:
    pytest.importorskip("mypy")
    command = [sys.executable, "-m", "mypy", "--no-error-summary", "tests/typing/line.py"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert [line for line in done.stdout.splitlines() if "tests/typing" in line] == []
    assert "usage" not in done.stderr


def test_safe_words_cannot_be_printed_by_accident() -> None:
    text = wording("words")
    with pytest.raises(TypeError, match="reveal"):
        str(text)
    with pytest.raises(TypeError, match="f-string"):
        f"{text}"
    with pytest.raises(TypeError):
        "a" + text  # type: ignore[operator]


def test_raw_words_cannot_be_printed_at_all() -> None:
    text = FreeText("Oskavarn")
    assert "Oskavarn" not in repr(text)
    with pytest.raises(TypeError):
        str(text)
    with pytest.raises(TypeError):
        f"{text}"


@pytest.mark.parametrize("key", [None, object(), "key", MintKey])
def test_no_key_no_safe_value(key: object) -> None:
    with pytest.raises(TypeError):
        SafeText(key, "words")  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        SafeImage(key, 1, 1, b"abc")  # type: ignore[arg-type]
