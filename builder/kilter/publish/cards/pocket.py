"""The pocket card: what hurts, how it is made safe, the values, where to stop; never the whole procedure."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from kilter.model.base import fold
from kilter.model.text import Role
from kilter.publish.cards.blocks import PanelData, panel_data
from kilter.publish.cards.heads import Data, document_head
from kilter.publish.cards.inline import Inline, Scope, inlines, printable
from kilter.publish.cards.lines import run_lines
from kilter.publish.cards.order import in_order
from kilter.publish.values import unbroken
from kilter.publish.view import DocumentView, EnergyRow, StageView, StepView

SAFE = {"isolates": "ISOLATE", "releases": "RELEASE", "proves": "PROVE ZERO"}
TAGGED = fold("left locked out, tagged")


class SafeRow(TypedDict):
    """One thing to do to one source."""

    number: str
    verb: str
    sources: list[str]
    lock: bool
    """Whether a lock, pin or prop of one's own goes on."""
    how: list[str]


class StopRow(TypedDict):
    """What is seen, at which step, and where it leads."""

    number: str
    seen: list[Inline]
    goto: str


def pocket_data(view: DocumentView, width: int, height: int) -> Data:
    return {
        **document_head(view, width, height, "Pocket card"),
        "panels": _panels(view),
        "safe": list(_safe(view)),
        "values": [
            {**v, "number": x["number"], "title": x["title"]} for x in run_lines(view) for v in x["values"]
        ],
        "stops": list(_stops(view)),
        "ends": list(_ends(view)),
        "contact": printable(view.contact),
    }


def _panels(view: DocumentView) -> list[Data]:
    """Each panel once, with the stages and steps that it stands before."""
    found: dict[str, tuple[PanelData, list[str]]] = {}
    for panel in view.document.panels:
        found[repr(panel_data(panel, Scope(view, view.document)))] = (
            panel_data(panel, Scope(view, view.document)),
            ["all stages"],
        )
    for stage, step in _places(view):
        scope = Scope(view, stage.owner)
        for panel in step.step.panels if step else stage.stage.panels:
            data = panel_data(panel, scope)
            where = f"step {step.number}" if step else f"stage {stage.number}"
            found.setdefault(repr(data), (data, []))[1].append(where)
    return [{"panel": data, "where": "Before " + ", ".join(where)} for data, where in found.values()]


def _places(view: DocumentView) -> Iterator[tuple[StageView, StepView | None]]:
    """Each stage before its steps, in the order of the work."""
    seen: set[str] = set()
    for stage, step in in_order(view):
        if stage.anchor not in seen:
            seen.add(stage.anchor)
            yield stage, None
        yield stage, step


def _safe(view: DocumentView) -> Iterator[SafeRow]:
    """Isolating, releasing, waiting and proving, in order; an end that locks again is not a part of it."""
    energy = {fold(row.name): row for row in view.energy}
    for stage, step in in_order(view):
        if step.exit:
            continue
        for role in step.step.roles:
            if role.name in SAFE:
                yield _safe_row(step, role, energy)
            elif role.name == "wait" and _drains(stage, step):
                yield _row(step, "WAIT", [], False, [unbroken(role.text)])


def _drains(stage: StageView, step: StepView) -> bool:
    """Whether a wait there lets something drain: a stage that makes safe, and no step that runs the machine."""
    makes_safe = any(r.name in SAFE for s in stage.steps for r in s.step.roles if not s.exit)
    return makes_safe and not any(r.name in ("runs-on", "tests") for r in step.step.roles)


def _safe_row(step: StepView, role: Role, energy: dict[str, EnergyRow]) -> SafeRow:
    rows = [energy[n.key] for n in role.names if n.key in energy]
    words = {"isolates": "isolate", "releases": "release", "proves": "prove"}[role.name]
    how = list(dict.fromkeys(getattr(row, words) for row in rows))
    names = [row.name.upper() for row in rows]
    return _row(step, SAFE[role.name], names, role.name == "isolates", how)


def _row(step: StepView, verb: str, sources: list[str], lock: bool, how: list[str]) -> SafeRow:
    return {
        "number": step.number,
        "verb": verb,
        "sources": [printable(s) for s in sources],
        "lock": lock,
        "how": [printable(h) for h in how],
    }


def _stops(view: DocumentView) -> Iterator[StopRow]:
    """Answers that prove a source live, or lead straight to an end with lock and tag."""
    tagged = {step.anchor for _, step in in_order(view) if fold(step.exit) == TAGGED}
    for stage, step in in_order(view):
        for way in step.answers:
            answer = step.step.answers[way.index]
            unproved = answer.failure is not None and answer.failure.mark == "not-zero"
            if unproved or way.target in tagged:
                goto = "go back" if way.back else f"step {way.number}"
                yield {
                    "number": step.number,
                    "seen": inlines(answer.seen, Scope(view, stage.owner).quiet()),
                    "goto": goto,
                }


def _ends(view: DocumentView) -> Iterator[Data]:
    """Ends with lock and tag; those that leave the same held stand together."""
    found: dict[tuple[str, bool], list[str]] = {}
    for _, step in in_order(view):
        if fold(step.exit) == TAGGED:
            held = printable(", ".join(step.held))
            found.setdefault((held, step.treat_as_live), []).append(
                printable(f"{step.number} {step.step.title}")
            )
    for (held, live), steps in found.items():
        yield {"steps": steps, "held": held, "live": live}
