"""What differs between two versions of a text."""

from __future__ import annotations

from difflib import SequenceMatcher


def difference(theirs: str, mine: str) -> list[dict[str, str]]:
    """Rows of both texts in order: `same`, `theirs` or `mine`; long equal stretches are one row `gap`."""
    old, new = theirs.split("\n"), mine.split("\n")
    found: list[dict[str, str]] = []
    for what, a, b, c, d in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if what == "equal":
            found += _near(old[a:b], a == 0, b == len(old))
        else:
            found += [{"kind": "theirs", "text": row} for row in old[a:b]]
            found += [{"kind": "mine", "text": row} for row in new[c:d]]
    return found


def _near(rows: list[str], first: bool, last: bool) -> list[dict[str, str]]:
    """Three rows around a change; what lies between is counted."""
    before, after = (0 if first else 3), (0 if last else 3)
    if len(rows) <= before + after + 1:
        return [{"kind": "same", "text": row} for row in rows]
    hidden = len(rows) - before - after
    parts = [{"kind": "same", "text": row} for row in rows[:before]]
    parts.append({"kind": "gap", "text": f"{hidden} rows are the same"})
    return parts + [{"kind": "same", "text": row} for row in rows[len(rows) - after :]]
