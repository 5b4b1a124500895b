"""A case report needs the patient's consent."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder import uses
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import Consent, Use, YesNo

CODE = "consent-or-hold"
WHY = "a story can be known again without any name in it; the tool never states consent by itself"
GOOD = "{use: case report, governance: {publication consent: given}}"
BAD = "use: case report"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a use outside the department without consent, or with a legal or coroner's hold."""
    case, flags = ctx.case, ctx.case.governance
    outside = uses.load(case.use).outside
    if outside and flags.publication_consent is not Consent.GIVEN:
        yield Finding(
            ("use",),
            "a case report without the patient's consent to publication",
            found=f"consent {flags.publication_consent.value}",
            expected="consent given before it is shown outside",
            severity=Severity.WARN,
        )
    held = [name for name in ("legal_hold", "coroner") if getattr(flags, name) is YesNo.YES]
    if (outside or case.use is Use.TEACHING) and held:
        yield Finding(
            ("use",),
            f"{case.use.value} while the case is held",
            found=" and ".join(
                "a legal hold" if name == "legal_hold" else "a coroner's case" for name in held
            ),
            expected="the department's own review only, until the hold is lifted",
            example="use: department review",
            # A case report leaves the building; a teaching session stays in it.
            severity=Severity.STOP if outside else Severity.WARN,
        )
