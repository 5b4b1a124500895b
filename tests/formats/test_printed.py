"""Letters of a picture are kept free of the labels of its marks."""

from __future__ import annotations

from PIL import Image, ImageDraw

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.marks import placed_labels
from mmbuilder.formats._pptx.printed import printed
from mmbuilder.formats._pptx.style import HOUSE_FACE
from mmbuilder.safe.case import Arrow
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.mint import KEY

WHOLE = Box(0, 0, 640, 360)


def minted(picture: Image.Image) -> SafeImage:
    return SafeImage(KEY, picture.width, picture.height, picture.convert("RGB").tobytes())


def lettered(x: int, y: int) -> SafeImage:
    picture = Image.linear_gradient("L").resize((640, 360)).convert("RGB")
    draw = ImageDraw.Draw(picture)
    draw.rectangle((x - 4, y - 4, x + 250, y + 24), fill="black")
    draw.text((x, y), "R eye  12 o'clock at foot", fill="white", font_size=20)
    return minted(picture)


def test_letters_are_found_where_they_stand_and_nowhere_else() -> None:
    found = printed(lettered(40, 200), WHOLE)
    assert found
    assert all(box.meets(Box(36, 196, 258, 32)) for box in found)
    assert printed(minted(Image.linear_gradient("L").resize((640, 360))), WHOLE) == ()


def test_a_label_gives_way_to_letters() -> None:
    arrow = Arrow(0.2, 0.6, 0.5, 0.2)
    free = placed_labels(WHOLE, (arrow,), (), ("iris forward",), HOUSE_FACE, ())
    letters = printed(lettered(40, 200), WHOLE)
    (moved,) = placed_labels(WHOLE, (arrow,), (), ("iris forward",), HOUSE_FACE, letters)
    assert any(free[0].box.meets(box) for box in letters)
    assert not any(moved.box.meets(box) for box in letters)


def test_side_and_orientation_of_the_bundled_eye_are_found() -> None:
    """What the author keeps readable as a line of words."""
    root = next(root for root in resources.bundled_cases() if root.name == "eye-drainage")
    lines = 0
    for frame in load(root).case.frames:
        picture = Image.open(root / frame.file.value)
        found = printed(minted(picture), Box(0, 0, picture.width, picture.height))
        for x, y, wide, high in (keep.box for keep in frame.keep):
            if wide > 5 * high:
                lines += 1
                assert any(box.meets(Box(x, y, wide, high)) for box in found)
    assert lines >= 4
