"""What a paper leaves out of a document's data: links, and on a hand-out the names of items."""

from __future__ import annotations

from typing import Any

from kilter.publish.cards.heads import Data


def linkless(value: Any, number: str) -> Any:
    """Links as words, and figures named with their document: two documents both have a figure 1."""
    if isinstance(value, list):
        return [linkless(v, number) for v in value]
    if not isinstance(value, dict):
        return value
    if value.get("t") == "link":
        return {"t": "emphasis", "r": linkless(value["r"], number)}
    found = {k: "" if k in ("to", "do_to") else linkless(v, number) for k, v in value.items()}
    if "sheets" in found and found["number"]:
        found["number"] = f"{found['number']} of {number}"
    return found


def figures_in(value: Any) -> list[Data]:
    """Every figure in a sheet's data, in order, each once."""
    if isinstance(value, dict):
        own = [value] if "sheets" in value else []
        found = own + [f for v in value.values() for f in figures_in(v)]
    else:
        found = [f for v in value for f in figures_in(v)] if isinstance(value, list) else []
    return [f for n, f in enumerate(found) if f not in found[:n]]


def without_labels(value: Any) -> Any:
    """The same with empty item labels, so that they can be written in."""
    if isinstance(value, list):
        return [without_labels(v) for v in value]
    if not isinstance(value, dict):
        return value
    if "sheets" in value:
        return {**value, "items": [{**item, "label": ""} for item in value["items"]]}
    return {k: without_labels(v) for k, v in value.items()}
