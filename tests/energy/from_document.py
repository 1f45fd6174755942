"""A document of the project and its profile turned into an abstract case, for the oracle to judge.

Only the reader and the model are used: what a mark, a field or a panel means is read here anew, so that a slip of the
analysis can't hide itself.  Steps of the profile get the prefix `profile-`, for document and profile may use one name.
"""

from __future__ import annotations

import re

from kilter.model.base import fold
from kilter.model.document import Answer as ReadAnswer
from kilter.model.document import Document
from kilter.model.document import Stage as ReadStage
from kilter.model.document import Step as ReadStep
from kilter.model.front import ProfileFront
from kilter.model.text import Panel as ReadPanel
from kilter.model.text import Role, walk

from .demo_profile import Unreadable, profile_of, seconds, sources_of
from .spec import HANDS, Answer, Effect, Hands, Panel, Spec, Stage, Step

PREFIX = "profile-"
EXITS = {"returned to service": "service", "left locked out, tagged": "tagged", "left as found": "found"}
NAMED = ("isolates", "releases", "proves", "restores", "loads", "runs-on", "removes", "refits", "tests")
EVEN_IN_ANSWERS = ("restores", "loads", "removes", "runs-on")
"""Said inside an answer these count; what makes safe does not, for it may not have been done."""
_REASON = re.compile(r"\s[-–—]\s")


def from_document(document: Document, profile: Document) -> Spec:
    """The case of a procedure or pre-use check with the shared stages of its profile that it asks for."""
    front = profile.profile
    blocks = _asked(document, profile)
    stages = [_stage(front, stage, "", _names(document, profile)) for stage in document.stages if stage.steps]
    stages += [_stage(front, stage, PREFIX, {}) for stage in profile.stages if stage.slug in blocks]
    return Spec(profile_of(front), tuple(stages), _panels(front, document.panels))


def _names(document: Document, profile: Document) -> dict[str, str]:
    """Shared stages of the profile by the name the abstract case gives them; a document's own comes first."""
    return {
        s.slug: PREFIX + s.slug for s in profile.stages if s.shared and s.slug not in document.shared_stages
    }


def _asked(document: Document, profile: Document) -> set[str]:
    """Shared stages of the profile that are asked for, also by one another."""
    todo = [_ask(step) for _, step in document.all_steps() if _ask(step) not in document.shared_stages]
    found: set[str] = set()
    while todo:
        name = todo.pop()
        if name in profile.shared_stages and name not in found:
            found.add(name)
            todo += [_ask(step) for step in profile.shared_stages[name].steps]
    return found


def _ask(step: ReadStep) -> str:
    """The shared stage that a step asks for."""
    field = step.field("do")
    return field.value.strip().removeprefix("#") if field else ""


def _stage(front: ProfileFront, stage: ReadStage, prefix: str, blocks: dict[str, str]) -> Stage:
    return Stage(
        prefix + stage.slug,
        tuple(_step(front, step, prefix, blocks) for step in stage.steps),
        stage.shared,
        bool(prefix),
        _panels(front, stage.panels),
        _hands(front, stage),
        _zone(stage),
        _clear(front, stage),
    )


def _step(front: ProfileFront, step: ReadStep, prefix: str, blocks: dict[str, str]) -> Step:
    jump, out = step.field("go-to"), step.field("exit")
    do = _ask(step) or None
    return Step(
        prefix + step.slug,
        () if do else _effects(front, step),
        _panels(front, step.panels),
        _hands(front, step),
        _zone(step),
        _clear(front, step),
        tuple(_answer(front, step, answer, prefix) for answer in step.answers),
        _target(jump.value.strip(), prefix) if jump else None,
        blocks.get(do, prefix + do) if do else None,
        EXITS[out.value.strip()] if out else None,
    )


def _target(written: str, prefix: str) -> str:
    slug = written.removeprefix("#")
    return slug if slug == "back" else prefix + slug


def _answer(front: ProfileFront, step: ReadStep, answer: ReadAnswer, prefix: str) -> Answer:
    """A bare failing mark in a step that proves nothing is read on the safe side: it fails every source."""
    failure, target = answer.failure, _target(answer.target, prefix)
    if failure is None:
        return Answer(target)
    if failure.mark == "not-ok":
        return Answer(target, not_ok=True)
    named = tuple(n.text for n in failure.sources)
    if not named and all(role.name != "proves" for role in step.roles):
        named = tuple(front.sources)
    return Answer(target, sources_of(front, named))


def _panels(front: ProfileFront, panels: tuple[ReadPanel, ...]) -> tuple[Panel, ...]:
    """The panels that name a source; the others warn of what is no energy."""
    found = [Panel(p.word, sources_of(front, tuple(n.text for n in p.sources))) for p in panels]
    return tuple(panel for panel in found if panel.sources)


def _effects(front: ProfileFront, step: ReadStep) -> tuple[Effect, ...]:
    in_answers = {r.span for a in step.answers for r in walk(a.seen) if isinstance(r, Role)}
    roles = [r for r in step.roles if r.span not in in_answers or r.name in EVEN_IN_ANSWERS]
    return tuple(effect for role in roles if (effect := _effect(front, role)) is not None)


def _effect(front: ProfileFront, role: Role) -> Effect | None:
    if role.name == "wait":
        least, most = seconds(role.text)
        return Effect("wait", (), least, most)
    if role.name == "all-clear":
        return Effect("all-clear")
    if role.name not in NAMED:
        return None
    names = tuple(n.key for n in role.names)
    kept = names if role.name in ("removes", "refits", "tests") else sources_of(front, names)
    return Effect(role.name, kept) if kept else None


def _hands(front: ProfileFront, part: ReadStep | ReadStage) -> Hands | None:
    field = part.field("hands")
    if field is None:
        return None
    head, *why = _REASON.split(field.value.strip(), maxsplit=1)
    level, _, rest = head.strip().partition(" ")
    if level not in HANDS:
        raise Unreadable(f"no level of hands: {level}")
    return Hands(
        level,
        bool(why and why[0].strip()),
        sources_of(front, tuple(filter(None, map(str.strip, rest.split(","))))),
    )


def _zone(part: ReadStep | ReadStage) -> str | None:
    field = part.field("zone")
    return fold(field.value) if field else None


def _clear(front: ProfileFront, part: ReadStep | ReadStage) -> tuple[str, ...]:
    """All sources that the fields `clear-of` name."""
    heads = [_REASON.split(f.value, maxsplit=1)[0] for f in part.fields if f.name == "clear-of"]
    return tuple(
        dict.fromkeys(n for head in heads for n in sources_of(front, tuple(map(str.strip, head.split(",")))))
    )
