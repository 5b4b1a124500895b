"""How common words are, against what everybody knows of them, and against the package itself where it is installed."""

import pytest

from mmbuilder.scrub.judging.common import COMMON, common
from mmbuilder.scrub.judging.gather_common import step


@pytest.mark.parametrize(
    ("word", "place"), [("the", 0), ("nicht", 1), ("dans", 2), ("muy", 3)]
)  # English, German, French, Spanish: common knowledge, no source
def test_a_small_word_is_commonest_in_its_own_language(word: str, place: int) -> None:
    figures = common(word)
    assert figures[place] == 9
    assert figures.index(max(figures)) == place


def test_a_word_that_nobody_writes_is_rare_everywhere() -> None:
    assert common("quillorne") == (0, 0, 0, 0)
    assert common("the-quillorne") == (0, 0, 0, 0)


def test_the_file_is_sorted_so_that_it_can_be_searched() -> None:
    lines = COMMON.read_text("ascii").splitlines()
    assert lines == sorted(lines)
    assert len({line.split(" ")[0] for line in lines}) == len(lines)
    assert all(common(line[:-5]) == tuple(map(int, line[-4:])) for line in lines[:: len(lines) // 97])


# The Zipf scale: the logarithm of the frequency in a billion words (van Heuven and others 2014, from memory).
@pytest.mark.parametrize(("zipf", "figure"), [(2.99, 0), (3.0, 1), (3.39, 1), (3.41, 2), (6.2, 9), (7.7, 9)])
def test_steps_of_the_scale(zipf: float, figure: int) -> None:
    assert step(zipf) == figure
