"""`kilter training`."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from kilter.cli import trained
from kilter.outcome import OK, CouldNotRunError


def arguments(command: argparse.ArgumentParser) -> None:
    actions = command.add_subparsers(metavar="ACTION", required=True)
    confirm = actions.add_parser(
        "confirm", help="write into a module that its covered steps were looked at as they are now"
    )
    confirm.add_argument("number", help="number of the module, such as TRN-020, or its file")
    confirm.add_argument(
        "--step", action="append", metavar="NUMBER#STEP", help="this step only; may be repeated"
    )
    confirm.add_argument("--show", action="store_true", help="only say what has changed")
    confirm.set_defaults(action=_confirm)
    issue = actions.add_parser("issue", help="keep the papers that are about to be handed out, for marking")
    issue.add_argument("number", help="number of the module, such as TRN-020, or its file")
    issue.add_argument("--out", type=Path, metavar="FOLDER", help="where `kilter build` has put its output")
    issue.add_argument("--on", type=date.fromisoformat, default=None, metavar="DATE", help="the day of the issue, such as 2026-11-28 (default: today)")  # fmt: skip
    issue.set_defaults(action=_issue)
    trained.add(actions)


def run(arguments: argparse.Namespace) -> int:
    action = arguments.action
    code: int = action(arguments)
    return code


def _confirm(arguments: argparse.Namespace) -> int:
    from kilter.check.module import ModuleContext
    from kilter.mend.write import ChangedMeanwhileError, write
    from kilter.publish.training.confirm import confirmations, confirmed_change
    from kilter.publish.training.find import find_module

    library, module = find_module(arguments.number)
    found = confirmations(ModuleContext(library, module))
    only = None if arguments.step is None else {step.casefold() for step in arguments.step}
    if only is not None and (lost := only - {c.step.casefold() for c in found}):
        raise CouldNotRunError(f"{module.path} does not cover `{sorted(lost)[0]}`")
    taken = [c for c in found if only is None or c.step.casefold() in only]
    for each in taken:
        if each.what != "same":
            leans = f"  (objective {', '.join(each.objectives)})" if each.objectives else ""
            print(f"{each.what:<8} {each.step}{leans}")
    hashes = {c.step: c.now if c in taken else c.before for c in found}
    hashes = {step: digest for step, digest in hashes.items() if digest}
    open_ = [c for c in taken if c.what != "same"]
    if arguments.show or not open_:
        print(f"{module.path}: {len(open_)} of {len(found)} steps to confirm; nothing was written")
        return OK
    change = confirmed_change(module, library.sources[module.path], library.file_of(module.path), hashes)
    try:
        write([change])
    except ChangedMeanwhileError as trouble:
        raise CouldNotRunError(str(trouble)) from None
    print(f"{module.path}: {len(open_)} confirmed, {len(hashes)} in all")
    return OK


def _issue(arguments: argparse.Namespace) -> int:
    from kilter.check.module import ModuleContext
    from kilter.publish.training.find import find_module
    from kilter.publish.training.issued import archive_of, issue
    from kilter.publish.training.questions import bank, papers

    library, module = find_module(arguments.number)
    front, folder = module.front, archive_of(library.root)
    built = (arguments.out or folder.parent / "out") / "training" / front.number.lower()
    forms = papers(bank(ModuleContext(library, module)), front)
    kept, new = issue(folder, front, forms, built, arguments.on or date.today())
    print(f"{kept.file}: {'kept' if new else f'was issued on {kept.day.isoformat()} already'}")
    for paper in forms:
        print(f"  form {paper.form}: {paper.code}, {len(paper.questions)} questions")
    return OK
