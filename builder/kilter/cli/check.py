"""`kilter check`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from kilter.cli import fixing
from kilter.cli.shared import chosen_files, colour_terminal, libraries, no_documents
from kilter.outcome import FINDINGS, OK, CouldNotRunError

if TYPE_CHECKING:
    from kilter.report.checked import Checked

FORMATS = ("text", "json", "sarif", "github", "junit")


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "paths", nargs="*", type=Path, metavar="PATH", help="files or folders; without one, the library here"
    )
    command.add_argument(
        "--format",
        choices=FORMATS,
        default="text",
        help="text for people (default), json for programs, sarif for code hosts and viewers, "
        "github for notes beside the lines of a pull request, junit for build servers",
    )
    command.add_argument("--strict", action="store_true", help="exit 1 for warnings and hints too")
    command.add_argument(
        "--colour", choices=("auto", "always", "never"), default="auto", help="auto: only on a terminal"
    )
    command.add_argument(
        "--changed",
        nargs="?",
        const="HEAD",
        metavar="COMMIT",
        help="only documents that differ from a commit (HEAD if none is named), and those that lean on what differs",
    )
    command.add_argument(
        "--baseline", type=Path, metavar="FILE", help="leave out the old findings that this file puts off"
    )
    command.add_argument(
        "--write-baseline",
        type=Path,
        metavar="FILE",
        help="put off all present findings that are not about safety, and go on as with --baseline",
    )
    fixing.arguments(command)


def run(arguments: argparse.Namespace) -> int:
    _refuse_odd(arguments)
    if arguments.fix:
        return fixing.fix(arguments)
    checked = _checked(arguments)
    if arguments.write_baseline or arguments.baseline:
        checked = _without_old(arguments, checked)
    _write(arguments, checked)
    from kilter.diagnostic import Severity

    bad = checked.worst is Severity.ERROR or (arguments.strict and checked.worst is not None)
    return FINDINGS if bad else OK


def _refuse_odd(given: argparse.Namespace) -> None:
    """Options that don't go together."""
    if given.yes and not given.fix:
        raise CouldNotRunError("--yes goes with --fix")
    if given.fix and given.format != "text":
        raise CouldNotRunError("--fix goes with --format text only")
    for name in ("changed", "baseline", "write_baseline"):
        if given.fix and getattr(given, name) is not None:
            raise CouldNotRunError(
                f"--{name.replace('_', '-')} does not go with --fix; run one, then the other"
            )
    if given.write_baseline and given.baseline:
        raise CouldNotRunError("--write-baseline does not go with --baseline; it writes the file anew")
    if given.write_baseline and given.changed is not None:
        raise CouldNotRunError("--write-baseline is for the whole library; leave --changed out")


def _checked(given: argparse.Namespace) -> Checked:
    """All that is found in the named libraries."""
    from kilter.report.checked import Checked

    checked = Checked()
    named = libraries(given.paths)
    for root, only in named.items():
        if only and given.write_baseline:
            raise CouldNotRunError("--write-baseline is for the whole library; leave the paths out")
        checked = checked.join(_one_library(root, only, given.changed))
    if not checked.sources:
        raise no_documents(next(iter(named)))
    return checked


def _one_library(root: Path, only: list[Path], changed: str | None) -> Checked:
    from kilter.check.run import check_library
    from kilter.read.library import document_files, read_library, shown_path
    from kilter.report.checked import Checked, name_of

    chosen = chosen_files(only, document_files(root)) if only else []
    library = read_library(root, always=chosen, only=chosen if only and changed is None else None)
    wanted = {shown_path(f) for f in chosen} if only else None
    if changed is not None:
        from kilter.check.leaning import leaning_on
        from kilter.read.changed import changed_files

        leaning = leaning_on(library, changed_files(root, changed))
        wanted = set(leaning if wanted is None else leaning & wanted)
    report = check_library(library, wanted)
    return Checked(
        findings=tuple(report.all()),
        paths=tuple(report.found),
        sources=library.sources,
        names={path: name_of(library, path) for path in library.sources},
        site_url=library.settings.site_url,
    )


def _without_old(given: argparse.Namespace, checked: Checked) -> Checked:
    from kilter.report import baseline

    if given.write_baseline:
        number = baseline.write(given.write_baseline, checked)
        print(
            f"{given.write_baseline}: {number} finding{'' if number == 1 else 's'} put off", file=sys.stderr
        )
    whole = not given.paths and given.changed is None
    return baseline.apply(baseline.read(given.write_baseline or given.baseline), checked, whole)


def _write(given: argparse.Namespace, checked: Checked) -> None:
    """The report, in the form that was asked for."""
    files = len(checked.paths)
    if given.format == "json":
        from kilter.report import json

        sys.stdout.write(json.render(checked.findings, files, checked.debt))
    elif given.format == "sarif":
        from kilter.report import sarif

        sys.stdout.write(sarif.render(checked))
    elif given.format == "junit":
        from kilter.report import junit

        sys.stdout.write(junit.render(checked, given.strict))
    else:
        _write_lines(given, checked)


def _write_lines(given: argparse.Namespace, checked: Checked) -> None:
    from kilter.report.text import TextReport, debt_lines, summary

    if given.format == "github":
        from kilter.report import github

        sys.stdout.write(github.render(checked.findings))
    else:
        colour = given.colour == "always" or (given.colour == "auto" and colour_terminal())
        text = TextReport(checked.sources, colour).render(checked.findings)
        print(text, end="\n" if text else "")
        print(_more(checked), end="")
    for line in debt_lines(checked.debt):
        print(line)
    print(summary(checked.findings, len(checked.paths)))


def _more(checked: Checked) -> str:
    """Where more is said about the first finding's rule; the same way leads to every other."""
    first = next((f for f in checked.findings if f.code), None)
    if first is None:
        return ""
    return f"more about a rule: `kilter explain {first.code}`, or rule-{first.rule}.html of the site\n"
