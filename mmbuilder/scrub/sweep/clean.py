"""What a file held when it was last found clean: an edit of one sentence changes few of its parts.

A part is known by a hash of all its bytes and of everything that was looked for, so that a part that
changed by one sign, or a list that grew by one name, is searched again.
"""

from __future__ import annotations

import hashlib

from mmbuilder.scrub.sweep.known import Known
from mmbuilder.scrub.sweep.parts import Piece

_SIZE = hashlib.sha256().digest_size


class Clean:
    """Parts without a finding.

    Args:
        before: hashes of those found clean earlier, run together.
    """

    def __init__(self, before: bytes = b"") -> None:
        self._before = {before[at : at + _SIZE] for at in range(0, len(before), _SIZE)}
        self._now: dict[bytes, None] = {}

    def holds(self, mark: bytes) -> bool:
        """Whether a part was clean before, and so is clean now."""
        if mark in self._before:
            self.add(mark)
        return mark in self._now

    def add(self, mark: bytes) -> None:
        """Take in a part that is clean."""
        self._now[mark] = None

    def told(self) -> bytes:
        """The hashes of this time, run together."""
        return b"".join(self._now)


def mark(piece: Piece, known: Known) -> bytes:
    """The hash of a part, how it is searched, and what for."""
    how = f"{known.digest} {piece.structure} {piece.whole} {piece.syntax} "
    return hashlib.sha256(how.encode() + piece.data).digest()
