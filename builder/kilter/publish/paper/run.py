"""What `kilter print` does: read, check, choose, refuse what has errors, write one file whole."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

from kilter.outcome import FINDINGS, OK, CouldNotRunError
from kilter.publish.paper.batch import Batch, batch, make_cards, reason
from kilter.publish.paper.choose import Chosen, Wish, choose, read_list
from kilter.publish.paper.order import Job
from kilter.publish.prepare import Prepared, prepare
from kilter.read.library import library_root, shown_path
from kilter.report.text import TextReport

EDGES = {
    "long": "printed on both sides, flip on the long edge",
    "short": "printed on both sides, flip on the short edge",
}


def print_cards(
    library: Path, wish: Wish, lists: list[Path], job: Job, name: str, marks: bool, out: Path, colour: bool
) -> int:
    """Write the batch to `out`; 1 where something that was asked for is refused."""
    wish = replace(wish, names=(*wish.names, *(n for file in lists for n in read_list(file))))
    if not (wish.names or wish.equipment or wish.every):
        raise CouldNotRunError("say what to print: numbers, --equipment, --list or --all")
    if out.is_dir():
        raise CouldNotRunError(f"{out}: is a folder; name a file to write")
    ready = prepared(library)
    chosen = choose(ready, wish)
    cards = make_cards(chosen)
    if cards:
        made = batch(cards, job, name, ready.library.settings.name, chosen.refused, marks)
        _write(out, made.pdf)
        _tell(made, job, name, out)
    _tell_refused(ready, chosen, out, bool(cards), colour)
    if not cards and not chosen.refused:
        raise CouldNotRunError("what was chosen has no card of those kinds; nothing is written")
    return FINDINGS if chosen.refused else OK


def prepared(folder: Path) -> Prepared:
    """The library in a folder, read and checked. Raises CouldNotRunError where there is none."""
    if not folder.is_dir():
        raise CouldNotRunError(f"{folder}: no such folder; name the one that holds procedures/")
    root = library_root(folder)
    ready = prepare(Path(shown_path(root)))
    if not ready.library.sources:
        raise CouldNotRunError(f"{root}: no documents here; name the folder that holds procedures/")
    return ready


def _write(out: Path, data: bytes) -> None:
    """Whole or not at all: a reader of the old file never sees half a new one."""
    out.parent.mkdir(parents=True, exist_ok=True)
    aside = out.with_name(f".{out.name}-{os.getpid()}")
    try:
        aside.write_bytes(data)
        aside.replace(out)
    finally:
        aside.unlink(missing_ok=True)


def _tell(made: Batch, job: Job, name: str, out: Path) -> None:
    cards, paper = len(made.cards), made.sheets
    how = EDGES.get(job.flip, "printed on one side")
    print(f"{out}: {cards} card{'s' * (cards != 1)} on {paper} sheet{'s' * (paper != 1)} of {name}, {how}")
    print("for the printer only; cards that a screen reader can read come from `kilter build`")


def _tell_refused(ready: Prepared, chosen: Chosen, out: Path, written: bool, colour: bool) -> None:
    if not chosen.refused:
        return
    findings = [f for held in chosen.refused for f in held.errors]
    if findings:
        print(TextReport(ready.library.sources, colour).render(list(dict.fromkeys(findings))))
    for held in chosen.refused:
        print(f"not printed: {held.name} ({held.path}): {reason(held)}")
    if not written:
        left = f"; {out} is left from before" if out.exists() else ""
        print(f"nothing is written{left}")
