"""Write an abstract case in the authoring format, so that the real reader can be fed with it."""

from __future__ import annotations

from .spec import KINDS, Answer, Effect, Hands, Panel, Profile, Source, Spec, Stage, Step

EXIT_WORDS = {"service": "returned to service", "tagged": "left locked out, tagged", "found": "left as found"}
SENTENCES = {
    "isolates": "Switch it off at the outside and lock it: {mark}.",
    "releases": "Let the stored energy go with the release tool: {mark}.",
    "proves": "Test the meter, measure, test the meter again: {mark}.",
    "restores": "Take off our own lock and switch it on: {mark}.",
    "loads": "Turn the loading screw in: {mark}.",
    "runs-on": "Press the button on the panel and watch it run: {mark}.",
    "removes": "Undo the screws and take off the guard: {mark}.",
    "refits": "Fit the guard and tighten its screws: {mark}.",
    "tests": "Press start and watch one full run: {mark}.",
}


def to_markdown(spec: Spec) -> tuple[str, str]:
    """The profile's text and the procedure's text."""
    return _profile_text(spec), _procedure_text(spec)


def _profile_text(spec: Spec) -> str:
    """Front matter of the equipment, then the shared stages that stand in its body."""
    p = spec.profile
    none = [kind for kind in KINDS if all(s.kind != kind for s in p.sources)]
    rows = ["---", "kind: equipment", "id: bench-unit", "title: Bench unit", "sources:"]
    rows += [f"  {s.name}: {{{_source(s)}}}" for s in p.sources]
    rows += [f"none: [{', '.join(none)}]", *_lists(p), "---", "", "# Bench unit", ""]
    for stage in spec.stages:
        rows += _stage(stage) if stage.in_profile else []
    return "\n".join(rows).rstrip() + "\n"


def _lists(p: Profile) -> list[str]:
    """The optional lists of a profile."""
    rows = [f"guards: [{', '.join(p.guards)}]"] if p.guards else []
    if p.zones:
        rows.append(
            "zones: {" + ", ".join(f"{name}: [{', '.join(inside)}]" for name, inside in p.zones) + "}"
        )
    return rows + ([f"before-service: [{', '.join(p.before_service)}]"] if p.before_service else [])


def _source(s: Source) -> str:
    """The flow mapping of one source."""
    parts = [f"kind: {s.kind}", f"word: {s.word}"]
    parts += ["lockable: true"] if s.lockable else []
    parts += ['isolate: "Switch off at the outside, put our lock on."'] if s.isolate else []
    parts += [f"fed-by: [{', '.join(s.fed_by)}]"] if s.fed_by else []
    parts += [f"charged-by: [{', '.join(s.charged_by)}]"] if s.charged_by else []
    parts += [f"release: {s.release}"] if s.release != "none" else []
    parts += [f"bleed: {time_text(s.bleed)}"] if s.release == "bleed" else []
    parts += ["release-from: outside"] if s.release_from == "outside" and s.release != "none" else []
    parts += ["prove-from: outside"] if s.prove_from == "outside" else []
    parts += _behaviour(s)
    return ", ".join([*parts, 'prove: "Gauge or meter at the test point, below its limit."'])


def _behaviour(s: Source) -> list[str]:
    """Re-accumulation and the orders of one source."""
    parts = ["reaccumulates: true"] if s.reaccumulates is True else []
    if s.reaccumulates and s.reaccumulates is not True:
        parts.append(f"reaccumulates: {time_text(s.reaccumulates)}")
    needs = [
        f"{key}: [{', '.join(names)}]"
        for key, names in (("releases", s.needs_releases), ("restores", s.needs_restores))
        if names
    ]
    return parts + (["needs: {" + ", ".join(needs) + "}"] if needs else [])


def time_text(seconds: int) -> str:
    """`5 min` or `90 s`."""
    return f"{seconds // 60} min" if seconds % 60 == 0 and seconds else f"{seconds} s"


def _procedure_text(spec: Spec) -> str:
    """Front matter, title, panels of the whole document, stages."""
    rows = [
        "---",
        "kind: procedure",
        "task: replacement",
        "number: GEN-1",
        "revision: A",
        "equipment: bench-unit",
        "title: Change the worn part",
        "---",
        "# Change the worn part",
        "",
        "The unit stops or runs roughly.",
        "",
    ]
    for panel in spec.panels:
        rows += _panel(panel)
    for stage in spec.stages:
        rows += _stage(stage) if not stage.in_profile else []
    return "\n".join(rows).rstrip() + "\n"


def title(slug: str) -> str:
    """A heading that slugs to `slug`."""
    return slug.replace("-", " ").capitalize()


def _stage(stage: Stage) -> list[str]:
    rows = [f"## {title(stage.slug)}" + (" {shared}" if stage.shared else "")]
    rows += _fields(stage.hands, stage.zone, stage.clear_of)
    rows.append("")
    for panel in stage.panels:
        rows += _panel(panel)
    for step in stage.steps:
        rows += _step(step)
    return rows


def _panel(panel: Panel) -> list[str]:
    return [
        f":::{{{panel.word}}} {', '.join(panel.sources)}",
        "**Shock and crushing.** The part can move or strike. It can break a hand. Keep hands out until it is safe.",
        ":::",
        "",
    ]


def _fields(hands: Hands | None, zone: str | None, clear_of: tuple[str, ...]) -> list[str]:
    """The fields that a stage and a step have in common."""
    rows = [f":hands: {_hands(hands)}"] if hands else []
    rows += [f":zone: {zone}"] if zone else []
    return rows + (
        [f":clear-of: {', '.join(clear_of)} - a fixed steel wall stands between"] if clear_of else []
    )


def _hands(hands: Hands) -> str:
    named = f" {', '.join(hands.named)}" if hands.named else ""
    return hands.level + named + (" - the work needs it like this" if hands.reason else "")


def _step(step: Step) -> list[str]:
    rows = [f"### {title(step.slug)}", *_fields(step.hands, step.zone, step.clear_of)]
    rows += [f":do: {step.do}"] if step.do else []
    rows += [f":exit: {EXIT_WORDS[step.exit]}"] if step.exit else []
    rows += [f":go-to: #{step.goto}"] if step.goto else []
    rows.append("")
    for panel in step.panels:
        rows += _panel(panel)
    rows += [_words(step), ""]
    rows += [_answer(n, answer) for n, answer in enumerate(step.answers, 1)]
    return rows + ([""] if step.answers else [])


def _words(step: Step) -> str:
    """The instruction: one sentence an effect, in writing order."""
    if step.effects:
        return " ".join(_effect(e) for e in step.effects)
    if step.do or step.exit:
        return "Do as this heading says."
    outside = step.hands is not None and step.hands.level in ("away", "controls")
    return "Look at the lamp on the panel." if outside else "Change the worn part."


def _effect(effect: Effect) -> str:
    if effect.kind == "wait":
        return f"Wait {{wait}}`{_wait(effect)}`."
    if effect.kind == "all-clear":
        return "See that people and tools are away: {all-clear}`people and tools`."
    return SENTENCES[effect.kind].format(mark=f"{{{effect.kind}}}`{', '.join(effect.names)}`")


def _wait(effect: Effect) -> str:
    if not effect.upto:
        return time_text(effect.seconds)
    if effect.seconds % 60 == 0 and effect.upto % 60 == 0:
        return f"{effect.seconds // 60}\u2013{effect.upto // 60} min"
    return f"{effect.seconds}\u2013{effect.upto} s"


def _answer(number: int, answer: Answer) -> str:
    """One item; the seen text differs by number so that no two answers read alike."""
    failed = answer.not_zero is not None or answer.not_ok
    seen = f"Result {number}, above its limit" if failed else f"Result {number}, in order"
    mark = " {not-ok}" if answer.not_ok else ""
    if answer.not_zero is not None:
        mark += " {not-zero" + (" " + ", ".join(answer.not_zero) if answer.not_zero else "") + "}"
    return f"- {seen}: [Go on there](#{answer.target}){mark}"
