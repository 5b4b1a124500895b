"""A judge that learned from invented passages: which words of a sentence name a person or a place, or are another identifier.

    chances([("seen by okonjo, for CT", ())])   # of each word: a person, a place, another identifier

Linear weights over plain features of a word and its neighbours (`features.py`), joined by a linear chain
(`chain.py`). Where they leave a doubt, the offline name model is asked what it knows of each word (`second.py`), which
has weights too. What was learned is data: `weights.txt` and `weights.bin`, made by `tests/scrub/judging/train.py`.
"""

from __future__ import annotations

from mmbuilder.scrub.judging.judge import Chance, Settled, chances

__all__ = ["Chance", "Settled", "chances"]
