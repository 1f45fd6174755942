"""A kind of energy that a profile forgets, or both has and has not."""

from collections.abc import Iterator

from kilter.check.fixes import name_spelt
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, did_you_mean, error
from kilter.model.base import fold
from kilter.model.front import ENERGY_KINDS

CODE = "K228"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not document.is_profile:
        return
    profile, places = document.profile, document.places
    none = [fold(word) for word in profile.none]
    held: dict[str, str] = {source.kind: name for name, source in profile.sources.items()}
    missing = [k for k in ENERGY_KINDS if k not in held and k not in none]
    if missing:
        listed = ", ".join(missing)
        help = f"describe each as a source, or write it in `none`: `none: [{', '.join((*profile.none, *missing))}]`"
        why = "a forgotten source makes every procedure of this equipment look safe"
        span = places.of("none") if places.known("none") else places.key("sources")
        yield error("energy-kinds", f"neither in `sources` nor in `none`: {listed}", span, help, why=why)
    yield from _wrong_words(context, none, held)


def _wrong_words(context: Context, none: list[str], held: dict[str, str]) -> Iterator[Diagnostic]:
    places = context.document.places
    free = [k for k in ENERGY_KINDS if k not in held and k not in none]
    for n, word in enumerate(none):
        span = places.of("none", n)
        if word not in ENERGY_KINDS:
            yield error(
                "energy-kinds",
                f"`{word}` in `none` is no kind of energy",
                span,
                did_you_mean(word, ENERGY_KINDS),
                fixes=name_spelt(context.library, span, context.document.profile.none[n], free),
            )
        elif word in held:
            message = f"`{word}` is in `none`, but source `{held[word]}` is of that kind"
            related = (Label(places.key("sources", held[word]), "the source"),)
            yield error("energy-kinds", message, span, "delete it from `none`", related=related)
        elif word in none[:n]:
            yield error("energy-kinds", f"`{word}` stands twice in `none`", span, "delete one of them")
