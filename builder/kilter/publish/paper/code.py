"""What a card's QR code or its printed hash says, read from text that may come from anywhere."""

from __future__ import annotations

import re
from typing import NamedTuple
from urllib.parse import parse_qsl, urlsplit

from kilter.model.front import REVISION_PATTERN

LONGEST = 500
"""Characters; our own codes have about 70, and no QR code that is read off a card holds this many."""
_HASH = re.compile(r"[0-9a-f]{12}|[0-9a-f]{64}")
_REVISION = re.compile(rf"{REVISION_PATTERN}|[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}|")


class Said(NamedTuple):
    """What a paper says of itself."""

    address: str
    """Host and path, folded, without the scheme; empty where only a hash is known."""
    revision: str
    hash: str
    """Twelve hex digits."""


class NotACodeError(ValueError):
    """A text that is on no card; the message says why."""


def read_code(text: str) -> Said:
    """Raises NotACodeError, whatever the text is."""
    text = text.strip()
    if not text:
        raise NotACodeError("nothing to read; give the text of the QR code or the 12 characters of the hash")
    if len(text) > LONGEST:
        raise NotACodeError(f"{len(text)} characters, no card's code is as long")
    if _HASH.fullmatch(text.lower()):
        return Said("", "", text.lower()[:12])
    if not text.isascii() or not text.isprintable() or " " in text:
        raise NotACodeError(
            f"`{shown(text)}` is neither the address in a card's QR code nor a content hash of 12 characters"
        )
    return _address(text)


def _address(text: str) -> Said:
    try:
        parts = urlsplit(text)
        pairs = parse_qsl(parts.query, keep_blank_values=True, max_num_fields=8)
    except ValueError:
        raise NotACodeError(f"`{shown(text)}` is not a well-formed address") from None
    query = dict(pairs)
    if parts.scheme not in ("", "http", "https") or "@" in parts.netloc:
        raise NotACodeError(f"`{shown(text)}` is not an address as cards have it")
    if len(query) != len(pairs) or not {"rev", "hash"} <= query.keys():
        raise NotACodeError(f"`{shown(text)}` has no revision and hash as a card's QR code has")
    digest = query["hash"].lower()
    if not re.fullmatch(r"[0-9a-f]{12}", digest) or not _REVISION.fullmatch(query["rev"]):
        raise NotACodeError(f"`{shown(text)}` has a revision or hash that no card can have")
    return Said(place(text), query["rev"], digest)


def place(address: str) -> str:
    """Host and path of an address; the same page is the same place with `http` and in capitals."""
    parts = urlsplit(address)
    return f"{parts.netloc}{parts.path}".lower().removeprefix("./")


def shown(text: str, most: int = 70) -> str:
    """Foreign text for a terminal: one line, nothing that steers it or turns its direction."""
    plain = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[:most])
    return plain + ("…" if len(text) > most else "")
