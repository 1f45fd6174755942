"""A short record in a QR code: deflated canonical JSON in base 45 (RFC 9285), which such codes hold best."""

from __future__ import annotations

import zlib

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
"""RFC 9285, table 1: the signs of the alphanumeric mode."""
BEGINS = "KR1:"
MOST = 1852
"""Characters: version 25 of the code at level L (ISO/IEC 18004, table 7: 1853). A finer one is not read from a screen."""
MOST_TEXT = 200_000
"""Characters of JSON that are unpacked at most."""


class NotACodeError(Exception):
    """Text that is no record in a code; says why."""


def packed(json: str) -> str:
    """Text of the code; the phone offers it only up to MOST characters."""
    deflate = zlib.compressobj(9, zlib.DEFLATED, -15)
    return BEGINS + base45(deflate.compress(json.encode()) + deflate.flush())


def unpacked(text: str) -> str:
    """The JSON in a code. Raises NotACodeError."""
    if not text.startswith(BEGINS):
        raise NotACodeError("this code holds no record")
    inflate = zlib.decompressobj(-15)
    try:
        data = inflate.decompress(from_base45(text[len(BEGINS) :].strip("\r\n")), MOST_TEXT)
        if not inflate.eof or inflate.unused_data:
            raise NotACodeError("the code is cut off or holds more than one record; scan it again")
        return data.decode()
    except (zlib.error, ValueError):
        raise NotACodeError("the code can't be unpacked; scan it again") from None


def base45(data: bytes) -> str:
    """Two bytes to three signs, the lowest first; a last byte to two (RFC 9285, 4)."""
    made = []
    for n in range(0, len(data), 2):
        pair = data[n : n + 2]
        value = int.from_bytes(pair, "big")
        for _ in range(len(pair) + 1):
            value, digit = divmod(value, 45)
            made.append(ALPHABET[digit])
    return "".join(made)


def from_base45(text: str) -> bytes:
    """Raises ValueError for signs or groups that no encoder makes."""
    made = bytearray()
    for n in range(0, len(text), 3):
        group = text[n : n + 3]
        value = sum(ALPHABET.index(sign) * 45**place for place, sign in enumerate(group))
        if len(group) == 1 or value >= 256 ** (len(group) - 1):
            raise ValueError(f"no group of base 45: {group}")
        made += value.to_bytes(len(group) - 1, "big")
    return bytes(made)
