"""What a set of answers says about its questions. Pure; nothing is rounded here.

Small classes say little, so what is shown depends on their size (`Gate`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Z95 = 1.959963984540054
"""Two-sided 95 % of the normal distribution."""
SHOW_R, FLAG_R, RELIABILITY = 20, 50, 30
"""Answers from which discrimination is shown, from which it is judged; people from which reliability is shown."""
LEAST_JUDGES = 3


def wilson(right: int, of: int, z: float = Z95) -> tuple[float, float]:
    """Interval for a share (Wilson 1927); (0, 1) where nobody answered."""
    if of == 0:
        return 0.0, 1.0
    p, zz = right / of, z * z
    middle = (p + zz / (2 * of)) / (1 + zz / of)
    half = z / (1 + zz / of) * math.sqrt(p * (1 - p) / of + zz / (4 * of * of))
    return max(0.0, middle - half), min(1.0, middle + half)


def variance(values: Sequence[float], ddof: int = 0) -> float:
    """Mean square about the mean, over n - ddof."""
    mean = math.fsum(values) / len(values)
    return math.fsum((v - mean) ** 2 for v in values) / (len(values) - ddof)


def correlation(one: Sequence[float], two: Sequence[float]) -> float | None:
    """Pearson's; None where one of them does not vary or there are fewer than three pairs."""
    if len(one) < 3:
        return None
    a, b = math.fsum(one) / len(one), math.fsum(two) / len(two)
    both = math.fsum((x - a) * (y - b) for x, y in zip(one, two, strict=True))
    spread = math.fsum((x - a) ** 2 for x in one) * math.fsum((y - b) ** 2 for y in two)
    return both / math.sqrt(spread) if spread > 1e-18 else None


def item_rest(matrix: Sequence[Sequence[int]], item: int) -> float | None:
    """Corrected point-biserial: an item against the sum of the *others*. With itself in it, it flatters."""
    return correlation([row[item] for row in matrix], [sum(row) - row[item] for row in matrix])


def correlation_interval(r: float, n: int, z: float = Z95) -> tuple[float, float]:
    """By Fisher's transformation; (-1, 1) below four."""
    if n < 4 or abs(r) >= 1:
        return (-1.0, 1.0) if n < 4 else (r, r)
    half = z / math.sqrt(n - 3)
    return math.tanh(math.atanh(r) - half), math.tanh(math.atanh(r) + half)


def kr20(matrix: Sequence[Sequence[int]]) -> float | None:
    """Kuder and Richardson 1937, formula 20; None where nobody differs or there is one item.

    p(1-p) is a variance over n, so the total's has to be over n as well: over n - 1 the result is too high.
    """
    k = len(matrix[0]) if matrix else 0
    if k < 2 or len(matrix) < 2:
        return None
    total = variance([sum(row) for row in matrix])
    if total == 0:
        return None
    shares = [sum(row[i] for row in matrix) / len(matrix) for i in range(k)]
    return k / (k - 1) * (1 - math.fsum(p * (1 - p) for p in shares) / total)


def alpha(matrix: Sequence[Sequence[float]]) -> float | None:
    """Cronbach 1951, all variances over n - 1; equal to KR-20 for right and wrong."""
    k = len(matrix[0]) if matrix else 0
    if k < 2 or len(matrix) < 2:
        return None
    total = variance([math.fsum(row) for row in matrix], 1)
    if total == 0:
        return None
    return k / (k - 1) * (1 - math.fsum(variance([row[i] for row in matrix], 1) for i in range(k)) / total)


@dataclass(frozen=True)
class Cut:
    """Angoff's cut: what somebody just able would reach, in the judges' eyes."""

    questions: int
    judges: int
    mean: float
    """Questions."""
    error: float | None
    """Standard error over the judges; None for one judge."""

    @property
    def whole(self) -> int:
        """Rounded up to a whole question."""
        return math.ceil(self.mean - 1e-9)

    @property
    def is_cut(self) -> bool:
        """Fewer than three judges make a wish, not a cut."""
        return self.judges >= LEAST_JUDGES


def angoff(judged: Sequence[Sequence[float]]) -> Cut:
    """Each row one judge's probabilities, all for the same questions (Angoff 1971)."""
    sums = [math.fsum(row) for row in judged]
    error = math.sqrt(variance(sums, 1) / len(sums)) if len(sums) > 1 else None
    return Cut(len(judged[0]), len(judged), math.fsum(sums) / len(sums), error)
