"""Segments and points in whole hundredths of a point: every answer is exact, so none hangs on rounding."""

from __future__ import annotations

UNIT = 100
"""Parts of a point."""
Place = tuple[int, int]
Segment = tuple[Place, Place]


def whole(x: float, y: float) -> Place:
    """A place in hundredths."""
    return round(x * UNIT), round(y * UNIT)


def turn(a: Place, b: Place, c: Place) -> int:
    """Positive if c lies left of the way from a to b, 0 on its line."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _between(a: Place, b: Place, c: Place) -> bool:
    """Whether c, known to be on the line, is on the segment."""
    return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])


def meet(one: Segment, two: Segment) -> bool:
    """Whether two leaders have a point in common. Two of one item may meet there, but not run on each other."""
    (a, b), (c, d) = one, two
    if a == c:
        return turn(a, b, d) == 0 and (b[0] - a[0]) * (d[0] - a[0]) + (b[1] - a[1]) * (d[1] - a[1]) > 0
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    p, q = turn(a, b, c), turn(a, b, d)
    if (p > 0 and q > 0) or (p < 0 and q < 0):
        return False
    r, s = turn(c, d, a), turn(c, d, b)
    if (r > 0 and s > 0) or (r < 0 and s < 0):
        return False
    if p and q and r and s:
        return True
    return (
        (p == 0 and _between(a, b, c))
        or (q == 0 and _between(a, b, d))
        or (r == 0 and _between(c, d, a))
        or (s == 0 and _between(c, d, b))
    )


def passes(segment: Segment, point: Place, reach: int) -> bool:
    """Whether a point is nearer to the segment than `reach` (hundredths)."""
    (ax, ay), (bx, by) = segment
    px, py = point
    if px < (ax if ax < bx else bx) - reach or px > (bx if ax < bx else ax) + reach:
        return False
    if py < (ay if ay < by else by) - reach or py > (by if ay < by else ay) + reach:
        return False
    dx, dy, ex, ey = bx - ax, by - ay, px - ax, py - ay
    along, long = ex * dx + ey * dy, dx * dx + dy * dy
    if along <= 0:
        return ex * ex + ey * ey < reach * reach
    if along >= long:
        return (px - bx) ** 2 + (py - by) ** 2 < reach * reach
    return (dx * ey - dy * ex) ** 2 < reach * reach * long
