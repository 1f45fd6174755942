"""The forms in which a value is written, as regular expressions, each tried on the whole text.

Blanks are taken possessively (`*+`): no text, however made, takes more than a few milliseconds.
"""

from __future__ import annotations

import re

MINUS = "−–‐‑-"
"""Signs that are read as a minus; the plain hyphen last, so that it means itself inside a character class."""

_SIGN = rf"[+{MINUS}]?\s?"
_NUM = r"[0-9]+(?:[\u00a0\u2009\u202f][0-9]{3})*(?:\.[0-9]+)?(?![0-9.])"
_POWERS = r"(?:(?<=[cm]m)|(?<=in))2(?=$|\s|[)±+])|(?<=A)2(?=s)|(?<=H)2(?=O)"
"""The digit 2 as it may stand inside a unit: mm2, A2s, cmH2O."""
_UNIT = rf"[^\s0-9.,;:()+±≤≥<>=~−–—-](?:[^0-9,;:()+±≤≥<>=~−–—]|{_POWERS})*?"
_AFTER = rf"\s*+(?P<u2>{_UNIT})?"
_PM = r"(?:±|\+\s?/\s?[-−–]|\+[-−–])"

_MIDDLE = rf"(?P<a>{_SIGN}{_NUM})\s*+(?:(?P<u1>{_UNIT})\s*+)?"

PLAIN = re.compile(rf"(?P<a>{_SIGN}{_NUM}){_AFTER}")
TOLERANCE = re.compile(rf"\(?\s*+{_MIDDLE}{_PM}\s*+(?P<b>{_SIGN}{_NUM})\s*+\)?{_AFTER}")
UNEVEN = re.compile(
    rf"{_MIDDLE}(?:\(\s*+)?(?P<b>[+{MINUS}]\s?{_NUM})(?:\s*+/\s*+|\s)(?P<c>{_SIGN}{_NUM})\s*+\)?{_AFTER}"
)
RANGE = re.compile(
    rf"(?P<a>{_SIGN}{_NUM})(?:\s*+(?P<u1>{_UNIT}))??(?P<sep>\s*[—…{MINUS}]\s*+|\s*\bto\b\s*+)"
    rf"(?P<b>[+{MINUS}]?{_NUM}){_AFTER}"
)
BOUND = re.compile(
    rf"(?P<sign>≥|⩾|>=|=>|≤|⩽|<=|=<|>|<|(?i:at (?:least|most)\b))\s*+(?P<a>{_SIGN}{_NUM}){_AFTER}"
)
