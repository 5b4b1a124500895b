"""Names by the lists of names and by how a word is made; the names are invented or among the commonest."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.keep.likeness import like_a_name, log_odds
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.known_names import known


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Tariq Hussain came back.", ["Tariq", "Hussain"]),
        ("counted by siobhan and oluwasegun, correct", ["siobhan", "oluwasegun"]),
        ("jose ramirez had a bypass", ["jose", "ramirez"]),
        ("Spoke to his wife May about it.", ["May"]),
        ("Thomas Down does not have Down syndrome.", ["Thomas Down"]),
        ("gran doreen lives next door", ["doreen"]),
        ("uss by thorvaldsen, stone in the duct", ["thorvaldsen"]),
        ("seen with shuntworth on the round", ["shuntworth"]),
    ],
)
def test_a_name_is_known(text: str, names: list[str]) -> None:
    assert [text[start:end] for start, end, _ in known(text)] == names


@pytest.mark.parametrize(
    "text",
    [
        "Okonjo sign was absent.",
        "signs of Okonjo were looked for",
        "hartmanns 1 l then a hudson mask, sats 94",
        "Bernard Soulier syndrome was thought of.",
        "May be repeated; the wife may need help.",
        "sepsis six, lactate 5, norad 0.1, terli 2 mg",
        "her mother had a Whipple and his son a Kasai",
        "Austin Flint murmur",
    ],
)
def test_a_thing_is_no_name(text: str) -> None:
    assert list(known(text)) == []


def test_most_names_are_made_like_names_and_few_words_are() -> None:
    # The lists themselves, so no measure of unseen words; those are in tests/scrub/sets.
    lists = load()
    names = sorted(name for name in lists.given if not lists.known(name) and len(name) > 4)[::40]
    words = sorted(
        word for word in lists.vocabulary if word not in lists.given | lists.family and len(word) > 4
    )[::40]
    assert sum(map(like_a_name, names)) > 0.7 * len(names)
    assert sum(log_odds(word) > 1 for word in words) < 0.05 * len(words)
