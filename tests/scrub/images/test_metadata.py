import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.scrub.images.chunk import Kind, inflate
from mmbuilder.scrub.images.metadata import kinds
from mmbuilder.scrub.images.sniff import HEAD, container, containers
from tests.scrub.images.files import CANARY, EVERY, SECRET, picture, saved

CARRIED = {
    "JPEG": set(Kind) - {Kind.TIME},
    "PNG": set(Kind) - {Kind.TIME, Kind.COMMENT, Kind.THUMBNAIL},
    "TIFF": {Kind.EDITING, Kind.CAPTION, Kind.TEXT, Kind.PROFILE},
    "WebP": {Kind.CAMERA, Kind.POSITION, Kind.MAKER, Kind.EDITING, Kind.TEXT, Kind.PROFILE, Kind.TRAILING},
    "GIF": {Kind.EDITING, Kind.COMMENT, Kind.TRAILING},
    "BMP": {Kind.TRAILING},
}


@pytest.mark.parametrize("kind", EVERY)
def test_every_kind_carried_is_listed_and_no_other(kind):
    assert kinds(EVERY[kind]) == tuple(each.value for each in Kind if each in CARRIED[kind])


@pytest.mark.parametrize("kind", EVERY)
def test_a_clean_picture_carries_none(kind):
    clean = saved(picture(), kind.upper())
    assert kinds(clean) == ()


@pytest.mark.parametrize("kind", EVERY)
def test_every_payload_that_is_text_holds_the_canary_unpacked(kind):
    leaf = container(EVERY[kind][:HEAD])
    assert leaf is not None
    whole = [chunk.payload for chunk in leaf.chunks(EVERY[kind])]
    told = {Kind.EDITING, Kind.CAPTION, Kind.COMMENT, Kind.MAKER}
    for chunk in leaf.chunks(EVERY[kind]):
        if chunk.kind in told:
            assert SECRET in chunk.payload
            assert CANARY not in repr(chunk)
    assert any(SECRET in payload for payload in whole)


@given(st.sampled_from(sorted(EVERY)), st.integers(0, 3000), st.binary(max_size=80))
@settings(max_examples=150, deadline=None)
def test_walkers_never_raise(kind, cut, tail):
    data = EVERY[kind][:cut] + tail
    for leaf in containers():
        assert all(isinstance(chunk.kind, Kind) for chunk in leaf.chunks(data))
        assert leaf.pages(data) >= 1


def test_inflating_is_bounded():
    import zlib

    assert len(inflate(zlib.compress(b"a" * 10**6), 1000)) == 1000
    assert inflate(b"no stream") == b""
