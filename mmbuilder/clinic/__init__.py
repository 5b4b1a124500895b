"""Clinic arithmetic: pure functions with their sources, each in a file of its own under `measures/`.

    work("mean arterial pressure", {"systolic": "96 mmHg", "diastolic": "51 mmHg"})

Nothing here knows a case. What comes out is made of figures, units and words of ours only.
Every number is for the review of a past case; none is for treatment.
"""

from mmbuilder.clinic.faults import InputFault
from mmbuilder.clinic.measure import Answer, Example, Result, Worked
from mmbuilder.clinic.working import catalogue, find, gather, work

__all__ = ["Answer", "Example", "InputFault", "Result", "Worked", "catalogue", "find", "gather", "work"]
