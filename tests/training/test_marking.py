"""Statistics against published examples and numpy/scipy; the gates by the size of a class; what comes in and what is refused."""

from __future__ import annotations

import csv
import io
import json
import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from tests.publish.site_browser import need_browser
from tests.run.frame import call, modules
from tests.training.papers import quiz

from kilter.outcome import CouldNotRunError
from kilter.publish.training.marking.answers import Sheet, read_answers
from kilter.publish.training.marking.issue import issue_of, read_issue
from kilter.publish.training.marking.items import items, reliability
from kilter.publish.training.marking.judges import read_cuts
from kilter.publish.training.marking.marks import mark, marked
from kilter.publish.training.marking.report import items_table, report, results_table
from kilter.publish.training.marking.statistics import (
    alpha,
    angoff,
    correlation_interval,
    item_rest,
    kr20,
    variance,
    wilson,
)

WUENSCH = [
    [int(c) for c in row]
    for row in (
        "1111110110", "1011011101", "1111011001", "0010001000", "0000010010",
        "1110111111", "1101110111", "1111111101", "0101111101", "1101101110",
    )
]  # fmt: skip
"""Ten students, ten items: K. Wuensch, "KR20", East Carolina University (StatHelp/KR20.txt)."""


def test_kr20_of_the_published_example():
    """Sum of pq 2.18 and variance 5.84 are printed there; 10/9 (1 - 2.18/5.84) = 0.696347."""
    totals = [sum(row) for row in WUENSCH]
    shares = [sum(row[i] for row in WUENSCH) / 10 for i in range(10)]
    assert sum(p * (1 - p) for p in shares) == pytest.approx(2.18)
    assert variance(totals) == pytest.approx(5.84)
    assert kr20(WUENSCH) == pytest.approx(0.696347, abs=5e-7)
    assert alpha(WUENSCH) == pytest.approx(0.696347, abs=5e-7)


def test_the_wrong_divisor_would_be_seen():
    """pq over n with the total over n - 1 gives 0.7378: a much-read tutorial computes that way."""
    totals = [sum(row) for row in WUENSCH]
    shares = [sum(row[i] for row in WUENSCH) / 10 for i in range(10)]
    mixed = 10 / 9 * (1 - sum(p * (1 - p) for p in shares) / variance(totals, 1))
    assert mixed == pytest.approx(0.7378, abs=5e-5)
    assert abs(mixed - kr20(WUENSCH)) > 0.04


def test_alpha_of_a_printed_example():
    """Three items, four people, item variances 1.6667 0.9167 1.6667 and total 12.25 as printed in a tutorial."""
    rows = [[4, 5, 4], [3, 4, 3], [5, 5, 5], [2, 3, 2]]
    assert [round(variance([r[i] for r in rows], 1), 4) for i in range(3)] == [1.6667, 0.9167, 1.6667]
    assert variance([sum(r) for r in rows], 1) == pytest.approx(12.25)
    assert alpha(rows) == pytest.approx(0.979592, abs=5e-7)


def test_an_item_is_held_against_the_others_never_against_itself():
    """Item 9 of the example: 0.083 with itself in the total, -0.124 without."""
    found = [item_rest(WUENSCH, n) for n in range(10)]
    for n, r in enumerate(found):
        rest = [sum(row) - row[n] for row in WUENSCH]
        assert r == pytest.approx(stats.pointbiserialr([row[n] for row in WUENSCH], rest).statistic, abs=1e-12)  # fmt: skip
    assert found[8] == pytest.approx(-0.1236, abs=5e-5)
    assert found[2] == pytest.approx(0.0, abs=1e-12)


def test_point_biserial_of_a_printed_example():
    """Brown, "Point-biserial correlation coefficients" (JALT): .91 is printed, 0.904534 computed; over n - 1 0.846."""
    from kilter.publish.training.marking.statistics import correlation

    r = correlation([1, 1, 1, 1, 0, 0, 0, 0], [50, 45, 45, 40, 35, 30, 30, 25])
    assert r == pytest.approx(0.904534, abs=5e-7) and abs(r - 0.91) < 0.006


@given(st.lists(st.lists(st.integers(0, 1), min_size=4, max_size=4), min_size=4, max_size=40))
def test_against_numpy(rows):
    made, array = kr20(rows), np.array(rows, float)
    total = array.sum(1).var()
    if total == 0:
        assert made is None
    else:
        p = array.mean(0)
        assert made == pytest.approx(4 / 3 * (1 - (p * (1 - p)).sum() / total), abs=1e-9)
        assert alpha(rows) == pytest.approx(made, abs=1e-9)


@given(st.integers(1, 400), st.data())
def test_wilson_against_scipy(of, data):
    right = data.draw(st.integers(0, of))
    reference = stats.binomtest(right, of).proportion_ci(0.95, "wilson")
    assert wilson(right, of) == pytest.approx((reference.low, reference.high), abs=1e-9)


def test_correlation_interval_against_scipy():
    rng = random.Random(7)
    x = [rng.random() for _ in range(30)]
    y = [a + rng.random() for a in x]
    found = stats.pearsonr(x, y)
    reference = found.confidence_interval(0.95)
    assert correlation_interval(float(found.statistic), 30) == pytest.approx((reference.low, reference.high))


def test_angoff_rounds_up_and_needs_three_judges():
    """Sums 3.50, 3.45, 3.50: 3.483, standard error 0.017 (own numbers; no published example with figures is known)."""
    cut = angoff([[0.7, 0.6, 0.8, 0.9, 0.5], [0.6, 0.5, 0.8, 0.95, 0.6], [0.8, 0.7, 0.7, 0.9, 0.4]])
    assert (round(cut.mean, 3), round(cut.error, 3), cut.whole, cut.is_cut) == (3.483, 0.017, 4, True)
    assert not angoff([[0.5, 0.5], [0.5, 0.5]]).is_cut
    assert angoff([[0.5, 0.5]]).whole == 1 and angoff([[0.5, 0.5]]).error is None


@pytest.fixture
def issue(tmp_path):
    return issue_of(quiz(tmp_path, forms=2))


def table(issue, people, first="person,paper,question,choice"):
    rows = [first]
    for person, (paper, answers) in people.items():
        rows += [f"{person},{paper},{n},{choice}" for n, choice in enumerate(answers, 1)]
    return "\n".join(rows) + "\n"


def test_a_table_is_marked_by_question_and_safety(tmp_path, issue):
    file = tmp_path / "answers.csv"
    people = {"P1": ("TRN-1-A-A1-00000A", "ABCDA"), "P2": ("TRN-1-A-A1-00000A", "ADCDA"), "P3": ("trn-1-a-b1-00000b", "BCDAA")}  # fmt: skip
    file.write_text(table(issue, people), encoding="utf-8")
    sheets, problems = read_answers([file], [issue])
    assert problems == ()
    found = {m.sheet.person: m for m in marked(sheets)}
    assert (found["P1"].percent, found["P1"].passed) == (100, True)
    assert (found["P2"].percent, found["P2"].passed, found["P2"].safety) == (80, False, (2,))
    assert (found["P3"].percent, found["P3"].passed) == (100, True)
    assert found["P2"].failing == () and replace(found["P2"], right=(False,) * 5).failing == ("tighten",)
    rows = list(csv.DictReader(io.StringIO(results_table(marked(sheets)).decode("utf-8-sig"))))
    assert [(r["person"], r["passed"]) for r in rows] == [("P1", "yes"), ("P2", "no"), ("P3", "yes")]


def test_what_can_not_be_read_is_named_with_its_line(tmp_path, issue):
    file = tmp_path / "answers.csv"
    file.write_text(
        "Person;Paper;Question;Choice\nP1;TRN-1-A-A1-00000A;1;A\nP1;TRN-1-A-A1-00000A;9;A\nP1;TRN-1-A-A1-00000A;2;F\n"
        ";TRN-1-A-A1-00000A;2;A\nP1;TRN-1-A-A1-0000;2;A\n\nP1;TRN-1-A-A1-00000A;1;B\nP1;TRN-1-A-A1-00000A;2;\n",
        encoding="utf-8",
    )
    sheets, problems = read_answers([file], [issue])
    assert [p.line for p in problems] == [3, 4, 5, 6, 8, 9]
    assert "P1: no row for questions 3, 4, 5 of TRN-1-A-A1-00000A" in str(problems[5])
    assert "from 1 to 5" in str(problems[0]) and "A to D" in str(problems[1])
    assert "TRN-1-A-A1-00000A" in str(problems[3])
    (sheet,) = sheets
    assert sheet.answers == (0, None, None, None, None) and not mark(sheet).passed
    assert sheet.absent == (3, 4, 5), "a row without a choice is an answer, no row is none"
    assert "NOT MARKED" in report((), (), [sheet])


def test_a_paper_that_nobody_knows_is_told_once(tmp_path, issue):
    file = tmp_path / "answers.csv"
    rows = "".join(f"P{p},TRN-1-A-A1-0000,{q},A\n" for p in (1, 2) for q in (1, 2))
    file.write_text(f"person,paper,question,choice\n{rows}", encoding="utf-8")
    _, (problem,) = read_answers([file], [issue])
    assert problem.line == 2
    assert "no paper `TRN-1-A-A1-0000` (4 rows): did you mean `TRN-1-A-A1-00000A`?" in str(problem)


def test_a_table_without_its_columns_is_refused(tmp_path, issue):
    file = tmp_path / "answers.csv"
    file.write_text("name,question,choice\n", encoding="utf-8")
    with pytest.raises(CouldNotRunError, match="no column `person`"):
        read_answers([file], [issue])
    with pytest.raises(CouldNotRunError, match="no such file"):
        read_answers([tmp_path / "gone.csv"], [issue])


@pytest.mark.browser
def test_phone_and_workshop_agree_and_a_slip_of_the_pen_is_seen(tmp_path):
    need_browser()
    data = quiz(tmp_path, forms=2)
    issue = issue_of(data)
    rng = random.Random(3)
    given = ["".join(rng.choice("0123-") for _ in range(5)) for _ in range(200)]
    given[:3] = ["01230", "12300", "0-230"]
    with modules() as page:
        body = """(m, {quiz, given}) => given.map((answers, n) => {
          const attempt = {paper: quiz.papers[n % 2], answers: [...answers], attempt: n % 3, done: true};
          const mark = m.markAttempt(quiz, attempt);
          return [m.receiptLine(quiz, attempt, `P${n}`, "2026-11-28T10:00:00+01:00"), mark.percent, mark.passed];
        })"""
        lines = call(page, "quizattempt.js", body, {"quiz": data, "given": given})
    file = tmp_path / "receipts.txt"
    file.write_text("\n".join(line for line, *_ in lines), encoding="utf-8")
    sheets, problems = read_answers([file], [issue])
    assert problems == () and len(sheets) == 200
    by_person = {m.sheet.person: m for m in marked(sheets)}
    for n, (_, percent, passed) in enumerate(lines):
        assert (by_person[f"P{n}"].percent, by_person[f"P{n}"].passed) == (percent, passed)
    assert by_person["P0"].passed and by_person["P1"].passed and not by_person["P2"].passed
    slips = 0
    for line, *_ in lines[:50]:
        at = rng.randrange(len("KTR1"), len(line))
        file.write_text(line[:at] + ("x" if line[at] != "x" else "y") + line[at + 1 :], encoding="utf-8")
        slips += bool(read_answers([file], [issue])[1])
    assert slips == 50


def class_of(issue, people, seed=1):
    rng = random.Random(seed)
    found = []
    for n in range(people):
        able = rng.random()
        paper = issue.papers[0]
        answers = tuple(
            q.key if rng.random() < 0.3 + 0.6 * able else rng.choice([c for c in range(4) if c != q.key])
            for q in paper.questions
        )
        found.append(Sheet(f"P{n:03}", issue, paper, answers))
    return marked(found)


def test_small_classes_are_told_little(issue):
    small, middle, large = (items(class_of(issue, n)) for n in (19, 20, 60))
    assert all(i.r is None and i.flags == () for i in small)
    assert all(i.r is not None and i.r_interval[0] < i.r < i.r_interval[1] for i in middle)
    assert all(i.flags == () for i in middle) and {i.answers for i in large} == {60}
    assert reliability(class_of(issue, 29)) == {} and len(reliability(class_of(issue, 30))) == 1
    assert "not shown below 30" in report(class_of(issue, 29))
    assert "KR-20" in report(class_of(issue, 30))


def test_a_question_with_a_wrong_key_is_flagged_from_fifty_answers(issue):
    """Those who know the rest take another choice than the key."""
    paper = issue.papers[0]
    rng, made = random.Random(5), []
    for n in range(60):
        able = n % 2 == 0
        rest = [q.key if rng.random() < (0.95 if able else 0.3) else (q.key + 1) % 4 for q in paper.questions]
        rest[0] = 2 if able else paper.questions[0].key
        made.append(Sheet(f"P{n}", issue, paper, tuple(rest)))
    found = {i.fact: i for i in items(marked(made))}["fact 0"]
    assert found.r < 0 and any("second right answer" in f for f in found.flags)
    assert any("taken more by the better half" in f for f in found.flags)
    assert any("taken by nobody" in f for f in found.flags)
    raw = items_table(items(marked(made))).decode("utf-8-sig")
    row = next(r for r in csv.DictReader(io.StringIO(raw)) if r["fact"] == "fact 0")
    assert float(row["discrimination"]) < 0


def test_a_changed_fact_starts_a_new_count(tmp_path, issue):
    data = quiz(tmp_path, forms=2)
    data["papers"][0]["questions"][0]["cite"]["hash"] = "ffffffffffff"
    other = issue_of(data)
    both = items([*class_of(issue, 4), *class_of(other, 3, seed=9)])
    assert sorted((i.hash, i.answers) for i in both if i.fact == "fact 0") == [("0123456789ab", 4), ("ffffffffffff", 3)]  # fmt: skip
    assert {i.answers for i in both if i.fact != "fact 0"} == {7}


def test_judges_from_a_table(tmp_path, issue):
    file = tmp_path / "judges.csv"
    rows = [(j, q.id, p) for j, ps in enumerate(([0.7, 0.6, 0.8, 0.9, 0.5], [0.6, 0.5, 0.8, 0.95, 0.6], [0.8, 0.7, 0.7, 0.9, 0.4])) for q, p in zip(issue.papers[0].questions, ps, strict=True)]  # fmt: skip
    file.write_text(
        "judge,question,probability\n" + "".join(f"J{j},{q},{p}\n" for j, q, p in rows), encoding="utf-8"
    )
    cuts = dict(read_cuts(file, [issue]))
    assert cuts["TRN-1-A-A1-00000A"].whole == 4 and cuts["TRN-1-A-B1-00000B"].judges == 3
    assert "that is 4 right" in report(class_of(issue, 3), tuple(cuts.items()))
    file.write_text("judge,question,probability\nJ,x,1.2\n", encoding="utf-8")
    with pytest.raises(CouldNotRunError, match="from 0 to 1"):
        read_cuts(file, [issue])


def test_papers_that_are_none_are_refused(tmp_path):
    file = tmp_path / "papers.json"
    for text in ("", "[]", "{}", json.dumps({"schema": "kilter-quiz-9"})):
        file.write_text(text, encoding="utf-8")
        with pytest.raises(CouldNotRunError):
            read_issue(file)
