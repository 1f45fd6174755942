"""`kilter explain`."""

from __future__ import annotations

import argparse

from kilter.outcome import OK, CouldNotRunError


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "rule", nargs="?", help="name or code as printed with a finding; without one, all rules"
    )


def run(arguments: argparse.Namespace) -> int:
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
