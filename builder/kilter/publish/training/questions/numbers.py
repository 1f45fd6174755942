"""Wrong values that are provably wrong, and as plausible as the right one.

A value is a point that is shown with what is written around it: `22` in `22 ± 2 N·m`, the first end of a range,
the limit in `≥ 25.2 V`. A wrong one is another point, shown in the same way, in the same unit, with as many decimals
and the same tolerance, so that nothing but its size differs. Proofs, in exact fractions of the printed unit:

- its whole range stays clear of the right one by 5 % of the value, of a torque by 6 % (ISO 6789, class A up to 10 N·m);
- all wrong ones stay clear of each other;
- it has the sign of the right one and lies within a third and three times of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kilter.compute.quantity import Quantity
from kilter.publish.training.questions.draw import Draw

GAP, TORQUE_GAP = Fraction(5, 100), Fraction(6, 100)
WIDEST = 3
"""How many times more or less a wrong value may be: farther off nobody would take it."""
CHOICES = 4
_TRIES = 60
_MOST_POINTS = 400


@dataclass(frozen=True)
class Shown:
    """How the value of a fact is printed, with another point in its place."""

    quantity: Quantity

    @property
    def point(self) -> Decimal:
        """What is asked for: the aim, or the one end that there is, or the first of two."""
        q = self.quantity
        found = q.nominal if q.nominal is not None else q.low if q.low is not None else q.high
        assert found is not None
        return found

    @property
    def decimals(self) -> int:
        return max((len(n.partition(".")[2]) for n in self.quantity.numbers), default=0)

    def ends(self, point: Fraction) -> tuple[Fraction, Fraction]:
        """The range around another point; of a single limit the point alone."""
        q, at = self.quantity, Fraction(self.point)
        if q.form == "percent":
            assert q.low is not None
            by = abs(point) * (at - Fraction(q.low)) / abs(at)
            return point - by, point + by
        low = Fraction(q.low) if q.low is not None else at
        high = Fraction(q.high) if q.high is not None else at
        return point + low - at, point + high - at

    def text(self, point: Fraction, decimals: int) -> str:
        """As printed. A limit stands without its sign: the question says which limit it is."""
        q, unit = self.quantity, self.quantity.unit.symbol
        tied = "" if unit in ("°", "%") else "\u00a0"
        first = written(point, decimals)
        if q.form == "plus-minus":
            return f"{first} ± {_padded(q.numbers[1], decimals)}{tied}{unit}"
        if q.form == "percent":
            return f"{first}{tied}{unit} ± {q.numbers[1]}\u00a0%"
        if q.form == "uneven":
            low, high = self.ends(point)
            return f"{first} +{written(high - point, decimals)}/−{written(point - low, decimals)}{tied}{unit}"
        if q.form == "range":
            high = self.ends(point)[1]
            joint = "–" if point >= 0 else " to "
            return f"{first}{joint}{written(high, decimals)}{tied}{unit}"
        return f"{first}{tied}{unit}"


def written(value: Fraction, decimals: int) -> str:
    """A number that has these decimals exactly."""
    scaled = value * 10**decimals
    assert scaled.denominator == 1
    digits = str(abs(scaled.numerator)).rjust(decimals + 1, "0")
    text = f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits
    return f"−{text}" if value < 0 else text


def _padded(number: str, decimals: int) -> str:
    return number if "." in number or decimals == 0 else written(Fraction(number), decimals)


def choices_for(
    shown: Shown, others: Iterable[Fraction], draw: Draw, rank: int, likeness: int
) -> tuple[list[Fraction], int] | None:
    """Four points from small to large with the right one at `rank`, and the decimals they are printed with.

    `others` are likely mistakes, the best first, in the value's own unit. `likeness` is the place that the right one
    is to take among the four by how many digits it shares with the rest: without that it would stand out as the one
    that all others were made from. None where no such four can be proved.
    """
    best = None
    for finer in (0, 1):
        decimals, step = _grid(shown, finer)
        below, above = _pools(shown, step, others)
        if len(below) < rank or len(above) < CHOICES - 1 - rank:
            continue
        for attempt in range(_TRIES):
            wrong = [*_taken(shown, below, rank, draw), *_taken(shown, above, CHOICES - 1 - rank, draw)]
            if len(wrong) != CHOICES - 1 or not apart(shown, wrong):
                continue
            points = sorted([*wrong, Fraction(shown.point)])
            found = likeness_of([shown.text(p, decimals) for p in points], rank)
            if found == likeness:
                return points, decimals
            if best is None and attempt > _TRIES // 2 and found > 0:
                best = points, decimals
        if best is not None:
            return best
    return None


def _grid(shown: Shown, finer: int) -> tuple[int, Fraction]:
    """Decimals, and the step from one wrong value to the next: as round as the right one is."""
    point = Fraction(shown.point)
    step = Fraction(10) ** 12
    while step > Fraction(1, 10**12) and (point / step).denominator != 1:
        step /= 10
    step /= 10**finer
    decimals = shown.decimals
    while (step * 10**decimals).denominator != 1:
        decimals += 1
    return decimals, step


def _pools(shown: Shown, step: Fraction, others: Iterable[Fraction]) -> tuple[list[Fraction], list[Fraction]]:
    """Wrong points below and above, each with the likely mistakes first."""
    point = Fraction(shown.point)
    first = [_near(o, step) for o in others]
    size = abs(point)
    lowest, count = size / WIDEST, int(size * (WIDEST - Fraction(1, WIDEST)) / step)
    stride = max(1, count // _MOST_POINTS)
    sign = -1 if point < 0 else 1
    rest = [sign * _near(lowest + n * step, step) for n in range(0, count + 1, stride)]
    found = [p for p in dict.fromkeys((*first, *rest)) if is_wrong(shown, p)]
    return [p for p in found if p < point], [p for p in found if p > point]


def _near(value: Fraction, step: Fraction) -> Fraction:
    return round(value / step) * step


def is_wrong(shown: Shown, point: Fraction) -> bool:
    """Whether a point is provably wrong, and still plausible."""
    right = Fraction(shown.point)
    if point * right <= 0 or not abs(right) / WIDEST <= abs(point) <= abs(right) * WIDEST:
        return False
    low, high = shown.ends(point)
    return (low > 0 or right < 0) and (high < 0 or right > 0) and _clear(shown, point, right)


def apart(shown: Shown, points: list[Fraction]) -> bool:
    """Whether no two of the points could be taken for one another."""
    return all(_clear(shown, a, b) for n, a in enumerate(points) for b in points[:n])


def _clear(shown: Shown, one: Fraction, two: Fraction) -> bool:
    (_, high), (low, _) = shown.ends(min(one, two)), shown.ends(max(one, two))
    part = TORQUE_GAP if shown.quantity.dimension == "torque" else GAP
    return low - high >= part * abs(Fraction(shown.point))


def _taken(shown: Shown, pool: list[Fraction], count: int, draw: Draw) -> list[Fraction]:
    """Some of a pool, likely mistakes more often than the rest."""
    found: list[Fraction] = []
    left = list(pool)
    while left and len(found) < count:
        nearest = left[:3] if draw.below(2) else left
        taken = draw.one(nearest)
        found.append(taken)
        left = [p for p in left if _clear(shown, p, taken)]
    return found


def likeness_of(texts: list[str], at: int) -> int:
    """How many of the texts share more digits with the others than this one does."""
    scores = [sum(_shared(a, b) for m, b in enumerate(texts) if m != n) for n, a in enumerate(texts)]
    return sum(score > scores[at] for score in scores)


def _shared(one: str, two: str) -> int:
    left = [c for c in two if c.isdigit()]
    count = 0
    for c in (c for c in one if c.isdigit()):
        if c in left:
            left.remove(c)
            count += 1
    return count
