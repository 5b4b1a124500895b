from __future__ import annotations

import pytest

from mmbuilder.scrub.keep.compile import (
    COMPILED,
    GATHERED,
    SOURCES,
    TERMS,
    WORDS,
    compiled,
    eponyms,
    lines,
    spelt_abroad,
    terms,
)
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.towns import towns
from mmbuilder.scrub.keep.words import fold, words

SOURCE_FILES = sorted(SOURCES.rglob("*.txt"))


def test_the_compiled_file_is_up_to_date() -> None:
    assert COMPILED.read_text("utf-8") == compiled(), "run: python -m mmbuilder.scrub.keep.compile"


@pytest.mark.parametrize("path", SOURCE_FILES, ids=lambda path: path.stem)
def test_every_source_says_where_it_comes_from(path: object) -> None:
    first = path.read_text("utf-8").splitlines()[0]  # type: ignore[attr-defined]
    assert first == "# Compiled from general medical knowledge by the developers; no list was copied."


def test_the_lists_are_broad() -> None:
    nouns, alone = eponyms()
    assert sum(len(its) for its in nouns.values()) >= 1200
    assert set(alone) <= set(nouns)
    floors = {"drugs": 900, "organisms": 250, "anatomy": 600}
    assert all(len(terms(name)) >= floor for name, floor in floors.items())


def test_no_eponym_and_no_noun_is_empty() -> None:
    nouns, _ = eponyms()
    assert all(name and all(its) for name, its in nouns.items())


def test_names_of_a_line_share_its_nouns_and_a_line_without_any_leaves_them_to_the_heads() -> None:
    nouns, _ = eponyms()
    assert "needle" in nouns["tuohy"]
    assert nouns["camitz"] == []


def test_a_drug_is_known_as_it_is_spelt_abroad() -> None:
    # From memory, by the international names in German, Spanish and Italian.
    assert spelt_abroad("morphine") >= {"morphin", "morfina", "morfin"}
    assert spelt_abroad("ceftriaxone") >= {"ceftriaxon", "ceftriaxona"}
    assert spelt_abroad("furosemide") >= {"furosemid", "furosemida"}
    lists = load()
    assert all(
        lists.terms[drug] == "a drug or product"
        for drug in ("furosemida", "enoxaparina", "metamizol", "ceftriaxona")
    )
    assert not {drug for drug in lists.given if lists.terms.get(drug) == "a drug or product"} - {
        *terms("drugs"),
        *terms("brands"),
    }


def test_what_was_gathered_belongs_to_a_list() -> None:
    rows = [row.partition(": ")[0] for row in lines(GATHERED)]
    assert sorted(rows) == sorted({*rows} & {*TERMS, *WORDS, "vocabulary"})


def test_what_is_shared_is_no_eponym_by_itself() -> None:
    lists = load()
    assert not lists.shared & set(lists.eponyms)


def test_words_fold_to_their_plain_form() -> None:
    assert [fold(w) for w in ("Ménière's", "O'Brien", "Løvset", "SJÖGREN", "Grave’s")] == [
        "meniere",
        "obrien",
        "lovset",
        "sjogren",
        "grave",
    ]


def test_words_keep_their_offsets() -> None:
    text = "Swan-Ganz, O'Brien's 10-0"
    assert [(w.text, text[w.start : w.end]) for w in words(text)] == [
        (w, w) for w in ("Swan", "Ganz", "O'Brien's", "10", "0")
    ]


def test_an_ending_is_taken_off_a_listed_word_only() -> None:
    lists = load()
    assert lists.called("clamps")
    assert lists.called("resected")
    assert lists.called("hal") is None
    assert lists.called("oskavarns") is None


def test_no_name_and_no_town_ends_as_the_clinical_nouns_abroad_do() -> None:
    # The names and towns are those of our lists: see NAMES-NOTICE and TOWNS-NOTICE.
    lists = load()
    towns_of_one_word = {name for name in towns() if " " not in name}
    taken = {name for name in lists.given | lists.family | towns_of_one_word if lists.ended_abroad(name)}
    assert taken == set()


def test_a_clinical_noun_made_anew_is_known_by_its_ending() -> None:
    # From memory, nouns of German and Spanish operation notes.
    lists = load()
    for said in (
        "Nahtdehiszenz",
        "Laryngospasmus",
        "Knietotalprothese",
        "Schraubenlockerungsoperation",
        "laringoespasmo",
    ):
        assert lists.plain_abroad(fold(said)), said
    assert not lists.plain_abroad(fold("Quellingen"))
