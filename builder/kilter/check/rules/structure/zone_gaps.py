"""Zones that hold nothing, and sources that stand in none."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, hint
from kilter.model.base import fold

CODE = "K233"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not document.is_profile or not document.profile.zones:
        return
    zones, places = document.profile.zones, document.places
    for zone, names in zones.items():
        if not names:
            help = "name every source that can be reached there, or delete the zone"
            why = "in an empty zone every step looks safe"
            yield error(
                "zone-gaps", f"zone `{zone}` holds no source", places.key("zones", zone), help, why=why
            )
    reached = {fold(name) for names in zones.values() for name in names}
    for name in document.profile.sources:
        if fold(name) not in reached:
            help = "add it to each zone where hands can reach it"
            yield hint("zone-gaps", f"source `{name}` stands in no zone", places.key("sources", name), help)
