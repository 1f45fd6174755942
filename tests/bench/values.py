"""How fast values are read, converted and checked, and how soon `kilter calc` answers.

    python -m tests.bench.values [--count 100000] [--starts 15]

Each of the values is read without the cache that a build has, converted to base units exactly, shown in the other
system of units, and checked against a limit. pint then parses the strings among them that it can read at all (a
number and a unit) in the same run and converts them to base units with floats, so that the ratio says something on
any machine. Start-up is the median of whole processes: `kilter calc`, beside `import pydantic` in a bare Python.
"""

from __future__ import annotations

import argparse
import random
import statistics
import subprocess
import sys
import time
from collections.abc import Callable

import pint

from kilter.compute.display import in_other_system
from kilter.compute.quantity import parse_quantity
from kilter.compute.value import Quantity

FORMS = (
    "{a} {u}",
    "{a} ± {b} {u}",
    "{a}–{c} {u}",
    "≥ {a} {u}",
    "≤ {a} {u}",
    "{a} +{b}/−{b} {u}",
    "{a} {u} ± 5 %",
)
NAMES = {
    "N·m": "N*m",
    "mm": "mm",
    "kPa": "kPa",
    "V": "V",
    "Ω": "ohm",
    "mA": "mA",
    "min": "min",
    "lbf·in": "lbf*in",
}
"""Units with pint's own spelling of them."""


def values(count: int) -> list[tuple[str, str, str]]:
    """Texts as writers write them, each with a limit it is checked against and the text as pint reads it, if it can."""
    chance, made = random.Random(6), []
    for _ in range(count):
        unit, form = chance.choice(list(NAMES)), chance.choice(FORMS)
        a, b = round(chance.uniform(10, 999), 2), round(chance.uniform(0.1, 9), 2)
        text = form.format(a=a, b=b, c=round(a + b, 2), u=unit)
        alike = f"{a} {NAMES[unit]}" if form == FORMS[0] else ""
        made.append((text, f"≤ 1000 {unit}", alike))
    return made


def timed(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def told(name: str, seconds: float, count: int) -> float:
    each = seconds / count * 1e6
    print(f"{name:<46} {seconds:7.2f} s, {each:7.1f} µs each")
    return each


def bench_values(count: int) -> None:
    made = values(count)
    texts, found = [t for t, _, _ in made], list[Quantity]()
    read = parse_quantity.__wrapped__
    limits = {limit: parse_quantity(limit) for _, limit, _ in made}
    parse = timed(lambda: found.extend(map(read, texts)))
    convert = timed(lambda: [(q.base_low, q.base_high) for q in found])
    check = timed(lambda: [q.within(limits[limit]) for q, (_, limit, _) in zip(found, made, strict=True)])
    show = timed(lambda: [in_other_system(q) for q in found])
    told("read", parse, count)
    told("converted to base units, exactly", convert, count)
    told("checked against a limit", check, count)
    ours = told("read, converted and checked", parse + convert + check, count)
    told("shown in the other system", show, count)
    against_pint(made, ours)


def against_pint(made: list[tuple[str, str, str]], ours: float) -> None:
    """The same plain values by both; pint reads no tolerance, range or limit of these forms."""
    plain = [(text, spelt) for text, _, spelt in made if spelt]
    registry = pint.UnitRegistry()
    registry.parse_expression("1 N*m").to_base_units()  # its tables are built at the first use
    seconds = timed(lambda: [registry.parse_expression(spelt).to_base_units() for _, spelt in plain])
    theirs = told("pint: the plain ones read and converted", seconds, len(plain))
    read = parse_quantity.__wrapped__
    same = timed(lambda: [read(text).base_nominal for text, _ in plain])
    alike = told("the same plain ones here", same, len(plain))
    print(
        f"ratio to pint, the same strings: {alike / theirs:.2f}; with the forms pint can't read and the check: {ours / theirs:.2f}"
    )


def start(command: list[str], starts: int) -> float:
    took = [timed(lambda: subprocess.run(command, check=True, capture_output=True)) for _ in range(starts)]
    return statistics.median(took)


def bench_start(starts: int) -> None:
    given = ["--capacitance", "470 µF ± 20 %", "--resistance", "10 kΩ", "--from", "400 V"]
    bare = start([sys.executable, "-c", "import pydantic"], starts)
    calc = start([sys.executable, "-m", "kilter", "calc", "bleed", *given], starts)
    print(f"import pydantic {bare * 1e3:.0f} ms, kilter calc {calc * 1e3:.0f} ms: ratio {calc / bare:.2f}")


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--count", type=int, default=100_000)
    arguments.add_argument("--starts", type=int, default=15)
    given = arguments.parse_args()
    bench_values(given.count)
    bench_start(given.starts)


if __name__ == "__main__":
    main()
