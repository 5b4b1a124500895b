"""The drawn set: the same from its names alone, split before tuning, and its ink is where it says."""

from __future__ import annotations

import numpy as np

from tests.scrub.images.synthetic import pictures, rooms, ward


def test_same_name_gives_same_picture():
    one, two = pictures.draw("written-02"), pictures.draw("written-02")
    assert one.image.tobytes() == two.image.tobytes()
    assert [item.kind for item in one.items] == [item.kind for item in two.items]


def test_items_do_not_lie_on_each_other_and_have_ink():
    drawn = pictures.draw("written-02")
    assert len(drawn.items) >= 2
    assert all(item.ink.sum() > 30 for item in drawn.items)
    assert np.sum([item.ink for item in drawn.items], axis=0).max() == 1


def test_split_keeps_both_kinds_on_both_sides():
    held = {name for name in pictures.names() if pictures.is_held_out(name)}
    kept = set(pictures.names()) - held
    for side in (held, kept):
        assert {name.split("-")[0] for name in side} == {"written", "clean"}


def test_second_set_is_the_same_from_its_names_and_writes_where_it_says():
    one, two = ward.draw("ward-written-00"), ward.draw("ward-written-00")
    assert one.image.tobytes() == two.image.tobytes()
    assert one.items
    assert all(item.ink.shape == (one.image.height, one.image.width) for item in one.items)
    assert all(item.ink.any() for item in one.items)
    assert not ward.draw("ward-clean-00").items


def test_fourth_set_is_the_same_from_its_names_and_each_half_has_grounds_of_its_own():
    one, two = rooms.draw("rooms-written-02"), rooms.draw("rooms-written-02")
    assert one.image.tobytes() == two.image.tobytes()
    assert one.items
    assert all(item.ink.any() for item in one.items)
    assert set(rooms.HELD_OUT) - set(rooms.TUNING)
    assert not rooms.draw("rooms-clean-01").items
