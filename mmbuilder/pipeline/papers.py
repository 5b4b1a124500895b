"""The papers of a use, set while the rest of a build goes on: what sets a page lets go of the interpreter."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextvars import copy_context
from types import TracebackType
from typing import Self

from mmbuilder.formats import Written, write_paper
from mmbuilder.safe.terms import PaperSize
from mmbuilder.storyboard import Telling
from mmbuilder.storyboard.blocks import Paper, Storyboard

_AT_A_TIME = 2


class Papers:
    """Papers that are being set.

    Args:
        telling: the case, as its use tells it.
        size: of the sheets.
    """

    def __init__(self, telling: Telling, size: PaperSize) -> None:
        self._telling, self._size = telling, size
        self._setting = ThreadPoolExecutor(_AT_A_TIME)
        self._begun: dict[str, tuple[Paper, Future[Written]]] = {}

    def __enter__(self) -> Self:
        """Return itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Drop what has not begun, and wait for what has."""
        self._setting.shutdown(cancel_futures=True)

    def begin(self, deck: Storyboard | None = None) -> None:
        """Begin the papers that tell the case, or, given the deck as it came out, the copies of it."""
        for planned in self._telling.spec.papers:
            if (planned.copy_ is None) is (deck is None):
                paper = self._telling.paper(planned, deck or self._telling.deck, self._size)
                done = self._setting.submit(copy_context().run, write_paper, paper)
                self._begun[planned.slug] = paper, done

    @property
    def told(self) -> tuple[Paper, ...]:
        """What has begun, in the order of the use."""
        return tuple(paper for paper, _ in self._in_order())

    def written(self) -> Iterator[tuple[Paper, Written]]:
        """Yield each as files, in the order of the use; errors as for `formats.write_paper`."""
        for paper, done in self._in_order():
            yield paper, done.result()

    def _in_order(self) -> Iterator[tuple[Paper, Future[Written]]]:
        return (self._begun[one.slug] for one in self._telling.spec.papers if one.slug in self._begun)
