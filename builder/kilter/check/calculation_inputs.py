"""What is missing or wrong in the inputs of a calculation block, each with the input that it is about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from kilter.check.calculated import PARTS, STACK, calculated, calculations, fields_of
from kilter.check.once import once
from kilter.check.rule import Context
from kilter.compute.calculation import Input, InputError, calculator, read_inputs
from kilter.model.library import Library
from kilter.model.text import Calculation, Given
from kilter.read.blanks import BLANK_MARK


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that is wrong."""

    given: Given | None
    """The input that it is about; None where one is missing, or the block as a whole does not work out."""
    error: InputError
    """Its offsets are in the input's value."""
    unknown: bool = False
    """Whether no input of that name is asked for: then the name is what is wrong, not the value."""


def has_blank(block: Calculation) -> bool:
    """Whether a value is still to be filled in, so that nothing can be worked out."""
    return any(BLANK_MARK in given.value for given in block.given)


@once(most=4)
def all_troubles(context: Context) -> tuple[tuple[Calculation, Trouble], ...]:
    """What is wrong in the blocks of a document, in order."""
    blocks = calculations(context.document)
    return tuple((block, trouble) for block in blocks for trouble in troubles(block, context.library))


def troubles(block: Calculation, library: Library) -> Iterator[Trouble]:
    """All that is wrong: each input by itself first, and only if all can be read the whole."""
    asked = {i.name: i for i in fields_of(block.name)}
    if not asked:
        return
    found = [*_names(block, asked), *_values(block, asked)]
    yield from found
    if found or has_blank(block):
        return
    answer = calculated(block, library)
    if isinstance(answer, InputError):
        yield _whole(block, library, answer)


def _names(block: Calculation, asked: dict[str, Input]) -> Iterator[Trouble]:
    seen: set[str] = set()
    for given in block.given:
        if given.name not in asked:
            yield Trouble(
                given, InputError(given.name, f"`{block.name}` asks for no `{given.name}`", ""), True
            )
        elif given.name in seen and not asked[given.name].many:
            yield Trouble(
                given, InputError(given.name, f"`{given.name}` is given twice", "keep one of them"), True
            )
        seen.add(given.name)


def _values(block: Calculation, asked: dict[str, Input]) -> Iterator[Trouble]:
    for given in block.given:
        if given.name not in asked or BLANK_MARK in given.value:
            continue
        error = (
            _part(given) if block.name == STACK and given.name in PARTS else _value(asked[given.name], given)
        )
        if error is not None:
            yield Trouble(given, error)


def _value(wanted: Input, given: Given) -> InputError | None:
    try:
        read_inputs((replace(wanted, needed=False),), {given.name: [given.value]})
    except InputError as error:
        return error
    return None


def _part(given: Given) -> InputError | None:
    """A part of a chain, worked out as if it were alone."""
    if given.value[0] in "+−-":
        help = f"the field `:{given.name}:` says the sign: delete it here"
        return InputError(given.name, "a part with two signs", help, 0, 1)
    sign = PARTS[given.name]
    try:
        calculator(STACK).work({"part": (sign + given.value,)})
    except InputError as error:
        start, end = max(error.start - len(sign), 0), max(error.end - len(sign), 0)
        message = error.message.replace(f"`{sign}", "`", 1)
        return InputError(given.name, message, _EXAMPLE, start, end)
    return None


_EXAMPLE = "write its name, a colon and its size: `case depth: 40.00 ± 0.10 mm`"


def _whole(block: Calculation, library: Library, error: InputError) -> Trouble:
    """What keeps readable inputs from an answer, with the one of several that does it."""
    named = [g for g in block.given if g.name == error.name]
    if len(named) > 1:
        for one in named:
            kept = tuple(g for g in block.given if g.name != error.name or g is one)
            alone = calculated(block.replace(given=kept), library)
            if isinstance(alone, InputError) and alone.message == error.message:
                return Trouble(one, error)
    return Trouble(named[0] if named else None, error)
