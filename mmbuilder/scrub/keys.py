"""Who stands behind a stand-in: a table kept only if asked, under a passphrase, apart from the results.

The key is made from the passphrase by scrypt, the table sealed by Fernet (AES-128-CBC with
HMAC-SHA-256), both of the kept library `cryptography`; nothing here is cryptography of our own.
Source: RFC 7914 (scrypt), whose section 2 gives r = 8 and p = 1; cost 2**17 as in common
practice for files (no source).
"""

from __future__ import annotations

import base64
import json
import os
import secrets
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from mmbuilder.errors import FileRefused, MissingDependency, OutputNotWritable
from mmbuilder.scrub.plan import Span

FORMAT = 1
LEAST_PASSPHRASE = 12
LIMIT = 20 * 2**20
_COST, _BLOCK, _LANES = 2**17, 8, 1
_COSTS = range(2**14, 2**20 + 1)
"""Costs that a file may ask for: a higher one would take all memory (128 * r * cost bytes)."""


def table(pairs: Iterable[tuple[str, Sequence[Span]]]) -> dict[str, list[str]]:
    """Gather what each stand-in stands for.

    Args:
        pairs: each text with its spans.

    Returns:
        Stand-in to originals, each once. It identifies: keep it nowhere but in `save`.
    """
    made: dict[str, list[str]] = {}
    for text, spans in pairs:
        for span in spans:
            originals = made.setdefault(span.stand_in, [])
            if (original := text[span.start : span.end]) not in originals:
                originals.append(original)
    return made


def save(kept: Mapping[str, Sequence[str]], path: Path, passphrase: str, *, results: Path) -> None:
    """Write the table sealed, readable by its owner only.

    Args:
        kept: stand-in to originals.
        path: where to; a file that is there is replaced.
        passphrase: at least 12 characters.
        results: the folder of the results; the table may not lie in it.

    Raises:
        FileRefused: the passphrase is too short, or the table would lie with the results.
        OutputNotWritable: it cannot be written.
        MissingDependency: the library is not installed.
    """
    check(path, passphrase, results=results)
    salt = secrets.token_bytes(16)
    sealed = _seal(passphrase, salt, _COST).encrypt(json.dumps(dict(kept), ensure_ascii=False).encode())
    body = {"mmbuilder_keys": FORMAT, "cost": _COST, "salt": salt.hex(), "sealed": sealed.decode()}
    _write(path, json.dumps(body).encode())


def check(path: Path, passphrase: str, *, results: Path) -> None:
    """Refuse, before any work is done, what `save` would refuse after it.

    Raises:
        FileRefused: the passphrase is too short, or the table would lie with the results.
        OutputNotWritable: its folder is not there.
        MissingDependency: the library is not installed.
    """
    if len(passphrase) < LEAST_PASSPHRASE:
        raise FileRefused(
            f"the passphrase has fewer than {LEAST_PASSPHRASE} characters; take four words or more"
        )
    place(path, results=results)
    _library()


def place(path: Path, *, results: Path) -> None:
    """Refuse a place that is no place for a table.

    Raises:
        FileRefused: it lies in the folder of the results.
        OutputNotWritable: its folder is not there.
    """
    if path.resolve().is_relative_to(results.resolve()):
        raise FileRefused(
            "the table of stand-ins would lie in the folder of the results and travel with them; "
            "choose another place"
        )
    if not path.parent.is_dir():
        raise OutputNotWritable("the folder for the table of stand-ins is not there; make it first")


def load(path: Path, passphrase: str) -> dict[str, list[str]]:
    """Open a table.

    Raises:
        FileRefused: no such table, damaged, or another passphrase.
        MissingDependency: the library is not installed.
    """
    cost, salt, sealed = _body(path)
    seal = _seal(passphrase, salt, cost)
    from cryptography.fernet import InvalidToken

    try:
        opened = json.loads(seal.decrypt(sealed))
    except InvalidToken:
        raise FileRefused("the passphrase is another one, or the table of stand-ins is damaged") from None
    return {str(stand_in): [str(word) for word in words] for stand_in, words in opened.items()}


def _body(path: Path) -> tuple[int, bytes, bytes]:
    try:
        if path.stat().st_size > LIMIT:
            raise ValueError
        body = json.loads(path.read_bytes())
        if body["mmbuilder_keys"] != FORMAT or body["cost"] not in _COSTS:
            raise ValueError
        return int(body["cost"]), bytes.fromhex(body["salt"]), str(body["sealed"]).encode()
    except (OSError, ValueError, KeyError, TypeError):
        raise FileRefused("this is not a table of stand-ins, or it is damaged") from None


def _seal(passphrase: str, salt: bytes, cost: int) -> Any:
    fernet, scrypt = _library()
    key = scrypt(salt=salt, length=32, n=cost, r=_BLOCK, p=_LANES).derive(passphrase.encode())
    return fernet(base64.urlsafe_b64encode(key))


def _library() -> tuple[Any, Any]:
    try:
        from cryptography.fernet import Fernet
        from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
    except ImportError:
        raise MissingDependency(
            "keeping a table of stand-ins needs the library cryptography: pip install 'mmbuilder[keys]'"
        ) from None
    return Fernet, Scrypt


def _write(path: Path, data: bytes) -> None:
    beside = ""
    try:
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".keys-")  # made for its owner only
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        Path(beside).replace(path)
    except OSError as fault:
        with suppress(OSError):
            Path(beside).unlink()
        raise OutputNotWritable(f"the table of stand-ins cannot be written ({fault.strerror})") from None
