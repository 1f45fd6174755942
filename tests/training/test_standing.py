"""Who may do what: a sign-off holds for what was signed, for its months, and never for oneself."""

from __future__ import annotations

import csv
import io
from datetime import date

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st
from tests.training.frame import MODULE, PROCEDURE, library

from kilter.cli import main
from kilter.outcome import CouldNotRunError
from kilter.publish.prepare import prepare
from kilter.publish.training.standing.matrix import matrix, matrix_table, retraining_table
from kilter.publish.training.standing.months import months_later
from kilter.publish.training.standing.signed import COLUMNS, read_rows
from kilter.publish.training.standing.today import documents_today
from kilter.read.library import read_library


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(0, 600))
def test_months_by_the_calendar_as_dateutil_counts_them(day, months):
    assert months_later(day, months) == day + relativedelta(months=months)


def test_the_day_is_clipped():
    assert months_later(date(2028, 2, 29), 12) == date(2029, 2, 28)
    assert months_later(date(2026, 8, 31), 6) == date(2027, 2, 28)


@pytest.fixture
def shop(tmp_path, monkeypatch):
    root = library(tmp_path, MODULE.replace("sessions: 120\n", "sessions: 120\nrevalidate: 12\n"))
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return root


def now(root):
    return documents_today(read_library(root, base=root))


def run(*words, capsys=None):
    return main(["training", *words])


def sign(root, *more, person="P17", on="2026-01-31", observer="TE"):
    known = now(root)["bench-1"]
    return run("sign", person, "--document", "BENCH-1", "--revision", known.revision, "--hash", known.hash, "--observer", observer, "--on", on, *more)  # fmt: skip


def states(root, on):
    rows = read_rows(root.parent / "training.csv")
    return {c.person: c for c in matrix(rows, now(root), date.fromisoformat(on)) if c.document == "BENCH-1"}


def test_the_hash_is_the_one_on_sheets_and_cards(shop):
    (view,) = prepare(shop).views
    assert now(shop)["bench-1"].hash == view.short_hash


def test_signed_due_and_late(shop):
    assert sign(shop) == 0
    assert states(shop, "2026-06-01")["P17"].state == "signed off"
    assert states(shop, "2026-12-31")["P17"].state == "signed off"
    assert states(shop, "2027-01-01")["P17"].state == "due"
    assert states(shop, "2027-05-01")["P17"].due == date(2027, 1, 31)
    assert sign(shop, on="2027-01-20") == 0
    assert states(shop, "2027-02-01")["P17"].state == "signed off"


def test_a_paper_is_not_a_sign_off(shop):
    known = now(shop)["bench-1"]
    assert run("sign", "P3", "--document", "BENCH-1", "--revision", known.revision, "--paper") == 0
    assert states(shop, "2026-06-01")["P3"].state == "trained"


def test_a_changed_value_asks_for_its_step_alone_and_blank_lines_for_none(shop):
    assert sign(shop) == 0
    file = shop / "bench.md"
    file.write_text(PROCEDURE.replace("\n\nTighten", "\n\n\n\nTighten"), encoding="utf-8")
    assert states(shop, "2026-06-01")["P17"].state == "signed off"
    file.write_text(PROCEDURE.replace("22 ± 2", "20–24"), encoding="utf-8")
    assert states(shop, "2026-06-01")["P17"].state == "signed off"
    file.write_text(PROCEDURE.replace("22 ± 2", "23 ± 2"), encoding="utf-8")
    found = states(shop, "2026-06-01")["P17"]
    assert found.state == "out of date"
    assert found.again == ("do-the-work (changed; signed 2026-01-31)",)
    assert sign(shop, "--step", "do-the-work", on="2026-06-01") == 0
    after = states(shop, "2026-06-02")["P17"]
    assert after.state == "signed off" and after.due == date(2027, 1, 31), "the oldest step counts"


def test_changed_words_are_read_and_initialled(shop):
    assert sign(shop) == 0
    (shop / "bench.md").write_text(
        PROCEDURE.replace("Tighten it to", "Tighten the screw to"), encoding="utf-8"
    )
    found = states(shop, "2026-06-01")["P17"]
    assert found.state == "out of date"
    assert found.again == ("do-the-work (words changed, read and initial; signed 2026-01-31)",)


def test_a_step_never_shown_is_named(shop):
    assert sign(shop, "--step", "do-the-work") == 0
    found = states(shop, "2026-06-01")["P17"]
    assert found.state == "out of date" and all(a.endswith("(not signed)") for a in found.again)
    assert len(found.again) == len(now(shop)["bench-1"].steps) - 1


def test_a_step_is_named_by_the_number_that_the_sheet_prints(shop, capsys):
    """The machine's own stages have letters."""
    numbers = now(shop)["bench-1"].numbers
    assert numbers["1.1"] != numbers["a.1"] and set(numbers.values()) == set(now(shop)["bench-1"].steps)
    assert sign(shop, "--step", "A.1", "--step", "1.1", "--step", numbers["1.1"]) == 0
    assert {r.step for r in read_rows(shop.parent / "training.csv")} == {numbers["1.1"], numbers["a.1"]}
    assert sign(shop, "--step", "Q.9") == 2
    assert "no step `Q.9`: write its number as on the sheet" in capsys.readouterr().err


def test_a_sheet_of_another_state_of_the_document_is_refused(shop, capsys):
    known = now(shop)["bench-1"]
    (shop / "bench.md").write_text(PROCEDURE.replace("22 ± 2", "23 ± 2"), encoding="utf-8")
    words = ["sign", "P17", "--document", "BENCH-1", "--observer", "TE"]
    assert run(*words, "--revision", known.revision, "--hash", known.hash) == 2
    assert "has the content hash" in capsys.readouterr().err
    assert run(*words, "--revision", "Z", "--hash", known.hash) == 2
    assert "the sheet says Z" in capsys.readouterr().err
    assert not (shop.parent / "training.csv").exists()


def test_nobody_signs_for_themselves(shop, capsys):
    assert sign(shop, observer="p17") == 2
    assert "somebody else" in capsys.readouterr().err
    assert sign(shop, observer="") == 2


def test_the_same_again_adds_nothing(shop):
    assert sign(shop) == 0
    before = (shop.parent / "training.csv").read_bytes()
    assert sign(shop) == 0
    assert (shop.parent / "training.csv").read_bytes() == before


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("P1,BENCH-1,A,s,0123456789ab,,signed off,2026-13-01,TE,", "date"),
        ("P1,BENCH-1,A,s,0123456789ab,,signed,2026-01-01,TE,", "kind"),
        ("P1,BENCH-1,A,,0123456789ab,,signed off,2026-01-01,TE,", "its step"),
        ("P1,BENCH-1,A,s,0123,,signed off,2026-01-01,TE,", "12 digits"),
        ("P1,BENCH-1,A,s,0123456789ab,,signed off,2026-01-01,P1,", "somebody else"),
        ("P1,BENCH-1,A,s,0123456789ab,,signed off,2026-01-01,,", "somebody else"),
        (",BENCH-1,A,,,,trained,2026-01-01,,", "no person"),
        ("P1,BENCH-1,A,,,,trained,2026-01-01,,x", "months"),
    ],
)
def test_a_wrong_row_is_named_and_nothing_is_guessed(tmp_path, row, said):
    file = tmp_path / "training.csv"
    good = "P9,BENCH-1,A,,,,trained,2026-01-01,,"
    file.write_text(f"{','.join(COLUMNS)}\n{good}\n{row}\n", encoding="utf-8")
    with pytest.raises(CouldNotRunError, match=rf":3: .*{said}"):
        read_rows(file)


def test_matrix_list_and_yearly_sheet_as_tables(shop, capsys):
    sign(shop, person="=P1")
    sign(shop, person="P2", on="2025-01-01")
    capsys.readouterr()
    code = run(
        "matrix", "--on", "2026-06-01", "--to", "matrix.csv", "--again", "again.csv", "--records", "training.csv"
    )  # fmt: skip
    assert code == 1 and "P2" in capsys.readouterr().out
    rows = {r["person"]: r for r in table(shop.parent / "matrix.csv")}
    assert rows["'=P1"]["BENCH-1"] == "signed off until 2027-01-31" and rows["P2"]["BENCH-1"] == "due 2026-01-01"  # fmt: skip
    (again,) = table(shop.parent / "again.csv")
    assert (again["person"], again["state"], again["steps to show again"]) == ("P2", "due", "all")
    assert run("inspection", "BENCH-1", "--to", "year.csv", "--on", "2028-02-29") == 0
    sheet = {r["what"]: r for r in table(shop.parent / "year.csv")}
    assert "from memory" in sheet["source of this sheet"]["entry"]
    assert "employee included: P2 (due)" in sheet and "2029-02-28" in sheet["next inspection at the latest"]["entry"]  # fmt: skip
    assert sheet["machine or equipment"]["entry"]
    assert read_rows(shop.parent / "training.csv")[0].person == "=P1", "what is written reads back as it was"


def table(file):
    return list(csv.DictReader(io.StringIO(file.read_text(encoding="utf-8-sig"), newline="")))


def test_tables_of_nobody_are_headers():
    assert matrix_table(()) == b"\xef\xbb\xbfperson\r\n"
    assert retraining_table(()).count(b"\r\n") == 1


def test_papers_are_marked_from_the_command_line(tmp_path, monkeypatch, capsys):
    from tests.training.papers import quiz

    from kilter.publish.training.packages.wire import canonical

    monkeypatch.chdir(tmp_path)
    (tmp_path / "papers.json").write_text(canonical(quiz(tmp_path)), encoding="utf-8")
    answers = "".join(f"P1,{n},{c}\n" for n, c in enumerate("ABCDB", 1))
    (tmp_path / "answers.csv").write_text(f"person,question,choice\n{answers}", encoding="utf-8")
    words = ["mark", "answers.csv", "--papers", "papers.json", "--to", "r.csv", "--items", "i.csv"]
    assert run(*words) == 0
    said = capsys.readouterr().out
    assert "1 sheet, 1 passed" in said and "80 %" in said
    assert table(tmp_path / "r.csv")[0]["passed"] == "yes" and len(table(tmp_path / "i.csv")) == 5
    (tmp_path / "answers.csv").write_text(f"person,question,choice\nP1,9,A\n{answers}", encoding="utf-8")
    assert run(*words) == 1
    assert "answers.csv:2:" in capsys.readouterr().out
    (tmp_path / "answers.csv").write_text("person,question,choice\nP1,1,A\nP1,2,B\n", encoding="utf-8")
    assert run(*words) == 1
    assert (
        "0 sheets, 0 passed" in (said := capsys.readouterr().out)
        and "P1: no row for questions 3, 4, 5" in said
    )
    assert table(tmp_path / "r.csv") == []
    assert run(*words, "--absent", "wrong") == 1
    assert "40 %" in (said := capsys.readouterr().out) and "P1: no row for questions 3, 4, 5" in said
