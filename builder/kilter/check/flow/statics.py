"""Honesty rules that need one step or stage only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kilter.check.flow.facts import DEFAULT_HANDS, Facts
from kilter.check.flow.fields import (
    CONTROLS,
    HANDS,
    OPEN,
    PROBE,
)  # fmt: skip
from kilter.check.flow.forms import field_findings
from kilter.check.flow.machine import Machine, bits
from kilter.check.flow.places import Place
from kilter.check.flow.step_cures import failing_answer, further_answer, hold_said
from kilter.check.flow.wording import order_findings
from kilter.check.flow.words import inside_verb, instruction, says_hold, sentences
from kilter.diagnostic import Diagnostic, Fix, error, hint, warning
from kilter.model.base import fold
from kilter.model.document import Step
from kilter.model.text import Paragraph, Role, paragraphs, plain

Findings = Iterator[Diagnostic]


def static_findings(
    machine: Machine,
    facts: Iterable[Facts],
    places: Iterable[Place],
    hold_words: tuple[str, ...],
) -> Findings:
    """All findings that look at one place only."""
    for place in places:
        yield from field_findings(place.stage.fields)
    for each in facts:
        yield from field_findings(each.step.fields)
        yield from _step(machine, each, hold_words)


def _step(machine: Machine, facts: Facts, hold_words: tuple[str, ...]) -> Findings:
    if facts.calls is not None:
        yield from _do_with_effects(facts)
        return
    if facts.kinds:
        yield from _acted_on(machine, facts)
        yield from _hidden(machine, facts)
        yield from _restore(machine, facts)
        yield from _too_low(machine, facts)
        yield from _held(machine, facts, hold_words)
        yield from order_findings(machine, facts)
    yield from _failing(machine, facts)
    yield from _loads_unsaid(machine, facts)
    yield from _talks_inside(facts)
    if len(facts.step.answers) == 1:
        answer = facts.step.answers[0]
        help = "add what else can be seen, or write `:go-to: #step` where there is nothing to decide"
        cure = further_answer(facts.place.document, facts.place.stage, facts.step)
        message = f"a decision with one answer: `{answer.words}`"
        yield error("one-answer", message, answer.span, help, fixes=cure)


def _do_with_effects(facts: Facts) -> Findings:
    role = next((r for r in facts.step.roles if r.name in DEFAULT_HANDS), None)
    if role is not None:
        help = "say it in a step of its own, before or after this one"
        message = f"`{{{role.name}}}` in a step that asks for a shared stage"
        yield error(
            "do-with-effects", message, role.span, help, why="It can't be told which of them comes first."
        )


def _acted_on(machine: Machine, facts: Facts) -> Findings:
    for each in facts.exemptions:
        own = any(f is each.field for f in facts.step.fields)
        for n in bits(each.mask & facts.acts if own else 0):
            name = machine.energies[n].name
            help = f"take `{name}` out of `:clear-of:`, or act on it in another step"
            message = f"the step acts on `{name}` and says it can't be reached"
            yield error("clear-of-acted-on", message, each.field.value_span, help)


def _hidden(machine: Machine, facts: Facts) -> Findings:
    """Sources that hands or instruments act on, though the zone says that they can't be reached."""
    if facts.hands < OPEN or facts.outside:
        return
    inside = facts.releases & ~machine.outside_release | facts.proves & ~machine.outside_prove
    for n in bits((facts.runs | facts.restores | facts.loads | inside) & ~facts.zone):
        name = machine.energies[n].name
        role = facts.role(("runs-on", "restores", "loads", "releases", "proves"), name)
        field = facts.step.field("zone") or facts.place.stage.field("zone")
        if role is not None and field is not None:
            message = f"the step acts on `{name}`, and the zone `{field.value}` leaves it out"
            help = f"take a zone that has `{name}`, or do this in a step of its own"
            why = "What is outside the zone is not asked to be safe, and nothing warns of it."
            yield warning("zone-hides-acted-on", message, role.span, help, why=why)


def _restore(machine: Machine, facts: Facts) -> Findings:
    role = facts.role(("restores",))
    if role is None:
        return
    beside = [f"`{{{kind}}}`" for kind in ("all-clear", "tests") if kind in facts.kinds]
    if facts.step.answers:
        beside.append("a decision")
    if beside:
        help = "clear people in a step before it, test and decide in a step after it"
        message = f"energy is put back in one step with {' and '.join(beside)}"
        yield error("restore-not-alone", message, role.span, help)
    for n in bits(facts.restores):
        feeds = machine.energies[n].above & facts.restores
        if feeds:
            store, feed = machine.energies[n].name, machine.names(feeds)[0]
            own = machine.energies[n].own
            follows = "comes in a step of its own" if own else "fills by itself: take it out of `{restores}`"
            help = f"put `{feed}` back in a step before; `{store}` then {follows}"
            yield error(
                "restore-feed-and-store",
                f"`{feed}` and `{store}`, which it feeds, put back at once",
                role.span,
                help,
            )
            return


def _too_low(machine: Machine, facts: Facts) -> Findings:
    if facts.explicit is None:
        return
    said = PROBE if facts.outside else facts.hands
    for role in facts.roles:
        least = _least(machine, role)
        if said < least:
            help = f"write `:hands: {HANDS[least]}` or leave the field out"
            message = f"hands `{HANDS[said]}` are too low for `{{{role.name}}}`"
            yield error("hands-too-low", message, role.span, help)
            return


def _least(machine: Machine, role: Role) -> int:
    """The least hands that an effect takes."""
    if role.name in ("releases", "proves"):
        reach = machine.outside_release if role.name == "releases" else machine.outside_prove
        if not machine.mask(n.text for n in role.names) & ~reach:
            return CONTROLS
    return DEFAULT_HANDS[role.name]


def _held(machine: Machine, facts: Facts, more: tuple[str, ...]) -> Findings:
    for role in facts.roles:
        if role.name != "isolates":
            continue
        cut = [machine.energies[n] for n in bits(machine.mask(n.text for n in role.names))]
        lockable = [e for e in cut if e.lockable]
        yield from (_no_way(role, e.name) for e in cut if not e.own)
        if lockable and not any(says_hold(s, more) for s in _sentences_with(facts.step, role)):
            name = lockable[0].name
            help = "say in the same sentence what keeps it so: the lock, padlock, pin, stand or case"
            message = f"the sentence does not say how `{name}` is held"
            yield warning(
                "how-it-is-held",
                message,
                role.span,
                help,
                why="What is only switched off can be switched on.",
                fixes=hold_said(role),
            )


def _no_way(role: Role, name: str) -> Diagnostic:
    help = "write `isolate:` for it in the profile, or cut off what feeds it"
    message = f"the profile does not say how `{name}` is cut off"
    return warning("how-it-is-held", message, role.span, help, why="What can't be cut off can't be held off.")


def _sentences_with(step: Step, role: Role) -> list[str]:
    """The sentences of the role's paragraph that hold its words."""
    for paragraph in paragraphs(step.blocks, panels=False):
        if role in paragraph.runs or any(role.span == getattr(r, "span", None) for r in _deep(paragraph)):
            before = plain(paragraph.runs[: _index(paragraph, role) + 1])
            whole = plain(paragraph.runs)
            rest = sentences(whole[len(before) :])[:1]
            return [" ".join([*sentences(before)[-1:], *rest])]
    return []


def _deep(paragraph: Paragraph) -> Iterator[object]:
    from kilter.model.text import walk

    yield from walk(paragraph.runs)


def _index(paragraph: Paragraph, role: Role) -> int:
    from kilter.model.text import walk

    return next(
        (n for n, run in enumerate(paragraph.runs) if any(r is role or r == role for r in walk((run,)))), 0
    )


def _failing(machine: Machine, facts: Facts) -> Findings:
    step = facts.step
    marks = [a.failure for a in step.answers if a.failure]
    none = "end the step in two answers: that it passed, and that it failed, the second with "
    add = "add an answer for the case that it fails, ending in " if step.answers else none
    help = f"{add}`{{not-zero}}`"
    if facts.proves and not any(f.mark == "not-zero" and not f.sources for f in marks):
        named = machine.mask(n.text for f in marks if f.mark == "not-zero" for n in f.sources)
        missing = facts.proves & ~named
        if missing:
            name = machine.names(missing)[0]
            role = facts.role(("proves",), name) or facts.role(("proves",))
            assert role is not None
            why = "A proof that can't fail proves nothing."
            message, cure = f"the proof of `{name}` has no failing answer", _answer(facts, "not-zero")
            yield error("no-failing-answer", message, role.span, help, why=why, fixes=cure)
    test = _tested(facts)
    if test is not None and not any(f.mark == "not-ok" for f in marks):
        what = "test" if test.name == "tests" else "reading"
        help = f"{add}`{{not-ok}}`"
        message, cure = f"the {what} `{test.text}` has no failing answer", _answer(facts, "not-ok")
        yield error("no-failing-answer", message, test.span, help, fixes=cure)


def _answer(facts: Facts, mark: str) -> tuple[Fix, ...]:
    return failing_answer(facts.place.document, facts.place.stage, facts.step, mark)


def _tested(facts: Facts) -> Role | None:
    """A test, or a reading as left."""
    for role in facts.step.roles:
        if role.name == "tests" or (role.name == "read" and fold(role.text).startswith("as left")):
            return role
    return None


def _loads_unsaid(machine: Machine, facts: Facts) -> Findings:
    text = ""
    for n, source in enumerate(machine.front.sources.values()):
        if not source.loaded_by or facts.loads >> n & 1:
            continue
        text = text or " " + fold(instruction(facts.step)) + " "
        said = next((w for w in source.loaded_by if fold(w) in text), None)
        if said:
            name = machine.energies[n].name
            help = f"mark it where it is said: {{loads}}`{name}`"
            yield hint(
                "loads-unsaid",
                f"`{said}` loads `{name}`, but the step does not say so",
                facts.step.heading_span,
                help,
            )


def _talks_inside(facts: Facts) -> Findings:
    if facts.explicit is None or facts.hands > CONTROLS or facts.outside or facts.isolates | facts.restores:
        return
    word = inside_verb(instruction(facts.step))
    if word:
        help = (
            "look whether hands stay outside; if they do, begin the sentence with what is done from outside"
        )
        message = f"hands `{HANDS[facts.hands]}`, but `{word}` sounds like work inside"
        yield hint("hands-in-words", message, facts.step.heading_span, help)
