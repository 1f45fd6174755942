"""Ten thousand questions under an independent judge, and under guessers who know nothing.

    python -m tests.training.questions_proof [--count 10000] [--seed 0]

The demo library comes first, then random sound procedures with values in their steps.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter

from tests.training.guessers import rates
from tests.training.question_checker import Judge
from tests.training.question_library import contexts

from kilter.check.module import ModuleContext
from kilter.publish.training.questions import Question
from kilter.publish.training.questions.bank import bank

MOST = 0.30
"""Share of four-choice questions that no guesser may get right."""


def judged(context: ModuleContext) -> tuple[list[Question], list[str]]:
    """Questions of a module, all but those that the linter itself judges, and what is wrong with them."""
    questions = list(bank(context, missing=False))
    judge = Judge(context)
    return questions, [f"{q.id}: {fault}" for q in questions for fault in judge.faults(q)]


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
    kinds = sorted({q.kind for q in four})
    table = {"all": rates(four), **{k: rates(q for q in four if q.kind == k) for k in kinds}}
    print("guesser".ljust(22), *(k.rjust(8) for k in table))
    for name in table["all"]:
        print(name.ljust(22), *(f"{table[k][name]:8.1%}" for k in table))
    worst = max(table["all"].values())
    return int(bool(faults) or worst > MOST)


if __name__ == "__main__":
    raise SystemExit(main())
