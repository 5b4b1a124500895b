"""What the results say before anybody looks at them."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.page.parts.get import _unshown
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Picture


@pytest.mark.parametrize("root", resources.bundled_cases(), ids=lambda path: str(path.name))
@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_what_stands_on_no_slide_is_said(root: Path, use: Use) -> None:
    """It agrees with the storyboard itself."""
    folder = load(root, use)
    case = apply(folder, propose(folder, names=NoNameModel()))
    slides = compose(case).slides
    told = list(_unshown(folder, use))
    kinds = {slide.kind for slide in slides}
    for kind, words in (("rescue", "the steps of the rescue"), ("learning", "learning points")):
        written = bool(getattr(folder.case, kind))
        assert any(line.startswith(words) for line in told) == (written and kind not in kinds)
    shown = {block.image.digest() for slide in slides for block in slide.blocks if isinstance(block, Picture)}
    more = len(folder.case.frames) - len(shown)
    assert (f"{more} of {len(folder.case.frames)} pictures" in told) == (more > 0)
