"""How long does the energy proof take, against reading the same file?

    python -m tests.bench.energy [--steps 8000] [--files 10000]

CPU seconds; ratios of one run. Growth is fitted over procedures of 250 steps and twice as many, and so on.
"""

from __future__ import annotations

import argparse
import gc
import math
import time
from concurrent.futures import ProcessPoolExecutor

from tests.bench.library import BODY, HEAD, PROFILE, facts

from kilter.check.flow import analyse
from kilter.model.document import Document
from kilter.read.document import read_bytes

STEP = """
### Work on part {n}

Turn screw {n} once.
"""
PART = """
## Part {n}

:::{{danger}} mains, battery, boom
**Shock and crushing.** The boom can fall and break an arm, and the leads can kill. Leave every lock on.
:::
"""


def long_procedure(steps: int) -> str:
    """The bench procedure with as many steps of work as asked for, ten a stage."""
    import random

    values = facts(1, random.Random(1))
    text = HEAD.format(**values) + BODY.format(**values)
    before, after = text.split("### Measure the play", 1)
    work = "".join((PART.format(n=n // 10) if n % 10 == 0 else "") + STEP.format(n=n) for n in range(steps))
    last = PART.format(n=steps)
    return before + work + last + "\n### Measure the play" + after


def read(text: str) -> Document:
    reading = read_bytes("bench.md", text.encode())
    assert reading.document is not None, reading.findings
    return reading.document


def timed(text: str, profile: Document, rounds: int = 3) -> tuple[float, float, int]:
    """Best CPU seconds of reading and of proving, and the findings."""
    reads, proofs, count = [], [], 0
    for _ in range(rounds):
        started = time.process_time()
        document = read(text)
        middle = time.process_time()
        found = analyse(document, profile).findings
        reads.append(middle - started)
        proofs.append(time.process_time() - middle)
        count = len(found)
    return min(reads), min(proofs), count


def many(numbers: tuple[int, ...]) -> tuple[float, float]:
    """CPU seconds of reading and of proving a batch of small procedures."""
    import random

    gc.disable()
    profile = read(PROFILE.format(id="egret-1"))
    reading = proving = 0.0
    for n in numbers:
        values = facts(n, random.Random(n))
        text = HEAD.format(**values) + BODY.format(**values)
        started = time.process_time()
        document = read(text)
        middle = time.process_time()
        analyse(document, profile)
        reading += middle - started
        proving += time.process_time() - middle
        if n % 500 == 0:
            gc.collect()
    return reading, proving


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--steps", type=int, default=8000)
    arguments.add_argument("--files", type=int, default=10_000)
    n = arguments.parse_args()
    gc.disable()
    profile = read(PROFILE.format(id="egret-1"))
    rows, steps = [], 250
    while steps <= n.steps:
        reading, proving, found = timed(long_procedure(steps), profile)
        rows.append((steps, proving))
        print(
            f"{steps:>6} steps: read {reading:7.3f} s, prove {proving:7.3f} s, ratio {proving / reading:.2f}, {found} findings"
        )
        steps *= 2
    first, last = rows[0], rows[-1]
    print(
        f"growth exponent {math.log(last[1] / first[1]) / math.log(last[0] / first[0]):.2f}   (aim: under 1.3)"
    )
    started = time.perf_counter()
    with ProcessPoolExecutor(2) as pool:
        parts = list(pool.map(many, [tuple(range(k, min(k + 500, n.files))) for k in range(0, n.files, 500)]))
    wall = time.perf_counter() - started
    reading, proving = sum(p[0] for p in parts), sum(p[1] for p in parts)
    print(
        f"{n.files} procedures on two cores: {wall:.1f} s wall; read {reading:.1f} s CPU, prove {proving:.1f} s CPU, ratio {proving / reading:.2f}"
    )


if __name__ == "__main__":
    main()
