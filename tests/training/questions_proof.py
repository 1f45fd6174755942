"""Ten thousand questions under an independent judge, and under guessers who know nothing.

    python -m tests.training.questions_proof [--count 10000] [--seed 0]

The demo library comes first, then random sound procedures with values in their steps.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter

from tests.training.guessers import rates
from tests.training.missing_checker import missing_faults
from tests.training.question_checker import Judge
from tests.training.question_library import contexts

from kilter.check.module import ModuleContext
from kilter.publish.training.questions import KINDS, Question
from kilter.publish.training.questions.bank import bank

MOST = 0.30
"""Share of four-choice questions that no guesser may get right."""


THOROUGH = 20
"""Of so many questions about a missing control one has each wrong choice tried before every step, in the text."""


def judged(context: ModuleContext) -> tuple[list[Question], list[str]]:
    """Questions of a module, and what is wrong with them."""
    questions = list(bank(context))
    judge = Judge(context)
    faults = [f"{q.id}: {fault}" for q in questions for fault in judge.faults(q)]
    lacks = [q for q in questions if q.kind == "missing"]
    faults += [
        f"{q.id}: {fault}"
        for n, q in enumerate(lacks)
        for fault in missing_faults(context, q, n % THOROUGH == 0)
    ]
    return questions, faults


def main() -> int:
    """Make, judge, guess; 1 where anything is wrong."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=0)
    given = parser.parse_args()
    questions: list[Question] = []
    faults: list[str] = []
    start = time.perf_counter()
    for context in contexts(given.seed):
        made, wrong = judged(context)
        questions += made
        faults += wrong
        if len(questions) >= given.count:
            break
    print(
        f"{len(questions)} questions, {time.perf_counter() - start:.0f} s: {dict(Counter(q.kind for q in questions))}"
    )
    print(f"faulty: {len(faults)}", *faults[:20], sep="\n  ")
    four = [q for q in questions if len(q.choices) == 4]
    counts = Counter(q.kind for q in four)
    table = {"all": rates(four), **{k: rates(q for q in four if q.kind == k) for k in KINDS if counts[k]}}
    print("guesser".ljust(22), *(k.rjust(8) for k in table))
    for name in table["all"]:
        print(name.ljust(22), *(f"{table[k][name]:8.1%}" for k in table))
    return int(bool(faults) | _best(table, {"all": len(four), **counts}))


def _best(table: dict[str, dict[str, float]], counts: dict[str, int]) -> bool:
    """Says who guesses best of each kind; whether one is above the most."""
    for kind, found in table.items():
        best = max(found, key=lambda name: found[name])
        error = (found[best] * (1 - found[best]) / counts[kind]) ** 0.5
        print(f"{kind.ljust(8)} {counts[kind]:6} questions, best {found[best]:5.1%} ± {error:.1%} {best}")
    return any(max(found.values()) > MOST for found in table.values())


if __name__ == "__main__":
    raise SystemExit(main())
