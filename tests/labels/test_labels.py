"""The catalogues of fixed words: complete, compiled, spoken only where asked for."""

from __future__ import annotations

import string
from pathlib import Path

import pytest

from mmbuilder import labels
from mmbuilder.pipeline import BuildOptions, build
from mmbuilder.safe.terms import Use
from mmbuilder.safe.text import capital, fill, join, number, sentence, wording
from mmbuilder.scrub import sweep
from tests.bundled import ILLUSTRATED, OPENED
from tests.labels import gather

LANGUAGES = labels.languages()


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_has_every_word_and_no_other(language: str) -> None:
    catalogue = gather.read(language)
    assert {one.id for one in catalogue if one.id} == set(gather.words())
    assert [one.id for one in catalogue if one.id and not one.string] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_compiled_catalogue_is_the_edited_one(language: str) -> None:
    assert (gather.FOLDER / f"{language}.mo").read_bytes() == gather.mo(gather.brought_up(language))
    assert (gather.FOLDER / f"{language}.po").read_bytes() == gather.po(gather.brought_up(language))


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_translation_has_the_places_of_its_sentence(language: str) -> None:
    def places(text: str) -> list[str]:
        return sorted(name for _, name, _, _ in string.Formatter().parse(text) if name)

    wrong = [one.id for one in gather.read(language) if one.id and places(one.id) != places(one.string)]
    assert wrong == []


SPOKEN = [(root, use) for root, use in OPENED if root == ILLUSTRATED[0] or use is Use.REVIEW]
"""Every use of one case, and of each other the use that says most: words are of slides, and not of stories."""


@pytest.mark.usefixtures("seen")
@pytest.mark.parametrize("language", [tag for tag in LANGUAGES if tag != labels.ENGLISH])
@pytest.mark.parametrize(("root", "use"), SPOKEN, ids=lambda one: getattr(one, "name", None))
def test_a_bundled_case_asks_for_no_word_that_is_missing(
    root: Path, use: Use, language: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    known, asked = set(gather.words()), set()

    def listening(words: str) -> str:
        asked.add(words)
        return say(words)

    say = labels.say
    monkeypatch.setattr(labels, "say", listening)
    # What a finished file is searched for has no word of ours, and takes most of a build.
    monkeypatch.setattr(sweep, "guard", lambda *_: b"")
    build(root, BuildOptions(tmp_path, use, skip_names=True, language=language, fresh=True))
    missing = {text for text in asked if gather.worth_saying(text)} - known
    assert len(asked) > 100
    assert missing == set()


def test_words_are_said_in_the_language_they_are_read_in() -> None:
    # Common practice, no source: German writes 1.234,5 where English writes 1,234.5.
    text = sentence(fill("{n} h", n=number(1234.5, ",.1f")))
    assert text.reveal() == "1,234.5 h."
    with labels.speaking("de"):
        assert text.reveal() == "1.234,5 h."
    assert text.reveal() == "1,234.5 h."


def test_a_word_of_two_meanings_has_two_words_where_another_language_has() -> None:
    """German, from memory: `Von` is where a time begins, `Abbildung` a picture and no number."""
    with labels.speaking("de"):
        assert wording("From").reveal() == "Von"
        assert wording("Figure").reveal() == "Abbildung"


def test_case_text_is_left_as_it_is() -> None:
    assert join(" · ", (capital(wording("due date")), number(2))).reveal() == "Due date · 2"


def test_an_unknown_language_is_refused() -> None:
    with pytest.raises(KeyError), labels.speaking("xx"):
        pass


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("210 − 4 × 18 = 1,138.5 mL in swabs", "210 − 4 × 18 = 1.138,5 mL in Tüchern"),
        ("0.1 or 1 mg", "0,1 oder 1 mg"),
        ("15.8 to 23.8 kPa", "15,8 bis 23,8 kPa"),
        ("7.5 mmHg × 1.36 = 10.2 cmH2O", "7,5 mmHg × 1,36 = 10,2 cmH2O"),
        ("2 o'clock (superonasal)", "2 Uhr (superonasal)"),
        ("respiration 2, saturation 1", "Atmung 2, Sättigung 1"),
        ("The end is on the next day.", "Das Ende liegt am nächsten Tag."),
    ],
)
def test_a_line_of_figures_is_told_by_its_parts(english: str, german: str) -> None:
    assert labels.told(english) == english
    with labels.speaking("de"):
        assert labels.told(english) == german
