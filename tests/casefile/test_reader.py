"""The slips of the hand, one by one: understood, or told with the line and a way out."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mmbuilder.case.model import Case
from mmbuilder.casefile.reader import MOST_CHARACTERS, MOST_DEPTH, Source, read
from mmbuilder.casefile.shape import all_keys
from mmbuilder.problem import Problem, as_text

KEYS = all_keys(Case)


def source(text: str | bytes) -> Source:
    return read(text if isinstance(text, bytes) else text.encode(), "case.yaml", KEYS)


def codes(text: str | bytes) -> list[tuple[str, int]]:
    return [(problem.code, problem.line) for problem in source(text).problems]


def only(text: str | bytes) -> Problem:
    (problem,) = source(text).problems
    return problem


# What YAML 1.1 guesses, and a clinician did not mean. What PyYAML makes of it is asserted beside it.


@pytest.mark.parametrize(
    ("written", "guessed"),
    [
        ("09:30", "09:30"),
        ("14:30", 870),
        ("2:05:30", 7530),
        ("1:4", 64),
        ("0912", "0912"),
        ("00123456", 42798),
        ("no", False),
        ("on", True),
        ("1e3", "1e3"),
        ("0x10", 16),
        ("1_000", 1000),
        ("=", None),
    ],
)
def test_values_stay_as_written(written: str, guessed: object) -> None:
    assert source(f"what: {written}").tree == {"what": written}
    if written != "=":
        assert yaml.safe_load(f"what: {written}") == {"what": guessed}


def test_dates_stay_as_written() -> None:
    assert source("when: 2024-02-29").tree == {"when": "2024-02-29"}


def test_places_count_from_one_in_characters() -> None:
    read_ = source("title: é\ntimeline:\n  events:\n    - kind: step\n")
    assert read_.at_value(("timeline", "events", 0, "kind")) == (4, 13)
    assert read_.at_key(("timeline", "events")) == (3, 3)
    assert read_.at_key(("timeline", "events", 0, "when")) == (4, 7)
    assert read_.tree is not None
    assert read_.tree["title"].path == ("title",)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "key", ["take away", "Take-Away", "TAKE_AWAY", "take  away", "“take away”", '"take away"']
)
def test_one_key_many_spellings(key: str) -> None:
    assert source(f"{key}: Call early").tree == {"take away": "Call early"}


@pytest.mark.parametrize("nothing", ["", " ", " ~", " null", ' ""', " '  '"])
def test_empty_values_are_absent(nothing: str) -> None:
    read_ = source(f"title:{nothing}\nwhat: x")
    assert read_.tree == {"what": "x"}
    assert ("title",) in read_.empty


def test_empty_list_entry_is_left_out_and_told() -> None:
    read_ = source("history:\n  - asthma\n  -\n  - gout\n")
    assert read_.tree == {"history": ["asthma", "gout"]}
    assert [(p.code, p.line, p.stops) for p in read_.problems] == [("empty-entry", 3, False)]


def test_repeated_key_names_both_lines() -> None:
    told = only("title: a\nwhat: b\nTitle: c\n")
    assert (told.code, told.line) == ("repeated-key", 3)
    assert "line 1" in told.found
    assert "line 3" in told.found
    assert source("title: a\nTitle: c\n").tree == {"title": "a"}


# Encodings and unseen characters


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32"])
def test_encodings_that_are_understood(encoding: str) -> None:
    assert source("title: Élan\r\nwhat: x".encode(encoding)).tree == {"title": "Élan", "what": "x"}


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf16_without_its_mark_is_explained(encoding: str) -> None:
    assert only("title: A quiet start\n".encode(encoding)).code == "encoding"


def test_windows_letters_are_told_line_by_line_and_the_rest_is_read() -> None:
    data = "title: caf\u00e9\nwhat: plain\nasked: 37\u00b0\n".encode("cp1252")
    assert codes(data) == [("encoding", 1), ("encoding", 3)]
    assert source(data).tree["what"] == "plain"  # type: ignore[index]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends(end: str) -> None:
    read_ = source(end.join(["title: a", "what: b", "kind: c"]))
    assert read_.tree == {"title": "a", "what": "b", "kind": "c"}
    assert read_.at_key(("kind",)).line == 3


@pytest.mark.parametrize("space", ["\u00a0", "\u2007", "\u202f", "\u3000"])
def test_spaces_of_word_processors_keep_their_column(space: str) -> None:
    read_ = source(f"plan:\n{space}{space}procedure:{space}Hernia{space}repair\n")
    assert read_.tree == {"plan": {"procedure": "Hernia repair"}}
    assert read_.at_value(("plan", "procedure")) == (2, 14)


@pytest.mark.parametrize("unseen", ["\u200b", "\u200e", "\u202e", "\u2066", "\ufeff", "\u00ad"])
def test_unseen_characters_go_and_are_told_once(unseen: str) -> None:
    read_ = source(f"ti{unseen}tle: Jo{unseen}y\nwhat: a{unseen}b\n")
    assert read_.tree == {"title": "Joy", "what": "ab"}
    assert [(p.code, p.stops) for p in read_.problems] == [("unseen-character", False)]


@pytest.mark.parametrize("control", ["\0", "\x07", "\x1b", "\x7f", "\x9b", "\ufffe"])
def test_control_characters_are_told(control: str) -> None:
    assert codes(f"title: a{control}b\nwhat: c\n") == [("control-character", 1)]


@pytest.mark.parametrize("value", ["“Stop: now”", "„Stop: now“", "‘Stop: now’", "«Stop: now»"])
def test_curly_quotes_around_a_value(value: str) -> None:
    assert source(f"what: {value}\nkind: step").tree == {"what": "Stop: now", "kind": "step"}


def test_curly_quotes_within_words_stay() -> None:
    assert source("what: “Stop” he said “now”").tree == {"what": "“Stop” he said “now”"}


@pytest.mark.parametrize("bullet", ["–", "—", "•", "·", "▪"])
def test_bullets_of_word_processors(bullet: str) -> None:
    assert source(f"history:\n{bullet} asthma\n{bullet} gout\n").tree == {"history": ["asthma", "gout"]}


def test_a_long_dash_within_words_stays() -> None:
    text = "what: bleeding\n  – a little\nhistory:\n  - x\n"
    assert source(text).tree == {"what": "bleeding – a little", "history": ["x"]}


# Slips that are explained: (text, code, line)

SLIPS = [
    ("plan:\n\tprocedure: x\n", "tab-indent", 2),
    ("plan:\n  \tprocedure: x\n", "tab-indent", 2),
    ("what: size #7 tube\n", "hash-cuts-line", 1),
    ("what: #7 tube\n", "hash-cuts-line", 1),
    ("what: a long line\n  and size #7\n", "hash-cuts-line", 2),
    ("what: Note: pain\n", "colon-in-text", 1),
    ("what: ends with a colon:\n", "colon-in-text", 1),
    ("what: a line\n  that says: this\n", "colon-in-text", 2),
    ("what:\n  words below\n  with: a colon\n", "colon-in-text", 3),
    *((f"what: {sign}x\n", "sign-at-start", 1) for sign in "%@`,]}"),
    ("what: > 90 mmHg\n", "sign-at-start", 1),
    ("what: | x\n", "sign-at-start", 1),
    ("what: : x\n", "sign-at-start", 1),
    ("what: ? x\n", "sign-at-start", 1),
    ("what: *star\n", "alias-or-anchor", 1),
    ("what: &name x\n", "alias-or-anchor", 1),
    ("history: [&a b]\n", "alias-or-anchor", 1),
    ("what: !!python/object:os.system x\n", "tag", 1),
    ("history: [!!int 3]\n", "tag", 1),
    ("what: - x\n", "list-on-key-line", 1),
    ("what: -\n", "list-on-key-line", 1),
    ('what: "Stop" she said\n', "words-after-quote", 1),
    ("what: 'a' b\n", "words-after-quote", 1),
    ('what: "never closed\nkind: step\n', "quote-not-closed", 1),
    ("what: 'tis open\nkind: step\n", "quote-not-closed", 1),
    ('file: "images\\frame.png"\n', "backslash-in-quotes", 1),
    ("what: [unclear] words\n", "bracket-in-text", 1),
    ("what: [never closed\nkind: step\n", "bracket-in-text", 1),
    ("what: {x} words\n", "bracket-in-text", 1),
    ("title A quiet start\nwhat: x\n", "no-colon", 1),
    ("title:A quiet start\nwhat: x\n", "no-space-after-colon", 1),
    ("timeline:\n  events:\n    - id: a\n        kind: step\n", "moved-in-too-far", 4),
    ("timeline:\n  events:\n    - id: a\n   kind: step\n", "moved-in-unevenly", 4),
    ("title: a\n---\ntitle: b\n", "several-documents", 2),
    ("- a\n- b\n", "no-keys-at-top", 1),
    ("", "no-keys-at-top", 0),
    ("# only a remark\n", "no-keys-at-top", 0),
]


@pytest.mark.parametrize(("text", "code", "line"), SLIPS)
def test_slip_is_told_where_it_is(text: str, code: str, line: int) -> None:
    told = [problem for problem in source(text).problems if problem.code == code]
    assert [problem.line for problem in told] == [line]
    assert told[0].expected


@pytest.mark.parametrize(("text", "code", "line"), SLIPS)
def test_slip_is_told_in_our_words(text: str, code: str, line: int) -> None:
    told = "\n".join(as_text(problem) for problem in source(text).problems)
    for word in (
        "scanner",
        "parser",
        "mapping",
        "scalar",
        "token",
        "sequence",
        "indicator",
        "YAML",
        "simple key",
    ):
        assert word not in told


def test_examples_use_the_authors_own_key_and_parse() -> None:
    told = only("situation: Note: pain\n")
    assert told.example.startswith("situation:")
    assert told.quote == "situation: …"
    for text, _, _ in SLIPS:
        for problem in source(text).problems:
            assert problem.example == "" or yaml.safe_load(problem.example) is not None


def test_an_unknown_key_is_never_repeated() -> None:
    told = as_text(only("zwiebelfisch: Note: pain\n"))
    assert "zwiebelfisch" not in told


def test_slips_are_told_all_at_once_and_the_rest_is_read() -> None:
    text = "title: Note: pain\nwhat: size #7\nasked: @home\nsituation: > 90\nkind: step\n"
    assert codes(text) == [
        ("colon-in-text", 1),
        ("hash-cuts-line", 2),
        ("sign-at-start", 3),
        ("sign-at-start", 4),
    ]
    assert source(text).tree == {
        "title": "Note: pain",
        "what": "size #7",
        "asked": "@home",
        "situation": "> 90",
        "kind": "step",
    }


# What is no slip


@pytest.mark.parametrize(
    ("text", "tree"),
    [
        ("what: a # remark\nkind: b\n", {"what": "a", "kind": "b"}),
        ("# Note: x\nwhat: a\n", {"what": "a"}),
        (
            "what: |\n  size #7\n  Note: x\n  @home\nkind: b\n",
            {"what": "size #7\nNote: x\n@home\n", "kind": "b"},
        ),
        ("what: >-\n  two\n  lines\nkind: b\n", {"what": "two lines", "kind": "b"}),
        ("- a\n", None),
        ("box: [1, 2,\n  3, 4]\nkind: b\n", {"box": ["1", "2", "3", "4"], "kind": "b"}),
        ("what: 'it''s: fine' # yes\n", {"what": "it's: fine"}),
        ('what: "two\n  lines: here"\nkind: b\n', {"what": "two lines: here", "kind": "b"}),
        ("when: ~14:20\n", {"when": "~14:20"}),
        ("what: 14:30 - knife to skin; a:b, C#7\n", {"what": "14:30 - knife to skin; a:b, C#7"}),
        ("offset: -2 min 15 s\n", {"offset": "-2 min 15 s"}),
        ("what:\n  words below\n  go on\nkind: b\n", {"what": "words below go on", "kind": "b"}),
        ("history:\n- a\n- b\n", {"history": ["a", "b"]}),
        ("what: 5%\n", {"what": "5%"}),
    ],
)
def test_right_files_are_left_alone(text: str, tree: object) -> None:
    read_ = source(text)
    if tree is not None:
        assert read_.tree == tree
        assert read_.problems == ()


def test_agrees_with_pyyaml_on_what_is_text() -> None:
    """PyYAML's base loader, which resolves no types, is the outside witness for a tidy file."""
    from tests.casefile.minimal import TEXT

    assert source(TEXT).tree == yaml.load(TEXT, Loader=yaml.BaseLoader)


# Any bytes at all


@settings(deadline=None, max_examples=150)
@given(st.binary(max_size=400))
def test_any_bytes_give_a_tree_or_problems(data: bytes) -> None:
    read_ = source(data)
    assert read_.tree is not None or any(problem.stops for problem in read_.problems)


_PIECES = st.sampled_from(
    [
        *" \t\n:#-'\"[]{}|>&*!%@`?,“”–\u200b\u00a0",
        "title",
        "what: ",
        "\n  ",
        "- ",
        "\n- ",
        " #7",
        ": ",
        "a",
        "---\n",
        "\\",
    ]
)


@settings(deadline=None, max_examples=300)
@given(st.lists(_PIECES, max_size=40).map("".join))
@example("what: 'a\n 'b")
@example("-\n:")
@example("- \n? a\n: - b")
def test_any_shape_gives_a_tree_or_problems(text: str) -> None:
    read_ = source(text)
    assert read_.tree is not None or any(problem.stops for problem in read_.problems)
    lines = text.replace("\r", "\n").count("\n") + 1
    assert all(0 <= problem.line <= lines + 1 for problem in read_.problems)


@settings(deadline=None, max_examples=100)
@given(
    st.dictionaries(
        st.sampled_from(sorted(KEYS)),
        st.text(st.characters(codec="ascii", categories=["L", "N", "P", "S"]), min_size=1, max_size=30),
        max_size=6,
    )
)
def test_what_pyyaml_writes_is_read_back(tree: dict[str, str]) -> None:
    nothing = {"~", "null", "Null", "NULL"}
    written = yaml.safe_dump(tree, default_style="'", width=10_000)
    if tree and not nothing & set(tree.values()):
        assert source(written).tree == tree


def test_long_values_and_depth_are_bounded() -> None:
    assert only("what: " + "x" * (MOST_CHARACTERS + 1)).code == "value-too-long"
    assert source("what: " + "x" * MOST_CHARACTERS).problems == ()
    assert only("a: " + "[" * 30 + "]" * 30).code == "too-deep"
    assert source("a: " + "[" * (MOST_DEPTH - 1) + "x" + "]" * (MOST_DEPTH - 1)).problems == ()
