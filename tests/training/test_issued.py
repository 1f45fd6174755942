"""What was handed out is kept, found again by the code on the paper, and a build says when the facts have moved on."""

from __future__ import annotations

import importlib
import zipfile
from datetime import date

import pytest
from tests.training.frame import MODULE, PROCEDURE, library

from kilter.check.module import ModuleContext
from kilter.cli import main
from kilter.outcome import CouldNotRunError
from kilter.publish.build import _drifted
from kilter.publish.training.issued import FOLDER, archive_of, drift, issues_in, papers_of
from kilter.publish.training.packages import package_files
from kilter.publish.training.questions import bank, papers
from kilter.publish.training.taught import Taught
from kilter.read.library import read_library

CHANGED = PROCEDURE.replace("22 ± 2", "23 ± 2")


@pytest.fixture
def shop(tmp_path, monkeypatch):
    root = library(
        tmp_path, MODULE.replace("sessions: 120\n", "sessions: 120\npaper: {questions: 3, forms: 2}\n")
    )
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    # those that check copies of a document take the most time, and what is issued hangs on none of them
    monkeypatch.setattr(importlib.import_module("kilter.publish.training.questions.bank"), "missing_questions", lambda subject: ())  # fmt: skip
    built(root)
    return root


def now(root):
    found = read_library(root, base=root)
    (module,) = found.modules.values()
    context = ModuleContext(found, module)
    return context, papers(bank(context), module.front)


def built(root):
    """What a build puts there, but for the sheets."""
    own = root.parent / "out" / "training" / "trn-1"
    own.mkdir(parents=True, exist_ok=True)
    for name, data in package_files(*now(root)).items():
        (own / name).write_bytes(data)


def issue(on="2026-11-28"):
    return main(["training", "issue", "TRN-1", "--on", on])


def told(root):
    context, forms = now(root)
    return list(_drifted(root.parent, [Taught(context.module, context, {}, forms)]))


def test_an_issue_is_kept_once_and_with_the_library(shop, capsys):
    assert issue() == 0 and issue("2026-12-01") == 0
    assert "was issued on 2026-11-28 already" in capsys.readouterr().out
    (kept,) = issues_in(archive_of(shop))
    assert (kept.module, kept.revision, kept.day) == ("TRN-1", "A", date(2026, 11, 28))
    assert kept.file.parent == shop.parent / FOLDER
    with zipfile.ZipFile(kept.file) as archive:
        assert archive.namelist() == ["papers.json", "trn-1-scorm12.zip"]
    assert papers_of(kept.file)["digest"] == kept.digest


def test_answers_are_marked_by_the_issue_that_their_paper_belongs_to(shop, capsys):
    """The value changes, the paper is built and issued anew; a sheet of the old one is still marked by the old key."""
    issue()
    old = now(shop)[1][0]
    (shop / "bench.md").write_text(CHANGED, encoding="utf-8")
    built(shop)
    assert issue("2026-12-01") == 0
    new = now(shop)[1][0]
    assert old.code != new.code and len(issues_in(archive_of(shop))) == 2
    rows = [
        f"P{n},{p.code},{at},{q.letter}"
        for n, p in enumerate((old, new))
        for at, q in enumerate(p.questions, 1)
    ]
    (shop.parent / "a.csv").write_text("\n".join(["person,paper,question,choice", *rows]), encoding="utf-8")
    assert main(["training", "mark", "a.csv"]) == 0
    said = capsys.readouterr().out
    assert "2 sheets, 2 passed" in said and old.code in said and new.code in said


def test_a_build_says_when_what_was_issued_is_no_longer_what_the_facts_give(shop):
    assert told(shop) == []
    issue()
    assert told(shop) == []
    (shop / "bench.md").write_text(CHANGED, encoding="utf-8")
    (said,) = told(shop)
    assert "issued on 2026-11-28" in said and "are not asked so any more" in said and FOLDER in said
    (kept,) = issues_in(archive_of(shop))
    assert drift(kept, now(shop)[1]) == said
    kept.file.write_bytes(kept.file.read_bytes()[:-40])
    assert "no issue of papers" in told(shop)[0]


def test_what_was_not_built_from_the_documents_as_they_are_is_not_issued(shop, capsys):
    (shop / "bench.md").write_text(CHANGED, encoding="utf-8")
    assert issue() == 2
    assert "are not what the documents give now" in capsys.readouterr().err
    (shop.parent / "out" / "training" / "trn-1" / "papers.json").unlink()
    assert issue() == 2
    assert "run `kilter build` first" in capsys.readouterr().err
    assert not archive_of(shop).exists()


def test_without_an_issue_marking_says_what_is_wanting(shop, capsys):
    (shop.parent / "a.csv").write_text("person,question,choice\nP1,1,A\n", encoding="utf-8")
    assert main(["training", "mark", "a.csv"]) == 2
    assert "no papers were issued" in capsys.readouterr().err


def test_a_changed_issue_is_refused(shop):
    issue()
    (kept,) = issues_in(archive_of(shop))
    data = bytearray(kept.file.read_bytes())
    at = data.index(b'"passMark":80') + len('"passMark":')
    data[at : at + 2] = b"10"
    kept.file.write_bytes(data)
    with pytest.raises(CouldNotRunError, match="spoilt"):
        papers_of(kept.file)
