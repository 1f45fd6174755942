"""Questions as GIFT text: one of the forms that question banks read. Pictures don't travel in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

_MEANS_SOMETHING = re.compile(r"([\\~=#{}:])")


def escaped(words: str) -> str:
    """Words in which nothing means anything to the reader of GIFT; lines that begin a remark or a command too."""
    joined = _MEANS_SOMETHING.sub(r"\\\1", " ".join(words.split()))
    return f"\u200b{joined}" if joined.startswith(("//", "$")) else joined


def gift(data: Mapping[str, Any]) -> bytes:
    """All questions once, by id; those with a picture are named as left out."""
    asked = list(once(data))
    left_out = [q for q in asked if q["figure"]]
    head = [
        f"// DRAFT {data['module']} {data['revision']} {' '.join(data['title'].split())}",
        *(f"// left out, needs its picture: {q['wire']}" for q in left_out),
        "",
        f"$CATEGORY: {data['module']} {data['revision']}",
        "",
    ]
    return "\n".join([*head, *(_question(q) for q in asked if not q["figure"])]).encode()


def once(data: Mapping[str, Any]) -> Iterable[Mapping[str, Any]]:
    """Every question of the papers once, by its id; of two forms the first one's order of choices."""
    found: dict[str, Mapping[str, Any]] = {}
    for paper in data["papers"]:
        for question in paper["questions"]:
            found.setdefault(question["id"], question)
    return (found[key] for key in sorted(found))


def _question(question: Mapping[str, Any]) -> str:
    rows = [f"::{escaped(question['wire'])}::{escaped(question['stem'])} {{"]
    for n, choice in enumerate(question["choices"]):
        why = f"#{escaped(choice['why'])}" if choice["why"] else ""
        rows.append(f"  {'=' if n == question['key'] else '~'}{escaped(choice['text'])}{why}")
    return "\n".join([*rows, "}", ""])
