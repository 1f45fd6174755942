"""Chains of dimensions: closed forms against enumeration, Monte Carlo and scipy."""

from fractions import Fraction
from itertools import product
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from kilter.compute.spread import MOST_UNIFORM, Part, chance_inside, spread

sizes = st.fractions(min_value=Fraction(-20), max_value=Fraction(20), max_denominator=100)
halves = st.fractions(min_value=Fraction(1, 100), max_value=Fraction(5), max_denominator=100)
weights = st.sampled_from([Fraction(1), Fraction(-1), Fraction(1, 2), Fraction(-3)])
parts = st.builds(
    lambda m, h, w, s: Part("p", m - h, m + h, w, s),
    sizes, halves, weights, st.sampled_from(["normal", "uniform"]),
)  # fmt: skip


@given(st.lists(parts, min_size=1, max_size=6))
def test_the_worst_case_is_the_extreme_of_all_corners(chain):
    corners = [
        sum(p.weight * end for p, end in zip(chain, ends, strict=True))
        for ends in product(*((p.low, p.high) for p in chain))
    ]
    found = spread(chain)
    assert found.middle - found.worst == min(corners)
    assert found.middle + found.worst == max(corners)


@given(st.lists(parts, min_size=1, max_size=6))
def test_contributions_add_up_and_rss_never_exceeds_the_worst_case(chain):
    found = spread(chain)
    assert sum(w for _, w, _ in found.shares) == pytest.approx(1)
    assert sum(r for _, _, r in found.shares) == pytest.approx(1)
    assert found.rss <= float(found.worst) * (1 + 1e-12)


@given(st.lists(parts, min_size=1, max_size=5), halves, halves)
def test_a_wider_limit_is_never_less_likely_kept(chain, one, two):
    middle = spread(chain).middle
    near, far = sorted((one, two))
    inner = chance_inside(chain, middle - near, middle + near)
    assert 0 <= inner <= chance_inside(chain, middle - far, middle + far) + 1e-9 <= 1 + 2e-9


def test_normal_parts_are_the_normal_distribution_of_scipy():
    chain = [Part("a", Fraction(-3), Fraction(3)), Part("b", Fraction(-4), Fraction(4))]
    expected = stats.norm(0, sqrt(1 + (4 / 3) ** 2))
    assert chance_inside(chain, Fraction(-2), Fraction(1)) == pytest.approx(
        expected.cdf(1) - expected.cdf(-2), abs=1e-12
    )


@pytest.mark.parametrize("low", [-2.5, -1.0, 0.3])
def test_one_normal_and_one_uniform_are_their_convolution(low):
    """Integrated by scipy over the uniform part."""
    chain = [Part("n", Fraction(-3), Fraction(3)), Part("u", Fraction(-2), Fraction(2), shape="uniform")]
    expected, _ = integrate.quad(lambda u: (stats.norm.cdf(1.5 - u) - stats.norm.cdf(low - u)) / 4, -2, 2)
    assert chance_inside(chain, Fraction(low), Fraction(3, 2)) == pytest.approx(expected, abs=1e-9)


def test_two_equal_uniform_parts_are_a_triangle():
    """Distribution of the sum of two uniforms over ±1: triangular, as any textbook of probability has it."""
    chain = [Part("u", Fraction(-1), Fraction(1), shape="uniform")] * 2
    expected = stats.triang(0.5, loc=-2, scale=4)
    assert chance_inside(chain, None, Fraction(1, 2)) == pytest.approx(expected.cdf(0.5))


def test_limits_that_take_in_all_are_certain():
    chain = [Part("u", Fraction(-1), Fraction(1), shape="uniform")]
    assert chance_inside(chain, Fraction(-1), Fraction(1)) == 1
    assert chance_inside(chain, None, None) == 1
    assert chance_inside([Part("x", Fraction(2), Fraction(2))], Fraction(0), Fraction(1)) == 0


@pytest.mark.parametrize("case", range(12))
def test_monte_carlo_agrees(case):
    """200,000 draws: the standard error is at most 0.0012, four of them are allowed."""
    draw = np.random.default_rng(case)
    shapes = draw.choice(["normal", "uniform"], size=draw.integers(1, 7))
    chain = [
        Part("p", Fraction(-h), Fraction(h), shape=s) for s in shapes for h in [int(draw.integers(1, 31))]
    ]
    low, high = (Fraction(int(draw.integers(1, 21))) * sign for sign in (-1, 1))
    total = np.zeros(200_000)
    for part in chain:
        half = float(part.half)
        made = (
            draw.normal(0, half / 3, total.size)
            if part.shape == "normal"
            else draw.uniform(-half, half, total.size)
        )
        total += made
    hits = np.mean((total >= float(low)) & (total <= float(high)))
    assert chance_inside(chain, low, high) == pytest.approx(hits, abs=0.005)


def test_very_many_uniform_parts_are_all_but_normal():
    many = [Part("u", Fraction(-1), Fraction(1), shape="uniform")] * (MOST_UNIFORM + 1)
    few = many[:MOST_UNIFORM]
    for chain in (many, few):
        expected = stats.norm(0, sqrt(len(chain) / 3)).cdf(1)
        assert chance_inside(chain, None, Fraction(1)) == pytest.approx(expected, abs=0.0025)
