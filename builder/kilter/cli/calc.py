"""`kilter calc`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kilter.compute.calculation import NAMES, Calculator, Input, InputError, Result, calculator, read_inputs
from kilter.outcome import FINDINGS, OK, CouldNotRunError

SUMMARIES = {
    "torque": "preload and proof of a tightened screw, extension, tool, order of bolts",
    "setting": "the window of a switch's setting, and whether a setting lies in it",
    "stack": "what a chain of dimensions comes to",
    "bleed": "how long a capacitor has to drain",
    "battery": "what a battery's voltage says, how long it lasts, when it goes flat",
    "fuse": "whether a fuse carries its load and inrush, and what opens it",
    "cable": "a cable's resistance, and what is lost in it",
    "hydraulic": "pressure, force and creep of a cylinder",
    "leakage": "which limit of electrical safety holds after a repair, and is it kept",
    "reading": "whether a reading passes, with the tool's uncertainty",
}
"""The summaries of the calculators, so that the list of them imports none."""


def arguments_for(command: argparse.ArgumentParser, argv: list[str]) -> None:
    """Only the calculator that is asked for is imported for its options."""
    names = command.add_subparsers(metavar="CALCULATION", required=True, dest="name")
    for name in NAMES:
        found = calculator(name) if argv[:1] == [name] else None
        one = names.add_parser(
            name,
            help=SUMMARIES[name],
            description=SUMMARIES[name][:1].upper() + SUMMARIES[name][1:] + ".",
            epilog=f"example:\n  {_example(found)}" if found else "",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        for wanted in found.inputs if found else ():
            _option(one, wanted)
        one.add_argument("--json", action="store_true", help="for programs")


def _option(parser: argparse.ArgumentParser, wanted: Input) -> None:
    words = (
        wanted.ask + (" (needed)" if wanted.needed else "") + (", can be given again" if wanted.many else "")
    )
    if wanted.choices:
        words += ": " + ", ".join(wanted.choices)
    elif wanted.example:
        words += f", such as `{wanted.example}`"
    metavar = (
        "FILE"
        if wanted.name == "table" and wanted.kind == "words" and not wanted.many
        else wanted.kind.upper()
    )
    parser.add_argument(
        f"--{wanted.name}",
        action="append",
        dest=f"in_{wanted.name}",
        metavar=metavar,
        help=words.replace("%", "%%"),
    )


def _example(found: Calculator) -> str:
    shown = [i for i in found.inputs if i.needed] or list(found.inputs[:2])
    given = " ".join(f'--{i.name} "{i.example or i.choices[0]}"' for i in shown)
    return f"kilter calc {found.name} {given}"


def run(arguments: argparse.Namespace) -> int:
    found = calculator(arguments.name)
    given = {
        i.name: texts for i in found.inputs if (texts := getattr(arguments, f"in_{i.name}", None)) is not None
    }
    try:
        result = found.work(read_inputs(found.inputs, _with_table(found, given)))
    except InputError as trouble:
        raise CouldNotRunError(f"calc {found.name}: {trouble.message}; {trouble.help}") from None
    except (OverflowError, ZeroDivisionError) as trouble:
        raise CouldNotRunError(
            f"calc {found.name}: the numbers are too far apart to work with ({trouble}); look at them again"
        ) from None
    sys.stdout.write(_json(found, given, result) if arguments.json else _text(found, given, result))
    return FINDINGS if result.verdict == "fails" else OK


def _with_table(found: Calculator, given: dict[str, list[str]]) -> dict[str, list[str]]:
    """The file named by `--table`, or the library's own table of limits, as text."""
    if found.name != "leakage":
        return given
    named = given.get("table")
    file = Path(named[0]) if named else Path("procedures") / "limits.toml"
    if not named and not file.is_file():
        return given
    return {**given, "table": [file.read_text(encoding="utf-8", errors="replace")]}


def _text(found: Calculator, given: dict[str, list[str]], result: Result) -> str:
    width = max(len(line.name) for line in result.lines)
    rows = [f"{found.name}: {'; '.join(f'{k} {v}' for k, vs in given.items() for v in vs)}", ""]
    rows += [f"  {line.name:<{width}}  {line.text}" for line in result.lines]
    rows.append("")
    if result.verdict:
        rows.append(f"verdict: {result.verdict}")
    rows += [f"formula: {result.formula}", f"source:  {result.source}"]
    rows += [f"assumed: {each}" for each in result.assumptions]
    rows += [f"caution: {each}" for each in result.cautions]
    rows.append("The maker's service manual and local rules come first; a computed value replaces neither.")
    return "\n".join(rows) + "\n"


def _json(found: Calculator, given: dict[str, list[str]], result: Result) -> str:
    import json

    lines = [
        {
            "name": e.name,
            "text": e.text,
            "value": e.value,
            "low": e.low,
            "high": e.high,
            "unit": e.unit,
            "main": e.main,
        }
        for e in result.lines
    ]
    data = {
        "version": "1",
        "calculation": found.name,
        "inputs": given,
        "lines": lines,
        "verdict": result.verdict,
        "formula": result.formula,
        "source": result.source,
        "assumptions": list(result.assumptions),
        "cautions": list(result.cautions),
    }
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False) + "\n"
