import json
import stat
import sys

import pytest

from mmbuilder.errors import FileRefused, MissingDependency, OutputNotWritable
from mmbuilder.scrub import keys
from mmbuilder.scrub.plan import Span
from tests.scrub.declared_list import SURNAME

WORDS = "four invented dry words"


@pytest.fixture(autouse=True)
def _cheap(monkeypatch):
    monkeypatch.setattr(keys, "_COST", 2**14)


def test_a_table_is_opened_with_its_passphrase_and_no_other(tmp_path):
    text = f"Dr {SURNAME} and again Dr {SURNAME}"
    spans = [Span(0, 15, "name", "A", "the surgeon", 0.9), Span(26, 41, "name", "A", "the surgeon", 0.9)]
    kept = keys.table([(text, spans)])
    assert kept == {"the surgeon": [f"Dr {SURNAME}"]}
    path = tmp_path / "stand-ins.key"
    keys.save(kept, path, WORDS, results=tmp_path / "out")
    assert SURNAME.encode() not in path.read_bytes()
    assert b"surgeon" not in path.read_bytes()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert keys.load(path, WORDS) == kept
    with pytest.raises(FileRefused, match="another one"):
        keys.load(path, WORDS + "!")


def test_it_may_not_lie_with_the_results_nor_under_a_short_passphrase(tmp_path):
    with pytest.raises(FileRefused, match="choose another place"):
        keys.save({}, tmp_path / "out" / "sub" / "k", WORDS, results=tmp_path / "out")
    with pytest.raises(FileRefused, match="12 characters"):
        keys.save({}, tmp_path / "k", "short", results=tmp_path / "out")
    with pytest.raises(OutputNotWritable):
        keys.save({}, tmp_path / "none" / "k", WORDS, results=tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("data", [b"", b"{}", b"[1]", b"junk", b'{"mmbuilder_keys": 1, "cost": 1e99}'])
def test_other_files_are_refused(tmp_path, data):
    (tmp_path / "k").write_bytes(data)
    with pytest.raises(FileRefused, match="not a table"):
        keys.load(tmp_path / "k", WORDS)


def test_a_changed_table_is_refused(tmp_path):
    keys.save({"a": ["b"]}, tmp_path / "k", WORDS, results=tmp_path / "out")
    body = json.loads((tmp_path / "k").read_bytes())
    body["sealed"] = body["sealed"][:-6] + "AAAAA="
    (tmp_path / "k").write_text(json.dumps(body))
    with pytest.raises(FileRefused):
        keys.load(tmp_path / "k", WORDS)


def test_without_the_library_it_says_what_to_install(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "cryptography.fernet", None)
    with pytest.raises(MissingDependency, match=r"mmbuilder\[keys\]"):
        keys.save({}, tmp_path / "k", WORDS, results=tmp_path / "out")
