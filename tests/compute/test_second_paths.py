"""Second paths for the helpers that the calculations lean on, and the count of all proof there is."""

from __future__ import annotations

import ast
import re
from collections import Counter
from fractions import Fraction
from math import atan, cos, radians, tan
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import kilter.compute
from kilter.compute.calculation import NAMES, InputError
from kilter.compute.duration import bounds
from kilter.compute.electrical import choose, shipped, undecided
from kilter.compute.fastener import parse_fastener
from kilter.compute.fastener_friction import impossible, parse_friction
from kilter.compute.fastener_grip import Grip, grip_of
from kilter.compute.fastener_judge import force_text, force_unit
from kilter.compute.fastener_preload import least_k, thread_drag
from kilter.compute.fastener_tables import GRADES, STAINLESS, STEEL, strength, strongest
from kilter.compute.published import published
from kilter.compute.quantity import parse_quantity
from kilter.compute.switch import Window, place_in
from kilter.compute.units import UNITS

THREADS = [parse_fastener(name).thread for name in ("M3 8.8", "M8 8.8", "M12 10.9", "1/4-20 Gr 5")]
UREG = pint.UnitRegistry()


@given(st.sampled_from(THREADS), st.floats(0.02, 0.4))
def test_a_thread_is_a_wedge_pushed_up_a_slope(thread, mu):
    """tan(slope + angle of friction) of the thread's flank: the same by angles instead of tangents."""
    slope = atan(thread.pitch / (3.141592653589793 * thread.pitch_diameter))
    flank = atan(mu / cos(radians(30)))
    assert thread_drag(thread, mu) == pytest.approx(thread.pitch_diameter / 2 * tan(slope + flank), rel=1e-12)


@given(st.sampled_from(THREADS), st.floats(0.0301, 0.4))
def test_a_k_is_impossible_exactly_below_that_without_friction(thread, k):
    said = impossible(parse_friction(f"K {k:.4f}"), thread)
    assert bool(said) is (float(f"{k:.4f}") < least_k(thread))
    assert not said or thread.name in said


@pytest.mark.parametrize("thread", THREADS)
def test_the_strongest_class_is_the_one_of_the_highest_proof(thread):
    made = GRADES if thread.inch else (*STEEL, *STAINLESS)
    assert strongest(thread).proof == max(strength(name, thread).proof for name in made)


def test_no_grip_is_worked_out_unasked_or_without_a_screw():
    assert grip_of({}, None, None) == Grip()
    with pytest.raises(InputError, match="without `fastener`"):
        grip_of({"engagement": parse_quantity("12 mm")}, None, None)


@given(st.floats(1, 99_999), st.sampled_from(["N·m", "lbf·in", "ozf·in", "kgf·cm"]))
def test_a_force_as_text_reads_back_as_the_force(newton, torque):
    unit = force_unit(UNITS[torque])
    shown = parse_quantity(force_text(newton, unit))
    assert shown.unit.symbol in ("N", "kN", "lbf")
    assert (shown.unit.symbol == "lbf") is torque.startswith(("lbf", "ozf"))
    assert float(shown.base_nominal) == pytest.approx(newton, rel=0.006)


@given(st.floats(1000, 9999), st.floats(0.0005, 0.01))
def test_two_forces_beside_each_other_are_told_apart(newton, apart):
    beside = newton * (1 + apart)
    assert force_text(newton, UNITS["N"], beside) != force_text(beside, UNITS["N"], newton)


def test_what_is_undecided_is_what_the_rows_differ_in():
    table = shipped()
    rows = choose(table, "protective earth", {}, "IEC 62353")
    asked = undecided(rows, {})
    assert asked
    for name, words in asked.items():
        assert words == list(dict.fromkeys(dict(row.facts)[name] for row in rows if name in dict(row.facts)))
    settled = {name: words[0] for name, words in asked.items()}
    assert undecided(choose(table, "protective earth", settled, "IEC 62353"), settled) == {}


@given(st.fractions(-5, 5), st.fractions(Fraction(1, 100), 5), st.fractions(-1, 2))
def test_the_place_in_a_window_leads_back_to_the_aim(low, width, share):
    window = Window(low, low + width)
    assert place_in(window, low + share * width) == share


@given(st.integers(1, 9000), st.sampled_from(["s", "min", "h"]), st.integers(0, 50))
def test_a_time_in_seconds_by_pint(number, unit, more):
    least = round(UREG.Quantity(number, unit).to("s").magnitude)
    most = round(UREG.Quantity(number + more, unit).to("s").magnitude)
    inside = most <= 366 * 86_400
    assert bounds(f"{number} {unit}") == ((least, least) if least <= 366 * 86_400 else None)
    assert bounds(f"{number}–{number + more} {unit}") == ((least, most) if inside else None)


TESTS = "\n".join(f.read_text(encoding="utf-8") for f in Path(__file__).parent.glob("*.py"))
PHYSICS = (
    "battery", "bolt_order", "cable", "decision", "duration", "electrical", "fastener", "fastener_engagement",
    "fastener_friction", "fastener_grip", "fastener_judge", "fastener_preload", "fastener_tables", "fuse",
    "hydraulics", "spread", "stored_energy", "switch", "torque_tool",
)  # fmt: skip
NOT_TESTED_BY_NAME = {"seconds"}
"""In `duration`: the first of `bounds`."""


@pytest.mark.parametrize("name", PHYSICS)
def test_every_public_formula_is_called_by_a_test(name):
    tree = ast.parse((Path(kilter.compute.__file__).parent / f"{name}.py").read_text(encoding="utf-8"))
    public = [n.name for n in tree.body if isinstance(n, ast.FunctionDef) and not n.name.startswith("_")]
    assert public
    missed = [f for f in public if f not in NOT_TESTED_BY_NAME and not re.search(rf"\b{f}\(|\b{f}\b,", TESTS)]
    assert missed == []


def imported(file):
    return set(
        re.findall(r"^from kilter\.compute\.(\w+) import", file.read_text(encoding="utf-8"), re.MULTILINE)
    )


def test_every_module_behind_a_calculator_is_in_the_list():
    plumbing = {
        "bolt_order_lines", "calculation", "fastener_inputs", "fastener_lines", "fastener_words", "quantity", "rounding",
        "torque_tool_lines", "units", "value", "number", "refused", "refused_unit", "written", "display",
    }  # fmt: skip
    folder = Path(kilter.compute.__file__).parent
    found = set().union(*(imported(file) for file in (folder / "calculators").glob("*.py")))
    while more := set().union(*(imported(folder / f"{name}.py") for name in found)) - found:
        found |= more
    assert found - plumbing <= set(PHYSICS)
    assert len(found & set(PHYSICS)) >= 15


ENTRIES = published()
BEHIND = {
    "torque": r"fastener|torque|preload|friction|bolts|shear area",
    "setting": r"switch\.",
    "stack": r"stack|spread",
    "bleed": r"stored_energy",
    "battery": r"battery",
    "fuse": r"fuse",
    "cable": r"cable",
    "hydraulic": r"hydraulics|raised_energy",
    "leakage": r"electrical",
    "reading": r"decision",
}
"""Which published values stand behind each calculator."""


def test_there_is_much_proof_and_half_of_it_was_read():
    marks = Counter(e.mark for e in ENTRIES)
    assert sum(marks.values()) >= 120
    assert marks["read"] >= 60


@pytest.mark.parametrize("name", NAMES)
def test_every_calculator_has_at_least_five_published_values(name):
    assert sum(bool(re.match(BEHIND[name], e.of)) for e in ENTRIES) >= 5


PLACED = re.compile(
    r"\b\w+\.(?:com|org|net|edu|pt)\b|\b(?:table|figure|example|appendix|page|chart|chapter|edition|design tool"
    r"|problem|principle|sheet)\b|\((?:19|20)[0-9]{2}\)|\bTM [0-9-]+|[Tt]able|Reference",
)
VAGUE = re.compile(
    r"^(?:an?|any|some|several|published) |\b(?:any|some) (?:table|textbook|page)|somewhere|various|e\.g\."
)


def test_what_was_read_says_where_it_stands():
    read = [e for e in ENTRIES if e.mark == "read"]
    assert [e.source for e in read if not PLACED.search(e.source)] == []
    assert [
        e.source for e in read if VAGUE.search(e.source) and not re.search(r"\w\.(?:com|org|pt)\b", e.source)
    ] == []


def test_what_was_worked_out_says_how():
    """A worked value names its way, so that nobody takes it for a published one."""
    how = re.compile(r"by hand|worked|by scipy|law in the form|by its definition|multiplied|·|π")
    assert [e.source for e in ENTRIES if e.mark == "computed" and not how.search(e.source)] == []
