"""An age can be read: nothing but an age stands in its place."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.age import read_age
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "age-not-read"
WHY = "ages over 89 are told as 90 or older; an age that cannot be read could be one, or could name somebody"
GOOD = "patient: {age: about 71}"
BAD = "patient: {age: born 1957}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield an age that is written so that nobody can tell the years."""
    age = ctx.case.patient.age
    if age is not None and read_age(age.value) is None:
        yield Finding(
            ("patient", "age"),
            "the age of the patient cannot be read",
            found="words or figures that are no age, such as a year of birth",
            expected="years, or months, weeks or days for the very young",
            example="age: 71",
        )
