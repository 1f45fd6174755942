"""The `kilter` command. Heavy parts are imported by the subcommand that needs them."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from kilter import __version__
from kilter.outcome import COULD_NOT_RUN, FINDINGS, OK, CouldNotRunError


def main(argv: Sequence[str] | None = None) -> int:
    """Run one subcommand; returns the exit code 0 (no error), 1 (errors found) or 2 (could not run)."""
    arguments = _parser().parse_args(argv)
    # documents live until the command ends: looking for garbage among them costs a quarter of the time
    gc.disable()
    try:
        code: int = arguments.run(arguments)
        sys.stdout.flush()
        return code
    except CouldNotRunError as trouble:
        print(f"kilter: {trouble}", file=sys.stderr)
        return COULD_NOT_RUN
    except KeyboardInterrupt:
        print("kilter: stopped; what was built before is untouched", file=sys.stderr)
        return COULD_NOT_RUN
    except BrokenPipeError:
        # the reader of a pipe has gone: nothing left to say, and no traceback at exit
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return COULD_NOT_RUN
    except OSError as trouble:
        where = f"{trouble.filename}: " if trouble.filename else ""
        print(f"kilter: {where}{trouble.strerror or trouble}", file=sys.stderr)
        return COULD_NOT_RUN
    finally:
        gc.enable()


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="kilter",
        description="Write, check and publish illustrated repair procedures.",
        epilog="exit: 0 no error, 1 errors found, 2 could not run. `kilter COMMAND --help` has an example each.",
    )
    parser.add_argument("--version", action="version", version=f"kilter {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", required=True)
    _add_check(commands)
    _add_explain(commands)
    _add_states(commands)
    _add_new(commands)
    _add_build(commands)
    _add_serve(commands)
    _add_schema(commands)
    return parser


Commands = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _command(commands: Commands, name: str, help: str, example: str) -> argparse.ArgumentParser:  # type: ignore[valid-type]
    return commands.add_parser(  # type: ignore[attr-defined, no-any-return]
        name,
        help=help,
        description=help[:1].upper() + help[1:] + ".",
        epilog=f"example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def _add_check(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands,
        "check",
        "say what is wrong in documents, and how to mend it",
        "kilter check procedures/lift",
    )
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
    command.set_defaults(run=_run_check)


def _run_check(arguments: argparse.Namespace) -> int:
    from kilter.check.run import check_library
    from kilter.diagnostic import Diagnostic, Severity
    from kilter.read.library import document_files, read_library, shown_path
    from kilter.report import json as json_report
    from kilter.report.text import TextReport, summary
    from kilter.source import Source

    findings: list[Diagnostic] = []
    sources: dict[str, Source] = {}
    files = 0
    for root, only in _libraries(arguments.paths).items():
        chosen = _chosen(only, document_files(root)) if only else []
        library = read_library(root, always=chosen)
        wanted = {shown_path(f) for f in chosen} if only else None
        report = check_library(library, wanted)
        findings += report.all()
        files += len(report.found)
        sources |= library.sources
    if arguments.format == "json":
        sys.stdout.write(json_report.render(findings, files))
    else:
        colour = arguments.colour == "always" or (arguments.colour == "auto" and _colour_terminal())
        text = TextReport(sources, colour).render(findings)
        print(text + ("\n" if text else "") + summary(findings, files))
    worst = max((f.severity for f in findings), default=None)
    bad = worst is Severity.ERROR or (arguments.strict and worst is not None)
    return FINDINGS if bad else OK


def _colour_terminal() -> bool:
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


def _libraries(paths: list[Path]) -> dict[Path, list[Path]]:
    """Library folders and the chosen files or folders in each; an empty list means all of it."""
    from kilter.read.library import library_root

    found: dict[Path, list[Path]] = {}
    for path in paths or [Path.cwd()]:
        if not path.exists():
            raise CouldNotRunError(f"{path}: no such file or folder")
        root = library_root(path)
        chosen = found.setdefault(root, [])
        if path.resolve() != root and not (not paths or root.parent == path.resolve()):
            chosen.append(path.resolve())
    return found


def _chosen(only: list[Path], files: list[Path]) -> list[Path]:
    """The documents among the chosen files and folders; a file named outright counts whatever it is."""
    inside = [f for f in files if any(f == path or path in f.parents for path in only)]
    named = [p for p in only if p.is_file() and p not in inside]
    if not inside and not named:
        raise CouldNotRunError(f"{only[0]}: no Markdown files in it")
    return inside + named


def _add_explain(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands, "explain", "say what a rule is about, with examples", "kilter explain duplicate-step"
    )
    command.add_argument(
        "rule", nargs="?", help="name or code as printed with a finding; without one, all rules"
    )
    command.set_defaults(run=_run_explain)


def _run_explain(arguments: argparse.Namespace) -> int:
    from kilter.check.rule import all_rules, find_rule
    from kilter.diagnostic import did_you_mean

    if arguments.rule is None:
        for each in all_rules().values():
            print(f"{each.code}  {each.severity!s:<8} {each.name}")
        return OK
    rule = find_rule(arguments.rule)
    if rule is None:
        raise CouldNotRunError(
            f"no rule is called `{arguments.rule}`; {did_you_mean(arguments.rule, all_rules())}"
        )
    print(rule.page.rstrip())
    return OK


def _add_states(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands,
        "states",
        "show a reviewer the energy states before every step, and the ways in",
        "kilter states procedures/lift/lft-120-not-charged.md 2.2",
    )
    command.add_argument("file", type=Path, metavar="FILE", help="a procedure or pre-use check")
    command.add_argument(
        "step", nargs="?", default="", metavar="STEP", help="number, such as 4.2 or A.2, or name of one step"
    )
    command.add_argument(
        "--format",
        choices=("text", "json", "svg", "html"),
        default="text",
        help="text (default), json for programs, svg for the picture, html for a page of both",
    )
    command.set_defaults(run=_run_states)


def _run_states(arguments: argparse.Namespace) -> int:
    from kilter.publish.states.run import show

    return show(arguments.file, arguments.step, arguments.format, _colour_terminal())


def _add_new(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands,
        "new",
        "write a file to fill in; its blanks are marked and refused until filled",
        "kilter new procedure --task replacement --equipment egret-2 --number LFT-140 procedures/lift/lft-140-wheel.md",
    )
    command.add_argument("kind", choices=("procedure", "pre-use-check", "equipment"))
    command.add_argument("file", type=Path, help="the file to write; it must not exist")
    command.add_argument("--number", help="document number, such as LFT-140 (not for equipment)")
    command.add_argument("--title", help="title of the document")
    command.add_argument("--equipment", help="id of the equipment profile")
    command.add_argument("--task", default="replacement", help="for a procedure (default: replacement)")
    command.add_argument("--id", help="id of a new equipment profile, such as egret-2")
    command.set_defaults(run=_run_new)


def _run_new(arguments: argparse.Namespace) -> int:
    from kilter.publish.skeleton import skeleton

    file: Path = arguments.file
    if file.exists():
        raise CouldNotRunError(f"{file}: is there already; choose another name, nothing was written")
    text = skeleton(arguments)
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("x", encoding="utf-8", newline="\n") as stream:
        stream.write(text)
    print(f"{file}: written; fill in what stands in [fill in: ...], then `kilter check {file}`")
    return OK


def _add_build(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands, "build", "check the library and make the site and the cards in out/", "kilter build"
    )
    command.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )
    command.add_argument(
        "--out", type=Path, help="where to put site/ and cards/ (default: out/ beside mkdocs.yml)"
    )
    command.add_argument("--quiet", action="store_true", help="print errors only")
    command.set_defaults(run=_run_build)


def _run_build(arguments: argparse.Namespace) -> int:
    from kilter.publish.build import build

    return build(arguments.library, arguments.out, quiet=arguments.quiet, colour=_colour_terminal())


def _add_serve(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands,
        "serve",
        "show the site on this machine and build it again after each change",
        "kilter serve",
    )
    command.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )
    command.add_argument("--port", type=int, default=8400, help="port on this machine (default: 8400)")
    command.set_defaults(run=_run_serve)


def _run_serve(arguments: argparse.Namespace) -> int:
    from kilter.publish.serve import serve

    gc.enable()  # it runs for days
    return serve(arguments.library, arguments.port)


def _add_schema(commands: Commands) -> None:  # type: ignore[valid-type]
    command = _command(
        commands, "schema", "write the JSON Schemas of the file kinds and outputs", "kilter schema schema/"
    )
    command.add_argument("folder", type=Path, help="folder to write to")
    command.set_defaults(run=_run_schema)


def _run_schema(arguments: argparse.Namespace) -> int:
    from kilter.publish.schema import schemas

    arguments.folder.mkdir(parents=True, exist_ok=True)
    for name, text in schemas().items():
        (arguments.folder / name).write_text(text, encoding="utf-8", newline="\n")
        print(arguments.folder / name)
    return OK
