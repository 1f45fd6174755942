"""A tool whose range or accuracy begins like a value but can't be read as one."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.marked import shortened
from kilter.check.rule import Context
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.front import Loc

CODE = "K315"
SEVERITY = Severity.WARNING


_BEGINS = re.compile(r"[≤≥<>±+−–-]?\s*[0-9]")
_PIECES = re.compile(r"^(?:±\s*|\d+\s*[x×]\s*)|\s+(?:at|of|full scale|per)\b.*$")
"""A sign in front and how many, and under which condition: what no single value says."""


def check(context: Context) -> Iterator[Diagnostic]:
    front = context.document.front
    for group, tools in (("tools", front.tools), ("parts", front.parts)):
        for number, tool in enumerate(tools):
            for key, text in (("range", tool.range), ("accuracy", tool.accuracy)):
                trouble = _trouble(text) if text is not None else None
                if trouble is not None:
                    loc = _loc(context, group, number, tool.name, key)
                    message = f"{key} of `{tool.name}`, `{shortened(text or '')}`: {trouble.message}"
                    yield warning("tool-value", message, context.document.places.of(*loc), trouble.help)


def _trouble(text: str) -> QuantityError | None:
    """Why a text that begins with a number is no value; words, such as a tester's programme, are let be."""
    if not _BEGINS.match(text):
        return None
    try:
        parse_quantity(_PIECES.sub("", text))
    except QuantityError as trouble:
        return trouble
    return None


def _loc(context: Context, group: str, number: int, name: str, key: str) -> Loc:
    """The way to a tool's key, in whichever form the author wrote the list."""
    ways: tuple[Loc, ...] = ((group, number, name, key), (group, number, key), (group, name, key))
    return next((w for w in ways if context.document.places.known(*w)), (group,))
