"""A file that was clean is not searched again where it is the same; wherever anything changed, it is."""

import os
import pickle
import subprocess
import sys
from dataclasses import replace
from datetime import date

import pytest

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import IdentifierInOutput
from mmbuilder.scrub.sweep import Known, guard, search
from mmbuilder.scrub.sweep.parts import Piece
from tests.scrub.declared_list import DECLARED, KNOWN, SURNAME, packed

PARTS = {
    "ppt/slides/slide1.xml": b"<a:t>Bleeding was seen</a:t>",
    "ppt/slides/slide2.xml": b"<a:t>14 May 2024</a:t>",
}


@pytest.fixture
def searched(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Labels of the parts that were looked into, as it happens."""
    found, look = list[str](), search._in_piece

    def looking(piece: Piece, known: Known) -> object:
        found.append(piece.label)
        return look(piece, known)

    monkeypatch.setattr(search, "_in_piece", looking)
    return found


def test_what_is_the_same_is_not_searched_again(searched: list[str]) -> None:
    deck = packed(PARTS)
    before = guard("deck.pptx", deck, KNOWN)
    assert set(PARTS) <= set(searched)
    searched.clear()
    assert guard("deck.pptx", deck, KNOWN, before)
    assert searched == []
    changed = PARTS | {"ppt/slides/slide1.xml": b"<a:t>Bleeding was told</a:t>"}
    guard("deck.pptx", packed(changed), KNOWN, before)
    assert "ppt/slides/slide1.xml" in searched
    assert "ppt/slides/slide2.xml" not in searched


@pytest.mark.parametrize("part", PARTS)
def test_a_name_put_into_a_clean_file_is_found(part: str) -> None:
    before = guard("deck.pptx", packed(PARTS), KNOWN)
    with pytest.raises(IdentifierInOutput):
        guard("deck.pptx", packed(PARTS | {part: f"<a:t>{SURNAME}</a:t>".encode()}), KNOWN, before)


def test_a_part_called_by_a_name_is_found_though_its_content_was_clean() -> None:
    before = guard("deck.pptx", packed(PARTS), KNOWN)
    renamed = {f"ppt/media/{SURNAME}.xml": PARTS["ppt/slides/slide1.xml"]}
    with pytest.raises(IdentifierInOutput):
        guard("deck.pptx", packed(renamed), KNOWN, before)


def test_a_file_called_by_a_name_is_found_though_its_content_was_clean() -> None:
    before = guard("deck.pptx", packed(PARTS), KNOWN)
    with pytest.raises(IdentifierInOutput):
        guard(f"{SURNAME}.pptx", packed(PARTS), KNOWN, before)


def test_what_was_clean_before_the_list_grew_is_searched_again() -> None:
    before = guard("deck.pptx", packed(PARTS), KNOWN)
    more = Known.from_declared(DECLARED.model_copy(update={"other": (FreeText("Bleeding was"),)}))
    with pytest.raises(IdentifierInOutput):
        guard("deck.pptx", packed(PARTS), more, before)
    with pytest.raises(IdentifierInOutput):
        guard("deck.pptx", packed(PARTS), replace(KNOWN, dates=frozenset({date(2024, 5, 14)})), before)


def test_a_refused_file_leaves_nothing_to_trust() -> None:
    clean = search.Clean()
    data = packed(PARTS | {"ppt/slides/slide3.xml": SURNAME.encode()})
    assert search.sweep("deck.pptx", data, KNOWN, clean)
    with pytest.raises(IdentifierInOutput):
        guard("deck.pptx", data, KNOWN, clean.told())


def test_the_digest_is_of_every_value_of_the_list() -> None:
    digests = {Known.from_declared(DECLARED).digest, Known.from_declared(Declared()).digest}
    for name in ("people", "places", "numbers", "other", "keep"):
        first = getattr(DECLARED, name)[:1] or (FreeText("Hand"),)
        digests.add(Known.from_declared(Declared().model_copy(update={name: first})).digest)
    assert len(digests) == 7


def test_what_is_known_goes_to_another_process_without_the_list_itself() -> None:
    sent = pickle.dumps(KNOWN)
    assert pickle.loads(sent).digest == KNOWN.digest
    assert b"Ondr\xc3\xa9a Quillmarkton" not in sent


def test_the_digest_is_the_same_in_every_process() -> None:
    asked = "from tests.scrub.declared_list import KNOWN; print(KNOWN.digest)"
    told = {
        subprocess.run(
            [sys.executable, "-c", asked],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("1", "2")
    }
    assert told == {KNOWN.digest}
