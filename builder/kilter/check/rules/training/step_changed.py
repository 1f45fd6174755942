"""A covered step that has changed since the educator looked at it, or was never looked at."""

from collections.abc import Iterator, Mapping

from kilter.check.module import Covered, ModuleContext
from kilter.diagnostic import Diagnostic, Severity, hint, warning
from kilter.model.base import fold

CODE = "K904"
SEVERITY = Severity.WARNING


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    confirmed = {fold(key): (key, said) for key, said in context.module.front.confirmed.items()}
    places, new = context.module.places, []
    for key, covered in context.covered.items():
        facts = context.facts(covered)
        if facts is None:
            continue
        if confirmed.pop(fold(key), None) is None:
            new.append(key)
    yield from changed_steps(context, context.covered)
    for key, _ in confirmed.values():
        message = f"{key} was confirmed, and is not covered any more"
        yield warning(
            "step-changed", message, places.key("confirmed", key), "take the line out, or cover the step"
        )
    if new:
        which = new[0] if len(new) == 1 else f"{len(new)} steps, the first {new[0]},"
        message = (
            f"{which} {'was' if len(new) == 1 else 'were'} never confirmed: a change would not be noticed"
        )
        help = f"when you have looked at them: `kilter training confirm {context.module.front.number}`"
        yield hint("step-changed", message, places.of("covers"), help)


def changed_steps(context: ModuleContext, covered: Mapping[str, Covered]) -> Iterator[Diagnostic]:
    """Those of some covered steps that are not as they were confirmed."""
    confirmed = {fold(key): (key, said) for key, said in context.module.front.confirmed.items()}
    number = context.module.front.number
    for key, each in covered.items():
        facts, known = context.facts(each), confirmed.get(fold(key))
        if facts is not None and known is not None and known[1] != facts.short:
            message = f"{key} has changed since it was last looked at; {_touches(context, each)}"
            help = f"look at the step and at what leans on it, then `kilter training confirm {number}`"
            yield warning("step-changed", message, context.module.places.of("confirmed", known[0]), help)


def _touches(context: ModuleContext, covered: Covered) -> str:
    names = ", ".join(f"`{name}`" for name in context.objectives_of(covered))
    return f"it bears on the objective {names}" if names else "no objective leans on it"
