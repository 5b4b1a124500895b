"""A small statistical name model that ships with the package and runs offline.

    cut = pieces("Seen by Amara Okonjo in clinic.")
    piece_scores([cut], [signs])   # of every word piece: nothing, a person, a place, another identifier

Its lower half is somebody else's work under CC-BY-4.0, its upper half was taught further by us, from invented passages
(`tests/scrub/names/teach.py`): see data/ATTRIBUTION.md. It reads Latin script best, and no capitals: how a word is
written and what our lists say of it, it is told beside (`mmbuilder.scrub.judging.signs`).
"""

from __future__ import annotations

from mmbuilder.scrub.names.scores import piece_scores
from mmbuilder.scrub.names.tokenizer import pieces

__all__ = ["piece_scores", "pieces"]
