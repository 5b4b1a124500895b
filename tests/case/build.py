"""Small invented cases for the tests of clocks."""

from __future__ import annotations

from typing import Any

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.model import Case


def case(
    events: list[dict[str, Any]],
    clocks: list[dict[str, Any]] | None = None,
    index: str = "index",
    **timeline: Any,
) -> Case:
    return Case.model_validate(
        {
            "mmbuilder": "1",
            "code": "invented",
            "title": "An invented case",
            "specialty": "anaesthesia",
            "presenter": {"role": "registrar"},
            "situation": "s",
            "asked": "a",
            "patient": {},
            "plan": {"procedure": "p"},
            "clocks": clocks or [{"name": "theatre clock", "reference": "yes"}],
            "timeline": {"index event": index, "events": events} | timeline,
            "outcome": {"summary": "o"},
            "take away": "t",
        }
    )


def event(when: str, id: str | None = None, **more: Any) -> dict[str, Any]:
    return {"kind": "step", "what": "w", "when": when} | ({"id": id} if id else {}) | more


def reckoner(index: str, clocks: list[dict[str, Any]] | None = None, **timeline: Any) -> Reckoner:
    return Reckoner(case([event(index, "index")], clocks, **timeline))
