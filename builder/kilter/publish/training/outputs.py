"""Everything that a module gives: sheets to print, packages, papers; made from the documents as they are now."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from kilter.check.module import ModuleContext
from kilter.model.base import fold
from kilter.model.library import Library
from kilter.model.training import Module
from kilter.publish.training.packages import package_files, package_names
from kilter.publish.training.packages.practice import practice
from kilter.publish.training.paper.make import Sheet, pdf_of, sheets_of
from kilter.publish.training.questions import allowed, bank, papers
from kilter.publish.training.taught import Taught
from kilter.publish.view import DocumentView


def taught(
    library: Library, module: Module, views: Iterable[DocumentView], only_open: bool = False
) -> Taught:
    """Make all of it; every document that the module covers is among `views`.

    With `only_open`, what is not for trainees is named and left empty: the site needs no more. Raises CardProblems
    for a sheet that can't be printed, CouldNotRunError for a package that can't be made.
    """
    found, sheets = planned(library, module, views)
    files = dict(found.files)
    for sheet in sheets:
        if not only_open or sheet.name in found.open:
            files[sheet.name] = pdf_of(sheet)
    if not only_open:
        files |= package_files(found.context, found.papers)
    return replace(found, files=files)


def planned(
    library: Library, module: Module, views: Iterable[DocumentView]
) -> tuple[Taught, tuple[Sheet, ...]]:
    """The same with every file named and empty, and the sheets that are to be printed."""
    context = ModuleContext(library, module)
    known = {fold(view.number): view for view in views}
    numbers = dict.fromkeys(fold(covered.document.key) for covered in context.covered.values())
    questions = bank(context)
    forms = papers(questions, module.front)
    quiz, pictures = practice(context, questions, forms)
    sheets = tuple(sheets_of(context, forms, known.values()))
    names = {s.name for s in sheets} | set(package_names(module.front.number, forms))
    return Taught(
        module,
        context,
        {number: known[number] for number in numbers},
        forms,
        allowed(questions),
        dict.fromkeys(sorted(names), b""),
        {sheet.name: sheet.title for sheet in sheets},
        frozenset(sheet.name for sheet in sheets if sheet.reader == "trainee"),
        quiz,
        pictures,
    ), sheets
