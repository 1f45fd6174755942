"""What comes of several dimensions, each somewhere within its tolerance.

Worst case is exact. The statistical ways need the parts to be independent and made or set around their middles:
root sum of squares as in Budynas and Nisbett, *Shigley's Mechanical Engineering Design*, 1-13; the chance of
ending inside two limits for parts that are normal (tolerance = three standard deviations, common practice, no
source) or uniform over their tolerance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import erfc, exp, pi, prod, sqrt
from typing import Literal

Shape = Literal["normal", "uniform"]

MOST_UNIFORM = 12
"""More uniform parts than this are taken as one normal part of the same variance: their sum is all but normal."""


@dataclass(frozen=True, slots=True)
class Part:
    """One dimension of a chain, in the unit of the chain."""

    name: str
    low: Fraction
    high: Fraction
    weight: Fraction = Fraction(1)
    """How much of it comes through: +1 adds, −1 takes away, a lever's ratio in between."""
    shape: Shape = "normal"

    @property
    def middle(self) -> Fraction:
        return self.weight * (self.low + self.high) / 2

    @property
    def half(self) -> Fraction:
        """Half the width of what it adds to the result's spread."""
        return abs(self.weight) * (self.high - self.low) / 2


@dataclass(frozen=True, slots=True)
class Spread:
    """The result of a chain."""

    middle: Fraction
    worst: Fraction
    """Worst case: the result lies within middle ± worst, whatever the parts do."""
    rss: float
    """Root sum of squares of the tolerances, about the same middle."""
    shares: tuple[tuple[str, float, float], ...]
    """Name, share of the worst case, share of the root sum of squares; each column adds up to 1."""


def spread(parts: Sequence[Part]) -> Spread:
    """Worst case, root sum of squares and what each part contributes."""
    middle = sum((p.middle for p in parts), Fraction(0))
    worst = sum((p.half for p in parts), Fraction(0))
    squares = sum((p.half**2 for p in parts), Fraction(0))
    shares = tuple(
        (
            p.name,
            float(p.half / worst) if worst else 0.0,
            float(p.half**2 / squares) if squares else 0.0,
        )
        for p in parts
    )
    return Spread(middle, worst, sqrt(squares), shares)


def chance_inside(parts: Sequence[Part], low: Fraction | None, high: Fraction | None) -> float:
    """The probability, 0 to 1, that the sum of the parts lies between the limits; None is no limit."""
    middle = float(sum((p.middle for p in parts), Fraction(0)))
    sigmas = [float(p.half) / 3 for p in parts if p.shape == "normal"]
    widths = [float(p.half) for p in parts if p.shape == "uniform" and p.half]
    sigma = sqrt(sum(s * s for s in sigmas))
    if len(widths) > MOST_UNIFORM:
        sigma, widths = sqrt(sigma**2 + sum(w * w for w in widths) / 3), []
    below = 0.0 if low is None else _below(float(low) - middle, sigma, widths)
    above = 1.0 if high is None else _below(float(high) - middle, sigma, widths)
    return min(1.0, max(0.0, above - below))


def _below(x: float, sigma: float, widths: list[float]) -> float:
    """The chance that normal(0, sigma) plus uniforms over ± each width is at most x.

    The distribution of a sum with n uniforms is the n-th repeated integral of the rest's, differenced once for
    each of them over its width; the repeated integrals of the normal distribution follow the recursion
    n·I(n) = z·I(n−1) + I(n−2), I(−1) = density, I(0) = distribution (Abramowitz and Stegun, 7.2.5, from memory).
    """
    if sigma == 0.0:
        return _uniform_below(x, widths)
    small = [w for w in widths if w < 0.05 * sigma]  # differencing them would cost more digits than it gives
    if small:
        sigma = sqrt(sigma**2 + sum(w * w for w in small) / 3)
        widths = [w for w in widths if w not in small]
    if not widths:
        return _phi(x / sigma)
    n, total = len(widths), 0.0
    for signs in product((1, -1), repeat=n):
        at = (x + sum(s * w for s, w in zip(signs, widths, strict=True))) / sigma
        total += prod(signs) * _repeated(at, n)
    return total * sigma**n / prod(2 * w for w in widths)


def _uniform_below(x: float, widths: list[float]) -> float:
    if not widths:
        return 1.0 if x >= 0 else 0.0
    n, total = len(widths), 0.0
    for signs in product((1, -1), repeat=n):
        at = x + sum(s * w for s, w in zip(signs, widths, strict=True))
        total += prod(signs) * max(0.0, at) ** n
    return total / (prod(range(1, n + 1)) * prod(2 * w for w in widths))


def _phi(z: float) -> float:
    return erfc(-z / sqrt(2)) / 2


def _repeated(z: float, n: int) -> float:
    before, now = exp(-z * z / 2) / sqrt(2 * pi), _phi(z)
    for m in range(1, n + 1):
        before, now = now, (z * now + before) / m
    return now
