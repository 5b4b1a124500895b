"""Words that a spreadsheet would run as a formula are given a leading apostrophe, and lose it on reading.

Source: OWASP, "CSV Injection" (owasp.org/www-community/attacks/CSV_Injection), and OWASP ASVS 5.0,
1.2.10: a field that begins with = + - @, tab or carriage return, or with the wide forms of the signs,
is escaped by a single quote. Where a spreadsheet takes semicolons for separators, what follows one
begins a field, too; quotation marks and blanks before the sign do not protect.
"""

from __future__ import annotations

import re

_RUNS = re.compile(r"""[\s"']*[=+\-@＝＋－＠]|[ "']*[\t\r\n]""")


def neutral(text: str) -> str:
    """Return the words so that no spreadsheet takes a part of them for a formula."""
    return ";".join(f"'{part}" if _RUNS.match(part) else part for part in text.split(";"))


def restored(text: str) -> str:
    """Return the words as they were before `neutral`; an apostrophe in front of anything else stays."""
    return ";".join(
        part[1:] if part.startswith("'") and _RUNS.match(part[1:]) else part for part in text.split(";")
    )
