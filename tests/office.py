"""Turn a deck into pages with LibreOffice, where it is; say why not, where it is not."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest


def pages(deck: Path, folder: Path) -> int:
    """Number of pages LibreOffice makes of a deck. Skips with the reason; in CI that is a failure."""
    for tool in ("soffice", "pdfinfo"):
        if shutil.which(tool) is None:
            reason = f"{tool} is not installed, so the deck cannot be turned into pages here"
            pytest.fail(reason) if os.environ.get("CI") == "true" else pytest.skip(reason)
    told = subprocess.run(
        ["pdfinfo", as_pdf(deck, folder)], check=True, capture_output=True, text=True
    ).stdout
    return int(next(line for line in told.splitlines() if line.startswith("Pages:")).split()[1])


def as_pdf(deck: Path, folder: Path) -> Path:
    """The deck as LibreOffice prints it."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    subprocess.run(
        ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", folder, deck],
        check=True,
        capture_output=True,
        timeout=300,
    )
    return folder / f"{deck.stem}.pdf"
