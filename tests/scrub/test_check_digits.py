"""Check digits confirm and never veto. Values: NHS Data Dictionary (rule), ISO/IEC 7812-1, Verhoeff 1969."""

from __future__ import annotations

import pytest
from stdnum import luhn, verhoeff
from stdnum.gb import nhs

from mmbuilder.scrub.detectors import national_number


def found(text: str) -> list[tuple[str, float]]:
    return [(text[span.start : span.end], span.confidence) for span in national_number.find(text)]


@pytest.mark.parametrize(
    "number", ["9434765919", "9434765870", "4505577104", "4010232137", "9990000018", "9990000026"]
)
def test_a_right_nhs_number_is_surer_than_a_mistyped_one(number: str) -> None:
    # Worked by the published rule: weights 10 to 2, check = 11 - (sum mod 11), 11 -> 0, 10 -> none.
    total = sum(int(figure) * weight for figure, weight in zip(number[:9], range(10, 1, -1), strict=True))
    assert (11 - total % 11) % 11 == int(number[9])
    assert nhs.is_valid(number)
    wrong = number[:9] + str((int(number[9]) + 1) % 10)
    right_hit, wrong_hit = found(f"NHS number {number}"), found(f"NHS number {wrong}")
    assert right_hit[0][0] == number
    assert wrong_hit[0][0] == wrong
    assert right_hit[0][1] > wrong_hit[0][1]


@pytest.mark.parametrize(
    "text",
    [
        "NHS number 999 000 0019",  # check digit wrong
        "NHS no: 9990000001",  # 999 000 000x has no valid tenth digit at all
        "seen as 999 000 0019 today",  # no word, by its form alone
        "seen as 9990000019 today",
        "Aadhaar 2345 6789 0129",
        "SSN 000-00-0000",  # never issued
    ],
)
def test_a_mistyped_number_still_goes(text: str) -> None:
    assert found(text)


def test_no_nhs_number_starts_999_000_000() -> None:
    # check-values A7 (worked there by hand): sum 243, remainder 1, so the check would be 10.
    assert not any(nhs.is_valid(f"999000000{figure}") for figure in range(10))


def test_the_library_agrees_with_published_values() -> None:
    assert luhn.is_valid("79927398713")  # ISO/IEC 7812-1, the classic example (value from memory)
    assert luhn.is_valid("808401234567893")  # CMS: US provider number 1234567893 with its prefix 80840
    assert verhoeff.is_valid("2363")  # 236 -> 3
    assert verhoeff.is_valid("521185133376")  # 52118513337 -> 6
    assert not verhoeff.is_valid("2364")


def test_the_check_library_is_not_loaded_without_a_candidate() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from mmbuilder.scrub.layers import Patterns; "
        "Patterns().find(['The graft was rebubbled at 48 hours, acuity 6/9.']); "
        "print([name for name in ('phonenumbers', 'stdnum', 'rapidfuzz') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
