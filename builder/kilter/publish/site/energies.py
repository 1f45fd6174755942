"""How a source is cut off, let out and proved zero, in the words of the interface.

The same sentences as `view.EnergyRow`, which cards and data use in English; a test holds them together.
"""

from __future__ import annotations

from kilter.model.front import EnergySource
from kilter.publish.site.markup import Html, join, text
from kilter.publish.site.terms import author
from kilter.publish.site.words import count, word


def isolate_html(source: EnergySource) -> Html:
    if source.isolate:
        return author(text(source.isolate))
    if source.fed_by:
        key = "energy.stored" if source.release else "energy.dead"
        before, _, after = count(key, len(source.fed_by), feeds="\0").partition("\0")
        feeds = join((author(text(feed)) for feed in source.fed_by), text(word("energy.and")))
        return join([text(before), feeds, text(after)])
    return text(word("energy.release-it" if source.release else "energy.keep-closed"))


def release_html(source: EnergySource) -> Html:
    if source.release == "bleed":
        return text(word("energy.drains-in", time=source.bleed) if source.bleed else word("energy.drains"))
    if source.release == "action":
        return text(word("energy.outside" if source.release_from == "outside" else "energy.inside"))
    return text(word("energy.nothing-left"))


def prove_html(source: EnergySource) -> Html:
    return author(text(source.prove)) if source.prove else text(word("energy.ask"))
