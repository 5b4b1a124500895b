"""A small statistical name model that ships with the package and runs offline.

    piece_states([pieces("Seen by Amara Okonjo in clinic.")])   # what it knows of every word piece

The weights are somebody else's work under CC-BY-4.0: see data/ATTRIBUTION.md. The model was made to label names,
places and addresses in general text, reads Latin script best and knows nothing of wards: so its labels are not used as
they are. `mmbuilder.scrub.judging`, which learned from our own passages, weighs what it knows.
"""

from __future__ import annotations

from mmbuilder.scrub.names.states import piece_states
from mmbuilder.scrub.names.tokenizer import pieces

__all__ = ["piece_states", "pieces"]
