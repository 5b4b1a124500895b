"""A PDF with the finders for pictures at work: what its text explains stays, the rest is theirs."""

from __future__ import annotations

import numpy as np
import pytest

from mmbuilder.scrub.containers._pdf import reading
from mmbuilder.scrub.images.cover import COVER
from tests.scrub.containers.files import pdf
from tests.scrub.containers.test_pdf import drawn, scrubbed
from tests.scrub.declared_list import SURNAME
from tests.scrub.images.extras import need

LETTER = [
    "Discharge letter",
    f"Patient: Mr Aldous {SURNAME}, NHS number 999 000 0018",
    "This man was admitted with abdominal pain after a right hemicolectomy.",
    "CT showed free fluid next to the anastomosis; C-reactive protein 212 mg/L.",
]


@pytest.fixture
def ocr() -> None:
    need("ocr", "onnxruntime", "cv2", "zxingcpp")


@pytest.mark.usefixtures("ocr")
def test_words_of_a_letter_stay_with_the_finders_at_work():
    before, after = drawn(pdf(LETTER)), drawn(scrubbed(pdf(LETTER)).data)
    ink = before.min(axis=-1) < 100
    rows = np.flatnonzero(ink.any(axis=1))
    lines = np.split(rows, np.flatnonzero(np.diff(rows) > 4) + 1)
    assert len(lines) == len(LETTER)
    kept = [float((after[line][ink[line]].max(axis=-1) < 120).mean()) for line in lines]
    covered = [bool((np.abs(after[line] - COVER).max(axis=-1) < 12).mean() > 0.02) for line in lines]
    assert covered == [False, True, False, False]
    assert min(kept[0], kept[2], kept[3]) > 0.95


@pytest.mark.usefixtures("ocr")
def test_a_font_that_claims_other_letters_is_left_to_the_finders(monkeypatch):
    def lying(page, place, real=reading._letters):
        letters = real(page, place)
        other = "".join("x" if sign.isalnum() else sign for sign in letters.text)
        return reading.Letters(other, letters.areas, letters.unread)

    monkeypatch.setattr(reading, "_letters", lying)
    data = pdf(["Olivander Quessington 7714"])
    ink = drawn(data).min(axis=-1) < 100
    assert (np.abs(drawn(scrubbed(data).data) - COVER).max(axis=-1) < 12)[ink].mean() > 0.9
