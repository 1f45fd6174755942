"""Draw every figure and print its items: `python -m drawings` from the tests folder, or `--check` to compare."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from . import cabinet, lift, lift_inside, stretcher, stretcher_whole
from .pen import Sheet

LIBRARY = Path(__file__).parents[2] / "procedures"
FIGURES: dict[str, Callable[[], Sheet]] = {
    "stretcher/pictures/rail-switch.png": stretcher.rail_switch,
    "stretcher/pictures/column-foot.png": stretcher.column_foot,
    "stretcher/pictures/stretcher.png": stretcher_whole.whole,
    "lift/pictures/lift.png": lift.whole,
    "lift/pictures/charge-path.png": lift_inside.charge_path,
    "lift/pictures/lift-base.png": lift_inside.base,
    "warming-cabinet/pictures/door-switch.png": cabinet.door_switch,
    "warming-cabinet/pictures/heat-limit.png": cabinet.heat_limit,
}


def lines(sheet: Sheet) -> list[str]:
    """The item lines of a figure, as they stand in the Markdown."""
    return [f":{n}: {round(x)},{round(y)} {name}" for n, (name, (x, y)) in enumerate(sheet.items, 1)]


def strays(name: str, wanted: list[str]) -> list[str]:
    """The item lines of a figure that no document using it holds."""
    folder = (LIBRARY / name).parents[1]
    texts = [p.read_text(encoding="utf-8") for p in folder.glob("*.md")]
    users = [t.splitlines() for t in texts if Path(name).name in t]
    return [line for line in wanted if not users or any(line not in t for t in users)]


def main() -> int:
    """Draw, or with `--check` only compare the Markdown; the exit code counts figures that differ."""
    wrong = 0
    for name, draw in FIGURES.items():
        sheet = draw()
        if "--check" not in sys.argv:
            sheet.save(LIBRARY / name)
        bad = strays(name, lines(sheet))
        wrong += bool(bad)
        print(
            name,
            *(f"  {'missing in the text ' if line in bad else ''}{line}" for line in lines(sheet)),
            sep="\n",
        )
    return wrong


if __name__ == "__main__":
    sys.exit(main())
