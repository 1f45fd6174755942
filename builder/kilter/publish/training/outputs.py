"""Everything that a module gives: sheets to print, packages, papers; made from the documents as they are now."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.check.module import ModuleContext
from kilter.model.base import fold
from kilter.model.library import Library
from kilter.model.training import Module
from kilter.publish.training.packages import package_files
from kilter.publish.training.packages.practice import practice
from kilter.publish.training.paper.make import pdf_of, sheets_of
from kilter.publish.training.questions import allowed, bank, papers
from kilter.publish.training.taught import Taught
from kilter.publish.view import DocumentView


def taught(library: Library, module: Module, views: Iterable[DocumentView]) -> Taught:
    """Make all of it; every document that the module covers is among `views`.

    Raises CardProblems for a sheet that can't be printed, CouldNotRunError for a package that can't be made.
    """
    context = ModuleContext(library, module)
    known = {fold(view.number): view for view in views}
    numbers = dict.fromkeys(fold(covered.document.key) for covered in context.covered.values())
    covered = {number: known[number] for number in numbers}
    questions = bank(context)
    forms = papers(questions, module.front)
    quiz, pictures = practice(context, questions, forms)
    made = list(sheets_of(context, forms, known.values()))
    files = {sheet.name: pdf_of(sheet) for sheet in made} | package_files(context, forms)
    return Taught(
        module,
        context,
        covered,
        forms,
        allowed(questions),
        dict(sorted(files.items())),
        {sheet.name: sheet.title for sheet in made},
        frozenset(sheet.name for sheet in made if sheet.reader == "trainee"),
        quiz,
        pictures,
    )
