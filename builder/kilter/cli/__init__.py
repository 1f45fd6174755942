"""The `kilter` command. A subcommand's module, and all it needs, is imported only when it is asked for."""

from __future__ import annotations

import argparse
import gc
import importlib
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from io import TextIOWrapper
from typing import NoReturn

from kilter import __version__
from kilter.outcome import COULD_NOT_RUN, CouldNotRunError

COMMANDS = {
    "check": (
        "say what is wrong in documents, and how to mend it",
        "kilter check procedures/lift",
    ),
    "explain": (
        "say what a rule is about, with examples",
        "kilter explain duplicate-step",
    ),
    "states": (
        "show a reviewer the energy states before every step, and the ways in",
        "kilter states procedures/lift/lft-120-not-charged.md 2.2",
    ),
    "new": (
        "write a file to fill in; its blanks are marked and refused until filled",
        "kilter new procedure --task replacement --equipment egret-2 --number LFT-140 procedures/lift/lft-140-wheel.md",
    ),
    "build": (
        "check the library and make the site and the cards in out/",
        "kilter build",
    ),
    "print": (
        "put cards on sheets for the printer, with a contents page, as one file",
        "kilter print --equipment egret-2 --cards procedure,tag --layout same --out lift.pdf",
    ),
    "card": (
        "say whether a printed card is what the library holds now",
        "kilter card verify photo.jpg",
    ),
    "serve": (
        "show the site on this machine and build it again after each change",
        "kilter serve",
    ),
    "lsp": (
        "check while you write: the language server that an editor starts",
        "kilter lsp",
    ),
    "data": (
        "write one checked document as JSON, for other programs",
        "kilter data procedures/lift/lft-120-not-charged.md",
    ),
    "picture": (
        "take a photo or drawing into the library, upright, cleaned of all that the camera wrote",
        "kilter picture add ~/IMG_0412.jpg --as rail-latch --into procedures/lift/pictures",
    ),
    "calc": (
        "work out a torque, a setting, a wait, a battery's days and the like, with formula and source",
        'kilter calc setting --op "8.8 ± 0.2 mm" --ot "1.2 mm" --set "7.9 ± 0.05 mm"',
    ),
    "training": (
        "what an educator does with modules: say that their steps were looked at, and more",
        "kilter training confirm TRN-020",
    ),
    "records": (
        "take in what phones handed over: records of work and remarks; list them, make tables and pages",
        "kilter records take ~/from-phones",
    ),
    "schema": (
        "write the JSON Schemas of the file kinds and outputs",
        "kilter schema schema/",
    ),
}
"""What each command does, and an example; its module here has the same name, but for those in MODULES."""

MODULES = {"print": "printing"}
"""A module `print` would stand in the place of the built-in function in this one."""


def run() -> NoReturn:
    """What the installed command and `python -m kilter` do: `main`, then out at once.

    Taking documents and modules to pieces at the end would cost a short check a twelfth of its time.
    """
    code = main()
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            stream.flush()
    os._exit(code)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one subcommand; returns the exit code 0 (no error), 1 (errors found) or 2 (could not run)."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # the name of a file need not be text; and as `\udcff` it is told in JSON as well
            stream.reconfigure(errors="backslashreplace")
    arguments = parse(sys.argv[1:] if argv is None else list(argv))
    # documents live until the command ends: looking for garbage among them costs a quarter of the time
    gc.disable()
    # plug-ins of pydantic would be looked for in the metadata of every package that is installed
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
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


def parse(argv: list[str]) -> argparse.Namespace:
    """Arguments of one command line, with its `run`; only the named command's module is imported."""
    parser = argparse.ArgumentParser(
        prog="kilter",
        description="Write, check and publish illustrated repair procedures.",
        epilog="exit: 0 no error, 1 errors found, 2 could not run. `kilter COMMAND --help` has an example each.",
    )
    parser.add_argument("--version", action="version", version=f"kilter {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", required=True)
    for name, (help, example) in COMMANDS.items():
        command = commands.add_parser(
            name,
            help=help,
            description=help[:1].upper() + help[1:] + ".",
            epilog=f"example:\n  {example}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        if argv and argv[0] == name:
            module = importlib.import_module(f"kilter.cli.{MODULES.get(name, name)}")
            if hasattr(module, "arguments_for"):
                module.arguments_for(command, argv[1:])
            else:
                module.arguments(command)
            command.set_defaults(run=module.run)
    return parser.parse_args(argv)
