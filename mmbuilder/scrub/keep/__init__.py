"""What must not be removed: eponyms, drugs, organisms, anatomy and the words of the ward.

    Guard("Dr Fuchs saw a Fuchs dystrophy.").judge(15, 20)
    Judgement(verdict=<Verdict.KEEP>, reason='before "dystrophy", as an eponym stands', start=15, end=20)

The lists are plain text in `sources/`, one file a class; `compile.py` makes `compiled.json` of them
(a test fails when it is out of date). `guard.py` weighs a candidate against them and its context.
"""

from __future__ import annotations

from mmbuilder.scrub.keep.guard import Guard, Judgement, Verdict

__all__ = ["Guard", "Judgement", "Verdict"]
