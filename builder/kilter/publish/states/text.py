"""The table of states as a reviewer reads it in a terminal: one block a step, nothing wider than it need be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from kilter.publish.states import words
from kilter.publish.states.data import StageLine, States, StepLine, Stop

WIDTH = 92
"""Columns: fits a terminal of 100 with room for a quotation mark in a mail."""
PAD = "     "


class TextTable:
    """Writes a table, with bold titles on a terminal that has colours."""

    def __init__(self, table: States, colour: bool) -> None:
        self.table, self.colour = table, colour
        lines = [s for step in table.steps for s in step.sources]
        self.name = max((len(s.source) for s in lines), default=0)
        self.state = max((len(s.worst) for s in lines), default=0)

    def render(self, ways: bool = False) -> str:
        """All of it; `ways` adds how each step is reached."""
        parts = [*self._head()]
        for stage in self.table.stages:
            parts += ["", self._bold(self._stage(stage))]
            for step in stage.steps:
                parts += ["", *self._step(step)]
                if ways:
                    parts += ["", *self._ways(step)]
        parts += self._origins() if not ways else []
        return "\n".join(parts) + "\n"

    def _head(self) -> Iterator[str]:
        table = self.table
        if table.errors:
            yield f"This file has {words.count(table.errors, 'error')}: it is not accepted. `kilter check` says which."
            yield "What is known in spite of them:" if table.proved else "The states could not be worked out."
            yield ""
        yield self._bold(f"{table.number} rev. {table.revision}: {table.title}")
        yield f"{table.equipment}, {words.count(len(table.steps), 'step')}"
        yield ""
        yield from wrap(words.WORST, WIDTH)
        if not table.errors:
            yield from wrap(words.MEANS, WIDTH)

    def _stage(self, stage: StageLine) -> str:
        callers = [s.number for s in self.table.steps if s.does == stage.number]
        done = f", done from {', '.join(callers)}" if callers else ", done where a step asks for it"
        return f"{stage.number} {stage.title}{done if stage.shared else ''}"

    def _step(self, step: StepLine) -> Iterator[str]:
        yield self._bold(f"{step.number:<4} {step.title}")
        if not step.reached:
            yield f"{PAD}no way leads here"
            return
        yield from _labelled("hands", step.hands + (f" - {step.hands_reason}" if step.hands_reason else ""))
        for line in step.sources:
            yield self._source(line.source, line.worst, words.held(line), words.needs(line))
            for more in (words.varies(line), words.explained(line)):
                yield from wrap(more, WIDTH, initial_indent=PAD + "    ", subsequent_indent=PAD + "    ")
        for label, sources in words.cautions(step):
            yield from _labelled(label, sources)
        if step.guards_off:
            yield from _labelled("guards that may be off", ", ".join(step.guards_off))
        for found in step.unmet:
            yield from _labelled("NOT MET", words.unmet(found))
        if step.does:
            yield f"{PAD}does stage {step.does}, then goes on"
        if step.exit:
            yield from _labelled("end", step.exit)

    def _source(self, name: str, *cells: str) -> str:
        state, hold, need = cells
        row = f"{PAD}{name:<{self.name}}  {state:<{self.state}}  {hold:<10}  {need}"
        return row.rstrip()

    def _ways(self, step: StepLine) -> Iterator[str]:
        if step.way:
            stops = words.count(len(step.way), "step")
            yield self._bold(f"{PAD}A shortest way in, {stops}:")
            yield from _way(step.way)
        for line in step.sources:
            if line.worst_way:
                yield ""
                yield self._bold(f"{PAD}A way that leaves {line.source} {line.worst}, its telling steps:")
                yield from _way(line.worst_way)
        came = [link for link in self.table.links if link.to == step.number and link.kind != "back"]
        if came:
            yield ""
            yield self._bold(f"{PAD}The steps right before it:")
            for link in came:
                start = f"step {link.start}"
                failed = " (failed)" if link.failed else ""
                yield from _hanging(start + (f" -> *{link.answer}*{failed}" if link.answer else ""))

    def _origins(self) -> Iterator[str]:
        missing = words.no_origin(self.table)
        if missing:
            yield from ("", self._bold("Values that do not say where they come from"))
        for step in missing:
            values = ", ".join(step.origins.values) if step.origins else ""
            yield from _hanging(f"{step.number} {step.title}: {values}")

    def _bold(self, text: str) -> str:
        return f"\x1b[1m{text}\x1b[0m" if self.colour else text


def _way(way: Iterable[Stop]) -> Iterator[str]:
    """`title -> *answer* ->`, a line a stop."""
    stops = list(way)
    for n, stop in enumerate(stops):
        arrow = " ->" if n < len(stops) - 1 else ""
        yield from _hanging(words.hop(stop) + (f" -> *{stop.answer}*" if stop.answer else "") + arrow)


def _labelled(label: str, text: str) -> list[str]:
    return wrap(f"{label}: {text}", WIDTH, initial_indent=PAD, subsequent_indent=PAD + "    ")


def _hanging(text: str) -> list[str]:
    return wrap(text, WIDTH, initial_indent=PAD, subsequent_indent=PAD + "    ", break_on_hyphens=False)
