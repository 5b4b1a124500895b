"""From a case folder to a case: `check` tells every fault at once, `load` returns it or raises."""

from __future__ import annotations

from mmbuilder.casefile.checking import Checked, check, load, load_declared

__all__ = ["Checked", "check", "load", "load_declared"]
