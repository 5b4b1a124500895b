"""Ages as people write them. 45 CFR 164.514(b)(2)(i)(C): over 89 is one category; 89 may be stated."""

from __future__ import annotations

import pytest

from mmbuilder.case.age import Age, read_age


@pytest.mark.parametrize(
    "written",
    ["94 (approx)", "about 94", "94y 3m", "~94", "ninety-four", "94+", "94.5", "94-95", "early 90s", "mid nineties",
     "b. 1931", "1931", "1200 months", "93 at operation", "９４", "٩٤", "90 or older", "89+", "over 89", "nonagenarian",
     "one hundred and two", "104", "94, of Brackenstow"],
)  # fmt: skip
def test_ninety_and_more_is_pooled(written: str) -> None:
    age = read_age(written)
    assert age is not None
    assert age.pooled


@pytest.mark.parametrize(
    ("written", "age"),
    [
        ("71", Age(71, exact=True)),
        ("71-year-old", Age(71, exact=True)),
        ("seventy-one", Age(71, exact=True)),
        ("about 71", Age(71)),
        ("71y 3m", Age(71)),
        ("early 60s", Age(60)),
        ("89", Age(89, exact=True)),
        ("8 months", Age(0, child=True)),
        ("7 weeks 3 days", Age(0, child=True)),
        ("100 days", Age(0, child=True)),
        ("30 months", Age(2, child=True)),
        ("infant", Age(None, child=True)),
        ("15", Age(15, exact=True, child=True)),
        ("16", Age(16, exact=True)),
        ("elderly", Age(None)),
    ],
)
def test_younger_ages_are_read(written: str, age: Age) -> None:
    assert read_age(written) == age


@pytest.mark.parametrize(
    "written",
    ["Mrs Vashtern", "b. 1957", "71, of Brackenstow", "71 Quillorne", "9 4", "12/03/1957", "", "old"],
)
def test_what_is_no_age_is_not_read(written: str) -> None:
    assert read_age(written) is None
