from __future__ import annotations

import pytest

import mmbuilder


def test_the_public_names_are_sorted_complete_and_load() -> None:
    assert mmbuilder.__all__ == sorted(mmbuilder.__all__)
    assert set(mmbuilder.__all__) == set(mmbuilder._HOMES)
    assert all(callable(getattr(mmbuilder, name)) for name in mmbuilder.__all__)


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute"):
        _ = mmbuilder.nothing_of_the_kind
