"""All packages of a module."""

from __future__ import annotations

from collections.abc import Sequence

from kilter.check.module import ModuleContext
from kilter.publish.training.packages.data import quiz_data
from kilter.publish.training.packages.figures import Shown, shown_figures
from kilter.publish.training.packages.gift import gift
from kilter.publish.training.packages.qti import qti_package
from kilter.publish.training.packages.scorm import scorm_package
from kilter.publish.training.packages.table import questions_table
from kilter.publish.training.packages.wire import canonical
from kilter.publish.training.questions.model import Paper

PAPERS = "papers.json"


def package_files(context: ModuleContext, papers: Sequence[Paper]) -> dict[str, bytes]:
    """Files by name; none where the facts allow no question. Raises CouldNotRunError."""
    asked = [q for paper in papers for q in paper.questions]
    if not asked:
        return {}
    figures = shown_figures(context.library, asked)
    data = quiz_data(context.module.front, papers, figures)
    pictures = picture_bytes(figures)
    made = (
        canonical(data).encode() + b"\n",
        scorm_package(data, pictures),
        qti_package(data, pictures),
        gift(data),
        questions_table(data),
    )
    return dict(zip(package_names(context.module.front.number, papers), made, strict=True))


def package_names(number: str, papers: Sequence[Paper]) -> tuple[str, ...]:
    """What the files are called; none where there is no question."""
    name = number.casefold()
    endings = ("-scorm12.zip", "-qti21.zip", "-questions.gift.txt", "-questions.csv")
    return (PAPERS, *(name + ending for ending in endings)) if any(p.questions for p in papers) else ()


def picture_bytes(figures: dict[str, Shown]) -> dict[str, bytes]:
    """By name, each once."""
    return {shown.name: shown.data for shown in figures.values()}
