"""What each person has reached; the same rule as `app/quizattempt.js`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kilter.publish.training.marking.answers import Sheet


@dataclass(frozen=True)
class Mark:
    """One sheet, marked."""

    sheet: Sheet
    right: tuple[bool, ...]
    count: int
    safety: tuple[int, ...]
    """Numbers, from 1, of questions about safety that are not right."""
    reached: bool
    """Whether the pass mark is reached, whatever the safety."""

    @property
    def of(self) -> int:
        return len(self.right)

    @property
    def percent(self) -> int:
        """Rounded down: nobody who is short of the mark is shown it."""
        return 100 * self.count // self.of if self.of else 0

    @property
    def passed(self) -> bool:
        """Every question about safety has to be right, whatever the score."""
        return self.reached and not self.safety

    @property
    def objectives(self) -> dict[str, tuple[int, int]]:
        """Right and asked, by objective."""
        found: dict[str, tuple[int, int]] = {}
        for right, question in zip(self.right, self.sheet.paper.questions, strict=True):
            for name in question.objectives:
                before = found.get(name, (0, 0))
                found[name] = before[0] + right, before[1] + 1
        return found

    @property
    def failing(self) -> tuple[str, ...]:
        """Objectives of which less than the pass mark is right."""
        least = self.sheet.issue.pass_mark
        return tuple(name for name, (right, of) in self.objectives.items() if 100 * right < least * of)


def mark(sheet: Sheet) -> Mark:
    questions = sheet.paper.questions
    right = tuple(a == q.key for a, q in zip(sheet.answers, questions, strict=True))
    safety = tuple(n for n, (r, q) in enumerate(zip(right, questions, strict=True), 1) if q.safety and not r)
    reached = bool(right) and 100 * sum(right) >= sheet.issue.pass_mark * len(right)
    return Mark(sheet, right, sum(right), safety, reached)


def marked(sheets: Iterable[Sheet]) -> tuple[Mark, ...]:
    return tuple(map(mark, sheets))
