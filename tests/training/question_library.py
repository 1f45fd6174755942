"""Libraries to ask about: the demo library, and random sound procedures with values put into their steps."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from tests.energy.markdown import to_markdown
from tests.energy.templates import sound

from kilter.check.module import ModuleContext
from kilter.model.library import Library
from kilter.publish.training.questions import Question, bank
from kilter.read.document import read_bytes
from kilter.read.library import read_library

DEMO = Path(__file__).parents[2] / "procedures"
MODULE = """---
kind: training
number: TRN-9
revision: A
title: All that is covered
covers: [{covers}]
objectives: {{work: {{text: Do the work}}}}
paper: {{questions: 20, forms: 2}}
---
# All that is covered

## One lesson
:minutes: 20

What the machine is.
"""
UNITS = {
    "torque": ("N·m",), "length": ("mm",), "pressure": ("bar", "kPa"), "voltage": ("V",), "resistance": ("Ω", "MΩ"),
    "current": ("A", "mA"), "force": ("N",), "temperature": ("°C",),
}  # fmt: skip
THINGS = [
    "latch",
    "bolt",
    "clip",
    "pin",
    "seal",
    "spindle",
    "bracket",
    "lever",
    "plate",
    "hose",
    "fitting",
    "jack",
    "sensor",
    "strap",
    "roller",
    "bearing",
]
PLACES = ["front", "rear", "upper", "lower", "left", "right", "inner", "outer"]


def module_of(library: Library, numbers: list[str], path: str = "module.md") -> ModuleContext:
    """A module that covers documents whole."""
    reading = read_bytes(path, MODULE.format(covers=", ".join(numbers)).encode())
    assert reading.module is not None, reading.findings
    library.add(reading)
    return ModuleContext(library, reading.module)


def demo() -> ModuleContext:
    """A module over the whole demo library."""
    library = read_library(DEMO, base=DEMO.parent)
    numbers = [d.front.number for _, d in sorted(library.documents.items()) if not d.is_profile]
    return module_of(library, numbers)


@lru_cache(maxsize=1)
def demo_questions() -> tuple[ModuleContext, tuple[Question, ...]]:
    """That module with its questions but for those that check copies; made once, so leave it as it is."""
    context = demo()
    return context, bank(context, missing=False)


def random_context(seed: int) -> ModuleContext:
    """One random sound procedure with values, and a module over it."""
    rng = random.Random(seed)
    profile, procedure = to_markdown(sound(rng))
    procedure = with_values(rng, procedure.replace("GEN-1", f"GEN-{seed}"))
    library = Library(Path())
    for path, text in (("profile.md", profile), ("gen.md", procedure)):
        reading = read_bytes(path, text.encode())
        assert reading.document is not None
        assert not reading.findings, reading.findings
        library.add(reading)
    return module_of(library, [f"GEN-{seed}"])


def with_values(rng: random.Random, text: str) -> str:
    """The procedure with a value in each of a few steps, none of whose names stands twice."""
    rows, names = text.split("\n"), list[str]()
    starts = [n for n, row in enumerate(rows) if row.startswith("### ")]
    for start in sorted(rng.sample(starts, min(len(starts), rng.randint(4, 8))), reverse=True):
        at = start + 1
        while rows[at].startswith(":") and not rows[at].startswith(":::"):
            at += 1
        if ":do:" in "".join(rows[start:at]):
            continue
        name = f"{rng.choice(PLACES)} {rng.choice(THINGS)}"
        while name in names:
            name = f"{rng.choice(PLACES)} {rng.choice(THINGS)}"
        names.append(name)
        rows[at:at] = ["", sentence(rng, name)]
    return "\n".join(rows)


def sentence(rng: random.Random, name: str) -> str:
    """One instruction with a random value."""
    kind = rng.choice(("torque", "set", "read", "read", "read"))
    dimension = "torque" if kind == "torque" else "length" if kind == "set" else rng.choice([*UNITS][1:])
    unit = rng.choice(UNITS[dimension])
    decimals = rng.choice((0, 0, 1, 1, 2))
    nominal = rng.randint(4, 400) / 10**decimals * rng.choice((1, 1, 1, 10))
    tolerance = max(10**-decimals, round(nominal * rng.uniform(0.02, 0.15), decimals))
    value = form(rng, nominal, tolerance, decimals, unit, limit=kind == "read")
    if kind == "torque":
        return f"Tighten the {name} to {{torque}}`{value}`."
    if kind == "set":
        return f"Set the {name} to {{set}}`{value}`."
    return f"Measure it: {{read}}`{name}: {value}`."


def form(rng: random.Random, nominal: float, tolerance: float, decimals: int, unit: str, limit: bool) -> str:
    """A value as people write it."""
    number = f"{nominal:.{decimals}f}"
    if limit and rng.random() < 0.6:
        return f"{rng.choice('≤≥')} {number} {unit}"
    if rng.random() < 0.3:
        return f"{number}–{nominal + 2 * tolerance:.{decimals}f} {unit}"
    return f"{number} ± {tolerance:.{decimals}f} {unit}"


def contexts(first: int = 0) -> Iterator[ModuleContext]:
    """The demo library, then random procedures without end."""
    yield demo()
    while True:
        yield random_context(first)
        first += 1
