"""A deck that comes back through `inspect` before it is shown: silent as it was built, loud where it was edited."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image, ImageDraw, ImageFont
from pptx import Presentation

from mmbuilder import fonts
from mmbuilder.cli.commands.inspect import command
from mmbuilder.errors import ExitCode
from mmbuilder.pipeline import BuildReport
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.images import regions
from tests.bundled import CASES, ILLUSTRATED
from tests.casefile.minimal import minimal_case

NAME, PHONE = (
    "Wendeline Orrastal",
    "01632 960417",
)  # declared in the minimal case; a number kept for fiction (Ofcom)
UNLISTED = "Marisol Quenneville"
"""Invented, and on no list: only how it is used or that nobody knows it can tell."""

SENT_ON = ("DRAFT.pptx", "action-log-DRAFT.xlsx")
"""What somebody may bring back and find quiet. A PDF is not: its small print does not yet read as its text says."""


@pytest.fixture(autouse=True)
def plain_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Charts are drawn here as they are for the room: what they show is looked at."""
    monkeypatch.setenv("MMBUILDER_CACHE", "")


def _inspected(file: Path, listed: Path) -> tuple[int, list[tuple[str, str]]]:
    done = CliRunner().invoke(
        command, [str(file), "--identifiers", str(listed), "--json"], standalone_mode=False
    )
    (told,) = json.loads(done.stdout)
    assert NAME not in done.stdout  # what was found is told by place, never by its words
    assert UNLISTED not in done.stdout
    return done.return_value, [(one["kind"], one["where"]) for one in told["findings"]]


# --- as it was built --------------------------------------------------------------------------


@pytest.fixture(scope="module")
def results(built: Callable[[Path, Use], BuildReport]) -> Callable[[Path], list[Path]]:
    """What was built of a bundled case for the department review and may come back."""

    def of(root: Path) -> list[Path]:
        made = built(root, Use.REVIEW).deck.parent.iterdir()
        return sorted(file for file in made if file.name.endswith(SENT_ON))

    return of


@pytest.mark.parametrize("root", ILLUSTRATED, ids=lambda path: path.name)
def test_what_nobody_edited_is_clean(root: Path, results: Callable[[Path], list[Path]]) -> None:
    assert len(results(root)) == len(SENT_ON)
    for file in results(root):
        assert _inspected(file, root / "identifiers.yaml") == (ExitCode.OK, []), file.name


# --- as it was edited -------------------------------------------------------------------------


@pytest.fixture(scope="module")
def short(
    results: Callable[[Path], list[Path]], tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, Path]:
    """A deck of four or five slides: the first three, and of the others one with a chart and a still, or one of each."""
    root = next(path for path in CASES if path.name == "airway-prone")
    shown = Presentation(str(next(file for file in results(root) if file.suffix == ".pptx")))
    wanted = {".png", ".jpg"}
    listed = shown.slides._sldIdLst
    for at, (slide, its) in enumerate(zip(list(shown.slides), list(listed), strict=True)):
        held = {
            Path(rel.target_part.partname).suffix
            for rel in slide.part.rels.values()
            if "image" in rel.reltype
        }
        if at > 2 and not held & wanted:
            shown.part.drop_rel(its.rId)
            listed.remove(its)
        elif at > 2:
            wanted -= held
    file = tmp_path_factory.mktemp("short") / "short.pptx"
    shown.save(str(file))
    return file, root / "identifiers.yaml"


def _written(deck: Path, part: str, place: tuple[int, int], words: str, to: Path) -> Path:
    """Copy a file, with words written into one of its pictures as a drawing program would.

    Its other pictures are left blank: nobody edited them, and they were looked at as they were built.
    """
    others = {name for ending in (".png", ".jpg") for name in _pictures(deck, ending)} - {part}
    with zipfile.ZipFile(deck) as before, zipfile.ZipFile(to, "w") as after:
        for entry in before.infolist():
            data = before.read(entry)
            if entry.filename in others:
                data = _blank(data)
            elif entry.filename == part:
                image = Image.open(io.BytesIO(data))
                form, picture, out = image.format, image.convert("RGB"), io.BytesIO()
                face = ImageFont.truetype(str(fonts.path()), 24)
                ImageDraw.Draw(picture).text(place, words, fill=(90, 90, 90), font=face)
                picture.save(out, form, quality=92)
                data = out.getvalue()
            after.writestr(entry, data)
    return to


def _without_pictures(file: Path, to: Path) -> Path:
    """Copy a file of which only words were edited, with its pictures left blank."""
    return _written(file, "", (0, 0), "", to)


def _blank(picture: bytes) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (64, 64), "white").save(out, Image.open(io.BytesIO(picture)).format)
    return out.getvalue()


def _pictures(file: Path, ending: str) -> list[str]:
    with zipfile.ZipFile(file) as package:
        return [name for name in package.namelist() if "/media/" in name and name.endswith(ending)]


@pytest.mark.parametrize("words", [UNLISTED, "MRN 00471902", "14 March 2019"])
@pytest.mark.parametrize("ending", [".png", ".jpg"], ids=["picture of a chart", "still"])
def test_what_was_written_into_a_picture_is_told(
    words: str, ending: str, short: tuple[Path, Path], tmp_path: Path
) -> None:
    assert len(regions.finders()) > 1  # what looks at pictures is installed
    deck, listed = short
    part = _pictures(deck, ending)[-1]
    # A place that is empty in both: right of the first row of the chart, below the last of the monitor.
    place = {".png": (1450, 20), ".jpg": (980, 590)}[ending]
    code, found = _inspected(_written(deck, part, place, words, tmp_path / "edited.pptx"), listed)
    assert code == ExitCode.FINDINGS
    assert {where.partition(":")[0] for _, where in found} == {part}


def test_a_name_that_nobody_listed_is_told_in_text_and_notes(
    short: tuple[Path, Path], tmp_path: Path
) -> None:
    deck, listed = short
    shown = Presentation(str(deck))
    shown.slides[1].shapes.title.text_frame.text = f"{UNLISTED} came for this."
    shown.slides[2].notes_slide.notes_text_frame.text = f"Thank {UNLISTED} for the record"
    shown.save(str(tmp_path / "words.pptx"))
    code, found = _inspected(_without_pictures(tmp_path / "words.pptx", tmp_path / "edited.pptx"), listed)
    assert code == ExitCode.FINDINGS
    assert {where.split("/")[1] for kind, where in found if kind == "name"} == {"slides", "notesSlides"}


def test_a_name_in_the_drawing_of_a_chart_is_told(short: tuple[Path, Path], tmp_path: Path) -> None:
    deck, listed = short
    part = _pictures(deck, ".svg")[0]
    with (
        zipfile.ZipFile(deck) as before,
        zipfile.ZipFile(tmp_path / "edited.pptx", "w") as after,
    ):
        for entry in before.infolist():
            data = before.read(entry)
            if entry.filename == part:
                data = data.replace(
                    b"</svg>", f"<text x='600' y='20'>seen by {UNLISTED}</text></svg>".encode()
                )
            after.writestr(entry, data)
    code, found = _inspected(tmp_path / "edited.pptx", listed)
    assert code == ExitCode.FINDINGS
    assert part in {where.partition(",")[0] for kind, where in found if kind.startswith("name")}


@pytest.fixture(scope="module")
def manuscript(built: Callable[[Path, Use], BuildReport]) -> Path:
    root = next(path for path in CASES if path.name == "abdomen-colon")
    return next(file for file in built(root, Use.REPORT).papers if file.suffix == ".docx")


def test_a_manuscript_that_nobody_edited_is_clean(manuscript: Path) -> None:
    assert _inspected(manuscript, CASES[0] / "identifiers.yaml") == (ExitCode.OK, [])


def test_a_name_is_told_in_the_words_and_in_the_chart_of_a_manuscript(
    manuscript: Path, tmp_path: Path
) -> None:
    import docx

    edited = docx.Document(str(manuscript))
    edited.paragraphs[3].add_run(f" Thank {UNLISTED} for the record.")
    edited.save(str(tmp_path / "words.docx"))
    part = "word/media/image1.png"
    both = _written(tmp_path / "words.docx", part, (1450, 20), UNLISTED, tmp_path / "edited.docx")
    code, found = _inspected(both, CASES[0] / "identifiers.yaml")
    assert code == ExitCode.FINDINGS
    assert part in {where.partition(":")[0] for _, where in found}
    assert any(kind == "name" and where.startswith("word/document.xml") for kind, where in found)


def test_what_an_edit_brought_in_is_told_by_place(short: tuple[Path, Path], tmp_path: Path) -> None:
    listed = minimal_case(tmp_path) / "identifiers.yaml"
    shown = Presentation(str(short[0]))
    last = len(shown.slides)
    shown.slides[1].shapes.title.text_frame.text = f"{NAME} came for this."
    shown.slides[last - 1].notes_slide.notes_text_frame.text = f"Ring {PHONE}"
    shown.save(str(tmp_path / "words.pptx"))
    code, found = _inspected(_without_pictures(tmp_path / "words.pptx", tmp_path / "edited.pptx"), listed)
    assert code == ExitCode.FINDINGS
    assert {"declared name", "phone number"} <= {kind for kind, _ in found}
    assert all(where for _, where in found)
