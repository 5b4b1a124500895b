"""A deck that somebody edited after it was built comes back through `inspect` before it is shown."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from pptx import Presentation

from mmbuilder.cli.commands.inspect import command
from mmbuilder.errors import ExitCode
from mmbuilder.pipeline import BuildOptions, build
from mmbuilder.safe.terms import Use
from tests.casefile.minimal import TEXT, minimal_case

NAME, PHONE = (
    "Wendeline Orrastal",
    "01632 960417",
)  # declared in the minimal case; a number kept for fiction (Ofcom)


@pytest.fixture
def built(tmp_path: Path) -> tuple[Path, Path]:
    root = minimal_case(tmp_path, TEXT)
    report = build(root, BuildOptions(tmp_path / "out", Use.REVIEW, skip_names=True))
    return report.deck, root / "identifiers.yaml"


def _inspected(deck: Path, listed: Path) -> tuple[int, list[tuple[str, str]]]:
    done = CliRunner().invoke(
        command, [str(deck), "--identifiers", str(listed), "--json"], standalone_mode=False
    )
    (told,) = json.loads(done.stdout)
    assert NAME not in done.stdout  # what was found is told by place, never by its words
    return done.return_value, [(one["kind"], one["where"]) for one in told["findings"]]


def test_what_an_edit_brought_in_is_told_by_place(built: tuple[Path, Path], tmp_path: Path) -> None:
    deck, listed = built
    before = {kind for kind, _ in _inspected(deck, listed)[1]}
    assert not {"declared name", "phone number"} & before

    edited = tmp_path / "edited.pptx"
    shutil.copy(deck, edited)
    shown = Presentation(str(edited))
    last = len(shown.slides)
    shown.slides[1].shapes.title.text_frame.text = f"{NAME} came for this."
    shown.slides[last - 1].notes_slide.notes_text_frame.text = f"Ring {PHONE}"
    shown.save(str(edited))

    code, found = _inspected(edited, listed)
    assert code == ExitCode.FINDINGS
    assert {"declared name", "phone number"} <= {kind for kind, _ in found}
    assert all(where for _, where in found)
