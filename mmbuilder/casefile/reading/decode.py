"""Bytes to text: encodings that word processors leave behind are understood or explained."""

from __future__ import annotations

import codecs

from mmbuilder.casefile.mark import START, Mark
from mmbuilder.casefile.reading.report import Report

MOST_BYTES = 2 * 1024 * 1024
"""A case file is words; a larger one is something else."""

_SAVE = "in your editor: Save as, Encoding: UTF-8"
_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16: its mark begins with the same two bytes
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def decode(data: bytes, report: Report) -> str | None:
    """Return the text of a file, or None where it cannot be told which characters it holds.

    UTF-8 with or without a byte order mark, and UTF-16 or UTF-32 with one, are read. Bytes
    of an older encoding are told line by line and stand as U+FFFD, so that the rest is checked.
    """
    if len(data) > MOST_BYTES:
        report.tell(
            START,
            "file-too-large",
            "the file is too large for a case",
            found=f"{len(data) / 2**20:.1f} MB",
            expected=f"at most {MOST_BYTES // 2**20} MB of text; pictures and readings lie beside it",
        )
        return None
    encoding = next((name for mark, name in _BOMS if data.startswith(mark)), None)
    if encoding is None:
        return _unmarked(data, report)
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        if encoding == "utf-8-sig":
            return _unmarked(data[len(codecs.BOM_UTF8) :], report)
        report.tell(START, "encoding", "the file is damaged or cut short", expected=f"UTF-8 text ({_SAVE})")
        return None


def _unmarked(data: bytes, report: Report) -> str | None:
    if _looks_like_utf16(data):
        report.tell(
            START,
            "encoding",
            "the file is not saved as UTF-8",
            found="every second byte is empty, as in UTF-16 without its mark",
            expected=f"UTF-8 text ({_SAVE})",
        )
        return None
    try:
        return data.decode()
    except UnicodeDecodeError:
        return "\n".join(_lines(data, report))


def _looks_like_utf16(data: bytes) -> bool:
    head = data[:400]
    return len(head) >= 4 and head.count(0) * 5 > len(head) * 2


def _lines(data: bytes, report: Report) -> list[str]:
    lines = []
    for number, raw in enumerate(data.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n"), 1):
        try:
            lines.append(raw.decode())
        except UnicodeDecodeError as fault:
            column = len(raw[: fault.start].decode()) + 1
            report.tell(
                Mark(number, column),
                "encoding",
                "a letter on this line is not saved as UTF-8",
                found="a byte of an older encoding, such as Windows-1252 (accents, curly quotes, degrees)",
                expected=f"UTF-8 text ({_SAVE})",
                why="guessing the letter could change a name or a dose",
            )
            lines.append(raw.decode(errors="replace"))
    return lines
