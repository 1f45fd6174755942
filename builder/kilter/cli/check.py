"""`kilter check`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kilter.cli import fixing
from kilter.cli.shared import chosen_files, colour_terminal, libraries
from kilter.outcome import FINDINGS, OK, CouldNotRunError


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "paths", nargs="*", type=Path, metavar="PATH", help="files or folders; without one, the library here"
    )
    command.add_argument(
        "--format",
        choices=("text", "json"),
        default="text",
        help="text for people (default), json for programs",
    )
    command.add_argument("--strict", action="store_true", help="exit 1 for warnings and hints too")
    command.add_argument(
        "--colour", choices=("auto", "always", "never"), default="auto", help="auto: only on a terminal"
    )
    fixing.arguments(command)


def run(arguments: argparse.Namespace) -> int:
    if arguments.yes and not arguments.fix:
        raise CouldNotRunError("--yes goes with --fix")
    if arguments.fix:
        if arguments.format != "text":
            raise CouldNotRunError("--fix goes with --format text only")
        return fixing.fix(arguments)
    from kilter.check.run import check_library
    from kilter.diagnostic import Diagnostic, Severity
    from kilter.read.library import document_files, read_library, shown_path
    from kilter.report import json as json_report
    from kilter.report.text import TextReport, summary
    from kilter.source import Source

    findings: list[Diagnostic] = []
    sources: dict[str, Source] = {}
    files = 0
    for root, only in libraries(arguments.paths).items():
        chosen = chosen_files(only, document_files(root)) if only else []
        library = read_library(root, always=chosen, only=chosen if only else None)
        wanted = {shown_path(f) for f in chosen} if only else None
        report = check_library(library, wanted)
        findings += report.all()
        files += len(report.found)
        sources |= library.sources
    if arguments.format == "json":
        sys.stdout.write(json_report.render(findings, files))
    else:
        colour = arguments.colour == "always" or (arguments.colour == "auto" and colour_terminal())
        text = TextReport(sources, colour).render(findings)
        print(text + ("\n" if text else "") + summary(findings, files))
    worst = max((f.severity for f in findings), default=None)
    bad = worst is Severity.ERROR or (arguments.strict and worst is not None)
    return FINDINGS if bad else OK
