"""The whole build: check, then site and cards written aside and swapped in.

Whatever stops a build half way, the last good output stays as it was.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import time
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from kilter import parallel
from kilter.diagnostic import Diagnostic, Severity
from kilter.outcome import FINDINGS, OK, CouldNotRunError
from kilter.publish.machine import MachineView
from kilter.publish.modules import modules_of
from kilter.publish.prepare import Prepared, Withheld, machines, prepare
from kilter.publish.view import DocumentView
from kilter.read.library import FOLDER
from kilter.report.text import TextReport, summary

if TYPE_CHECKING:
    from kilter.publish.cards.make import Made

if TYPE_CHECKING:
    from kilter.publish.training.taught import Taught

MANIFEST = "built.json"


class Progress:
    """Plain lines on the error stream, only once a build has taken a second."""

    def __init__(self, quiet: bool) -> None:
        self.quiet, self.started = quiet, time.monotonic()

    def __call__(self, line: str) -> None:
        if not self.quiet and time.monotonic() - self.started > 1.0:
            print(f"... {line}", file=sys.stderr, flush=True)


def build(folder: Path, out: Path | None, quiet: bool, colour: bool) -> int:
    """Build the library in `folder`; returns the exit code. Raises CouldNotRunError with nothing changed."""
    config_file = folder / "mkdocs.yml"
    if not config_file.is_file():
        raise CouldNotRunError(
            f"{config_file}: not there; run this in the folder that holds mkdocs.yml and {FOLDER}/"
        )
    if not (folder / FOLDER).is_dir():
        raise CouldNotRunError(
            f"{folder / FOLDER}: not there; begin with `kilter new equipment {FOLDER}/machine/profile.md`"
        )
    out = (out or folder / "out").absolute()
    _recover(out)
    _refuse_foreign(out)
    progress = Progress(quiet)
    config = _load_config(config_file)
    ready = prepare(Path(_relative(Path(config["docs_dir"]))), progress)
    aside = out.with_name(f".{out.name}-{os.getpid()}")
    try:
        modules = _write(ready, config_file, aside, progress)
        _swap(aside, out)
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    for line in _drifted(folder, modules):
        print(line)
    return _tell(ready, out, quiet, colour)


def _relative(path: Path) -> str:
    try:
        return str(path.relative_to(Path.cwd()))
    except ValueError:
        return str(path)


def _recover(out: Path) -> None:
    """Put back the output that a build killed in the middle of its swap had moved away."""
    old = _old(out)
    if old.exists():
        if out.exists():
            shutil.rmtree(old, ignore_errors=True)
        else:
            old.rename(out)
    for left in out.parent.glob(f".{out.name}-[0-9]*"):
        if not _alive(left.name.rsplit("-", 1)[1]):
            shutil.rmtree(left, ignore_errors=True)


def _alive(pid: str) -> bool:
    try:
        os.kill(int(pid), 0)
    except (ProcessLookupError, ValueError):
        return False
    except PermissionError:
        return True
    return True


def _old(out: Path) -> Path:
    return out.with_name(f".{out.name}-before")


def _refuse_foreign(out: Path) -> None:
    """Never swap away a folder that this command did not make."""
    if out.exists() and (not out.is_dir() or (any(out.iterdir()) and not (out / MANIFEST).is_file())):
        raise CouldNotRunError(
            f"{out}: is not an output of `kilter build`; choose another --out or move it away"
        )


def _load_config(config_file: Path) -> Any:
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    try:
        config = load_config(str(config_file))
    except MkDocsException as trouble:
        raise CouldNotRunError(f"{config_file}: {trouble}") from None
    if "kilter" not in config["plugins"]:
        raise CouldNotRunError(f"{config_file}: `kilter` is missing under `plugins:`")
    return config


def _write(ready: Prepared, config_file: Path, aside: Path, progress: Progress) -> list[Taught]:
    from mkdocs.commands.build import build as mkdocs_build
    from mkdocs.exceptions import MkDocsException

    cards = _cards(ready, progress)
    modules = modules_of(ready, progress)
    progress(f"writing pages for {len(ready.views)} document{'' if len(ready.views) == 1 else 's'}")
    shutil.rmtree(aside, ignore_errors=True)
    config = _load_config(config_file)
    config["site_dir"] = str(aside / "site")
    config["plugins"]["kilter"].use(ready, cards, modules)
    try:
        config["plugins"].on_startup(command="build", dirty=False)
        mkdocs_build(config)
        config["plugins"].on_shutdown()
    except (MkDocsException, SystemExit) as trouble:
        raise CouldNotRunError(f"the site could not be made: {trouble}") from None
    folder = aside / "cards"
    folder.mkdir(parents=True)
    for name, data in sorted(cards.items()):
        (folder / name).write_bytes(data)
    for each in modules:
        own = aside / "training" / each.folder
        own.mkdir(parents=True)
        for name, data in each.files.items():
            (own / name).write_bytes(data)
    (aside / MANIFEST).write_text(_manifest(ready, cards), encoding="utf-8", newline="\n")
    return modules


def _drifted(folder: Path, modules: Iterable[Taught]) -> Iterator[str]:
    """The newest issue of each module whose papers the facts do not give any more."""
    from kilter.publish.training.issued import archive_of, drift, issues_in, of_module

    issues = issues_in(archive_of(folder))
    for each in modules:
        own = of_module(issues, each.module.front)
        try:
            said = drift(own[-1], each.papers) if own else ""
        except CouldNotRunError as trouble:
            said = str(trouble)
        if said:
            yield said


def _cards(ready: Prepared, progress: Progress) -> dict[str, bytes]:
    """Cards by file name; a document whose main card can't be made is withheld, with the reason."""
    progress(f"cards of {len(ready.views)} document{'' if len(ready.views) == 1 else 's'}")
    cards: dict[str, bytes] = {}
    views = list(ready.views)
    for view, (made, refused) in zip(views, parallel.each(_made, views), strict=True):
        path = view.document.path
        if refused:
            ready.report.add(path, refused)
            ready.withheld.append(Withheld(path, f"{view.number} {view.front.title}", refused))
            ready.views.remove(view)
        else:
            cards.update(made.cards)
            ready.report.add(path, made.left_out)
    for machine in machines(ready):
        progress(f"cards of {machine.number}")
        made, refused = _made(machine)
        cards.update(made.cards)
        ready.report.add(machine.profile.path, (*made.left_out, *refused))
    return cards


def _made(subject: DocumentView | MachineView) -> tuple[Made, tuple[Diagnostic, ...]]:
    """Its cards, or why its main card can't be made."""
    from kilter.publish.cards.make import Made, cards_for
    from kilter.publish.cards.problems import CardProblems

    try:
        return cards_for(subject), ()
    except CardProblems as trouble:
        return Made({}, ()), tuple(trouble.findings)


def _manifest(ready: Prepared, cards: Iterable[str]) -> str:
    made = frozenset(cards)
    documents = {
        v.number: {
            "revision": v.front.revision,
            "hash": v.hash,
            "page": f"site/{v.address}",
            "cards": _of(v, made),
        }
        for v in ready.views
    }
    equipment = {
        m.number: {
            "revision": m.revision,
            "hash": m.hash,
            "page": f"site/{m.address}",
            "cards": _of(m, made),
        }
        for m in machines(ready)
    }
    withheld = {w.path: w.name for w in ready.withheld}
    data = {"version": "1", "documents": documents, "equipment": equipment, "withheld": withheld}
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"


def _of(subject: DocumentView | MachineView, made: Collection[str]) -> list[str]:
    """Its cards among those that were made, in the order of the family."""
    from kilter.publish.cards.family import file_name, kinds_for

    names = (file_name(kind, subject) for kind in kinds_for(subject))
    return [f"cards/{name}" for name in names if name in made]


def _swap(aside: Path, out: Path) -> None:
    old = _old(out)
    out.parent.mkdir(parents=True, exist_ok=True)
    if out.exists():
        out.rename(old)
    aside.rename(out)
    shutil.rmtree(old, ignore_errors=True)


def _tell(ready: Prepared, out: Path, quiet: bool, colour: bool) -> int:
    findings: list[Diagnostic] = ready.report.all()
    shown = [f for f in findings if not quiet or f.severity is Severity.ERROR]
    if shown:
        print(TextReport(ready.library.sources, colour).render(shown))
    print(summary(findings, len(ready.library.sources)))
    for each in ready.withheld:
        leans = "the document" if each.path in ready.library.modules else "its equipment profile"
        why = f"{leans} {each.because_of} has errors" if each.because_of else "it has errors"
        print(f"withheld: {each.name} ({each.path}): {why}")
    if not quiet:
        print(
            f"site:  {_relative(out / 'site' / 'index.html')}  ({len(ready.views)} document{'' if len(ready.views) == 1 else 's'})"
        )
        print(f"cards: {_relative(out / 'cards')}{os.sep}")
        if ready.modules:
            print(f"training: {_relative(out / 'training')}{os.sep}")
    return FINDINGS if ready.withheld or ready.report.failed else OK
