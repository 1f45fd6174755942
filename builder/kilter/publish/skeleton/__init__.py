"""New files to fill in. What a profile says is already in place, so that a new procedure starts safe.

Every blank reads `[fill in: what is asked, such as an example]`; the check refuses a document until none is left.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from kilter.diagnostic import did_you_mean
from kilter.model.front import KINDS, TASKS
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton.check import check_text
from kilter.publish.skeleton.equipment import Machine, machine_text
from kilter.publish.skeleton.procedure import procedure_text
from kilter.publish.skeleton.training import training_text
from kilter.publish.skeleton.wanted import free_id, free_number, one_line, profile_for, unseen
from kilter.publish.skeleton.zone import zone_named
from kilter.read.library import library_root, read_library

__all__ = ["Machine", "new_text", "unseen"]


def new_text(
    kind: str,
    root_or_file: Path,
    *,
    task: str = "replacement",
    number: str | None = None,
    equipment: str | None = None,
    title: str | None = None,
    zone: str | None = None,
    id: str | None = None,
    sources: Sequence[str] | None = None,
    guards: Sequence[str] = (),
    tests: Sequence[str] = (),
    covers: Sequence[str] = (),
    minutes: int = 120,
    today: date | None = None,
) -> str:
    """The text of a new file of the library that `root_or_file` stands in, or is; nothing is written.

    `sources`, `guards` and `tests` are for equipment: the kinds of energy it has (None: nobody has said yet,
    so every kind gets its blanks), its covers, its tests before service. `zone` is for procedures with work
    inside. `covers` and `minutes` are for training: the numbers that are taught, and the time there is.
    `today` is the date written in.
    Raises CouldNotRunError when something is missing, of a wrong form, taken or unknown.
    """
    if kind not in KINDS:
        raise CouldNotRunError(f"kind `{kind}` is not known; {did_you_mean(kind, KINDS)}")
    if kind == "procedure" and task not in TASKS:
        raise CouldNotRunError(f"task `{task}` is not known; {did_you_mean(task, TASKS)}")
    folder = root_or_file.absolute()
    while not folder.is_dir():
        folder = folder.parent
    library = read_library(library_root(folder))
    title, day = one_line(title), today or date.today()
    if kind == "equipment":
        kinds = None if sources is None else tuple(sources)
        machine = Machine(free_id(library, id), title, kinds, tuple(guards), tuple(tests))
        return machine_text(machine, day)
    number = free_number(library, number)
    if kind == "training":
        if not covers:
            raise CouldNotRunError("which documents are taught? --from LFT-120 LFT-130")
        return training_text(library, covers, number, title, minutes, day)
    profile = profile_for(library, equipment)
    inside = zone_named(profile.profile, zone)
    if inside and (kind != "procedure" or task == "test"):
        raise CouldNotRunError(
            f"--zone is for work inside; a {kind if kind != 'procedure' else task} opens nothing"
        )
    if kind == "pre-use-check":
        return check_text(profile, number, title, day)
    return procedure_text(library, profile, task, number, title, day, inside)
