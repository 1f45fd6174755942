"""Calculations, screws and stores in documents: hostile numbers, fixes, and what leans on the library's table."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.check.asking import ask
from tests.check.frame import FRONT, PROFILE, PROFILE_BODY
from tests.check.pages import report_of

from kilter.check.calculated import PARTS, calculations, fields_of, results
from kilter.check.kit import declared
from kilter.check.rule import Context
from kilter.check.workspace import Workspace
from kilter.compute.calculation import NAMES, Result, calculator
from kilter.diagnostic import Diagnostic, Fix, Severity
from kilter.mend.apply import apply
from kilter.model.front import Tool
from kilter.read.library import read_library

DIGITS = "7" * 10_000


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("calculation-input", f":::{{calc}} bleed\n:capacitance: {DIGITS} µF\n:::\n"),
        ("calculation-input", f":::{{calc}} torque\n:fastener: M8 8.8\n:bolts: {DIGITS}\n:::\n"),
        ("calculation-input", f":::{{calc}} torque\n:fastener: M{DIGITS}\n:torque: 5 ± 1 N·m\n:::\n"),
        ("calculation-input", f":::{{stack}}\n:plus: case: {DIGITS} ± 1 mm\n:::\n"),
        (
            "calculation-input",
            f":::{{calc}} battery\n:chemistry: lead-acid gel\n:use: standby: {DIGITS} A, 1 h\n:::\n",
        ),
        ("fastener-unreadable", f":fastener: M{DIGITS}\n\nTighten it to {{torque}}`18 ± 1 N·m`.\n"),
        ("value-unreadable", f":origin: shop rule\n\nTighten it to {{torque}}`{DIGITS} ± 1 N·m`.\n"),
        ("value-unreadable", f":origin: shop rule\n\nSet it to {{set}}`{DIGITS} ± 1 mm`.\n"),
        ("value-unreadable", f":origin: shop rule\n\nMeasure {{read}}`≤ {DIGITS} Ω`.\n"),
    ],
)
def test_ten_thousand_digits_are_an_error_with_a_place(rule: str, text: str, tmp_path: Path) -> None:
    found = ask(rule, text if text.startswith((":origin", ":fast")) else "Look.\n\n" + text, tmp_path)
    assert [(d.rule, d.severity) for d in found] == [(rule, Severity.ERROR)]
    assert len(found[0].message) < 200
    assert found[0].help
    assert found[0].span.column > 1


NONSENSE = (
    "nan N·m", "inf N·m", "-5 ± 1 N·m", "5 ± -1 N·m", "7–5 N·m", "5 ± 1 мм", "~ 5 N·m", "1e400 N·m", "5,5 ± 1 N·m", "∞", "½ N·m",
    "N·m", "5", "5 N·m ± 10 V", "[]", "{torque}`5 ± 1 N·m`",
)  # fmt: skip
QUANTITIES = [(name, i.name) for name in NAMES for i in fields_of(name) if i.kind == "quantity"]


@pytest.mark.parametrize("value", NONSENSE)
def test_no_field_takes_nonsense(value: str, tmp_path: Path) -> None:
    """Every quantity of every calculation: an error at that field, never a result."""
    heads = {name: ":::{stack}" if name == "stack" else f":::{{calc}} {name}" for name in NAMES}
    blocks = "\n".join(f"{heads[name]}\n:{field}: {value}\n:::\n" for name, field in QUANTITIES)
    found = ask("calculation-input", f"Look.\n\n{blocks}", tmp_path)
    told = {(name, field) for name, field in QUANTITIES if any(_about(d, name, field) for d in found)}
    assert told == set(QUANTITIES)
    assert all(d.severity is Severity.ERROR and d.help for d in found)


def _about(found: Diagnostic, name: str, field: str) -> bool:
    return found.message.startswith(f"calculation `{name}`: `{field}`")


@pytest.mark.parametrize("name", NAMES)
def test_the_fields_are_the_calculators_inputs(name: str) -> None:
    inputs = {i.name for i in calculator(name).inputs}
    shown = {i.name for i in fields_of(name)}
    changed = {"stack": ({"part"}, set(PARTS)), "leakage": ({"table"}, set())}
    without, more = changed.get(name, (set(), set()))
    assert shown == (inputs - without) | more


def test_a_field_that_is_not_known_has_none() -> None:
    assert fields_of("weight") == ()


BLOCK = ":::{calc} torque\n:fastner: M8 8.8\n:torque: 18 ± 1 N·m\n:friction: K 0.2\n:::\n"


def test_a_misspelt_input_is_put_right(tmp_path: Path) -> None:
    (found,) = ask("unknown-calculation", "Look.\n\n" + BLOCK, tmp_path)
    (fix,) = found.fixes
    assert fix.alone
    assert fix.title == "write `fastener`"
    assert _mended(tmp_path, fix).count(":fastener: M8 8.8") == 1


def test_a_missing_input_leaves_a_blank(tmp_path: Path) -> None:
    text = "Look.\n\n:::{calc} bleed\n:capacitance: 470 µF\n:from: 400 V\n:::\n"
    (found,) = ask("calculation-input", text, tmp_path)
    (fix,) = found.fixes
    assert fix.leaves_blank
    assert ":from: 400 V\n:resistance: [fill in: " in _mended(tmp_path, fix)


def test_an_empty_window_is_left_by_the_click(tmp_path: Path) -> None:
    root = tmp_path / "procedures"
    root.mkdir()
    wide = PROFILE.replace("8.8 ± 0.1 mm", "8.8 ± 0.8 mm")
    (root / "rig.md").write_text(f"---\n{wide}---\n{PROFILE_BODY}", encoding="utf-8")
    step = "# Set it\n\n## Work\n\n### Set the lever\n:switch: door switch\n:exit: left as found\n\nSet it to {set}`0.9 ± 0.2 mm`.\n"
    file = root / "example.md"
    file.write_text(f"---\n{FRONT}---\n{step}", encoding="utf-8")
    workspace = Workspace(root, root)
    (found,) = [d for d in workspace.findings("example.md") if d.rule == "window-empty"]
    (fix,) = found.fixes
    assert not fix.alone, "it changes what the value means: a person chooses it"
    mended = apply({"example.md": file.read_text(encoding="utf-8")}, [fix]).texts["example.md"]
    assert ":switch: door switch, from click\n" in mended
    workspace.write(file, mended)
    said = {d.rule for d in workspace.findings("example.md")}
    assert not said & {
        "window-empty",
        "switch-counted",
        "setting-outside-window",
        "setting-wider-than-window",
    }


def _mended(folder: Path, fix: Fix) -> str:
    text = (folder / "procedures" / "example.md").read_text(encoding="utf-8")
    return apply({"example.md": text}, [fix]).texts["example.md"]


ROW = '[[limit]]\nstandard = "Shop rule"\nedition = "2025"\nmeasure = "protective earth"\nlimit = "{}"\nmark = "read"\n'
EARTH = ":::{calc} leakage\n:measure: protective earth\n:standard: Shop rule\n:read: 180 mΩ\n:::\n"


def test_the_librarys_table_decides_and_a_change_of_it_is_noticed(tmp_path: Path) -> None:
    report_of("Look.\n\n" + EARTH, tmp_path)
    root = tmp_path / "procedures"
    table = root / "limits.toml"
    table.write_text(ROW.format("≤ 200 mΩ"), encoding="utf-8")
    workspace = Workspace(root, root)
    assert _said(workspace) == set()
    table.write_text(ROW.format("≤ 100 mΩ"), encoding="utf-8")
    assert "example.md" in workspace.refresh([table])
    assert _said(workspace) == {"calculation-fails"}
    table.write_text(ROW.format("100"), encoding="utf-8")
    workspace.refresh([table])
    assert _said(workspace) == {"calculation-input"}
    (damaged,) = workspace.findings("limits.toml")
    assert (damaged.rule, damaged.span.line) == ("limits-table", 5)
    fresh = Workspace(root, root).report()
    assert workspace.report().found == fresh.found
    assert "limits.toml" in fresh.found


def _said(workspace: Workspace) -> set[str]:
    return {d.rule for d in workspace.findings("example.md") if d.rule.startswith("calculation")}


def test_a_calculation_is_worked_out_once_for_all(tmp_path: Path) -> None:
    report_of("Look.\n\n" + BLOCK.replace("fastner", "fastener"), tmp_path)
    library = read_library(tmp_path / "procedures", base=tmp_path / "procedures")
    document = library.documents["example.md"]
    context = Context(library, document, library.profile_of(document))
    ((block, answer),) = results(context)
    assert list(calculations(document)) == [block]
    assert isinstance(answer, Result)
    assert answer.verdict == "holds"
    assert results(context) is results(context)


@pytest.mark.parametrize(
    ("range", "accuracy", "dimension", "share", "off"),
    [
        ("5–50 N·m", "4 %", "torque", 0.04, None),
        ("5–50 N·m", "± 4 % of reading", "torque", 0.04, None),
        ("0–25 mm", "±0.02 mm", "length", None, 0.00002),
        (None, "±0.02 mm", "length", None, 0.00002),
        ("0–25 mm", "±0.5 V", "length", None, None),
        ("0–60 V", "1 % of full scale", "voltage", None, None),
        ("0.1–200 MΩ at 250 V", "5 %", "resistance", 0.05, None),
        ("0–100 °C", "0.2 °C", "temperature", None, 0.2),
        ("as bought", "good", "", None, None),
        (None, None, "", None, None),
    ],
)
def test_what_a_tools_entry_says(
    range: str | None, accuracy: str | None, dimension: str, share: float | None, off: float | None
) -> None:
    found = declared(Tool(name="x", range=range, accuracy=accuracy))
    assert found.dimension == dimension
    assert (None if found.share is None else float(found.share)) == share
    assert (None if found.off is None else float(found.off)) == off
