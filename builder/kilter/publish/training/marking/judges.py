"""What judges think that somebody just able would get right: a table of judge, question, probability."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from kilter.outcome import CouldNotRunError
from kilter.publish.training.marking.issue import Issue
from kilter.publish.training.marking.statistics import Cut, angoff


def read_cuts(file: Path, issues: Sequence[Issue]) -> tuple[tuple[str, Cut], ...]:
    """A cut for each paper whose questions every judge has judged. Raises CouldNotRunError."""
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as trouble:
        raise CouldNotRunError(f"{file}: can't be read: {trouble}") from None
    rows = csv.DictReader(io.StringIO(text, newline=""))
    if not {"judge", "question", "probability"} <= set(rows.fieldnames or ()):
        raise CouldNotRunError(f"{file}:1: the first line has to name judge, question, probability")
    said: dict[str, dict[str, float]] = {}
    for row in rows:
        said.setdefault(row["judge"] or "", {})[row["question"] or ""] = _probability(
            file, rows.line_num, row["probability"]
        )
    found = []
    for paper in (p for issue in issues for p in issue.papers):
        names = [(q.id, q.wire) for q in paper.questions]
        judged = [[_of(of, pair) for pair in names] for of in said.values()]
        whole = [[v for v in row if v is not None] for row in judged if None not in row]
        if whole:
            found.append((paper.code, angoff(whole)))
    if not found:
        raise CouldNotRunError(f"{file}: no judge has judged every question of a paper; name questions by id")
    return tuple(found)


def _of(said: dict[str, float], names: tuple[str, str]) -> float | None:
    return next((said[n] for n in names if n in said), None)


def _probability(file: Path, line: int, text: str | None) -> float:
    try:
        value = float((text or "").strip())
    except ValueError:
        value = -1.0
    if not 0 <= value <= 1:
        raise CouldNotRunError(
            f"{file}:{line}: probability `{text}`: write a number from 0 to 1, such as 0.7"
        )
    return value
