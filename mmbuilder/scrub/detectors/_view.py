"""One plain view of a text for every detector: the same length, so that its offsets are the text's own."""

from __future__ import annotations

import unicodedata

_DASHES = "‐‑‒–—―−﹣－"
_SLASHES = "⁄∕／"
_DOTS = "．․。"
_SPACES = "\u00a0\u2002\u2003\u2007\u2008\u2009\u200a\u202f\u3000\t"


class _Folds(dict[int, str]):
    """Answers for each character once it is met: one sign for one sign."""

    def __missing__(self, code: int) -> str:
        sign = chr(code)
        figure = unicodedata.decimal(sign, None) if code > 127 else None
        wide = unicodedata.normalize("NFKC", sign) if 0xFF01 <= code <= 0xFF5E else sign
        self[code] = sign if figure is None and len(wide) != 1 else (wide if figure is None else str(figure))
        return self[code]


_FOLDS = _Folds(
    {ord(sign): plain for signs, plain in ((_DASHES, "-"), (_SLASHES, "/"), (_DOTS, ".")) for sign in signs}
    | {ord(sign): " " for sign in _SPACES}
    | {ord("＠"): "@"}
)


def view(text: str) -> str:
    """Return the text with figures, dashes, slashes, dots and spaces of every script as plain ones.

    Case and line breaks stay, and so does the length: an offset into the view is one into the text.
    Raised figures stay too: `10⁹` is no long number.
    """
    return text if text.isascii() and "\t" not in text else text.translate(_FOLDS)
