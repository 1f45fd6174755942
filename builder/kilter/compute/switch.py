"""Where a snap-action switch may be set.

Terms as in DIN 41636: free position FP, operating point OP, release point RP, total travel position TTP;
pretravel PT = FP − OP, overtravel OT = OP − TTP, movement differential MD = RP − OP. Positions are distances that
shrink as the plunger is pressed, as catalogues give them. That at least half of the overtravel is to be used, and
never all of it passed, is a precaution of the trade printed in makers' catalogues.
All lengths here are exact, in the base unit of their dimension (metres, or degrees of angle).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kilter.compute.value import Quantity

HALF, WHOLE = Fraction(1, 2), Fraction(1)


@dataclass(frozen=True, slots=True)
class Figures:
    """Catalogue figures of a switch; what was not given is None."""

    op: tuple[Fraction, Fraction] | None = None
    """Least and greatest operating point."""
    ot: Fraction | None = None
    """The overtravel it has at the least."""
    md: Fraction | None = None
    """The movement differential it has at the most."""
    use: tuple[Fraction, Fraction] = (HALF, WHOLE)
    """Share of the overtravel to be used, from and to."""
    window: tuple[Fraction, Fraction] | None = None
    """A window that the maker or the author gives outright."""


@dataclass(frozen=True, slots=True)
class Window:
    """The settings in which every switch of the type operates, keeps its contact and is not over-driven."""

    low: Fraction
    high: Fraction
    from_click: bool = False
    """Counted as travel past the switch's own click, not as a position."""

    @property
    def empty(self) -> bool:
        return self.low >= self.high


class FiguresMissingError(ValueError):
    """The catalogue figures given do not suffice; says which is missing."""


def figures(given: dict[str, Quantity]) -> Figures:
    """Figures from what was read of `op`, `ot`, `md`, `ttp`, `rp`, `use` and `window`, by those names.

    An overtravel is taken at its least, a differential at its most. OT follows from OP and TTP, MD from RP and OP,
    where they are not given themselves.
    """
    op = _ends(given.get("op"))
    ot, md = _least(given.get("ot")), _most(given.get("md"))
    ttp, rp = _ends(given.get("ttp")), _ends(given.get("rp"))
    if ot is None and op is not None and ttp is not None:
        ot = op[0] - ttp[1]
    if md is None and op is not None and rp is not None:
        md = rp[1] - op[0]
    use = _ends(given.get("use")) or (HALF, WHOLE)
    return Figures(op, ot, md, use, _ends(given.get("window")))


def _ends(quantity: Quantity | None) -> tuple[Fraction, Fraction] | None:
    if quantity is None or quantity.base_low is None or quantity.base_high is None:
        return None
    return quantity.base_low, quantity.base_high


def _least(quantity: Quantity | None) -> Fraction | None:
    return None if quantity is None else quantity.base_low


def _most(quantity: Quantity | None) -> Fraction | None:
    return None if quantity is None else quantity.base_high


def window(switch: Figures, from_click: bool = False) -> Window:
    """The window of settings, worst case over the tolerance of OP, the end of travel moving with OP.

    As a position: OP(greatest) − to·OT … OP(least) − from·OT; from the click: from·OT … to·OT. Raises
    FiguresMissingError.
    """
    first, last = switch.use
    if from_click:
        if switch.ot is None:
            raise FiguresMissingError("`ot`, the overtravel")
        return Window(first * switch.ot, last * switch.ot, True)
    if switch.window is not None:
        return Window(*switch.window)
    if switch.op is None or switch.ot is None:
        missing = ["`op`, the operating point"] if switch.op is None else []
        missing += ["`ot`, the overtravel"] if switch.ot is None else []
        raise FiguresMissingError(" and ".join(missing))
    least, greatest = switch.op
    return Window(greatest - last * switch.ot, least - first * switch.ot)


Fit = Literal["fits", "outside", "too wide", "window empty"]


def fit(allowed: Window, setting: Quantity) -> Fit:
    """How a setting with its tolerance lies in the window."""
    low, high = setting.base_low, setting.base_high
    if allowed.empty:
        return "window empty"
    if low is None or high is None:
        return "too wide"
    aim = setting.base_nominal if setting.base_nominal is not None else (low + high) / 2
    if not allowed.low <= aim <= allowed.high:
        return "outside"
    return "fits" if allowed.low <= low and high <= allowed.high else "too wide"


def place_in(allowed: Window, aim: Fraction) -> Fraction:
    """Where an aim stands in the window: 0 at its low end, 1 at its high end."""
    return (aim - allowed.low) / (allowed.high - allowed.low)


def released_from(switch: Figures) -> Fraction:
    """The position beyond which every switch of the type has surely released: RP at its greatest.

    Raises FiguresMissingError.
    """
    if switch.op is None or switch.md is None:
        raise FiguresMissingError("`op` and `md`, the movement differential")
    return switch.op[1] + switch.md


def turns(distance: Fraction, pitch: Fraction, ratio: Fraction = WHOLE) -> Fraction:
    """Turns of a screw that move the switch's actuator by a distance; `ratio` is actuator over screw travel."""
    return distance / (pitch * ratio)


def recheck_after(margin: Fraction, rate: Fraction, share: Fraction = HALF) -> Fraction | None:
    """Time until a drift has used a share of the margin; None where nothing drifts. In the rate's unit of time.

    That a check is due when half of the margin is used is common practice, no source.
    """
    return None if rate == 0 else margin * share / abs(rate)
