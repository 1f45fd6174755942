"""Published values that the calculations are checked against, with where each was found.

The files beside this module are data: the tests run every entry, and the site prints them as the page
"How these numbers were checked".
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

MARKS = {
    "read": "read in the source named",
    "computed": "worked out on a second way from the inputs given",
    "memory": "from memory, not looked up",
}


@dataclass(frozen=True, slots=True)
class Published:
    """One check value."""

    topic: str
    of: str
    """What is checked: a function or a calculator."""
    given: dict[str, Any]
    expect: float | str
    unit: str
    within: float
    """How far off a number may be, from the digits that were published."""
    source: str
    mark: str


def published() -> list[Published]:
    """Every check value by topic, in the order of the files; raises KeyError for an entry that lacks something."""
    found: list[Published] = []
    for file in sorted(files(__name__).iterdir(), key=lambda f: f.name):
        if file.name.endswith(".toml"):
            data = tomllib.loads(file.read_text(encoding="utf-8"))
            found += [_entry(file.name.removesuffix(".toml"), entry) for entry in data["check"]]
    return found


def _entry(topic: str, entry: dict[str, Any]) -> Published:
    unknown = set(entry) - {"of", "given", "expect", "unit", "within", "source", "mark"}
    if unknown:
        raise KeyError(f"{topic}.toml: unknown: {', '.join(sorted(unknown))}")
    expect = entry["expect"]
    return Published(
        topic=topic,
        of=entry["of"],
        given=dict(entry.get("given", {})),
        expect=expect if isinstance(expect, str) else float(expect),
        unit=entry.get("unit", ""),
        within=float(entry.get("within", 0)),
        source=entry["source"],
        mark=entry["mark"],
    )
