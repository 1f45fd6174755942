"""What there is to know about the thing under the pointer."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.assist.calculations import block_at, result_markdown
from kilter.assist.known import about_source
from kilter.assist.memory import last_profile
from kilter.assist.navigate import everywhere
from kilter.assist.states import step_markdown
from kilter.assist.units import other_system
from kilter.assist.uses import Use, holds, use_at, uses
from kilter.assist.values import Hover
from kilter.check.marked import Marked, marked_values
from kilter.check.rule import rule_named
from kilter.check.workspace import Workspace
from kilter.compute.quantity import Quantity
from kilter.diagnostic import Diagnostic
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProfileFront, Tool
from kilter.source import Span


def hover(workspace: Workspace, path: str, line: int, column: int) -> Hover | None:
    """What is known of a 1-based place: a step's states, a source's entry, a link's step, a value, a finding."""
    if path not in workspace.library.readings:
        return None
    document = workspace.library.documents.get(path)
    parts = list(_things(workspace, document, line, column)) if document is not None else []
    here = [f for f in workspace.findings(path) if f.span.path == path and holds(f.span, line, column)]
    parts += [(_finding(f), f.span) for f in here]
    if not parts:
        return None
    texts = dict.fromkeys(text for text, _ in parts)
    return Hover("\n\n---\n\n".join(texts), parts[0][1])


def _things(workspace: Workspace, document: Document, line: int, column: int) -> Iterator[tuple[str, Span]]:
    for _, step in document.all_steps():
        if step.heading_span.line == line:
            yield step_markdown(workspace, document, step), step.heading_span
            return
    for marked in marked_values(document):
        if holds(marked.role.span, line, column):
            yield _value(marked), marked.role.span
            return
    block = block_at(document, line)
    if block is not None and (line == block.span.line or any(g.span.line == line for g in block.given)):
        yield result_markdown(workspace, block), block.span
        return
    use = use_at(uses(workspace.library, document), line, column)
    if use is not None and (text := _about(workspace, document, use)):
        yield text, use.span


def _about(workspace: Workspace, document: Document, use: Use) -> str:
    kind, home, name = use.thing
    profile = last_profile(workspace, document.path)
    machine = profile.profile if profile is not None else None
    match kind:
        case "source":
            return _source(machine, name)
        case "step":
            there = workspace.library.documents[home]
            step = there.steps.get(name)
            return f"Step {there.numbers[name]}: **{step.title}**" if step is not None else ""
        case "stage":
            stage = workspace.library.documents[home].shared_stages.get(name)
            steps = "\n".join(f"1. {s.title}" for s in stage.steps) if stage is not None else ""
            return f"Shared stage: **{stage.title}**\n\n{steps}" if stage is not None else ""
        case "zone":
            reach = machine.zone(name) if machine is not None else None
            return (
                f"Zone **{name}**: {', '.join(reach) or 'nothing'} can be reached"
                if reach is not None
                else ""
            )
        case "switch":
            return _switch(machine, name)
        case "number" | "equipment":
            found = (workspace.library.numbers if kind == "number" else workspace.library.profiles).get(name)
            return f"**{found.front.title}**\n\n{found.path}" if found is not None else ""
        case "item":
            return _item(document, name)
        case "tool" | "part":
            return _tool(document, machine, kind, name)
        case "guard" | "test":
            count = len([u for u in everywhere(workspace, use.thing) if not u.defines])
            return f"{kind.capitalize()} **{name}**, named in {count} place{'s' * (count != 1)}"
    return ""


def _source(machine: ProfileFront | None, name: str) -> str:
    written = machine.source_name(name) if machine is not None else None
    if machine is None or written is None:
        return ""
    return f"**{written}**\n\n{about_source(machine.sources[written])}"


def _switch(machine: ProfileFront | None, name: str) -> str:
    for written, switch in machine.switches.items() if machine is not None else ():
        if fold(written) == name:
            facts = switch.model_dump(exclude_none=True)
            return f"Switch **{written}**\n\n" + "\n".join(
                f"- {key.upper()}: {value}" for key, value in facts.items()
            )
    return ""


def _item(document: Document, name: str) -> str:
    id, _, number = name.rpartition(" ")
    for figure in document.figures:
        for item in [i for p in figure.pictures for i in p.items] if figure.id == id else ():
            if str(item.number) == number:
                return f"Item {number} of `{id}`: **{item.label}**"
    return ""


def _tool(document: Document, machine: ProfileFront | None, kind: str, name: str) -> str:
    kits: list[Tool] = [*getattr(document.front, f"{kind}s")]
    kits += getattr(machine, f"{kind}s") if machine is not None else ()
    for tool in kits:
        if fold(tool.name) == name:
            facts = tool.model_dump(exclude_none=True, exclude={"name"}, by_alias=True)
            rows = "\n".join(f"- {key.replace('-', ' ')}: {value}" for key, value in facts.items())
            return f"**{tool.name}**" + (f"\n\n{rows}" if rows else "")
    return f"**{name}**, not declared under `{kind}s`"


def _value(marked: Marked) -> str:
    purpose = {"torque": "Tightening torque", "set": "Setting", "read": "Reading", "wait": "Waiting time"}
    head = ", ".join(part for part in (purpose[marked.purpose], marked.phase or "", marked.name) if part)
    if marked.quantity is None:
        return f"{head}: can't be read" + (f", {marked.trouble}" if marked.trouble is not None else "")
    other = other_system(marked.quantity, marked.name)
    origin = marked.step.field("origin") or marked.stage.field("origin")
    rows = [
        f"{head}: **{_spoken(marked.quantity)}**",
        other and f"= {other}",
        origin and f"from: {origin.value}",
    ]
    return "\n\n".join(str(row) for row in rows if row)


def _spoken(quantity: Quantity) -> str:
    """How the value was understood."""
    low, high, unit = quantity.low, quantity.high, quantity.unit
    words = {"at-least": f"at least {low}", "above": f"more than {low}"}
    words |= {"at-most": f"at most {high}", "below": f"less than {high}", "plain": f"{quantity.nominal}"}
    text = words.get(quantity.form) or f"{low} to {high}"
    aim = (
        f", aim for {quantity.nominal} {unit}"
        if quantity.has_tolerance and quantity.nominal is not None
        else ""
    )
    return f"{text} {unit}{aim}".replace("-", "−")


def _finding(found: Diagnostic) -> str:
    """The rule's code and name, and the first paragraph of its page."""
    rule = rule_named(found.rule)
    if rule is None:
        return found.message
    body = re.sub(r"\A\s*# .*\n", "", rule.page).strip()
    first = " ".join(body.split("\n\n", 1)[0].split())
    return f"**{rule.code} {rule.name}**\n\n{first}"
