"""Workflow commands: the line is one line, and what was written comes back out of it."""

import re

from hypothesis import given
from hypothesis import strategies as st
from tests.demo import CHARGE

from kilter.diagnostic import Diagnostic, Severity
from kilter.report import github
from kilter.source import Span

COMMAND = re.compile(r"::(\w+) ([^:]*)::(.*)", re.DOTALL)
"""A command as the runner takes it apart: its name, properties up to the next colons, and the data."""


def taken_apart(line):
    """The inverse of the escaping, in the runner's order: the percent sign last."""
    name, properties, data = COMMAND.fullmatch(line).groups()
    pairs = dict(each.split("=", 1) for each in properties.split(","))
    for code, sign in (("%3A", ":"), ("%2C", ","), ("%0D", "\r"), ("%0A", "\n"), ("%25", "%")):
        pairs = {k: v.replace(code, sign) for k, v in pairs.items()}
        data = data if code in ("%3A", "%2C") else data.replace(code, sign)
    return name, pairs, data


ODD = st.text(st.sampled_from("a%:,\r\n23AC05D= "), min_size=1)


@given(ODD, ODD, ODD)
def test_whatever_is_in_path_and_message_stays_in_them(path, message, help):
    found = Diagnostic("a-rule", Severity.WARNING, message, Span(path, 3, 4, 3, 9), help, code="K1")
    line = github.render([found])
    assert line.count("\n") == 1 and "\r" not in line
    name, pairs, data = taken_apart(line.removesuffix("\n"))
    assert name == "warning"
    assert pairs["file"] == path
    assert (pairs["line"], pairs["col"], pairs["endLine"], pairs["endColumn"]) == ("3", "4", "3", "9")
    assert pairs["title"] == "K1 a-rule"
    assert data == f"{message}\n{help}"


def test_columns_only_where_the_place_is_in_one_line():
    _, pairs, _ = taken_apart(
        github.render([Diagnostic("r", Severity.HINT, "m", Span("a", 1, 2, 3, 4))])[:-1]
    )
    assert pairs == {"file": "a", "line": "1", "endLine": "3", "title": "r"}


def test_the_command_prints_one_line_a_finding_and_the_summary_last(faulty, check):
    code, out, err = check("--format", "github", CHARGE)
    *commands, last = out.splitlines()
    assert code == 1 and err == ""
    assert last.startswith("1 file checked: ")
    names = [taken_apart(line)[0] for line in commands]
    assert set(names) == {"error", "warning"}
    errors, warnings = names.count("error"), names.count("warning")
    assert last.endswith(f"{errors} error{'' if errors == 1 else 's'}, {warnings} warnings")
