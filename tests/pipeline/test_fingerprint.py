"""The state of the code, by which kept results are named."""

from __future__ import annotations

from pathlib import Path

from mmbuilder.pipeline.making import _states


def test_a_source_file_that_goes_while_it_is_looked_at_is_left_out(tmp_path: Path) -> None:
    (tmp_path / "there.py").write_text("x = 1\n")
    (tmp_path / "notes.txt").write_text("no source")
    (tmp_path / "gone.py").symlink_to(tmp_path / "nowhere.py")  # listed, and not there when it is asked for
    (state,) = _states(tmp_path)
    assert state.startswith("there.py:6:")
