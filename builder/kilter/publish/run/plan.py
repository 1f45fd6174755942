"""The plan of a document: what a run through it needs to know, as data beside the page's words.

It is made from the same view as the page, so the two can't differ. Whatever may reach a record is a string,
because no other kind of JSON value is written alike by every program. Times are whole seconds.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from kilter.check.flow.facts import DEFAULT_HANDS
from kilter.check.flow.machine import Energy, I, L, Machine
from kilter.check.kit import Declared, declared
from kilter.compute.duration import bounds
from kilter.compute.quantity import Quantity
from kilter.compute.reading import parse_reading
from kilter.compute.stepfacts import step_facts
from kilter.model.base import fold
from kilter.model.front import EnergySource
from kilter.model.text import Panel, Role, paragraphs, plain
from kilter.publish.run.fits import fits_of
from kilter.publish.run.serials import serial_range
from kilter.publish.view import DocumentView, EnergyRow, StageView, StepView

SCHEMA = "kilter-plan-1"
SHORT = 12
"""Hex digits of a hash as records keep it."""
LEVELS = {L: "live", I: "charged"}
"""What a source is at the beginning, or falls to once it is cut off; else `dead`."""


def plan_of(view: DocumentView) -> dict[str, Any]:
    """The plan as plain data."""
    machine = Machine(view.equipment)
    return {
        "schema": SCHEMA,
        "document": view.number,
        "revision": view.front.revision,
        "hash": view.hash,
        "title": view.front.title,
        "kind": view.front.kind,
        "equipment": view.equipment.id,
        "machine": view.equipment.title,
        "appliesTo": list(view.front.applies_to),
        "serials": [list(r) for text in view.front.applies_to if (r := serial_range(text))],
        "contact": view.contact,
        "page": view.address,
        "idle": view.idle * 60,
        "sources": [_source(row, energy, machine) for row, energy in zip(view.energy, machine.energies, strict=True)],
        "guards": list(view.equipment.guards),
        "stages": [_stage(stage) for stage in view.stages],
        "steps": [
            _step(view, n, m, machine)
            for n, stage in enumerate(view.stages)
            for m in range(len(stage.steps))
        ],
        "first": next((s.steps[0].anchor for s in view.stages if not s.stage.shared and s.steps), ""),
    }  # fmt: skip


def plan_script(plan: dict[str, Any]) -> str:
    """As it stands in the page: no sign of it can end the data block or begin a tag."""
    text = json.dumps(plan, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _source(row: EnergyRow, energy: Energy, machine: Machine) -> dict[str, Any]:
    source: EnergySource = row.source
    return {
        "name": row.name,
        "kind": source.kind,
        "word": source.word,
        "lockable": source.lockable,
        "own": energy.own,
        "feeds": list(machine.names(energy.feeds)),
        "entry": LEVELS.get(energy.entry, "dead"),
        "landing": LEVELS.get(energy.landing, "dead"),
        "bleed": energy.bleed or 0,
        "action": energy.action,
        "again": source.reaccumulates is True,
        "counts": energy.counts or 0,
        "isolate": row.isolate,
        "prove": row.prove,
    }


def _stage(stage: StageView) -> dict[str, Any]:
    panels = (*stage.standing, *stage.stage.panels)
    return {
        "anchor": stage.anchor,
        "number": stage.number,
        "title": stage.stage.title,
        "shared": stage.stage.shared,
        "caution": _digest(panels),
    }


def _digest(panels: Iterable[Panel]) -> str:
    """Of the words of some panels; empty where there is none."""
    said = [
        [p.word, [n.text for n in p.sources], [plain(q.runs) for q in paragraphs(p.blocks)]] for p in panels
    ]
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()[:SHORT] if said else ""


def _step(view: DocumentView, n: int, m: int, machine: Machine) -> dict[str, Any]:
    stage = view.stages[n]
    step = stage.steps[m]
    facts = step_facts(step.step, stage.stage, step.owner, view.profile, view.pictures)
    hold = step.step.field("hold")
    effects = [] if step.do else list(_effects(step, machine, view))
    roles = [role for role in step.step.roles if role.name == "read"]
    readings = [(_reading(role, step, view), parse_reading(role.text).quantity) for role in roles]
    return {
        "anchor": step.anchor,
        "number": step.number,
        "title": step.step.title,
        "stage": stage.anchor,
        "hash": facts.short,
        "caution": _digest(step.step.panels),
        "effects": effects,
        "waits": [{"seconds": low, "text": text} for low, text in _waits(step)],
        "readings": [row for row, _ in readings],
        "hold": hold.value if hold else "",
        "answers": [{**_answer(step, i, view), "fits": fits} for i, fits in enumerate(_fits(step, readings))],
        "do": step.do,
        "goTo": step.go_to,
        "next": _following(view.stages, n, m),
        "exit": fold(step.exit),
        "must": [[m.source, m.state] for m in step.strip],
        "hands": step.hands,
    }


def _following(stages: tuple[StageView, ...], n: int, m: int) -> str:
    """The next step in order; empty at the end of a shared stage, which leads back, and at the very end."""
    if m + 1 < len(stages[n].steps):
        return stages[n].steps[m + 1].anchor
    if stages[n].stage.shared:
        return ""
    return next((s.steps[0].anchor for s in stages[n + 1 :] if not s.stage.shared and s.steps), "")


ORDER = (
    "runs-on",
    "isolates",
    "wait",
    "releases",
    "proves",
    "restores",
    "loads",
    "removes",
    "refits",
    "tests",
    "all-clear",
)
"""Kinds of effects in the order of the policy; they count in this order however the sentence has it."""
_IN_ANSWERS = ("restores", "loads", "removes", "runs-on")
"""Effects that count even where they stand inside an answer, as the check has it."""


def _effects(step: StepView, machine: Machine, view: DocumentView) -> Iterable[list[Any]]:
    inside = {r.span for a in step.step.answers for r in _roles_of(a.seen)}
    found: dict[str, list[str]] = {}
    for role in step.step.roles:
        if role.name not in DEFAULT_HANDS or role.name == "wait":
            continue
        if role.span in inside and role.name not in _IN_ANSWERS:
            continue
        names = found.setdefault(role.name, [])
        names += [s for s in _names(role, machine, view) if s not in names]
    return ([kind, found[kind]] for kind in ORDER if kind in found)


def _roles_of(runs: Iterable[Any]) -> Iterable[Role]:
    for run in runs:
        if isinstance(run, Role):
            yield run
        elif hasattr(run, "runs"):
            yield from _roles_of(run.runs)


def _names(role: Role, machine: Machine, view: DocumentView) -> list[str]:
    """Sources and guards as the profile writes them."""
    if role.name in ("removes", "refits"):
        return [view.equipment.guards[machine.guards[n.key]] for n in role.names if n.key in machine.guards]
    if role.name in ("tests", "all-clear"):
        return [n.text for n in role.names]
    return [name for n in role.names if (name := view.equipment.source_name(n.text))]


def _waits(step: StepView) -> Iterable[tuple[int, str]]:
    for role in step.step.roles:
        if role.name == "wait" and (found := bounds(role.text)):
            yield found[0], role.text


def _answer(step: StepView, index: int, view: DocumentView) -> dict[str, Any]:
    seen, way = step.step.answers[index], step.answers[index]
    failure = seen.failure
    proved = [n for r in step.step.roles if r.name == "proves" for n in r.names]
    named = failure.sources or proved if failure and failure.mark == "not-zero" else ()
    failed = list(dict.fromkeys(name for n in named if (name := view.equipment.source_name(n.text))))
    if failure and failure.mark == "not-zero" and not failed:
        failed = list(view.equipment.sources)  # on the safe side: nothing says which proof it was
    return {
        "text": plain(seen.seen),
        "words": plain(seen.link.runs),
        "to": way.target,
        "back": way.back,
        "failed": failed,
        "notZero": failure is not None and failure.mark == "not-zero",
        "notOk": failure is not None and failure.mark == "not-ok",
    }


def _fits(step: StepView, readings: Sequence[tuple[dict[str, Any], Quantity]]) -> Iterable[Any]:
    return (fits_of(answer.words, readings) for answer in step.step.answers)


def _reading(role: Role, step: StepView, view: DocumentView) -> dict[str, str | bool]:
    """A reading with its limits; the document has no errors, so it can be read."""
    reading = parse_reading(role.text)
    quantity = reading.quantity
    tool = _tool(step, quantity.dimension, view)
    limits = role.text.rpartition(":")[2].strip()
    of = [r for r in step.step.roles if r.name == "read"].index(role)
    return {
        "id": f"{step.anchor}.r{of + 1}",
        "name": reading.name,
        "phase": reading.phase or "",
        "unit": quantity.unit.symbol,
        "limits": limits,
        "low": _decimal(quantity.low),
        "high": _decimal(quantity.high),
        "lowItself": quantity.form != "above",
        "highItself": quantity.form != "below",
        "tool": tool.name if tool else "",
        "share": _exact(tool.share) if tool and tool.share is not None else "",
        "off": _exact(tool.off / quantity.unit.factor) if tool and tool.off is not None else "",
    }


def _tool(step: StepView, dimension: str, view: DocumentView) -> Declared | None:
    """The declared tool of the step that measures this; the document's own come before its profile's."""
    known = {fold(t.name): t for front in (view.equipment, view.front) for t in front.tools}
    named = [n.key for r in step.step.roles if r.name == "tool" for n in r.names]
    found = [declared(known[key]) for key in named if key in known]
    return next((t for t in found if t.dimension == dimension), found[0] if len(found) == 1 else None)


def _decimal(value: Decimal | None) -> str:
    return "" if value is None else format(value.normalize(), "f") if value else "0"


def _exact(value: Fraction) -> str:
    """A decimal where it ends, else rounded up in the twelfth place: a tool is never taken to be better than it is."""
    scaled = value * 10**12
    whole = -(-scaled.numerator // scaled.denominator)
    return _decimal(Decimal(whole).scaleb(-12))
