"""Read every text of a file by a scrub that changes nothing: what is read is what will be scrubbed."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mmbuilder.scrub.containers._ooxml.pictures import placeholder
from mmbuilder.scrub.containers.base import CleanFile, CleanText, Result, Tools


class _Recorder:
    """Tools that note each text."""

    def __init__(self) -> None:
        self.texts: dict[str, None] = {}

    def text(self, text: str) -> CleanText:
        self.texts.setdefault(text)
        return CleanText(text)

    def picture(self, data: bytes, crop: tuple[float, float, float, float] | None = None) -> CleanFile:
        return CleanFile(placeholder())

    def nested(self, suffix: str, data: bytes) -> CleanFile:
        return CleanFile(b"")


def texts_of(data: bytes, scrub: Callable[[bytes, Tools], Result]) -> Iterator[str]:
    """Every text, in order, each once."""
    recorder = _Recorder()
    scrub(data, recorder)
    yield from recorder.texts
