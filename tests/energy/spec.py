"""An abstract procedure, independent of the project's own model: only what the energy policy needs.

Times are whole seconds.  Names are plain words; step and stage slugs are what the title slugs to.
"""

from __future__ import annotations

from dataclasses import dataclass, field

WORDS = ("notice", "caution", "warning", "danger")
HANDS = ("away", "controls", "open", "probe", "inside", "live")
EXITS = ("service", "tagged", "found")
ACTS = ("isolates", "releases", "proves", "restores", "loads", "runs-on")
KINDS = (
    "mains",
    "battery",
    "capacitor",
    "hydraulic",
    "pneumatic",
    "vacuum",
    "gravity",
    "spring",
    "heat",
    "motion",
    "pressure",
)


@dataclass(frozen=True, slots=True)
class Source:
    """One energy source of a profile."""

    name: str
    kind: str
    word: str = "warning"
    lockable: bool = False
    isolate: bool = False
    fed_by: tuple[str, ...] = ()
    charged_by: tuple[str, ...] = ()
    release: str = "none"  # none, action or bleed
    release_from: str = "inside"
    prove_from: str = "inside"
    bleed: int = 0
    reaccumulates: bool | int = False  # True, or after so many seconds
    needs_releases: tuple[str, ...] = ()
    needs_restores: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Profile:
    """The equipment: its sources, guards, zones, and the tests that come before service."""

    sources: tuple[Source, ...]
    guards: tuple[str, ...] = ()
    zones: tuple[tuple[str, tuple[str, ...]], ...] = ()
    before_service: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Panel:
    """A caution: its signal word and the sources it names."""

    word: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hands:
    """A written hands field; `named` are the sources of a live step."""

    level: str
    reason: bool = False
    named: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Effect:
    """One marked effect; a wait has seconds, and `upto` where it is a range."""

    kind: str
    names: tuple[str, ...] = ()
    seconds: int = 0
    upto: int = 0


@dataclass(frozen=True, slots=True)
class Answer:
    """Where an answer leads (`back` returns); `not_zero` is None, () for the bare mark, or sources."""

    target: str
    not_zero: tuple[str, ...] | None = None
    not_ok: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One step; a field left None is taken from its stage."""

    slug: str
    effects: tuple[Effect, ...] = ()
    panels: tuple[Panel, ...] = ()
    hands: Hands | None = None
    zone: str | None = None
    clear_of: tuple[str, ...] = ()
    answers: tuple[Answer, ...] = ()
    goto: str | None = None
    do: str | None = None
    exit: str | None = None


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage; `in_profile` puts a shared one into the body of the profile."""

    slug: str
    steps: tuple[Step, ...]
    shared: bool = False
    in_profile: bool = False
    panels: tuple[Panel, ...] = ()
    hands: Hands | None = None
    zone: str | None = None
    clear_of: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Spec:
    """A whole case: profile, panels above the first stage, stages in document order."""

    profile: Profile
    stages: tuple[Stage, ...]
    panels: tuple[Panel, ...] = field(default=())

    def steps(self) -> list[Step]:
        """All steps in document order."""
        return [step for stage in self.stages for step in stage.steps]


def well_formed(spec: Spec) -> bool:
    """True when the structure can be written at all: no empty stage, no dangling or doubled name."""
    slugs = [step.slug for step in spec.steps()]
    blocks = {stage.slug for stage in spec.stages if stage.shared}
    targets = {a.target for s in spec.steps() for a in s.answers} | {s.goto for s in spec.steps() if s.goto}
    return (
        bool(slugs)
        and len(set(slugs)) == len(slugs)
        and all(stage.steps for stage in spec.stages)
        and any(not stage.shared for stage in spec.stages)
        and targets <= {*slugs, "back"}
        and all(s.do in blocks for s in spec.steps() if s.do)
        and all(e.names or e.kind in ("wait", "all-clear") for s in spec.steps() for e in s.effects)
        and all(_marks_fit(s) for s in spec.steps())
        and all(_at_home(spec, stage) for stage in spec.stages)
        and all(_known(spec.profile, e) for s in spec.steps() for e in s.effects)
    )


def _at_home(spec: Spec, stage: Stage) -> bool:
    """A stage of the profile and the document name no step of each other; the profile asks only for its own stages."""
    own = {s.slug for other in spec.stages for s in other.steps if other.in_profile == stage.in_profile}
    asked = {s.slug for s in spec.stages if s.in_profile}
    links = {a.target for s in stage.steps for a in s.answers} | {s.goto for s in stage.steps if s.goto}
    if not stage.in_profile:
        return links <= {*own, "back"}
    return links <= {*(s.slug for s in stage.steps), "back"} and {s.do for s in stage.steps if s.do} <= asked


def _known(profile: Profile, effect: Effect) -> bool:
    """Every source and guard stands in the profile; only what has a way to isolate is isolated or restored."""
    if effect.kind in ("removes", "refits"):
        return set(effect.names) <= set(profile.guards)
    if effect.kind not in ACTS:
        return True
    cut = effect.kind in ("isolates", "restores")
    return set(effect.names) <= {s.name for s in profile.sources if s.isolate or not cut}


def _marks_fit(step: Step) -> bool:
    """Marks name only what the step proves or tests; answers, go-to, do and exit do not mix."""
    proved = {n for e in step.effects if e.kind == "proves" for n in e.names}
    tested = any(e.kind == "tests" for e in step.effects)
    ends = (
        bool(step.answers),
        step.goto is not None and step.do is None,
        step.exit is not None,
        step.do is not None,
    )
    bad_zero = any(
        a.not_zero is not None and not (proved and set(a.not_zero) <= proved) for a in step.answers
    )
    return sum(ends) <= 1 and not bad_zero and all(tested or not a.not_ok for a in step.answers)
