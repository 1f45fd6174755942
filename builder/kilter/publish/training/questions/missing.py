"""Find the missing control: one is taken out of a copy, the check refuses it with one finding, one choice mends it.

The copy is made in memory and judged by all rules. Wrong choices are tried too, in every step of the document and of
what it borrows: a choice that could mend the copy anywhere is never offered as wrong.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from kilter.check.rule import rule_named
from kilter.diagnostic import Diagnostic
from kilter.model.base import fold
from kilter.model.document import Step
from kilter.model.text import Name, Role
from kilter.publish.training.questions.cues import WORDS as WORDS_ALIKE
from kilter.publish.training.questions.cues import echo, least_telling
from kilter.publish.training.questions.draw import digest
from kilter.publish.training.questions.forced import ways_to_service
from kilter.publish.training.questions.missingkept import Verdict, Verdicts
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.mutant import Control, Copy, with_control, without
from kilter.publish.training.questions.subject import Asked, Subject, placed

CHOICES = 4
MOST = 10
"""Controls of one document that are asked about: each costs a check for every step and choice."""
TAKEN_OUT = ("isolates", "releases", "proves", "refits", "all-clear", "tests")
WORDS = {
    "isolates": "isolate the {}", "releases": "release the {}", "proves": "prove the {}", "removes": "remove the {}",
    "loads": "load the {}", "refits": "put back the {}", "all-clear": "clear the {}", "restores": "restore the {}",
    "tests": "test the {}",
}  # fmt: skip
"""A control as a choice: all in one form, so that none stands out."""
ZERO = " zero"
"""What may stand behind a proof."""
DONE = {
    "isolates": "isolated", "releases": "released", "proves": "proved", "removes": "removed", "loads": "loaded",
    "refits": "put back", "all-clear": "cleared", "restores": "restored", "tests": "tested",
}  # fmt: skip
"""How the stem lists what is done."""
MAKE_SAFE = ("isolates", "releases", "proves", "removes")
BACK = ("removes", "loads", "refits", "all-clear", "restores", "tests")
"""The half of a way that the stem tells: the one that the missing control belongs to."""
LOADED = ("spring", "gravity", "pneumatic", "hydraulic", "vacuum")
"""Kinds of energy that somebody could think of loading."""
CLEAR = "people"
_NO_ANSWER = frozenset({"no-failing-answer"})
"""A proof or test put in elsewhere has no answer of its own: that alone never makes a choice wrong."""


@dataclass(frozen=True)
class _Lack:
    """A control that can be taken out."""

    asked: Asked
    role: Role
    name: Name | None
    """One name of the mark; None for the whole mark."""

    @property
    def control(self) -> Control:
        return Control(self.role.name, self.name.text if self.name else CLEAR)

    def id(self, subject: Subject) -> str:
        return subject.fact_id(self.asked, self.role.name, fold(self.control.text).replace(" ", "-"))


def missing_questions(subject: Subject, most: int = MOST) -> Iterator[Question]:
    """One question a control, for those whose lack the check tells with exactly one error."""
    whole = Copy(subject.context.library, subject.document, subject.profile)
    if whole.errors():
        return
    lacks = sorted(_lacks(subject), key=lambda lack: digest(subject.number, lack.id(subject)))
    known = Verdicts(subject)
    made = 0
    for lack in lacks:
        if made >= most:
            break
        id = lack.id(subject)
        if id not in known:
            known.put(id, _verdict(subject, whole, lack))
        verdict = known.get(id)
        if verdict is not None:
            made += 1
            yield _question(subject, lack, verdict)
    known.save()


def _lacks(subject: Subject) -> Iterator[_Lack]:
    for asked in subject.steps:
        for role in asked.covered.step.roles:
            if role.name in TAKEN_OUT and role.name != "all-clear":
                yield from (_Lack(asked, role, name) for name in role.names)
            elif role.name in TAKEN_OUT:
                yield _Lack(asked, role, None)


def lacking(whole: Copy, lack: _Lack) -> tuple[Copy, Step]:
    """The copy without a control, and the step that it was taken from."""
    step = lack.asked.covered.step
    name = lack.name if lack.name is not None and len(lack.role.names) > 1 else None
    changed = without(step, lack.role, name)
    return whole.with_step(lack.asked.covered.owner, step, changed), changed


def _verdict(subject: Subject, whole: Copy, lack: _Lack) -> Verdict:
    """What the check says of a copy without a control, and which other controls mend it nowhere."""
    copy, changed = lacking(whole, lack)
    errors = copy.errors()
    listed = _listed(subject, copy, changed, lack.role.name)
    if len(errors) != 1 or not _about_safety(errors[0]) or not listed:
        return None
    wrong = _wrong(subject, copy, lack, listed)
    if wrong is None:
        return None
    return {
        "message": _feedback(errors[0]),
        "listed": _told(listed),
        "wrong": [[c.effect, c.text] for c in wrong],
    }


def _wrong(subject: Subject, copy: Copy, lack: _Lack, listed: Sequence[Control]) -> Sequence[Control] | None:
    """Three that mend the copy nowhere. They stand in the list only if the right one does: else it would be told by that."""
    id, seen = lack.id(subject), {said(c) for c in listed}
    words = wording(subject, id)
    others = [c for c in _others(subject, lack.control) if (said(c) in seen) == (said(lack.control) in seen)]
    half = _half(lack.control.effect)
    others.sort(key=lambda c: (c.effect not in half, digest(id, c.effect, c.text)))
    looks = subject.draw(id, said(lack.control), "missing looks", 0)
    right = words(lack.control)
    known: dict[Control, bool] = {}
    measures = (*WORDS_ALIKE, echo(_told(listed)))
    for chosen in least_telling(looks, right, others, words, CHOICES - 1, measures):
        for control in chosen:
            if control not in known:
                known[control] = mends(subject, copy, control)
            if known[control]:
                break
        else:
            return chosen
    return None


def _question(subject: Subject, lack: _Lack, verdict: dict[str, Any]) -> Question:
    fact, message = lack.id(subject), verdict["message"]
    wrong = [Control(effect, text) for effect, text in verdict["wrong"]]
    draw = subject.draw(fact, ";".join(f"{c.effect} {c.text}" for c in wrong), "missing", 0)
    words = wording(subject, fact)
    right = Choice(words(lack.control), message)
    mends_nothing = [Choice(words(c), f"That mends nothing. {message}") for c in wrong]
    choices, key = placed(draw, right, mends_nothing, subject.turn(fact, "missing", 0))
    stem = f"{subject.number} with one control left out. {verdict['listed']}. Which one is missing?"
    return subject.question("missing", lack.asked, fact, 0, stem, choices, key, safety=True)


def _about_safety(found: Diagnostic) -> bool:
    rule = rule_named(found.rule)
    return rule is not None and rule.safety


def mends(subject: Subject, copy: Copy, control: Control) -> bool:
    """Whether a control, put into any one step, makes the copy pass."""
    hands = subject.analysis.hands
    for owner in (copy.document, copy.profile):
        for _, step in owner.all_steps():
            key = step.slug if owner is copy.document else f"{copy.profile.profile.id}:{step.slug}"
            if step.field("do") is not None or key not in hands:
                continue
            tried = copy.with_step(owner, step, with_control(step, control, hands[key]))
            if not tried.energy_errors(_NO_ANSWER):
                return True
    return False


def _others(subject: Subject, control: Control) -> list[Control]:
    """Other controls that this machine could be given, in no order: those of the same half of a way, or of both."""
    front = subject.profile.profile
    found = [Control(effect, name) for effect in ("proves", "isolates", "releases") for name in front.sources]
    found += [Control("restores", name) for name in front.sources]
    found += [Control("loads", name) for name, source in front.sources.items() if source.kind in LOADED]
    found += [Control(effect, guard) for effect in ("removes", "refits") for guard in front.guards]
    found += [Control("tests", test) for test in front.before_service]
    found.append(Control("all-clear", CLEAR))
    same = (control.effect, fold(control.text))
    return [
        c
        for c in found
        if (c.effect, fold(c.text)) != same and (c.effect != "all-clear" or same[0] != c.effect)
    ]


def _half(effect: str) -> tuple[str, ...]:
    return MAKE_SAFE if effect in MAKE_SAFE else BACK


def said(control: Control) -> str:
    """A control in words."""
    return WORDS[control.effect].format(control.text)


def wording(subject: Subject, id: str) -> Callable[[Control], str]:
    """How a question says its controls: in one of five a proof is said at length, or it would mostly be the shortest."""
    long = subject.draw(id, "", "missing words", 0).below(5) == 0
    return lambda c: said(c) + (ZERO if long and c.effect == "proves" else "")


def _listed(subject: Subject, copy: Copy, changed: Step, effect: str) -> list[Control]:
    """The controls of the first way over the changed step, in order: of the half that an effect belongs to."""
    steps: dict[str, Step] = {}
    for owner in (copy.document, copy.profile):
        prefix = "" if owner is copy.document else f"{copy.profile.profile.id}:"
        steps |= {f"{prefix}{slug}": step for slug, step in owner.steps.items()}
    way = next((w for w in ways_to_service(subject) if any(steps.get(f.key) is changed for f in w)), None)
    half = _half(effect)
    marks = [r for f in way or () if f.key in steps for r in steps[f.key].roles if r.name in half]
    return [
        Control(r.name, name)
        for r in marks
        for name in ([CLEAR] if r.name == "all-clear" else [n.text for n in r.names])
    ]


def _told(listed: Sequence[Control]) -> str:
    """The list in words: `Isolated: mains, battery; proved: battery`."""
    runs = groupby(listed, key=lambda c: c.effect)
    text = "; ".join(f"{DONE[effect]}: {', '.join(c.text for c in run)}" for effect, run in runs)
    return text[:1].upper() + text[1:]


def _feedback(found: Diagnostic) -> str:
    text = found.message.replace("`", "")
    return text[:1].upper() + text[1:] + "."


__all__ = ["Control", "lacking", "mends", "missing_questions", "said"]
