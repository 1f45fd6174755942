"""What a calculation is: what it asks for, and what it answers with.

A calculator is a module of `compute/calculators/` with `CALCULATOR`. The command line makes its options of the
inputs, a document's directive its fields, so that a page can never disagree with the calculator.
"""

from __future__ import annotations

import importlib
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any, Literal

from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.value import Quantity

Kind = Literal["quantity", "number", "count", "choice", "words"]

NAMES = ("torque", "setting", "stack", "bleed", "battery", "fuse", "cable", "hydraulic", "leakage", "reading")
"""In the order in which they are listed."""


@dataclass(frozen=True, slots=True)
class Input:
    """One thing a calculator asks for."""

    name: str
    """As an option `--tool-range` and as a field `:tool-range:`."""
    ask: str
    """What it is, for the help and for the message when it is missing."""
    kind: Kind = "quantity"
    dimensions: tuple[str, ...] = ()
    """Of a quantity; see `units.BASE`."""
    example: str = ""
    needed: bool = False
    choices: tuple[str, ...] = ()
    many: bool = False
    """Whether it may be given several times; its value is then a tuple."""


class InputError(ValueError):
    """An input that is missing, unknown or can't be read; offsets are in the text that was given for it."""

    def __init__(self, name: str, message: str, help: str, start: int = 0, end: int = 0) -> None:
        super().__init__(message)
        self.name, self.message, self.help = name, message, help
        self.start, self.end = start, max(end, start)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an answer."""

    name: str
    text: str
    """As it is read: with its unit, the shown range never wider than the true one."""
    value: float | None = None
    """In `unit`, unrounded; None for words."""
    low: float | None = None
    high: float | None = None
    unit: str = ""
    main: bool = False
    """Whether it is what was asked for."""


Verdict = Literal["", "holds", "fails", "too close to call", "not judged"]


@dataclass(frozen=True, slots=True)
class Result:
    """An answer with all that is needed to doubt it."""

    lines: tuple[Line, ...]
    formula: str
    source: str
    """Where the formula stands: work, edition, place; or "common practice, no source"."""
    assumptions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    verdict: Verdict = ""
    drawing: Mapping[str, Any] = field(default_factory=dict)
    """What a picture of it needs, plain numbers and words; `kind` says which picture."""


@dataclass(frozen=True, slots=True)
class Calculator:
    """A calculation by name. `work` gets read values by input name and raises InputError."""

    name: str
    summary: str
    inputs: tuple[Input, ...]
    work: Callable[[Mapping[str, Any]], Result]


def calculator(name: str) -> Calculator:
    """The calculator of a name in NAMES; only its module is imported."""
    if name not in NAMES:
        raise KeyError(name)
    found: Calculator = importlib.import_module(f"kilter.compute.calculators.{name}").CALCULATOR
    return found


def read_inputs(inputs: Sequence[Input], given: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """Texts by input name to values: Quantity, Decimal, int or str, a tuple of them where `many`.

    Inputs that were not given are not in the result. Raises InputError for the first that is unknown, given
    twice, can't be read, or is needed and missing.
    """
    known = {i.name: i for i in inputs}
    for name in given:
        if name not in known:
            raise InputError(name, f"`{name}` is not asked for here", "possible: " + ", ".join(known))
    values: dict[str, Any] = {}
    for wanted in inputs:
        texts = given.get(wanted.name, ())
        if not texts:
            if wanted.needed:
                example = f", such as `{wanted.example}`" if wanted.example else ""
                raise InputError(wanted.name, f"`{wanted.name}` is missing", f"say {wanted.ask}{example}")
            continue
        if len(texts) > 1 and not wanted.many:
            raise InputError(wanted.name, f"`{wanted.name}` is given twice", "give it once")
        read = tuple(_read(wanted, text) for text in texts)
        values[wanted.name] = read if wanted.many else read[0]
    return values


def _read(wanted: Input, text: str) -> Any:
    if wanted.kind == "quantity":
        return _quantity(wanted, text)
    if wanted.kind == "choice":
        found = next((c for c in wanted.choices if c.casefold() == text.strip().casefold()), None)
        if found is None:
            message = f"`{text[:40]}` is no {wanted.name}"
            raise InputError(wanted.name, message, "possible: " + ", ".join(wanted.choices), 0, len(text))
        return found
    if wanted.kind == "words":
        if not text.strip():
            raise InputError(wanted.name, f"`{wanted.name}` is empty", f"say {wanted.ask}")
        return text.strip()
    return _number(wanted, text)


def _quantity(wanted: Input, text: str) -> Quantity:
    try:
        quantity = parse_quantity(text)
    except QuantityError as trouble:
        raise InputError(
            wanted.name, f"`{wanted.name}`: {trouble.message}", trouble.help, trouble.start, trouble.end
        ) from None
    if quantity.dimension not in wanted.dimensions:
        message = f"`{wanted.name}` is a {quantity.dimension}, {' or '.join(wanted.dimensions)} is asked for"
        raise InputError(wanted.name, message, f"for example `{wanted.example}`", 0, len(text))
    return quantity


def lower(given: Mapping[str, Any], name: str) -> float:
    """The lower end of a quantity in its base unit, for a question that a small value makes worse; InputError at none."""
    low = given[name].base_low
    if low is None or low <= 0:
        message = f"`{given[name].text}` has no lower end above zero"
        raise InputError(name, message, "look at the number: the lower end is the worst one here")
    return float(low)


def direct(given: Mapping[str, Any], *names: str) -> None:
    """Refuses voltages that are said to be a.c.: what a meter shows of one is not what charges a capacitor."""
    for name in names:
        if name in given and given[name].unit.symbol.endswith("a.c."):
            message = f"`{given[name].text}` is alternating: it peaks at 1.42 times what a meter shows"
            raise InputError(
                name, message[:110], "write the peak as `V d.c.`, such as `325 V d.c.` for `230 V a.c.`"
            )


_PLAIN = re.compile(r"[+−-]?[0-9]{1,15}(?:\.[0-9]{1,15})?")


def _number(wanted: Input, text: str) -> Decimal | int:
    spelt = text.strip().replace("−", "-")
    if not _PLAIN.fullmatch(text.strip()):
        message = f"`{wanted.name}`: `{text[:40]}` is no plain number"
        raise InputError(wanted.name, message, f"write digits, such as `{wanted.example}`", 0, len(text))
    try:
        value = Decimal(spelt)
    except InvalidOperation:  # pragma: no cover - the pattern lets none through
        raise InputError(wanted.name, f"`{wanted.name}` is no number", "write digits") from None
    if wanted.kind == "number":
        return value
    if value != value.to_integral_value() or value < 1:
        message = f"`{wanted.name}` is a count, `{text[:40]}` is none"
        raise InputError(
            wanted.name, message, f"write a whole number, such as `{wanted.example}`", 0, len(text)
        )
    return int(value)
