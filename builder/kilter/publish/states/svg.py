"""The picture of the graph with the states, as SVG that needs nothing else.

Colours stand as attributes, so that the picture is whole alone; a style sheet may override them by class.
Nothing is said by colour: bars have their words, failures are dashed and named.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from kilter.publish.states.data import States
from kilter.publish.states.figure import BAR, PAD, SIZE, WIDTH, Box, Figure, Row, figures_of
from kilter.publish.states.layout import Line

INK, SOFT, RULE, PAPER, TINT = "#16191c", "#4a5259", "#b9c0c6", "#fff", "#f3f5f6"
LETTERS = "'Atkinson Hyperlegible', Atkinson, Arial, 'Liberation Sans', Helvetica, sans-serif"
EDGE_X = 14
HEAD = 40
"""Room for a heading."""
LEGEND = (
    (0, "live"),
    (1, "charged: isolated, or a store that nothing cuts off"),
    (2, "isolated or released, not yet proved"),
    (3, "proved zero"),
)


def render(table: States) -> str:
    """A file of its own; same table, same bytes."""
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + picture(table, named=True) + "\n"


def picture(table: States, named: bool) -> str:
    """The `svg` element; `named` puts the document's name above the legend."""
    figures = figures_of(table)
    name = f"{table.number} rev. {table.revision}: {table.title}"
    top, body = _legend(name if named else ""), []
    y = 132 if named else 106
    width = WIDTH + 200
    for figure in figures:
        body.append(_figure(figure, y))
        y += figure.placed.height + (HEAD if figure.heading else 0) + 16
        width = max(width, figure.placed.width)
    label = escape(f"Graph of the steps of {name}. The table of states says the same in words.")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="graph" width="{width}" height="{y}" '
        f'viewBox="0 0 {width} {y}" role="img" aria-label="{label}" font-family="{LETTERS}" '
        f'font-size="{SIZE}">\n{_MARKER}<rect class="g-paper" width="{width}" height="{y}" fill="{PAPER}"/>\n'
        + top
        + "".join(body)
        + "</svg>"
    )


_MARKER = (
    '<defs><marker id="tip" viewBox="0 0 8 8" refX="8" refY="4" markerWidth="8" markerHeight="8" '
    f'orient="auto"><path class="g-tip" d="M0 0 8 4 0 8z" fill="{INK}"/></marker></defs>\n'
)


def _legend(name: str) -> str:
    rows = [_text(EDGE_X, 20, name, bold=True)] if name else []
    down = 44 if name else 18
    for n, (level, words) in enumerate(LEGEND):
        y = down + 18 * n
        rows += [_bar(EDGE_X, y, level), _text(EDGE_X + BAR, y, words)]
    rows.append(_text(EDGE_X, down + 74, "Dashed: the answer of a failed proof or test.", soft=True))
    return "".join(rows)


def _figure(figure: Figure, y: int) -> str:
    head = ""
    if figure.heading:
        head = f'<path class="g-rule" d="M14 {y + 4}H{14 + WIDTH}" stroke="{INK}" stroke-width="2"/>'
        head += _text(EDGE_X, y + 26, figure.heading, bold=True)
        y += HEAD
    lines = "".join(map(_line, figure.placed.lines))
    boxes = "".join(_box(box, *at) for box, at in zip(figure.boxes, figure.placed.boxes, strict=True))
    return f'{head}<g transform="translate(0 {y})">\n{lines}{boxes}</g>\n'


def _line(line: Line) -> str:
    path = f"M{line.points[0][0]} {line.points[0][1]}"
    for (x0, _), (x, y) in zip(line.points, line.points[1:], strict=False):
        path += f"V{y}" if x == x0 else f"H{x}"
    kind = "g-line" + (" g-failed" if line.failed else "") + (" g-back" if line.back else "")
    dashes = ' stroke-dasharray="6 4"' if line.failed else ""
    return f'<path class="{kind}" d="{path}" fill="none" stroke="{INK}" stroke-width="1.5"{dashes} marker-end="url(#tip)"/>\n'


def _box(box: Box, x: int, y: int) -> str:
    ends = bool(box.step.exit)
    dashes = "" if box.step.reached else ' stroke-dasharray="3 3"'
    frame = (
        f'<rect class="g-box" width="{WIDTH}" height="{box.height}" rx="3" fill="{PAPER}" stroke="{INK}" '
        f'stroke-width="{3 if ends else 1.5}"{dashes}/>'
    )
    return f'<g transform="translate({x} {y})">{frame}{"".join(_rows(box))}</g>\n'


def _rows(box: Box) -> Iterator[str]:
    for row in box.rows:
        if row.rule:
            y = row.y - 11
            yield f'<path class="g-thin" d="M0 {y}H{WIDTH}" stroke="{RULE}"/>'
        yield _row(row)


def _row(row: Row) -> str:
    if row.level is None:
        return _text(PAD, row.y, row.text, row.bold, row.soft)
    bar = _bar(PAD, row.y, row.level) if row.level >= 0 else ""
    return bar + _text(PAD + BAR, row.y, row.text, row.bold, row.soft)


def _bar(x: int, y: int, level: int) -> str:
    """Three cells; as many are full as the level says."""
    cells = (
        f'<rect class="{"g-full" if n < level else "g-empty"}" x="{x + 9 * n}" y="{y - 5}" width="8" height="10" '
        f'fill="{INK if n < level else PAPER}" stroke="{INK}"/>'
        for n in range(3)
    )
    return "".join(cells)


def _text(x: int, y: int, words: str, bold: bool = False, soft: bool = False) -> str:
    weight = ' font-weight="700"' if bold else ""
    kind, fill = ("g-soft", SOFT) if soft else ("g-ink", INK)
    return (
        f'<text class="{kind}" x="{x}" y="{y + 5}" fill="{fill}"{weight}>{escape(words, quote=False)}</text>'
    )
