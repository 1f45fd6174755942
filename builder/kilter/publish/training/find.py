"""A module by its number or its file."""

from __future__ import annotations

from pathlib import Path

from kilter.diagnostic import did_you_mean
from kilter.model.base import fold
from kilter.model.library import Library
from kilter.model.training import Module
from kilter.outcome import CouldNotRunError
from kilter.read.library import library_root, read_library


def find_module(named: str) -> tuple[Library, Module]:
    """The library and its module of a number or a file; raises CouldNotRunError where there is none."""
    file = Path(named)
    here = file if file.suffix == ".md" and file.is_file() else Path.cwd()
    library = read_library(library_root(here))
    for path, module in library.modules.items():
        if module.key == fold(named) or library.file_of(path).resolve() == file.resolve():
            return library, module
    if file.suffix == ".md" and file.is_file():
        raise CouldNotRunError(
            f"{named}: is no training module that can be read; `kilter check {named}` says why"
        )
    known = [m.front.number for m in library.modules.values()]
    hint = did_you_mean(named, known) if known else "begin one with `kilter new training`"
    raise CouldNotRunError(f"no training module has the number `{named}`; {hint}")
