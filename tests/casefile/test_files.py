"""Names of files as people type them, and as people who mean harm do."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest

from mmbuilder.casefile.files import FileFault, describe, inside, listed


@pytest.fixture
def root(tmp_path: Path) -> Path:
    home = tmp_path / "case"
    (home / "images").mkdir(parents=True)
    (tmp_path / "outside.png").write_bytes(b"x")
    return home


@pytest.mark.parametrize(
    ("on_disk", "named"),
    [
        ("first frame.png", "images/first frame.png"),
        ("first frame.png", "images\\first frame.png"),
        ("first frame.png", "./images//first frame.png"),
        ("first frame.png", "first frame.png"),
        ("First Frame.PNG", "images/first frame.png"),
        (unicodedata.normalize("NFD", "œil opéré.png"), unicodedata.normalize("NFC", "images/œil opéré.png")),
        (unicodedata.normalize("NFC", "œil opéré.png"), unicodedata.normalize("NFD", "images/œil opéré.png")),
        ("צילום\u200f 1.png", "images/צילום 1.png"),
        ("first\u00a0frame.png", "images/first frame.png"),
        ("two  spaces.png", "images/two spaces.png"),
        ("手術.png", "images/手術.png"),
    ],
)
def test_names_are_understood(root: Path, on_disk: str, named: str) -> None:
    (root / "images" / on_disk).write_bytes(b"x")
    assert inside(root, named) == root / "images" / on_disk


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("../outside.png", "file-outside"),
        ("images/../../outside.png", "file-outside"),
        ("images\\..\\..\\outside.png", "file-outside"),
        ("/etc/passwd", "file-outside"),
        ("\\\\server\\share\\x.png", "file-outside"),
        ("C:\\x.png", "file-outside"),
        ("~/x.png", "file-outside"),
        ("images/x\0.png", "file-missing"),
        ("", "file-missing"),
        ("images", "file-not-plain"),
        (".", "file-not-plain"),
        ("images/none.png", "file-missing"),
        ("x" * 5000, "file-missing"),
    ],
)
def test_names_are_refused(root: Path, name: str, code: str) -> None:
    with pytest.raises(FileFault) as refused:
        inside(root, name)
    assert refused.value.code == code
    assert "outside.png" not in str(refused.value)


def test_links_within_the_folder_are_files_and_links_out_are_not(root: Path) -> None:
    (root / "images" / "a.png").write_bytes(b"x")
    (root / "b.png").symlink_to(root / "images" / "a.png")
    (root / "c.png").symlink_to(root.parent / "outside.png")
    (root / "more").symlink_to(root.parent)
    assert inside(root, "b.png").read_bytes() == b"x"
    for name in ("c.png", "more/outside.png"):
        with pytest.raises(FileFault) as refused:
            inside(root, name)
        assert refused.value.code == "file-outside"


def test_two_names_that_look_alike_are_not_guessed(root: Path) -> None:
    (root / "images" / "A.png").write_bytes(b"x")
    (root / "images" / "a.PNG").write_bytes(b"y")
    with pytest.raises(FileFault):
        inside(root, "images/a.png")


def test_files_are_told_by_place_and_never_by_name(root: Path) -> None:
    for name in ("Quill.jpg", "Feather.jpg", "aaa.jpg", ".DS_Store", "Thumbs.db"):
        (root / "images" / name).write_bytes(b"x" * 482_000)
    words = describe(root, root / "images" / "Quill.jpg")
    assert words == "the 2nd file by name in images/ (a .jpg of 482 kB)"
    assert len(listed(root, "images")) == 3
