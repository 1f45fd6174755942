"""What of `applies-to` is a range of serial numbers that a phone can check; the rest is asked."""

from __future__ import annotations

import re

_RANGE = re.compile(
    r"\bserials?(?: numbers?)?\s+(?P<a>\d{1,12})\s*(?:(?:[-–—]|to)\s*(?P<b>\d{1,12})|(?P<up>and (?:above|up|later)|or (?:above|later)))",
    re.IGNORECASE,
)
_UP_TO = re.compile(r"\bserials?(?: numbers?)?\s+(?:up to|to|below)\s+(?P<b>\d{1,12})", re.IGNORECASE)


def serial_range(text: str) -> tuple[str, str] | None:
    """First and last serial number that a text allows, both digits as written, empty for no end; None if it says none.

    >>> serial_range("serial 2000-2999, with scale")
    ('2000', '2999')
    """
    match = _RANGE.search(text)
    if match:
        first, last = match["a"], match["b"] or ""
        return None if last and int(last) < int(first) else (first, last)
    match = _UP_TO.search(text)
    return ("", str(int(match["b"]) - 1 if "below" in match[0].lower() else match["b"])) if match else None
