"""Sources that feed each other in a ring."""

from collections.abc import Iterator

from kilter.check.lookup import key_place
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.base import fold
from kilter.model.front import ProfileFront

CODE = "K229"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not document.is_profile:
        return
    feeds = _feeds(document.profile)
    for name, source in document.profile.sources.items():
        if fold(name) in _upstream(feeds, fold(name)):
            span = key_place(document.places, "sources", name, "fed-by")
            ring = ", ".join(source.fed_by)
            help = "name only what the energy comes from; what merely charges it is `charged-by`"
            message = f"source `{name}` feeds itself by way of `{ring}`"
            yield error("feeding-loop", message, span, help, why="nothing would ever count as cut off")


def _feeds(profile: ProfileFront) -> dict[str, list[str]]:
    return {fold(name): [fold(f) for f in source.fed_by] for name, source in profile.sources.items()}


def _upstream(feeds: dict[str, list[str]], name: str) -> set[str]:
    """All that a source is fed by, near and far."""
    found: set[str] = set()
    left = list(feeds[name])
    while left:
        if (feed := left.pop()) not in found:
            found.add(feed)
            left += feeds.get(feed, [])
    return found
