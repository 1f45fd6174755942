"""Answers as they come in: tables from paper, receipts and saved lines from the package."""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from kilter.diagnostic import did_you_mean
from kilter.outcome import CouldNotRunError
from kilter.publish.training.marking.issue import Asked, Form, Issue, find_paper
from kilter.publish.training.questions.model import LETTERS

COLUMNS = ("person", "paper", "question", "choice")
RECEIPT, ATTEMPT = "KTR1", "k1"
CHECK = 8
"""Hex digits at the end of a receipt."""


@dataclass(frozen=True)
class Sheet:
    """The answers of one person to one paper."""

    person: str
    """A short code, no name."""
    issue: Issue
    paper: Form
    answers: tuple[int | None, ...]
    """Index of the choice for each question, in the order of the paper."""
    attempt: int = 0
    absent: tuple[int, ...] = ()
    """Numbers, from 1, of questions that no row says anything about; a row without a choice is an answer."""

    @property
    def lacks(self) -> str:
        """What is missing, for people."""
        which = ", ".join(map(str, self.absent))
        return f"no row for question{'' if len(self.absent) == 1 else 's'} {which} of {self.paper.code}"


@dataclass(frozen=True)
class Problem:
    """A line that can't be taken as it is."""

    file: Path
    line: int
    words: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.words}"


def read_answers(
    files: Sequence[Path], issues: Sequence[Issue]
) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    """Everything that can be read, and what can't. Raises CouldNotRunError for a file that is none."""
    sheets: dict[tuple[str, str, int], Sheet] = {}
    problems: list[Problem] = []
    for file in files:
        try:
            text = file.read_text(encoding="utf-8-sig")
        except FileNotFoundError:
            raise CouldNotRunError(f"{file}: no such file") from None
        except (UnicodeDecodeError, IsADirectoryError) as trouble:
            raise CouldNotRunError(f"{file}: no text in UTF-8: {trouble}") from None
        lines = text.lstrip().startswith((f"{RECEIPT};", f"{ATTEMPT};"))
        for found in _receipts(file, text, issues) if lines else _table(file, text, issues):
            if isinstance(found, Problem):
                problems.append(found)
            else:
                key = (found.person, found.paper.code, found.attempt)
                before = sheets.setdefault(key, found)
                if before.answers != found.answers:
                    problems.append(
                        Problem(file, 1, f"{found.person} has answered {found.paper.code} twice, differently")
                    )
    problems.sort(key=lambda p: (files.index(p.file), p.line))
    return tuple(sheets[key] for key in sorted(sheets)), tuple(problems)


def _table(file: Path, text: str, issues: Sequence[Issue]) -> Iterator[Sheet | Problem]:
    first = text.split("\n", 1)[0]
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=";" if first.count(";") > first.count(",") else ",")  # fmt: skip
    header = [c.strip().casefold() for c in next(rows, [])]
    wanted = [c for c in COLUMNS if c != "paper"]
    missing = [c for c in wanted if c not in header]
    if missing:
        near = did_you_mean(missing[0], header) if header else ""
        raise CouldNotRunError(
            f"{file}:1: no column `{missing[0]}`; the first line has to name person, paper, question, choice; {near}"
        )
    given: dict[tuple[str, str], dict[int, tuple[int | None, int]]] = {}
    place: dict[tuple[str, str], tuple[Issue, Form]] = {}
    unknown: dict[str, list[int]] = {}
    for row in rows:
        line = rows.line_num
        if not any(cell.strip() for cell in row):
            continue
        cells = {name: row[n].strip() if n < len(row) else "" for n, name in enumerate(header)}
        code = cells.get("paper", "")
        if cells["person"] and find_paper(issues, code) is None:
            unknown.setdefault(code, []).append(line)
            continue
        found = _row(cells, issues)
        if isinstance(found, str):
            yield Problem(file, line, found)
            continue
        issue, paper, number, choice = found
        key = (cells["person"], paper.code)
        place[key] = issue, paper
        before = given.setdefault(key, {}).get(number)
        if before is not None and before[0] != choice:
            yield Problem(
                file,
                line,
                f"{key[0]} has answered question {number + 1} already in line {before[1]}, otherwise",
            )
            continue
        given[key][number] = choice, line
    codes = [p.code for i in issues for p in i.papers]
    for code, lines in unknown.items():
        more = f" ({len(lines)} rows)" if len(lines) > 1 else ""
        yield Problem(file, lines[0], f"no paper `{code}`{more}: {did_you_mean(code, codes)}")
    for (person, _), answers in given.items():
        issue, paper = place[person, _]
        asked = range(len(paper.questions))
        chosen = tuple(answers.get(n, (None, 0))[0] for n in asked)
        absent = tuple(n + 1 for n in asked if n not in answers)
        sheet = Sheet(person, issue, paper, chosen, absent=absent)
        yield sheet
        if absent:
            yield Problem(file, max(line for _, line in answers.values()), f"{person}: {sheet.lacks}")


def _row(cells: dict[str, str], issues: Sequence[Issue]) -> tuple[Issue, Form, int, int | None] | str:
    if not cells["person"]:
        return "no person: write a short code, such as P17"
    found = find_paper(issues, cells.get("paper", ""))
    if found is None:
        codes = [p.code for i in issues for p in i.papers]
        return f"no paper `{cells.get('paper', '')}`: {did_you_mean(cells.get('paper', ''), codes)}"
    issue, paper = found
    number = _number(cells["question"], paper.questions)
    if number is None:
        return f"paper {paper.code} has no question `{cells['question']}`: write its number from 1 to {len(paper.questions)}, or its id"
    choice = cells["choice"].upper()
    if not choice:
        return issue, paper, number, None
    last = len(paper.questions[number].choices)
    if len(choice) != 1 or choice not in LETTERS[:last]:
        return f"no choice `{cells['choice']}` in question {number + 1}: write A to {LETTERS[last - 1]}, or nothing"  # fmt: skip
    return issue, paper, number, LETTERS.index(choice)


def _number(said: str, questions: Sequence[Asked]) -> int | None:
    if said.isdecimal():
        return int(said) - 1 if 1 <= int(said) <= len(questions) else None
    return next((n for n, q in enumerate(questions) if said in (q.id, q.wire)), None)


def _receipts(file: Path, text: str, issues: Sequence[Issue]) -> Iterator[Sheet | Problem]:
    for line, row in enumerate(text.splitlines(), 1):
        if row.strip():
            found = _receipt(row.strip(), issues)
            yield Problem(file, line, found) if isinstance(found, str) else found


def _receipt(row: str, issues: Sequence[Issue]) -> Sheet | str:
    """`KTR1;k1;module;revision;digest;paper;answers;attempt;state;person;percent;verdict;time;check`."""
    parts = row.split(";")
    if len(parts) != 14 or parts[0] != RECEIPT or parts[1] != ATTEMPT:
        return "no receipt: it begins with KTR1;k1; and has 14 parts between semicolons"
    said, check = row.rpartition(";")[::2]
    if hashlib.sha256(said.encode()).hexdigest()[:CHECK] != check.casefold():
        return "this receipt was not copied as it stood: its last eight digits do not fit the rest"
    _, _, module, revision, digest, code, given, attempt, _, person, *_ = parts
    issue = next((i for i in issues if (i.module, i.revision, i.digest) == (module, revision, digest)), None)
    paper = issue.paper(code) if issue else None
    if issue is None or paper is None:
        return f"of {module} {revision} with other questions ({digest}) than the papers given"
    if len(given) != len(paper.questions) or not attempt.isdecimal():
        return f"paper {code} has {len(paper.questions)} questions, the receipt answers {len(given)}"
    answers: list[int | None] = []
    for sign, question in zip(given, paper.questions, strict=True):
        if sign != "-" and not (sign in "01234567" and int(sign) < len(question.choices)):
            return f"answer `{sign}` is no choice"
        answers.append(None if sign == "-" else int(sign))
    return Sheet(person, issue, paper, tuple(answers), int(attempt))
