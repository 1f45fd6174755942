"""Anybody's words as Markdown that says just these words."""

from __future__ import annotations

import re

from kilter.source import unseen

_INLINE = re.compile(r"[\\`*{}\[<]|&(?=#?\w+;)|(?<![^\W_])_|_(?![^\W_])")
_BEGINS = re.compile(r"[#:+>=~|-]")
_NUMBER = re.compile(r"(\d{1,9})(?=[.)](?:\s|$))")
OURS = "\ue001\ue002"
"""Signs of no meaning that stand for bold and italic while formatted text is read."""
_QUOTES = str.maketrans({"“": '"', "”": '"', "„": '"', "‘": "'", "’": "'", "‚": "'"})


def tidied(text: str) -> str:
    """Text from anywhere: line ends as LF, straight quotes, no signs that nobody sees."""
    text = re.sub(r"\r\n|[\r\v\f\x85\u2028\u2029]", "\n", text).translate(_QUOTES)
    return "".join(_tidy(sign) for sign in text)


def _tidy(sign: str) -> str:
    if sign in "\n\t":
        return sign
    if sign.isspace() or sign < " " or sign in OURS:
        return " "
    return "" if unseen(sign) else sign


def prose(text: str) -> str:
    """Words that must not be taken for marks, row by row."""
    return "\n".join(_row(" ".join(row.split())) for row in text.split("\n"))


def _row(row: str) -> str:
    safe = _INLINE.sub(r"\\\g<0>", row)
    if _BEGINS.match(safe):
        return "\\" + safe
    return _NUMBER.sub(r"\1\\", safe, count=1) if _NUMBER.match(safe) else safe


def heading(text: str) -> str:
    """Words for a heading, where braces at the end would be a mark even with a backslash."""
    return prose(text.replace("{", "(").replace("}", ")"))
