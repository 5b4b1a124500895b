"""What may stay when it is read: strict lists, checked without any optional part."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.images.finders import _allow

STAY = {
    "5 mm": "scale bar",
    "10cm": "scale bar",
    "200 µm": "scale bar",
    "R": "side",
    "OD": "side",
    "Left": "side",
    "patient prone": "orientation",
    "R eye 12 o'clock at foot T at right": "orientation",
    "IOP 25 mmHg": "device setting",
    "30° scope 12 mmHg": "device setting",
    "W 350 L 50 5 mm portal venous": "device setting",
    "Ppeak 38 cmH2O VTe 214 mL RR 14": "device setting",
    "VCV set VT 450 RR 12 I:E 1:3 PEEP 5 FiO2 1.0": "device setting",
    "R eye 10 MHz gain 78 dB": "device setting",
    "LOW MINUTE VOLUME": "device setting",
    "Vacuum 450 mmHg": "device setting",
    "MI0.9": "device setting",
    "HR84 SpO2 97 %": "device setting",
}
GO = (
    "",
    "Skarrow",
    "R Skarrow",
    "IOP Skarrow",
    "F 52",
    "M",
    "A S",
    "09:44",
    "12/03/2025",
    "5 mm 4711",
    "999 123 4567",
    "H9990417",
    "patient 123",
    "112",
    "NIBP 78/42 (54) 09:44",
    "cam s/n VX-20447",
    "rate 4711",
    "rate4711",
    "w52",
    "MI0.9 Skarrow",
    "Milow7",
    "Ward 7",
    "Dr Left",
    "1957",
    "W L",
    "J M",
)


@pytest.mark.parametrize(("line", "kind"), STAY.items())
def test_stays(line, kind):
    allowance = _allow.allowed(line)
    assert allowance is not None
    assert allowance.kind == kind
    assert allowance.reason


@pytest.mark.parametrize("line", GO)
def test_goes(line):
    assert _allow.allowed(line) is None


def test_number_alone_is_known_as_such():
    assert _allow.bare_number("3.4")
    assert not _allow.bare_number("4711")
    assert not _allow.bare_number("12 mm")
