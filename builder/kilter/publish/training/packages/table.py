"""Questions as a table: one row a question of a paper."""

from __future__ import annotations

import csv
import io
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from kilter.publish.training.questions.model import LETTERS

COLUMNS = (
    "paper", "number", "id", "kind", "question", *(f"choice {c}" for c in LETTERS), "right", "safety", "objectives",
    "document", "revision", "step", "step hash", "picture",
)  # fmt: skip
_RUN = ("=", "+", "-", "@", "\t", "\r", "\0")


def safe(cell: str) -> str:
    """Text that a spreadsheet would run gets an apostrophe (OWASP ASVS 5.0, 1.2.10)."""
    return f"'{cell}" if cell.startswith(_RUN) else cell


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[str]], numbers: Collection[str] = ()) -> bytes:
    """UTF-8 with a mark, CRLF; every cell is text but those in columns of numbers, where -0.30 stays a number."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([safe(c) for c in header])
    writer.writerows(
        [c if name in numbers else safe(c) for name, c in zip(header, row, strict=True)] for row in rows
    )
    return b"\xef\xbb\xbf" + stream.getvalue().encode()


def questions_table(data: Mapping[str, Any]) -> bytes:
    """Every question of every paper, as printed there."""
    rows = (
        _row(paper["code"], n, q) for paper in data["papers"] for n, q in enumerate(paper["questions"], 1)
    )
    return csv_bytes(COLUMNS, rows)


def _row(code: str, number: int, question: Mapping[str, Any]) -> list[str]:
    choices = [c["text"] for c in question["choices"]]
    cite, figure = question["cite"], question["figure"]
    return [
        code, str(number), question["id"], question["kind"], question["stem"],
        *choices, *[""] * (len(LETTERS) - len(choices)),
        LETTERS[question["key"]], "yes" if question["safety"] else "", ", ".join(question["objectives"]),
        cite["document"], cite["revision"], f"{cite['number']} {cite['title']}", cite["hash"], figure["src"] if figure else "",
    ]  # fmt: skip
