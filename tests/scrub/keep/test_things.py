"""What the guard keeps because it stands as a thing, and what it does not; the names are invented or well known."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.keep import Guard, Verdict


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Lavage, 24 Fr Blake left in the pouch.", "Blake"),
        ("Eckardt fell from 9 to 2.", "Eckardt"),
        ("Gibson was used last time.", "Gibson"),
        ("McCoy up, Sellick off, Magill for the tooth.", "McCoy"),
        ("Ohi type, then Quandry III at surgery.", "Quandry"),
        ("Quandry's algorithm was followed.", "Quandry"),
        ("Given Quandrine 40 mg bd.", "Quandrine"),
        ("Opsite, Quexfix and Tegaderm were on.", "Quexfix"),
        ("DEBAKEY CLAMP SLIPPED.", "DEBAKEY CLAMP"),
        ("Innenmeniskus, Zeichen nach Quandry fraglich.", "Quandry"),
        ("Signe de Quandry franc.", "Quandry"),
        ("Se hizo maniobra de Quandry.", "Quandry"),
        ("Im Quandry-Verband entlassen.", "Quandry"),
        ("Akrinor 1 ml, dann Lipofundin.", "Akrinor"),
        ("Gipsfrei im Gilchrist-Verband.", "Gilchrist"),
        ("1032 calcar crack, pt stable.", "calcar"),
        ("Noted crack in Calcar.", "Calcar"),
        ("called calcar", "calcar"),
    ],
)
def test_the_guard_keeps_what_stands_as_a_thing(text: str, said: str) -> None:
    start = text.index(said)
    assert Guard(text).judge(start, start + len(said)).verdict is Verdict.KEEP


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("According to Trevorrow, the clip slipped.", "Trevorrow"),
        ("McCoy said the blade was off.", "McCoy"),
        ("Anna Quandry III came back.", "Anna Quandry"),
        ("Surgeon Ross, Ross procedure.", "Ross"),
        ("Verlegt nach Quandry gegen Mittag.", "Quandry"),
        ("Hijo de Quandry, de acuerdo.", "Quandry"),
    ],
)
def test_the_guard_does_not_keep_a_person_for_it(text: str, said: str) -> None:
    start = text.index(said)
    assert Guard(text).judge(start, start + len(said)).verdict is not Verdict.KEEP
