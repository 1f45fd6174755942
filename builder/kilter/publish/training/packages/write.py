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
    name = context.module.front.number.casefold()
    return {
        PAPERS: canonical(data).encode() + b"\n",
        f"{name}-scorm12.zip": scorm_package(data, pictures),
        f"{name}-qti21.zip": qti_package(data, pictures),
        f"{name}-questions.gift.txt": gift(data),
        f"{name}-questions.csv": questions_table(data),
    }


def picture_bytes(figures: dict[str, Shown]) -> dict[str, bytes]:
    """By name, each once."""
    return {shown.name: shown.data for shown in figures.values()}
