"""The cheapest way to give each row of a table a column of its own (Kuhn 1955; Jonker and Volgenant 1987)."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf


def cheapest(table: Sequence[Sequence[float]]) -> list[int]:
    """The column of each row; the table has at least as many columns as rows. Time: rows squared by columns."""
    columns = len(table[0]) if table else 0
    if len(table) > columns:
        raise ValueError(f"{len(table)} rows can't have a column each of {columns}")
    of_row, of_column = [0.0] * (len(table) + 1), [0.0] * (columns + 1)
    holder = [0] * (columns + 1)  # row of a column, both counted from 1; 0 is free
    for row in range(1, len(table) + 1):
        holder[0] = row
        _widen(table, of_row, of_column, holder)
    found = [0] * len(table)
    for column, row in enumerate(holder[1:]):
        if row:
            found[row - 1] = column
    return found


def _widen(
    table: Sequence[Sequence[float]], of_row: list[float], of_column: list[float], holder: list[int]
) -> None:
    """Take in the row at column 0 along the cheapest chain of exchanges."""
    columns = len(of_column) - 1
    least, before, done = [inf] * (columns + 1), [0] * (columns + 1), [False] * (columns + 1)
    here = 0
    while holder[here]:
        done[here] = True
        row, step, following = holder[here], inf, 0
        prices, base = table[row - 1], of_row[row]
        for column in range(1, columns + 1):
            if done[column]:
                continue
            price = prices[column - 1] - base - of_column[column]
            if price < least[column]:
                least[column], before[column] = price, here
            if least[column] < step:
                step, following = least[column], column
        for column in range(columns + 1):
            if done[column]:
                of_row[holder[column]] += step
                of_column[column] -= step
            else:
                least[column] -= step
        here = following
    while here:
        holder[here] = holder[before[here]]
        here = before[here]
