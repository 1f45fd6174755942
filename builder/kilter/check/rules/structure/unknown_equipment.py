"""A procedure for equipment that has no profile."""

from collections.abc import Iterator

from kilter.check.fixes import name_spelt
from kilter.check.lookup import near
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.front import ProfileFront
from kilter.source import Span

CODE = "K203"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if context.profile is not None or isinstance(document.front, ProfileFront):
        return
    id, span = document.front.equipment, document.places.of("equipment")
    broken = context.library.broken_profile(id)
    if broken is not None:
        place = context.library.readings[broken].findings
        related = (Label(place[0].span if place else Span(broken, 1, 1, 1, 1), "its first error"),)
        message = f"the profile of `{id}` has errors of its own, in {broken}"
        yield error("unknown-equipment", message, span, "mend the profile first", related=related)
        return
    known = [d.profile.id for d in context.library.profiles.values()]
    help = near(id, known, f"write a profile with `kind: equipment` and `id: {id}`")
    cure = name_spelt(context.library, span, id, known)
    yield error("unknown-equipment", f"no equipment has the id `{id}`", span, help, fixes=cure)
