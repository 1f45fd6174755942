"""The calculations of a document, worked out: the same numbers for rules, pages, cards and hover."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.once import once
from kilter.check.rule import Context
from kilter.compute.calculation import NAMES, Input, InputError, Result, calculator, read_inputs
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.model.text import Calculation

STACK, OWN_TABLE = "stack", "leakage"
"""Blocks whose fields are not just the calculator's inputs: parts by their sign; a table that the library gives."""

PARTS = {"plus": "+ ", "minus": "− "}
"""Fields of a `stack` block, and the sign that its calculator knows a part by."""


def calculations(document: Document) -> Iterator[Calculation]:
    """Every calculation of a document, in order."""
    for blocks in document.all_blocks():
        yield from (block for block in blocks if isinstance(block, Calculation))


def fields_of(name: str) -> tuple[Input, ...]:
    """What a block of this name may hold, by the names of its fields; nothing for a name that is not known."""
    if name not in NAMES:
        return ()
    inputs = calculator(name).inputs
    if name == OWN_TABLE:
        return tuple(i for i in inputs if i.name != "table")
    if name != STACK:
        return inputs
    part = next(i for i in inputs if i.name == "part")
    example = part.example.lstrip("+ ")
    signed = (Input(p, f"a dimension that counts {p}", "words", example=example, many=True) for p in PARTS)
    return (*signed, *(i for i in inputs if i.name != "part"))


def calculated(block: Calculation, library: Library) -> Result | InputError:
    """The answer, or what is missing or wrong. A result that can't be worked out is an InputError too."""
    if block.name not in NAMES:
        return InputError("", f"no calculation is called `{block.name}`", "possible: " + ", ".join(NAMES))
    found, given = calculator(block.name), _given(block)
    if block.name == OWN_TABLE and library.settings.limits:
        given["table"] = [library.settings.limits]
    try:
        return found.work(read_inputs(found.inputs, given))
    except InputError as trouble:
        return trouble
    except (OverflowError, ZeroDivisionError) as trouble:
        return InputError("", f"the numbers are too far apart to work with ({trouble})", "look at them again")


@once(most=4)
def results(context: Context) -> tuple[tuple[Calculation, Result | InputError], ...]:
    """All of a document's calculations with their answers."""
    return tuple((b, calculated(b, context.library)) for b in calculations(context.document))


def _given(block: Calculation) -> dict[str, list[str]]:
    texts: dict[str, list[str]] = {}
    for each in block.given:
        if block.name == STACK and each.name in PARTS:
            texts.setdefault("part", []).append(PARTS[each.name] + each.value)
        else:
            texts.setdefault(each.name, []).append(each.value)
    return texts
