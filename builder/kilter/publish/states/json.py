"""The table of states as JSON; its schema stands in `schema/`."""

from __future__ import annotations

import json

from kilter.publish.states.data import States


def render(table: States) -> str:
    """Same table, same bytes."""
    return json.dumps(table.model_dump(mode="json", by_alias=True), ensure_ascii=False, indent=2) + "\n"
