"""Find names by a small statistical model that ships with the package and runs offline.

    NameModel().find(["Seen by Amara Okonjo in clinic."])
    [[NameHit(start=8, end=20, kind="person", score=0.99)]]

The weights are somebody else's work under CC-BY-4.0: see data/ATTRIBUTION.md. The model knows
people, places and addresses; it has no label for an organisation. It reads Latin script best, and
it was not made for clinical text: what it finds goes through `mmbuilder.scrub.keep` before
anything is removed.
"""

from __future__ import annotations

from mmbuilder.scrub.names.finder import NameModel
from mmbuilder.scrub.names.labels import Kind
from mmbuilder.scrub.names.spans import NameHit

__all__ = ["Kind", "NameHit", "NameModel"]
