"""Bad inputs and odd ones: a folder of `tests/cases/` is a test, and a new folder is a new test.

The folder is read as a library. `expected.txt` lists what the check has to say, a finding a line:
`path:line:column: severity: message [rule]`; a message may end with `...`, and a line that begins with `#` is a
comment. Errors must all be listed, but for what the energy analysis says of a file that could not be read whole;
further warnings and hints are let pass. A library without any error says `sound`. Unless one of its files is an equipment profile, the profile of the rule pages' frame, `rig.md`, is put in.

Files that can't stand in a repository as they are have a further ending:
`.hex` and `.b64` hold bytes in that form, `.link` the target of a symbolic link, and `.repeat` rows of a count, a
blank and a text, which is written so many times (`\\n` is a line end) with a line end after it.
"""

from __future__ import annotations

import base64
import re
from pathlib import Path

import pytest
from tests.check.frame import PROFILE, PROFILE_BODY

from kilter.check.rule import all_rules
from kilter.check.run import check_library
from kilter.diagnostic import Diagnostic, Severity
from kilter.read.library import read_library

HOME = Path(__file__).parent / "cases"
CASES = sorted(p for p in HOME.iterdir() if p.is_dir())
EXPECTED = "expected.txt"
_FINDING = re.compile(
    r"^(?P<place>\S.*?:\d+:\d+): (?P<severity>error|warning|hint): (?P<text>.+) \[(?P<rule>[a-z-]+)\]$"
)


def _repeated(text: str) -> bytes:
    rows = [row.split(" ", 1) for row in text.splitlines()]
    return "".join(words.replace("\\n", "\n") * int(count) + "\n" for count, words in rows).encode()


def _lay_out(case: Path, root: Path) -> None:
    """Write the files of a case below `root`."""
    for file in sorted(p for p in case.rglob("*") if p.is_file() and p.name != EXPECTED):
        to = root / file.relative_to(case)
        to.parent.mkdir(parents=True, exist_ok=True)
        match file.suffix:
            case ".hex":
                to.with_suffix("").write_bytes(bytes.fromhex(file.read_text()))
            case ".b64":
                to.with_suffix("").write_bytes(base64.b64decode(file.read_text()))
            case ".repeat":
                to.with_suffix("").write_bytes(_repeated(file.read_text(encoding="utf-8")))
            case ".link":
                to.with_suffix("").symlink_to(file.read_text().strip())
            case _:
                to.write_bytes(file.read_bytes())
    if not any(b"\nkind: equipment" in f.read_bytes() for f in root.rglob("*.md") if f.is_file()):
        (root / "rig.md").write_text(f"---\n{PROFILE}---\n{PROFILE_BODY}", encoding="utf-8")


def line_of(found: Diagnostic) -> str:
    """A finding as `expected.txt` lists it."""
    return f"{found.span}: {found.severity}: {found.message} [{found.rule}]"


def _meets(expected: str, said: str) -> bool:
    if expected == said:
        return True
    match = _FINDING.match(expected)
    assert match, f"not of the form `path:line:column: severity: message [rule]`: {expected}"
    if not match["text"].endswith("..."):
        return False
    begin = f"{match['place']}: {match['severity']}: {match['text'].removesuffix('...')}"
    return said.startswith(begin) and said.endswith(f" [{match['rule']}]")


def findings_of(case: Path, folder: Path) -> list[Diagnostic]:
    """What the check says about a case."""
    root = folder / "procedures"
    root.mkdir()
    _lay_out(case, root)
    return check_library(read_library(root, base=root)).all()


def _follows(one: Diagnostic, found: list[Diagnostic]) -> bool:
    """Whether a finding about the way through a file comes after one about reading that file."""
    rules = all_rules()
    unread = any(
        d.span.path == one.span.path and d.rule in rules and rules[d.rule].family == "syntax" for d in found
    )
    return unread and (one.rule not in rules or rules[one.rule].family == "energy")


@pytest.mark.parametrize("case", CASES, ids=lambda p: p.name)
def test_case(case: Path, tmp_path: Path) -> None:
    expected = [
        r for r in (case / EXPECTED).read_text(encoding="utf-8").splitlines() if r and not r.startswith("#")
    ]
    assert expected, "a case has to expect something: findings, or `sound`"
    found = findings_of(case, tmp_path)
    lines = [line_of(d) for d in found]
    errors = [line_of(d) for d in found if d.severity is Severity.ERROR and not _follows(d, found)]
    if expected == ["sound"]:
        assert errors == []
        return
    assert [e for e in expected if not any(_meets(e, said) for said in lines)] == [], lines
    assert [said for said in errors if not any(_meets(e, said) for e in expected)] == []


@pytest.mark.parametrize("case", CASES, ids=lambda p: p.name)
def test_every_error_of_a_case_tells_how_to_mend_it(case: Path, tmp_path: Path) -> None:
    without = [line_of(d) for d in findings_of(case, tmp_path) if d.severity is Severity.ERROR and not d.help]
    assert without == []


def test_there_are_many_bad_inputs() -> None:
    bad = [c for c in CASES if "sound" not in (c / EXPECTED).read_text(encoding="utf-8").splitlines()]
    assert len(bad) >= 45
