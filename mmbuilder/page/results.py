"""Build the results of a case for a use, then turn its slides into pictures; in a process of its own."""

from __future__ import annotations

import io
import shutil
import subprocess
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from mmbuilder.pipeline import BuildOptions, BuildReport, build
from mmbuilder.safe.terms import Use

if TYPE_CHECKING:
    from mmbuilder.storyboard.blocks import Storyboard

WIDE = 1280
"""Pixels of a slide's picture."""
LONGEST = 180
"""Seconds that LibreOffice may take."""


QUICK = 1
"""How hard a picture is packed: nobody keeps it."""


@dataclass(frozen=True)
class Slides:
    """The slides of a result as pictures.

    Attributes:
        pictures: in order.
        as_shown: made by LibreOffice from the deck itself; else a plain rendering of the same slides.
    """

    pictures: tuple[Path, ...]
    as_shown: bool


def make(root: Path, use: Use, final: bool, into: Path) -> BuildReport:
    """Build a case. What was in the folder before goes.

    Raises:
        MMBuilderError: as for `pipeline.build`.
    """
    shutil.rmtree(into, ignore_errors=True)
    return build(root, BuildOptions(into, use, final=final))


def picture(root: Path, use: Use, final: bool, deck: Path) -> Slides:
    """Picture the slides of a deck that was built, beside it: it may be taken before they are there.

    Raises:
        MMBuilderError: as for loading the case.
    """
    pictures = deck.parent / "slides"
    pictures.mkdir(exist_ok=True)
    pdf = _by_office(deck)
    if pdf is not None:
        return Slides(tuple(_pages(pdf, pictures, 0)), as_shown=True)
    from mmbuilder.formats import handout_pdf

    board = _board(root, use, draft=not final)
    made: list[Path] = []
    for slide in board.slides:
        one = handout_pdf.write(replace(board, slides=(slide,)))
        made += list(_pages(one, pictures, len(made)))
    return Slides(tuple(made), as_shown=False)


def files_of(report: BuildReport) -> tuple[Path, ...]:
    """Everything to be taken away, the deck first."""
    return (report.deck, *report.papers, report.page, report.report)


def packed(report: BuildReport) -> bytes:
    """Return all files as one .zip, the same bytes every time."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in files_of(report):
            archive.writestr(zipfile.ZipInfo(path.name), path.read_bytes(), zipfile.ZIP_DEFLATED)
    return written.getvalue()


def _by_office(deck: Path) -> bytes | None:
    """Return the deck as a PDF, or None where LibreOffice is not installed or does not manage."""
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office is None:
        return None
    with TemporaryDirectory(dir=deck.parent) as work:
        profile = f"-env:UserInstallation={(Path(work) / 'profile').as_uri()}"
        asked = [office, profile, "--headless", "--convert-to", "pdf", "--outdir", work, str(deck)]
        try:
            subprocess.run(asked, check=True, capture_output=True, timeout=LONGEST)
            return (Path(work) / f"{deck.stem}.pdf").read_bytes()
        except (OSError, subprocess.SubprocessError):
            return None


def _pages(pdf: bytes, into: Path, first: int) -> Iterator[Path]:
    """Write the pages of a PDF as pictures, numbered from `first` + 1; yield their paths."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        for number, page in enumerate(document, first + 1):
            path = into / f"{number:03d}.png"
            page.render(scale=WIDE / page.get_width()).to_pil().convert("RGB").save(
                path, compress_level=QUICK
            )
            yield path
    finally:
        document.close()


def _board(root: Path, use: Use, *, draft: bool) -> Storyboard:
    from mmbuilder import labels
    from mmbuilder.casefile import load
    from mmbuilder.scrub.apply import apply
    from mmbuilder.scrub.propose import propose
    from mmbuilder.storyboard import compose

    folder = load(root, use)
    with labels.speaking(folder.case.language):
        return compose(apply(folder, propose(folder)), use, draft=draft)
