"""What is drawn in a box, measured: lines of words, bars, and the rows that lead on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache

from kilter.publish.states import words
from kilter.publish.states.data import Link, SourceLine, States, StepLine
from kilter.publish.states.layout import Cell, Placed, Port, grid, place, straight

WIDTH, PAD, BAR = 292, 10, 34
"""Pixels: of a box, inside it, of a bar with its space."""
SIZE, HIGH = 14, 18
"""Of letters, of a line."""
_NARROW, _WIDE = frozenset("iljtfrI.,:;'|!()[] "), frozenset("mwMW@%—")


@dataclass(frozen=True)
class Row:
    """One line of words in a box."""

    text: str
    y: int
    """Middle of the line, from the upper edge of the box."""
    bold: bool = False
    soft: bool = False
    level: int | None = None
    """Draws a bar of three before the words, so many of them full."""
    rule: bool = False
    """A thin line above."""


@dataclass
class Box:
    """A step as it is drawn."""

    step: StepLine
    rows: list[Row] = field(default_factory=list)
    height: int = PAD
    ports: list[tuple[Link, int]] = field(default_factory=list)

    def add(
        self, text: str, bold: bool = False, soft: bool = False, level: int | None = None, rule: bool = False
    ) -> int:
        """Words, wrapped; returns the middle of their first line."""
        room = WIDTH - 2 * PAD - (BAR if level is not None else 0)
        self.height += 5 if rule else 0
        first = self.height + HIGH // 2
        for n, line in enumerate(wrapped(text, room, bold)):
            bar = level if n == 0 else None if level is None else -1
            self.rows.append(Row(line, self.height + HIGH // 2, bold, soft, bar, rule and n == 0))
            self.height += HIGH
        return first


def extent(text: str, bold: bool = False) -> float:
    """About how wide words are, rather too wide: the reader's typeface is not known."""
    return sum(map(_sign_width, text)) * SIZE * (1.06 if bold else 1.0)


@lru_cache(maxsize=1024)
def _sign_width(sign: str) -> float:
    return 0.34 if sign in _NARROW else 0.92 if sign in _WIDE else 0.7 if sign.isupper() else 0.58


@lru_cache(maxsize=16_384)
def wrapped(text: str, room: float, bold: bool = False) -> tuple[str, ...]:
    """Lines that fit; a word that does not is cut."""
    if extent(text, bold) <= room and "  " not in text:
        return (text.strip(),)
    lines = [""]
    for word in _pieces(text, room, bold):
        longer = f"{lines[-1]} {word}".strip()
        if extent(longer, bold) <= room or not lines[-1]:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def _pieces(text: str, room: float, bold: bool) -> Iterable[str]:
    for word in text.split(" "):
        while extent(word, bold) > room:
            fits = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or extent(word[:n], bold) <= room)
            yield word[:fits]
            word = word[fits:]
        yield word


@dataclass(frozen=True)
class Figure:
    """One connected drawing with its heading."""

    heading: str
    boxes: tuple[Box, ...]
    placed: Placed


def figures_of(table: States) -> list[Figure]:
    """The main drawing, then one for each shared stage, then the steps that no way leads to."""
    main = [s for stage in table.stages if not stage.shared for s in stage.steps if s.reached]
    found = [_figure(table, "", main)]
    for stage in table.stages:
        if stage.shared:
            callers = ", ".join(s.number for s in table.steps if s.does == stage.number)
            heading = f"{stage.number} {stage.title}: " + (
                f"done from {callers}" if callers else "done from nowhere"
            )
            found.append(_figure(table, heading, [s for s in stage.steps if s.reached]))
    lost = [s for s in table.steps if not s.reached]
    found.append(_figure(table, "No way leads to these", lost))
    return [f for f in found if f.boxes]


def _figure(table: States, heading: str, steps: list[StepLine]) -> Figure:
    at = {step.number: n for n, step in enumerate(steps)}
    onward = [k for k in table.links if k.kind != "call" and k.start in at]
    inside = ((at[k.start], at[k.to]) for k in onward if k.kind != "back" and k.to in at)
    cells = grid(len(steps), inside)
    boxes = [_box(table, step) for step in steps]
    falls: dict[int, int] = {}
    for link in onward:
        start = at[link.start]
        within = link.kind != "back" and link.to in at
        if within and not link.answer and straight(cells, start, at[link.to]):
            falls[start] = at[link.to]
        elif link.kind != "back" or link.answer or not steps[start].does:
            _way_on(boxes[start], link)
    return Figure(heading, tuple(boxes), _placed(boxes, cells, at, falls))


def _placed(boxes: list[Box], cells: tuple[Cell, ...], at: dict[str, int], falls: dict[int, int]) -> Placed:
    for box in boxes:
        box.height += PAD
    ports = [
        Port(at[link.start], at[link.to], down, link.failed)
        for box in boxes
        for link, down in box.ports
        if link.to in at and link.kind != "back"
    ]
    return place(cells, [b.height for b in boxes], WIDTH, ports, falls)


def _box(table: States, step: StepLine) -> Box:
    box = Box(step)
    for stage in table.stages:
        if not stage.shared and stage.steps and stage.steps[0].number == step.number:
            box.add(f"{stage.number} {stage.title}", soft=True)
    box.add(f"{step.number} {step.title}", bold=True)
    if not step.reached:
        return box
    box.add(f"Hands: {step.hands.removeprefix('hands ')}")
    for n, line in enumerate(step.sources):
        box.add(_state(line), level=line.level, rule=n == 0)
    if step.guards_off:
        box.add(f"May be off: {', '.join(step.guards_off)}", soft=True)
    for n, found in enumerate(step.unmet):
        box.add(f"NOT MET: {words.unmet(found)}", bold=True, rule=n == 0)
    if step.does:
        box.add(f"Does stage {step.does}, then goes on", rule=True)
    if step.exit:
        box.add(f"End: {step.exit}", bold=True, rule=True)
    return box


def _state(line: SourceLine) -> str:
    also = (", held" if line.held else "") + (", explained" if line.reason else "")
    better = f" (best {line.best})" if line.varies else ""
    return f"{line.source}: {line.worst}{better}{also}"


def _way_on(box: Box, link: Link) -> None:
    """A row with the answer, the word `failed` where it is one, and where it leads."""
    where = "back to the caller" if link.kind == "back" else f"→\N{NO-BREAK SPACE}{link.to}"
    failed = "failed: " if link.failed else ""
    plain = "Goes" if link.kind == "back" else "Goes on"
    said = f"{failed}{link.answer}{':' if link.kind == 'back' else ''}" if link.answer else plain
    down = box.add(f"{said} {where}", rule=True)
    box.ports.append((link, down))
