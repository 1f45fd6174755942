"""The reviewer's page as HTML: picture, table, ways in, origins. No script, no style attribute."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.states import svg, words
from kilter.publish.states.data import SourceLine, StageLine, States, StepLine, Stop

_WAYS = (
    "A shortest way to each step: where it starts, the answers taken, the shared stages done on the way. "
    "Where ways differ, also one that leaves the worst."
)
COLUMNS = ("Source", "Before the step, at worst", "Hold", "The step needs", "Caution")


def body(table: States, document: str) -> Html:
    """All parts below the heading; `document` is the address of the document's page, or nothing."""
    return some(
        _errors(table),
        el("p", text(words.MEANS), cls="means"),
        el("p", text(words.WORST)),
        el("h2", text("Graph"), id="graph."),
        wide("Graph of the steps", Html(svg.picture(table, named=False))),
        el("h2", text("States step by step"), id="table."),
        wide("States step by step", _table(table, document)),
        el("h2", text("Ways in"), id="ways."),
        el("p", text(_WAYS)),
        join(_ways(step) for step in table.steps if step.reached),
        el("h2", text("Where values come from"), id="origins."),
        _origins(table, document),
    )


def wide(name: str, content: Html) -> Html:
    """Something that scrolls inside itself, also by keyboard."""
    return el("div", content, cls="wide", role="region", aria_label=name, tabindex=0)


def _errors(table: States) -> Html:
    if not table.errors:
        return NOTHING
    said = f"This file has {words.count(table.errors, 'error')}: it is not accepted. Here is what is known in spite of them."
    return el("p", el("b", text(said)), cls="standing")


def _table(table: States, document: str) -> Html:
    head = el("tr", *(el("th", text(c), scope="col") for c in COLUMNS))
    groups = (
        join([_stage(table, stage), *(_step(step, document) for step in stage.steps)])
        for stage in table.stages
    )
    return el("table", el("thead", head), *groups, cls="states")


def _stage(table: States, stage: StageLine) -> Html:
    callers = ", ".join(s.number for s in table.steps if s.does == stage.number)
    name = f"{stage.number} {stage.title}" + (f" (shared, done from {callers})" if callers else "")
    return el("tbody", el("tr", _across(text(name))), cls="stage-name")


def _across(content: Html) -> Html:
    return el("th", el("div", content), scope="rowgroup", colspan=len(COLUMNS))


def _step(step: StepLine, document: str) -> Html:
    number = link(f"{document}#{step.anchor}", text(step.number)) if document else el("b", text(step.number))
    hands = f"Hands: {step.hands.removeprefix('hands ')}" if step.reached else "No way leads here"
    why = f" – {step.hands_reason}" if step.hands_reason else ""
    name = some(number, SPACE, text(step.title), el("small", text(hands + why)))
    rows = [el("tr", _across(name))]
    rows += [_source(line) for line in step.sources]
    rows += [_note(label, said) for label, said in _notes(step)]
    return el("tbody", *rows, id=f"s.{step.anchor}")


def _source(line: SourceLine) -> Html:
    force = f"{line.word.upper()}: {'read' if line.caution == 'on every way' else 'read ' + line.caution}"
    return el(
        "tr",
        el("th", text(line.source), scope="row"),
        el("td", el("b", text(line.worst)), _more(words.varies(line))),
        el("td", text(words.held(line))),
        el("td", text(line.needs), _more(words.explained(line))),
        el("td", text(force if line.caution_asked else "")),
    )


def _more(said: str) -> Html:
    return el("small", text(said)) if said else NOTHING


def _notes(step: StepLine) -> Iterable[tuple[str, str]]:
    if step.guards_off:
        yield "Guards that may be off", ", ".join(step.guards_off)
    for found in step.unmet:
        yield "NOT MET", words.unmet(found)
    if step.does:
        yield "Does", f"stage {step.does}, then goes on"
    if step.exit:
        yield "End", step.exit


def _note(label: str, said: str) -> Html:
    return el("tr", el("th", text(label), scope="row"), el("td", text(said), colspan=len(COLUMNS) - 1))


def _ways(step: StepLine) -> Html:
    worse = (
        some(el("p", text(f"{line.source} is {line.worst} this way:")), _way(line.worst_way))
        for line in step.sources
        if line.worst_way
    )
    return el(
        "details", el("summary", el("b", text(step.number)), SPACE, text(step.title)), _way(step.way), *worse
    )


def _way(way: tuple[Stop, ...]) -> Html:
    rows = (
        el("li", text(words.hop(stop)), el("em", text(f" → {stop.answer}")) if stop.answer else NOTHING)
        for stop in way
    )
    return el("ol", *rows, cls="way")


def _origins(table: States, document: str) -> Html:
    """Those without an origin first: they are the reviewer's to ask about."""
    steps = [s for s in table.steps if s.origins]
    if not steps:
        return el("p", text("No step states a torque, a setting or a limit."))
    missing = words.no_origin(table)
    some_do_not = f"{words.count(len(missing), 'step')} with values that do not say where they come from."
    said = some_do_not if missing else "Every torque, setting and limit says where it comes from."
    head = el("tr", *(el("th", text(c), scope="col") for c in ("Step", "Values", "From")))
    rows = join(_origin(s, document) for s in sorted(steps, key=lambda s: s not in missing))
    shown = el("table", el("thead", head), el("tbody", rows), cls="states")
    return some(el("p", text(said)), wide("Where values come from", shown))


def _origin(step: StepLine, document: str) -> Html:
    assert step.origins is not None
    number = link(f"{document}#{step.anchor}", text(step.number)) if document else text(step.number)
    origin = text(step.origins.origin) if step.origins.origin else el("b", text("no origin given"))
    return el(
        "tr",
        el("th", number, SPACE, text(step.title), scope="row"),
        el("td", text("; ".join(step.origins.values))),
        el("td", origin),
    )
