"""New UIDs for old ones: the same for the same, through all files scrubbed in one run.

Made with a key that is drawn anew in every run and kept nowhere: from an old UID nobody can
work out the new one, and two runs cannot be matched.
Source: DICOM PS3.5 B.2 (root 2.25 with a UUID as a number), from memory; HMAC as in RFC 2104.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets

ROOT = "2.25."
_RUN = secrets.token_bytes(32)


def new(uid: str, key: bytes = _RUN) -> str:
    """Return the stand-in for a UID."""
    digest = hmac.new(key, uid.strip("\0 ").encode("utf-8", "replace"), hashlib.sha256).digest()
    return f"{ROOT}{int.from_bytes(digest[:16], 'big')}"
