"""Torque tools: extensions by moments, ability by trying settings."""

from fractions import Fraction
from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.torque_tool import Tool, indicated, judge, lever, permitted, tool


@given(st.floats(0.1, 1), st.floats(0.01, 1), st.floats(0, 85), st.floats(1, 100))
def test_an_extension_by_moments(length, reach, angle, pull):
    """Judge: the cross product of the pull, square to the wrench at the grip, about the square and about the screw."""
    square, screw = (0.0, 0.0), (reach * cos(radians(angle)), reach * sin(radians(angle)))
    grip, force = (-length, 0.0), (0.0, -pull)

    def about(point):
        return (grip[0] - point[0]) * force[1] - (grip[1] - point[1]) * force[0]

    assert about(screw) / about(square) == pytest.approx(lever(length, reach, angle), rel=1e-9)
    assert hypot(*screw) == pytest.approx(reach)


def test_beside_the_wrench_it_changes_nothing_and_backwards_it_takes_away():
    assert indicated(20, 0.3, 0.2, 90) == 20
    assert indicated(20, 0.3, 0.1, 180) == pytest.approx(30)
    with pytest.raises(ValueError, match="over the screw"):
        lever(0.3, 0.3, 180)


def test_accuracy_and_usable_range():
    assert (permitted(Fraction(10)), permitted(Fraction("10.1"))) == (Fraction(6, 100), Fraction(4, 100))
    assert tool(Fraction(20)) == Tool(Fraction(4), Fraction(20), Fraction(4, 100), True)
    assert tool(Fraction(20), Fraction(5), Fraction(1, 100)) == Tool(
        Fraction(5), Fraction(20), Fraction(1, 100)
    )
    assert tool(Fraction(20), Fraction(1)).low == 4


hundredths = st.integers(1, 10_000).map(lambda n: Fraction(n, 100))


@given(hundredths, hundredths, st.integers(10, 10_000), st.integers(0, 20))
def test_able_exactly_if_some_setting_keeps_the_tolerance(low, width, high, percent):
    """Judge: settings tried one by one between the ends, each at the worst of the tool."""
    one = Tool(Fraction(high, 500), Fraction(high, 100), Fraction(percent, 100))
    upper = low + width
    found = judge(one, low, upper)
    tried = [low + width * Fraction(n, 400) for n in range(401)] + [one.low, one.high, found.low, found.high]

    def keeps(setting):
        inside = low <= setting * (1 - one.off) and setting * (1 + one.off) <= upper
        return inside and one.low <= setting <= one.high

    good = [s for s in tried if keeps(s)]
    assert bool(good) == (found.ability == "able")
    if found.ability == "able":
        assert found.low <= min(good) and max(good) <= found.high
        assert keeps(found.low) and keeps(found.high)
    if found.ability == "too wide":
        assert one.off * (low + upper) / 2 > width / 2
