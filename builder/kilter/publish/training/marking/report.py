"""What marking says: for people to read, and as tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kilter.publish.training.marking.answers import Sheet
from kilter.publish.training.marking.items import Item, items, reliability
from kilter.publish.training.marking.marks import Mark
from kilter.publish.training.marking.statistics import FLAG_R, RELIABILITY, SHOW_R, Cut, wilson
from kilter.publish.training.packages.table import csv_bytes

RESULTS = ("person", "paper", "attempt", "right", "of", "percent", "passed", "safety not right", "objectives not reached")  # fmt: skip
ITEMS = ("fact", "step hash", "questions", "safety", "answers", "right", "from %", "to %", "discrimination", "from", "to", "wrong choices", "look at")  # fmt: skip


def results_table(marks: Sequence[Mark]) -> bytes:
    """One row a sheet."""
    return csv_bytes(
        RESULTS,
        (
            [
                m.sheet.person, m.sheet.paper.code, str(m.sheet.attempt + 1), str(m.count), str(m.of), str(m.percent),
                "yes" if m.passed else "no", ", ".join(map(str, m.safety)), ", ".join(m.failing),
            ]
            for m in marks
        ),
    )  # fmt: skip


def items_table(found: Sequence[Item]) -> bytes:
    """One row a fact."""
    return csv_bytes(ITEMS, map(_item_row, found), ("discrimination", "from", "to"))


def _item_row(item: Item) -> list[str]:
    low, high = (f"{100 * x:.0f}" for x in item.interval)
    r = [f"{x:.2f}" for x in (() if item.r is None else (item.r, *(item.r_interval or ())))]
    wrong = "; ".join(f"{c}: {n}" for c, n in item.wrong)
    return [
        item.fact, item.hash, ", ".join(item.ids), "yes" if item.safety else "", str(item.answers), str(item.right),
        low, high, *r, *[""] * (3 - len(r)), wrong, "; ".join(item.flags),
    ]  # fmt: skip


def _signed(value: float) -> str:
    """With the minus sign of print."""
    return f"{value:.2f}".replace("-", "−")


def report(marks: Sequence[Mark], cuts: Sequence[tuple[str, Cut]] = (), held: Sequence[Sheet] = ()) -> str:
    """The whole, in plain lines; `held` are sheets that were not marked, because answers are missing."""
    return "\n".join(
        [
            *_people(marks),
            *map(_held, held),
            "",
            *_objectives(marks),
            "",
            *_questions(marks),
            *_reliable(marks),
            *(_cut(*c) for c in cuts),
        ]
    )


def _people(marks: Sequence[Mark]) -> Iterator[str]:
    passed = sum(m.passed for m in marks)
    yield f"{len(marks)} sheet{'' if len(marks) == 1 else 's'}, {passed} passed"
    for m in marks:
        why = [f"less than {m.sheet.issue.pass_mark} %"] if not m.reached else []
        if m.safety:
            why.append(
                f"safety not right: question{'' if len(m.safety) == 1 else 's'} {', '.join(map(str, m.safety))}"
            )
        if m.failing:
            why.append(f"objectives: {', '.join(m.failing)}")
        verdict = "passed" if m.passed else "NOT PASSED"
        yield f"  {m.sheet.person:<12} {m.sheet.paper.code:<24} {m.count:>3} of {m.of:<3} {m.percent:>3} %  {verdict}{': ' if why else ''}{'; '.join(why)}"


def _held(sheet: Sheet) -> str:
    return (
        f"  {sheet.person:<12} {sheet.paper.code:<24} NOT MARKED: rows are missing; write them, with an empty choice "
        "where nothing was ticked, or count them as not answered: `--absent wrong`"
    )


def _objectives(marks: Sequence[Mark]) -> Iterator[str]:
    yield "objectives (share right, 95 % interval)"
    total: dict[str, tuple[int, int]] = {}
    words = {name: text for m in marks for name, text in m.sheet.issue.objectives.items()}
    for m in marks:
        for name, (right, of) in m.objectives.items():
            before = total.get(name, (0, 0))
            total[name] = before[0] + right, before[1] + of
    for name, (right, of) in total.items():
        low, high = wilson(right, of)
        yield f"  {100 * right / of:3.0f} % ({100 * low:.0f}–{100 * high:.0f})  {name}: {words.get(name, '')}"


def _questions(marks: Sequence[Mark]) -> Iterator[str]:
    yield "questions, the hardest first (share right, 95 % interval, answers)"
    for item in items(marks):
        low, high = item.interval
        safety = "  SAFETY" if item.safety else ""
        yield f"  {100 * item.share:3.0f} % ({100 * low:.0f}–{100 * high:.0f}, {item.answers})  {item.fact}{safety}"
        taken = [f"“{c}” {n}" for c, n in item.wrong if n]
        if taken:
            yield f"        wrong: {', '.join(taken)}"
        if item.r is not None and item.r_interval is not None:
            yield f"        against the rest of the paper: {_signed(item.r)} ({_signed(item.r_interval[0])} to {_signed(item.r_interval[1])})"
        yield from (f"        look at: {flag}" for flag in item.flags)
    yield f"  Below {SHOW_R} answers to a question nothing is said of how it divides people, below {FLAG_R} it is not judged."


def _reliable(marks: Sequence[Mark]) -> Iterator[str]:
    found = reliability(marks)
    for codes, (people, value) in found.items():
        said = "— (nobody differs)" if value is None else _signed(value)
        yield f"reliability (KR-20) of {codes}: {said}, {people} people"
    if not found:
        yield f"reliability: not shown below {RELIABILITY} people with the same questions"


def _cut(code: str, cut: Cut) -> str:
    error = "" if cut.error is None else f", standard error {cut.error:.2f}"
    said = f"cut of {code} by {cut.judges} judge{'' if cut.judges == 1 else 's'}: {cut.mean:.2f} of {cut.questions}{error}, that is {cut.whole} right"
    return said if cut.is_cut else f"{said}: fewer than three judges, so a wish and not a cut"
