"""How good and how fast the numbers of figures are laid out.

    python -m tests.bench.callouts [--figures 10000] [--seed 3]

Made-up figures of 1 to 60 items, on a telephone's sheet and on a desk's. Each is judged anew from the drawing alone.
Leaders over another item or along an edge are set against the layout of least length on the same sheet.
"""

from __future__ import annotations

import argparse
import time
from collections import defaultdict
from dataclasses import dataclass, field

from tests.picture_callouts.figures import Faults, Made, along_edges, apart, faults, many, near_others

from kilter.picture.callouts.assign import cheapest
from kilter.picture.callouts.layout import costs_of, lay_out
from kilter.picture.callouts.model import STYLES, Anchor, Label, Layout, Style
from kilter.picture.callouts.slots import Sheet, Slot, box_at, sheet_for

NONE = Faults(0, 0, 0, 0)
SIZES = ((1, 7), (8, 12), (13, 24), (25, 40), (41, 60))


@dataclass
class Row:
    """Sums over figures of one size."""

    figures: int = 0
    leaders: int = 0
    near: int = 0
    along: int = 0
    length: float = 0
    shortest_near: int = 0
    shortest_along: int = 0
    shortest_length: float = 0
    times: list[float] = field(default_factory=list)
    closest: float = 1e9
    faults: Faults = NONE


def shortest(made: Made, layout: Layout, style: Style) -> list[Label]:
    """The same sheet with the least length of all leaders."""
    sheet: Sheet = sheet_for(len(made.items), layout.digits, made.height / made.width, style)
    anchors = [Anchor(x.number, *x.at) for x in layout.labels]
    held = cheapest(costs_of(anchors, sheet, style).lengths)
    return [_label(a, sheet.slots[p], style) for a, p in zip(anchors, held, strict=True)]


def _label(anchor: Anchor, slot: Slot, style: Style) -> Label:
    return Label(
        anchor.number, slot.side, box_at(slot, anchor.number, style), (slot.x, slot.y), (anchor.x, anchor.y)
    )


def total(labels: tuple[Label, ...] | list[Label]) -> float:
    return sum(((a.at[0] - a.end[0]) ** 2 + (a.at[1] - a.end[1]) ** 2) ** 0.5 for a in labels)


def judge(made: Made, style: Style, row: Row) -> None:
    begun = time.process_time()
    layout = lay_out(made.items, made.width, made.height, style)
    row.times.append(time.process_time() - begun)
    found, plain = faults(layout), shortest(made, layout, style)
    if any(found):
        print("fault:", found, style.width, made)
    row.figures += 1
    row.leaders += len(layout.labels)
    row.faults += found
    row.near += near_others(layout.labels, style.near)
    row.along += along_edges(layout.labels)
    row.length += total(layout.labels)
    row.shortest_near += near_others(plain, style.near)
    row.shortest_along += along_edges(plain)
    row.shortest_length += total(plain)
    pairs = ((a, b) for i, a in enumerate(layout.labels) for b in layout.labels[:i] if a.at != b.at)
    row.closest = min(row.closest, *(apart(a, b) for a, b in pairs), 1e9)


def told(name: str, low: int, high: int, row: Row) -> None:
    def share(n: int) -> str:
        return f"{n / row.leaders * 100:5.1f}"

    mean, worst = sum(row.times) / len(row.times) * 1e3, max(row.times) * 1e3
    print(
        f"{name:<7} {low:>2}-{high:<2} {row.figures:>6} figures | over another item {share(row.shortest_near)} -> {share(row.near)} % | "
        f"along an edge {share(row.shortest_along)} -> {share(row.along)} % | "
        f"longer {(row.length / row.shortest_length - 1) * 100:4.1f} % | {mean:6.1f} ms, most {worst:6.0f} | "
        f"leaders apart {row.closest:.2f} | faults {tuple(row.faults)}"
    )


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--figures", type=int, default=10_000)
    arguments.add_argument("--seed", type=int, default=3)
    given = arguments.parse_args()
    rows: dict[tuple[str, tuple[int, int]], Row] = defaultdict(Row)
    for k, made in enumerate(many(given.figures, given.seed)):
        name = list(STYLES)[k % len(STYLES)]
        size = next(s for s in SIZES if s[0] <= len(made.items) <= s[1])
        judge(made, STYLES[name], rows[name, size])
    for (name, (low, high)), row in sorted(rows.items()):
        told(name, low, high, row)
    print("all faults:", sum((r.faults for r in rows.values()), NONE))


if __name__ == "__main__":
    main()
