"""`kilter training`: marking, records of training, the yearly inspection."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from kilter.diagnostic import nearest
from kilter.outcome import FINDINGS, OK, CouldNotRunError

if TYPE_CHECKING:
    from kilter.publish.training.standing.today import Document

RECORDS = Path("training.csv")


def add(actions: Any) -> None:
    """The actions, after those of the modules."""
    mark = actions.add_parser("mark", help="mark papers: tables of answers, receipts of the package")
    mark.add_argument("answers", nargs="+", type=Path, metavar="FILE", help="CSV with person, paper, question, choice; or receipts, one a line")  # fmt: skip
    mark.add_argument("--papers", nargs="+", type=Path, metavar="FILE", help="an issue, or papers.json of a build (default: all that `training issue` has kept)")  # fmt: skip
    mark.add_argument("--absent", choices=("hold", "wrong"), default="hold", help="a sheet without a row for every question: named and not marked (default), or named and counted as not answered")  # fmt: skip
    mark.add_argument("--judges", type=Path, metavar="CSV", help="judge, question, probability: also say the cut")  # fmt: skip
    mark.add_argument("--to", type=Path, metavar="CSV", help="write the results, one row a sheet")
    mark.add_argument("--items", type=Path, metavar="CSV", help="write the questions, one row a fact")
    mark.set_defaults(action=_mark)
    sign = actions.add_parser("sign", help="keep that somebody was signed off on a document, or passed a paper")  # fmt: skip
    sign.add_argument("person", nargs="+", help="short codes, no names")
    sign.add_argument("--document", required=True, metavar="NUMBER")
    sign.add_argument("--revision", required=True, help="as it stands on the sheet")
    sign.add_argument(
        "--hash",
        default="",
        metavar="DIGITS",
        help="12 digits of the document's content hash, below the sheet's title",
    )
    sign.add_argument("--observer", default="", help="short code of who watched; nobody signs for themselves")
    sign.add_argument("--step", action="append", metavar="STEP", help="only this step was shown: its number on the sheet, such as A.1; may be repeated")  # fmt: skip
    sign.add_argument("--paper", action="store_true", help="a paper was passed; nothing was shown")
    sign.add_argument("--months", type=int, help="until it has to be shown again (default: as the module says)")  # fmt: skip
    _common(sign)
    sign.set_defaults(action=_sign)
    matrix = actions.add_parser("matrix", help="people by documents: who is trained, signed off, due, out of date")  # fmt: skip
    matrix.add_argument("--to", type=Path, metavar="CSV", help="write the matrix")
    matrix.add_argument("--again", type=Path, metavar="CSV", help="write what has to be shown again")
    _common(matrix)
    matrix.set_defaults(action=_matrix)
    yearly = actions.add_parser("inspection", help="write the sheet for the yearly inspection of a document")
    yearly.add_argument("document", metavar="NUMBER")
    yearly.add_argument("--to", type=Path, required=True, metavar="CSV")
    _common(yearly)
    yearly.set_defaults(action=_inspection)


def _common(action: argparse.ArgumentParser) -> None:
    action.add_argument("--records", type=Path, default=RECORDS, metavar="CSV", help=f"records of training (default: {RECORDS} here)")  # fmt: skip
    action.add_argument("--on", type=date.fromisoformat, default=None, metavar="DATE", help="as of this day, such as 2026-11-28 (default: today)")  # fmt: skip


def _mark(given: argparse.Namespace) -> int:
    from kilter.publish.training.marking.answers import read_answers
    from kilter.publish.training.marking.issue import read_issue
    from kilter.publish.training.marking.items import items
    from kilter.publish.training.marking.judges import read_cuts
    from kilter.publish.training.marking.marks import marked
    from kilter.publish.training.marking.report import items_table, report, results_table

    issues = [read_issue(file) for file in given.papers or _issued()]
    sheets, problems = read_answers(given.answers, issues)
    for problem in problems:
        print(problem)
    if not sheets:
        raise CouldNotRunError("no sheet could be read")
    cuts = read_cuts(given.judges, issues) if given.judges else ()
    held = [s for s in sheets if s.absent and given.absent == "hold"]
    marks = marked(s for s in sheets if s not in held)
    print(report(marks, cuts, held))
    if given.to:
        _write(given.to, results_table(marks))
    if given.items:
        _write(given.items, items_table(items(marks)))
    return FINDINGS if problems else OK


def _issued() -> list[Path]:
    from kilter.publish.training.issued import archive_of, issues_in
    from kilter.read.library import library_root

    folder = archive_of(library_root(Path.cwd()))
    found = [i.file for i in issues_in(folder)]
    if not found:
        raise CouldNotRunError(
            f"{folder}: no papers were issued; give --papers, and next time `kilter training issue NUMBER` before you print"
        )
    return found


def _sign(given: argparse.Namespace) -> int:
    from kilter.publish.training.standing.signed import PAPER, SIGNED, Row, read_rows, with_new, write_rows

    document = _document(_documents(), given.document)
    if document.revision.casefold() != given.revision.casefold():
        raise CouldNotRunError(
            f"{document.number} is revision {document.revision} here, the sheet says {given.revision}: "
            "what was shown is not what the document asks for now"
        )
    if not given.paper and given.hash.casefold() != document.hash:
        raise CouldNotRunError(
            f"{document.number} has the content hash {document.hash} here, not `{given.hash}`: give --hash as it stands "
            "below the title of the sheet (the one in its head is the module's); if the document has changed since, write the rows by hand with the facts' digits of the sheet"
        )
    if given.paper and given.step:
        raise CouldNotRunError("a paper shows no step: leave out --paper or --step")
    if not given.paper and not given.observer:
        raise CouldNotRunError("what is shown is watched by somebody: give --observer")
    for person in given.person:
        if person.casefold() == given.observer.casefold():
            raise CouldNotRunError(f"{person} can't sign for themselves: the observer is somebody else")
    lost = [s for s in given.step or () if not document.step(s)]
    if lost:
        like = nearest(lost[0], document.steps) or next(iter(document.numbers), "2.1").upper()
        raise CouldNotRunError(
            f"{document.number} has no step `{lost[0]}`: write its number as on the sheet, or its title in small letters with hyphens, such as `{like}`"
        )
    shown = [document.step(s) for s in given.step or document.steps]
    steps = [""] if given.paper else list(dict.fromkeys(shown))
    day, kind = given.on or date.today(), PAPER if given.paper else SIGNED
    new = [
        Row(p, document.number, document.revision, s, document.steps.get(s, ""), kind, day, given.observer, given.months, document.facts.get(s, ""))
        for p in given.person
        for s in steps
    ]  # fmt: skip
    before = read_rows(given.records) if given.records.exists() else ()
    after = with_new(before, new)
    write_rows(given.records, after)
    whole = "" if given.paper or given.step else f", all {len(steps)} steps of the sheet for each"
    added = len(after) - len(before)
    print(f"{given.records}: {added} row{'' if added == 1 else 's'} added{whole}, {len(after)} in all")
    return OK


def _matrix(given: argparse.Namespace) -> int:
    from kilter.publish.training.standing.matrix import (  # fmt: skip
        DUE,
        OUT_OF_DATE,
        matrix,
        matrix_table,
        retraining_table,
    )
    from kilter.publish.training.standing.signed import read_rows

    rows = read_rows(given.records)
    documents = _documents()
    for gone in sorted({r.document for r in rows if r.document.casefold() not in documents}):
        print(f"{given.records}: {gone} is no document of this library any more")
    cells = matrix(rows, documents, given.on or date.today())
    for each in cells:
        if each.state != "not trained":
            until = f", due {each.due.isoformat()}" if each.due else ""
            again = f": {'; '.join(each.again)}" if each.again else ""
            print(f"{each.person:<12} {each.document:<12} {each.state}{until}{again}")
    if given.to:
        _write(given.to, matrix_table(cells))
    if given.again:
        _write(given.again, retraining_table(cells))
    return FINDINGS if any(c.state in (DUE, OUT_OF_DATE) for c in cells) else OK


def _inspection(given: argparse.Namespace) -> int:
    from kilter.publish.training.standing.matrix import matrix
    from kilter.publish.training.standing.signed import read_rows
    from kilter.publish.training.standing.yearly import inspection_sheet

    documents = _documents()
    document = _document(documents, given.document)
    today = given.on or date.today()
    rows = read_rows(given.records) if given.records.exists() else ()
    _write(given.to, inspection_sheet(document, matrix(rows, documents, today), today))
    return OK


def _documents() -> dict[str, Document]:
    from kilter.publish.training.standing.today import documents_today
    from kilter.read.library import library_root, read_library

    return documents_today(read_library(library_root(Path.cwd())))


def _document(documents: dict[str, Document], number: str) -> Document:
    from kilter.diagnostic import did_you_mean

    found = documents.get(number.casefold())
    if found is None:
        raise CouldNotRunError(f"no document `{number}`: {did_you_mean(number, [d.number for d in documents.values()])}")  # fmt: skip
    return found


def _write(file: Path, data: bytes) -> None:
    aside = file.with_name(f".{file.name}.part")
    try:
        aside.write_bytes(data)
        aside.replace(file)
    except OSError as trouble:
        raise CouldNotRunError(f"{file}: can't be written: {trouble}") from None
    print(f"wrote {file}")
