"""What a phone needs before it deletes: proof that the workshop holds its records.

A receipt is a file with ids and digests. Where no file can be carried to the phone, its short codes are typed or
scanned: the phone makes the code of each record that it holds, and compares. A code guards against mistakes; who
wants to deceive his own phone can.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import datetime

from kilter.model.record import Receipt, Record
from kilter.records.canonical import digest_of

SCHEMA = "kilter-receipt-1"
SHORT = "KRR1:"
"""Begins the codes of a receipt in a QR code."""


def receipt_for(records: Iterable[Record], now: datetime) -> Receipt:
    """For every record that was sent, as it was sent. `now` knows its zone."""
    held = sorted({(record.id, record.digest) for record in records})
    data = {
        "schema": SCHEMA,
        "taken": now.isoformat(timespec="seconds"),
        "records": [{"id": id, "digest": digest} for id, digest in held],
    }
    return Receipt.model_validate({**data, "digest": digest_of(data)})


def code_of(id: str, digest: str) -> str:
    """Eight hex digits in two groups, such as `7F3A-91C2`."""
    found = hashlib.sha256(f"{SCHEMA} {id} {digest}".encode()).hexdigest()[:8].upper()
    return f"{found[:4]}-{found[4:]}"


def short(receipt: Receipt) -> str:
    """All codes of a receipt in one line that fits the alphanumeric mode of a QR code."""
    return SHORT + " ".join(code_of(held.id, held.digest) for held in receipt.records)
