"""Places the steps of one picture: layers from top to bottom, branches aside, every line in a channel of its own.

Boxes stand in a grid. Lines run only in the gaps between layers and the gutters between columns, so no line
crosses a box and no two boxes meet. Onward lines leave a box on the right, lines back on the left. Lines to the
same step share a channel: whatever joins it leads there and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

MOST_COLUMNS = 3
"""More boxes of a layer move down: a picture is scrolled down, hardly sideways."""
PITCH, EDGE, GAP = 9, 14, 26
"""Pixels between channels, from a channel to a box, and of a gap without channels."""


@dataclass(frozen=True)
class Cell:
    """A place in the grid, both from 0."""

    layer: int
    column: int


@dataclass(frozen=True)
class Port:
    """Where a line leaves a box."""

    start: int
    to: int
    """Boxes by their place in document order."""
    down: int
    """Pixels below the box's upper edge."""
    failed: bool = False

    @property
    def back(self) -> bool:
        return self.to <= self.start


@dataclass(frozen=True)
class Line:
    """A line as its corners; the last has the arrow."""

    points: tuple[tuple[int, int], ...]
    failed: bool
    back: bool


@dataclass(frozen=True)
class Placed:
    """Where all of it is, in pixels."""

    boxes: tuple[tuple[int, int], ...]
    """Upper left of each box."""
    lines: tuple[Line, ...]
    width: int
    height: int


def grid(count: int, ways: Iterable[tuple[int, int]]) -> tuple[Cell, ...]:
    """A cell for each box: below all that lead on to it, under the leftmost of them where that is free."""
    before: list[list[int]] = [[] for _ in range(count)]
    for start, to in ways:
        if start < to:
            before[to].append(start)
    cells: list[Cell] = []
    taken: dict[int, set[int]] = {}
    for box in range(count):
        above = [cells[b].layer for b in before[box]] or [c.layer for c in cells[-1:]]
        layer = max(above, default=-1) + 1
        while len(taken.get(layer, ())) >= MOST_COLUMNS:
            layer += 1
        used = taken.setdefault(layer, set())
        wanted = min((cells[b].column for b in before[box]), default=0)
        column = wanted if wanted not in used else next(c for c in range(MOST_COLUMNS) if c not in used)
        used.add(column)
        cells.append(Cell(layer, column))
    return tuple(cells)


def straight(cells: Sequence[Cell], start: int, to: int) -> bool:
    """Whether one box stands right under the other."""
    return cells[to] == Cell(cells[start].layer + 1, cells[start].column)


def place(
    cells: Sequence[Cell], heights: Sequence[int], width: int, ports: Sequence[Port], falls: Mapping[int, int]
) -> Placed:
    """Pixels for boxes and lines. `falls`: boxes whose next one stands right under them, with that one."""
    return _Placing(cells, heights, width, ports, falls).placed()


Channel = tuple[int, bool]
"""Target and whether the lines in it are those of failures."""
Lane = tuple[int, int, bool]
"""Gutter and channel."""


class _Placing:
    def __init__(
        self,
        cells: Sequence[Cell],
        heights: Sequence[int],
        width: int,
        ports: Sequence[Port],
        falls: Mapping[int, int],
    ) -> None:
        self.cells, self.heights, self.width, self.falls = cells, heights, width, falls
        self.ports = sorted(ports, key=lambda p: (p.start, p.down))
        self.tracks = self._tracks()
        self.top = self._tops()
        self.lanes = self._lanes()
        self.left = self._lefts()

    def _tracks(self) -> dict[Channel, int]:
        """The track of each channel in the gap above its target's layer."""
        used: dict[int, int] = {}
        found: dict[Channel, int] = {}
        for channel in sorted({(p.to, p.failed) for p in self.ports}):
            layer = self.cells[channel[0]].layer
            found[channel] = used[layer] = used.get(layer, -1) + 1
        return found

    def _tops(self) -> list[int]:
        """The upper edge of each layer."""
        layers = max((c.layer for c in self.cells), default=-1) + 1
        room = [0] * layers
        for (to, _), track in self.tracks.items():
            room[self.cells[to].layer] = max(room[self.cells[to].layer], track + 1)
        tall = [0] * layers
        for cell, height in zip(self.cells, self.heights, strict=True):
            tall[cell.layer] = max(tall[cell.layer], height)
        tops, y = [], 0
        for layer in range(layers):
            y += room[layer] * PITCH + GAP
            tops.append(y)
            y += tall[layer]
        self.bottom = y
        return tops

    def _lane(self, port: Port) -> Lane:
        return (self.cells[port.start].column + (0 if port.back else 1), port.to, port.failed)

    def _lanes(self) -> dict[Lane, int]:
        """The place of each lane in its gutter: lanes that overlap stand side by side."""
        span: dict[Lane, tuple[int, int]] = {}
        for port in self.ports:
            ends = (self._out(port), self._track(port.to, port.failed))
            low, high = span.get(self._lane(port), ends)
            span[self._lane(port)] = (min(low, *ends), max(high, *ends))
        busy: dict[int, list[int]] = {}
        found: dict[Lane, int] = {}
        for lane in sorted(span, key=lambda k: (span[k], k)):
            ends_at = busy.setdefault(lane[0], [])
            slot = next((n for n, end in enumerate(ends_at) if end + PITCH < span[lane][0]), len(ends_at))
            ends_at[slot : slot + 1] = [span[lane][1]]
            found[lane] = slot
        self.slots = {gutter: len(slots) for gutter, slots in busy.items()}
        return found

    def _lefts(self) -> list[int]:
        """The left edge of each column."""
        columns = max((c.column for c in self.cells), default=-1) + 1
        lefts, x = [], 0
        for column in range(columns):
            x += self._gutter(column)
            lefts.append(x)
            x += self.width
        self.right = x
        self.end = x + self._gutter(columns)
        return lefts

    def _gutter(self, gutter: int) -> int:
        slots = self.slots.get(gutter, 0)
        if not gutter and not slots:
            return EDGE
        return 2 * EDGE + max(0, slots - 1) * PITCH

    def _out(self, port: Port) -> int:
        return self.top[self.cells[port.start].layer] + port.down

    def _track(self, to: int, failed: bool) -> int:
        return self.top[self.cells[to].layer] - EDGE - self.tracks[to, failed] * PITCH

    def _x(self, lane: Lane) -> int:
        gutter = lane[0]
        start = self.left[gutter - 1] + self.width if gutter else 0
        return start + EDGE + self.lanes[lane] * PITCH

    def _middle(self, box: int) -> int:
        return self.left[self.cells[box].column] + self.width // 2

    def _line(self, port: Port) -> Line:
        cell, target = self.cells[port.start], self.cells[port.to]
        y, x = self._out(port), self._x(self._lane(port))
        edge = self.left[cell.column] + (0 if port.back else self.width)
        track = self._track(port.to, port.failed)
        middle = self._middle(port.to) + (3 * PITCH if port.failed else 0)
        points = ((edge, y), (x, y), (x, track), (middle, track), (middle, self.top[target.layer]))
        return Line(points, port.failed, port.back)

    def _fall(self, start: int, to: int) -> Line:
        x, cell = self._middle(start), self.cells[start]
        y = self.top[cell.layer] + self.heights[start]
        return Line(((x, y), (x, self.top[self.cells[to].layer])), failed=False, back=False)

    def placed(self) -> Placed:
        boxes = tuple((self.left[c.column], self.top[c.layer]) for c in self.cells)
        lines = [self._fall(start, to) for start, to in sorted(self.falls.items())]
        lines += map(self._line, self.ports)
        return Placed(boxes, tuple(lines), self.end if boxes else 0, self.bottom + EDGE if boxes else 0)
