"""Mutation of every procedure of the demo library: what the checker refuses, and why the rest is harmless.

    python -m tests.energy.demo_mutants [--all] [--write]

Without `--all` a fixed sample is judged.  `--write` judges all and writes the table `demo_mutants.md` beside this file.
"""

from __future__ import annotations

import argparse
import random
from collections import defaultdict
from pathlib import Path

from .demo_judge import Demo, Verdict
from .demo_page import Mutant
from .demo_verdicts import UNKNOWN, why

TABLE = Path(__file__).with_name("demo_mutants.md")
COMMAND = "python -m tests.energy.demo_mutants --write"
MOST = 60
"""Changes of one kind in the sample."""
Row = tuple[str, str, str, str, str]
"""Documents, step or stage, kind, what was changed, verdict."""


def sample(demo: Demo, seed: int = 7) -> list[Mutant]:
    """At most so many of each kind, the same ones each time."""
    rng, kinds = random.Random(seed), defaultdict[str, list[Mutant]](list)
    for mutant in demo.mutants():
        kinds[mutant.kind].append(mutant)
    return [
        m
        for _, each in sorted(kinds.items())
        for m in (each if len(each) <= MOST else rng.sample(each, MOST))
    ]


def made(demo: Demo) -> dict[str, int]:
    """How many changes of each kind there are to judge."""
    count: dict[str, int] = defaultdict(int)
    for mutant in demo.mutants():
        count[mutant.kind] += len(list(demo.through(mutant)))
    return dict(sorted(count.items()))


def rows(demo: Demo, verdicts: list[Verdict]) -> list[Row]:
    """Survivors with their verdicts; one row for what differs only in the place it leads to or the document."""
    refused: dict[int, list[str]] = defaultdict(list)
    for v in verdicts:
        if v.rules:
            refused[id(v.mutant)].append(v.number)
    cells: dict[tuple[str, str, str, str, str], list[str]] = {}
    for v in verdicts:
        if not v.rules:
            said = verdict_on(demo, v) + "".join(f" (refused through {n})" for n in refused[id(v.mutant)])
            cells.setdefault((v.mutant.path, v.number, v.mutant.where, v.mutant.kind, said), []).append(
                v.mutant.what
            )
    merged: dict[tuple[str, str, str, str, str], list[str]] = {}
    for (path, number, where, kind, said), whats in cells.items():
        merged.setdefault((path, where, kind, "; ".join(whats), said), []).append(number)
    return [(", ".join(numbers), *key[1:]) for key, numbers in merged.items()]


def verdict_on(demo: Demo, v: Verdict) -> str:
    """Why a survivor is harmless, or that it is not."""
    if not v.sound:
        against = sorted(v.outcome.core | v.outcome.honesty, key=str) if v.outcome else "it can't tell"
        return f"FALSE ACCEPT: the oracle says {against}"
    before = next(demo.specs[path] for path, d in demo.documents.items() if d.key.upper() == v.number)
    return why(v, before)


def table(demo: Demo, verdicts: list[Verdict]) -> str:
    """The page: what was made, refused and survived by kind; then the survivors."""
    lines = ["# Changes of the demo procedures, and what became of them", "",
             f"Made by `{COMMAND}`. A change of a profile's shared stage counts once for each procedure that asks for it.",
             "*At its place*: an error stands at the changed step or after it on the way. What survives is judged by the",
             "oracle of this folder; the verdict says why it is harmless, or that it is a false accept.", "",
             "| kind | made | refused | at its place | survivors | reports each |", "|---|--:|--:|--:|--:|--:|"]  # fmt: skip
    kinds = defaultdict[str, list[Verdict]](list)
    for v in verdicts:
        kinds[v.mutant.kind].append(v)
    lines += [_line(kind, kinds[kind]) for kind in sorted(kinds)] + [_line("all", verdicts)]
    lines += [
        "",
        "## Survivors",
        "",
        "| document | step or stage | kind | changed | verdict |",
        "|---|---|---|---|---|",
    ]
    lines += [f"| {' | '.join(row)} |".replace("  ", " ") for row in rows(demo, verdicts)]
    return "\n".join(lines) + "\n"


def _line(kind: str, each: list[Verdict]) -> str:
    refused = [v for v in each if v.rules]
    reports = sum(len(v.rules) for v in refused) / max(1, len(refused))
    hit = sum(v.at_place > 0 for v in refused)
    return f"| {kind} | {len(each)} | {len(refused)} | {hit} | {len(each) - len(refused)} | {reports:.2f} |"


def main() -> int:
    """Judge, print or write; 1 if anything passed that should not."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--all", action="store_true", help="judge every change, not a sample")
    parser.add_argument("--write", action="store_true", help=f"judge every change and write {TABLE.name}")
    given = parser.parse_args()
    demo = Demo()
    chosen = list(demo.mutants()) if given.all or given.write else sample(demo)
    verdicts = [v for mutant in chosen for v in demo.verdicts(mutant)]
    text = table(demo, verdicts)
    print(text)
    if given.write:
        TABLE.write_text(text, encoding="utf-8")
    return int("FALSE ACCEPT" in text or UNKNOWN in text)


if __name__ == "__main__":
    raise SystemExit(main())
