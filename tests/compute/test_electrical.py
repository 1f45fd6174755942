"""Electrical safety after repair: the table, which row holds, the comparison."""

from fractions import Fraction

import pytest

from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.electrical import MEASURES, TableError, choose, compare, read_table, shipped
from kilter.compute.quantity import parse_quantity

LEAKAGE = calculator("leakage")
ROW = '[[limit]]\nstandard = "House rule"\nedition = "3"\nmeasure = "protective earth"\nlimit = "≤ 150 mΩ"\nmark = "read"\n'


def ask(**given):
    texts = {k.rstrip("_"): [v] for k, v in given.items()}
    return LEAKAGE.work(read_inputs(LEAKAGE.inputs, texts))


def test_every_shipped_row_is_found_by_its_own_facts():
    for row in shipped():
        found = choose(shipped(), row.measure, dict(row.facts), row.standard)
        assert found[0].limit.text == row.limit.text, row


def test_no_two_rows_contradict_each_other():
    keys = [(r.standard, r.measure, r.facts) for r in shipped()]
    assert len(keys) == len(set(keys))


def test_every_measure_has_a_row():
    assert {r.measure for r in shipped()} == set(MEASURES)


def test_what_is_missing_is_asked_for_by_name():
    with pytest.raises(InputError, match="`standard` is missing"):
        ask(measure="protective earth")
    with pytest.raises(InputError, match="`cord` is missing"):
        ask(measure="protective earth", standard="IEC 62353")
    with pytest.raises(InputError, match="`method` is missing"):
        ask(measure="equipment leakage", class_="II")


def test_verdict_and_change():
    kept = ask(measure="protective earth", standard="IEC 62353", cord="fixed", read="180 mΩ", before="0.12 Ω")
    assert kept.verdict == "holds"
    assert any("50 % worse" in line.text for line in kept.lines)
    assert any("clearly worse" in c for c in kept.cautions)
    assert (
        ask(measure="protective earth", standard="IEC 62353", cord="fixed", read="310 mΩ").verdict == "fails"
    )
    near = ask(
        measure="protective earth", standard="IEC 62353", cord="fixed", read="295 mΩ", uncertainty="10 mΩ"
    )
    assert near.verdict == "too close to call"


def test_a_limit_from_memory_is_said_to_be_so():
    assert any("from memory" in c for c in ask(measure="insulation", class_="I").cautions)
    assert not any("from memory" in c for c in ask(measure="touch current", cord="ground open").cautions)


def test_more_insulation_is_better_and_more_leakage_worse():
    """Worked by hand: 20 to 15 is a quarter worse where the limit is a least value, a quarter better elsewhere."""
    assert compare(Fraction(20), Fraction(15), parse_quantity("≥ 2 MΩ")).worse_by == Fraction(1, 4)
    assert compare(Fraction(20), Fraction(15), parse_quantity("≤ 500 µA")).worse_by == Fraction(-1, 4)
    assert compare(Fraction(20), Fraction(15), parse_quantity("≥ 2 MΩ")).remarkable
    assert not compare(Fraction(20), Fraction(22), parse_quantity("≤ 500 µA")).remarkable


def test_a_librarys_own_rows_come_first():
    result = ask(measure="protective earth", standard="House rule", read="160 mΩ", table=ROW)
    assert result.verdict == "fails"
    assert result.source.startswith("House rule:3")


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("", "rows are missing"),
        ("limit = 3", "rows are missing"),
        ("[[limit]", "no TOML"),
        (ROW.replace('"≤ 150 mΩ"', '"150 mΩ"'), "no limit of a resistance"),
        (ROW.replace('"≤ 150 mΩ"', '"≤ 150 µA"'), "no limit of a resistance"),
        (ROW.replace('"≤ 150 mΩ"', '"≤ 1,5 Ω"'), "comma"),
        (ROW.replace('"≤ 150 mΩ"', "3"), "text in quotes"),
        (ROW.replace('"read"', '"sure"'), "`read` or `memory`"),
        (ROW.replace("protective earth", "protective bonding"), "no measure"),
        (ROW.replace('edition = "3"\n', ""), "`edition` is missing"),
        (ROW + 'colour = "red"\n', "`colour` is not known"),
    ],
)
def test_a_faulty_table_is_refused_with_its_row(table, said):
    with pytest.raises(TableError, match=said):
        read_table(table)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"measure": "leakage"}, "no measure"),
        ({"measure": "insulation", "class_": "III"}, "no class"),
        ({"measure": "insulation", "class_": "I", "read": "5 µA"}, "current"),
        ({"measure": "insulation", "class_": "I", "read": "≥ 5 MΩ"}, "no single value"),
        ({"measure": "insulation", "class_": "I", "read": "5 MΩ", "before": "0 MΩ"}, "nothing"),
        ({"measure": "touch current", "standard": "no such"}, "no row"),
        ({"measure": "insulation", "table": "x"}, "table of limits"),
    ],
)
def test_hostile_inputs_are_refused_in_words(given, said):
    with pytest.raises(InputError, match=said):
        ask(**given)
