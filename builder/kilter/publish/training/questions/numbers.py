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
_MOST_POINTS = 150


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


@dataclass(frozen=True)
class _Whole:
    """The same in whole numbers of one small step: proofs by the thousand, still exact."""

    scale: int
    point: int
    below: int | Fraction
    """From a point down to its lower end; of a tolerance in percent the share of the point."""
    above: int | Fraction
    percent: bool
    gap: int

    @classmethod
    def of(cls, shown: Shown, decimals: int) -> _Whole:
        point = Fraction(shown.point)
        low, high = shown.ends(point)
        scale = 10 ** (decimals + 2)
        part = TORQUE_GAP if shown.quantity.dimension == "torque" else GAP
        percent = shown.quantity.form == "percent"
        size = abs(point) if percent else Fraction(1, scale)
        below: int | Fraction = (point - low) / size
        above: int | Fraction = (high - point) / size
        if not percent:
            assert below.denominator == above.denominator == 1
            below, above = int(below), int(above)
        return cls(scale, int(point * scale), below, above, percent, int(-(-part * abs(point) * scale // 1)))

    def clear(self, one: int, two: int) -> bool:
        low, high = (one, two) if one < two else (two, one)
        up = self.above * abs(low) if self.percent else self.above
        down = self.below * abs(high) if self.percent else self.below
        return high - low - up - down >= self.gap

    def may(self, point: int) -> bool:
        """Whether a point is of the same sign, near enough, and clear of the right one."""
        size, right = abs(point), abs(self.point)
        ends = 0 if self.percent else self.below if self.point > 0 else self.above
        near = right <= size * WIDEST and size <= right * WIDEST
        return (point > 0) == (self.point > 0) and near and size > ends and self.clear(point, self.point)


def choices_for(
    shown: Shown, others: Iterable[Fraction], draw: Draw, rank: int, likeness: int
) -> tuple[list[Fraction], int] | None:
    """Four points from small to large with the right one at `rank`, and the decimals they are printed with.

    `others` are likely mistakes, the best first, in the value's own unit. `likeness` is the place that the right one
    is to take among the four by how many digits it shares with the rest: without that it would stand out as the one
    that all others were made from. None where no such four can be proved.
    """
    likely = list(others)
    for finer in (0, 1):
        decimals, step = _grid(shown, finer)
        whole = _Whole.of(shown, decimals)
        below, above = _pools(whole, int(step * whole.scale), likely)
        best, off = None, CHOICES
        for _ in range(_TRIES):
            wrong = _taken(whole, (below, rank), (above, CHOICES - 1 - rank), draw)
            if wrong is None or not all(is_wrong(shown, Fraction(p, whole.scale)) for p in wrong):
                continue
            points = sorted(Fraction(p, whole.scale) for p in (*wrong, whole.point))
            found = likeness_of([shown.text(p, decimals) for p in points], rank, draw)
            if abs(found - likeness) < off:
                best, off = points, abs(found - likeness)
            if off == 0:
                break
        if best is not None:
            return best, decimals
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


def _pools(whole: _Whole, step: int, likely: list[Fraction]) -> tuple[list[int], list[int]]:
    """Wrong points below and above, each with the likely mistakes first."""
    first = [round(o * whole.scale / step) * step for o in likely]
    size = abs(whole.point)
    lowest = -(-size // WIDEST // step) * step
    count = (size * WIDEST - lowest) // step
    stride = max(1, count // _MOST_POINTS)
    sign = -1 if whole.point < 0 else 1
    rest = [sign * (lowest + n * step) for n in range(0, count + 1, stride)]
    found = [p for p in dict.fromkeys((*first, *rest)) if whole.may(p)]
    return [p for p in found if p < whole.point], [p for p in found if p > whole.point]


def is_wrong(shown: Shown, point: Fraction) -> bool:
    """Whether a point is provably wrong, and still plausible."""
    right = Fraction(shown.point)
    if point * right <= 0 or not abs(right) / WIDEST <= abs(point) <= abs(right) * WIDEST:
        return False
    (own_low, own_high), (low, high) = shown.ends(right), shown.ends(point)
    part = TORQUE_GAP if shown.quantity.dimension == "torque" else GAP
    apart = max(low - own_high, own_low - high)
    return (low > 0 or right < 0) and (high < 0 or right > 0) and apart >= part * abs(right)


def _taken(
    whole: _Whole, below: tuple[list[int], int], above: tuple[list[int], int], draw: Draw
) -> list[int] | None:
    """Some of each pool that stay clear of one another, likely mistakes more often than the rest."""
    found: list[int] = []
    for pool, count in (below, above):
        for _ in range(count):
            taken = _one(whole, pool, found, draw)
            if taken is None:
                return None
            found.append(taken)
    return found


def _one(whole: _Whole, pool: list[int], found: list[int], draw: Draw) -> int | None:
    for _ in range(6):
        taken = draw.one(pool[:3] if draw.below(2) else pool) if pool else None
        if taken is not None and all(whole.clear(taken, f) for f in found):
            return taken
    return None


def likeness_of(texts: list[str], at: int, draw: Draw) -> int:
    """How many of the texts share more digits with the others than this one does; among equals by lot."""
    scores = [sum(_shared(a, b) for m, b in enumerate(texts) if m != n) for n, a in enumerate(texts)]
    equal = sum(score == scores[at] for score in scores)
    return sum(score > scores[at] for score in scores) + draw.below(equal)


def _shared(one: str, two: str) -> int:
    left = [c for c in two if c.isdigit()]
    count = 0
    for c in (c for c in one if c.isdigit()):
        if c in left:
            left.remove(c)
            count += 1
    return count
