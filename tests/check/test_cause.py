"""An unknown name is told as what other findings may come from."""

from pathlib import Path

import pytest
from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE

from kilter.check.rule import names_in
from kilter.check.run import check_library
from kilter.diagnostic import Diagnostic
from kilter.read.library import read_library

WORK = """\
## Work

### Oil the pin

Oil the pin.
"""
TEXT = f"---\n{FRONT}---\n{SAFE}\n{WORK}\n{END}"
MORE = "It may come from the unknown name in line "


def findings(folder: Path, text: str) -> list[Diagnostic]:
    (folder / "rig.md").write_text(f"---\n{PROFILE}---\n{PROFILE_BODY}", encoding="utf-8")
    (folder / "a.md").write_text(text, encoding="utf-8")
    report = check_library(read_library(folder))
    (path,) = (p for p in report.found if p.endswith("a.md"))
    return report.found[path]


@pytest.mark.parametrize(
    ("right", "wrong", "cause"),
    [
        ("{isolates}`battery`", "{isolates}`batery`", "unknown-source"),
        ("{isolates}`battery`", "{isolate}`battery`", "unknown-role"),
        ("{restores}`battery`", "{restores}`battry`", "unknown-source"),
        ("{refits}`", "{refits}`x", "unknown-guard"),
        (":exit: returned", ":exitt: returned", "unknown-field"),
    ],
)
def test_findings_about_energy_name_the_unknown_name(
    tmp_path: Path, right: str, wrong: str, cause: str
) -> None:
    assert findings(tmp_path, TEXT) == []
    text = TEXT.replace(right, wrong, 1)
    found = findings(tmp_path, text)
    line = 1 + text[: text.index(wrong)].count("\n")
    energy = [d for d in found if d.rule in names_in("energy")]
    assert energy and cause in {d.rule for d in found}
    assert [d.message for d in energy if not d.why.endswith(f"{MORE}{line}: mend that first.")] == []
    assert [d.message for d in found if d not in energy and MORE in d.why] == []


def test_without_an_unknown_name_nothing_is_added(tmp_path: Path) -> None:
    found = findings(tmp_path, TEXT.replace("{isolates}`battery`", "`battery`", 1))
    assert {d.rule for d in found} & names_in("energy")
    assert [d.message for d in found if MORE in d.why] == []


def test_the_first_of_several_is_named(tmp_path: Path) -> None:
    text = TEXT.replace("{isolates}`battery`", "{isolates}`batery`", 1).replace(
        ":exit: returned", ":exitt: returned", 1
    )
    energy = [d for d in findings(tmp_path, text) if d.rule in names_in("energy")]
    first = min(1 + text[: text.index(w)].count("\n") for w in ("`batery`", ":exitt:"))
    assert energy and all(f"in line {first}: " in d.why for d in energy)
