"""A covered step that has changed since the educator looked at it, or was never looked at."""

from collections.abc import Iterator

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
        known = confirmed.pop(fold(key), None)
        if known is None:
            new.append(key)
        elif known[1] != facts.short:
            message = f"{key} has changed since it was last looked at; {_touches(context, covered)}"
            help = f"look at the step and at what leans on it, then `kilter training confirm {context.module.front.number}`"
            yield warning("step-changed", message, places.of("confirmed", known[0]), help)
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


def _touches(context: ModuleContext, covered: Covered) -> str:
    names = ", ".join(f"`{name}`" for name in context.objectives_of(covered))
    return f"it bears on the objective {names}" if names else "no objective leans on it"
