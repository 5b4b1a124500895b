"""A factor of an individual names a role and the condition it worked under, and no more of a person."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import FactorRole, FactorRow

CODE = "individual-no-condition"
WHY = "a role alone points at somebody; the condition is what can be changed"
GOOD = """
factors:
  - {row: individual, what: Registrar in the second week of the post, evidence: rota}
  - {row: team, what: No briefing before the list, evidence: theatre log}
"""
BAD = """
factors:
  - {row: individual, what: The registrar, evidence: rota}
  - {row: team, what: No briefing before the list, evidence: theatre log}
"""

_ROLES = re.compile(
    r"\b(?:an[ae]+sthetist|an[ae]+sthesiologist|assistant|attending|clinician|consultant|dentist|doctor|fellow"
    r"|gyn[ae]+cologist|houseman|intensivist|intern|junior|locum|matron|medic|midwife|nurse|operator|ophthalmologist"
    r"|optometrist|orthop[ae]+dist|paramedic|perfusionist|pharmacist|physician|physiotherapist|porter"
    r"|practitioner|presenter|radiographer|radiologist|registrar|resident|scrub|senior|sister|specialist|staff"
    r"|student|supervisor|surgeon|technician|trainee|trainer|urologist)s?\b",
    re.IGNORECASE,
)
"""Words that name a role; ours, of common practice."""
_SMALL = frozenset(
    {"a", "an", "the", "of", "in", "on", "at", "and", "to", "was", "theatre", "ward", "duty", "call"}
)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each factor of an individual without a role, and each that is a role and nothing else."""
    for place, factor in enumerate(ctx.case.factors):
        if factor.row is not FactorRow.INDIVIDUAL or factor.role is FactorRole.EXCLUDED:
            continue
        rest = re.findall(r"\w+", _ROLES.sub(" ", factor.what.value).casefold())
        named = _ROLES.search(factor.what.value) is not None
        if named and any(word not in _SMALL for word in rest):
            continue
        yield Finding(
            ("factors", place, "what"),
            f"factor {place + 1} names {'a role and no condition' if named else 'no role'}",
            expected="a role, and the condition it worked under",
            example="what: Registrar in the second week of the post",
            severity=Severity.WARN,
        )
