"""Build the results of a case for a use, and turn its slides into pictures; done in a process of its own."""

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


@dataclass(frozen=True)
class Results:
    """What was built.

    Attributes:
        report: of the build.
        slides: pictures of the slides, in order.
        as_shown: made by LibreOffice from the deck itself; else a plain rendering of the same slides.
    """

    report: BuildReport
    slides: tuple[Path, ...]
    as_shown: bool

    @property
    def files(self) -> tuple[Path, ...]:
        """Everything to be taken away, the deck first."""
        return (self.report.deck, *self.report.papers, self.report.page, self.report.report)


def make(root: Path, use: Use, final: bool, into: Path) -> Results:
    """Build a case and picture its slides. What was in the folder before goes.

    Raises:
        MMBuilderError: as for `pipeline.build`.
    """
    shutil.rmtree(into, ignore_errors=True)
    report = build(root, BuildOptions(into, use, final=final))
    pictures = into / "slides"
    pictures.mkdir()
    pdf = _by_office(report.deck)
    if pdf is not None:
        return Results(report, tuple(_pages(pdf, pictures, 0)), as_shown=True)
    from mmbuilder.formats import handout_pdf

    board = _board(root, use, draft=not final)
    made: list[Path] = []
    for slide in board.slides:
        one = handout_pdf.write(replace(board, slides=(slide,)))
        made += list(_pages(one, pictures, len(made)))
    return Results(report, tuple(made), as_shown=False)


def packed(results: Results) -> bytes:
    """Return all files as one .zip, the same bytes every time."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in results.files:
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
            page.render(scale=WIDE / page.get_width()).to_pil().convert("RGB").save(path)
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
