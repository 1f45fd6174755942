"""What a person answers about a machine: the form of an equipment profile, as plain values."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from kilter.model.front import ENERGY_KINDS
from kilter.source import unseen

KINDS = (*ENERGY_KINDS, "other")
"""Every kind that is asked for, in the order in which it is asked."""

LONGEST = 600
"""Characters of one answer; a longer one belongs in the text."""


def clean(given: Any) -> Any:
    """Words on one line, without signs that nobody sees."""
    if not isinstance(given, str):
        return given
    flat = "".join(" " if sign.isspace() else sign for sign in given)
    return " ".join("".join(sign for sign in flat if not unseen(sign)).split())


def _listed(given: Any) -> Any:
    """A list without its empty entries; words with commas become a list."""
    if isinstance(given, str):
        given = given.split(",")
    return [c for entry in given if (c := clean(entry)) != ""] if isinstance(given, list) else given


Words = Annotated[str, BeforeValidator(clean), Field(max_length=LONGEST)]
Listed = Annotated[tuple[Words, ...], BeforeValidator(_listed), Field(max_length=200)]
YesNo = Literal["yes", "no", ""]


class Answer(BaseModel):
    """Part of the form; what is left out counts as not answered."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class SourceAnswer(Answer):
    """One source of energy."""

    name: Words = ""
    why: Words = ""
    word: Literal["danger", "warning", "caution", ""] = ""
    cut: Literal["itself", "feed", "never", ""] = ""
    """How it is cut off: by itself, only by way of its feeds, or not at all (a spring)."""
    isolate: Words = ""
    lockable: YesNo = ""
    fed_by: Listed = ()
    charged_by: Listed = ()
    release: Literal["none", "action", "bleed", ""] = ""
    bleed: Words = ""
    release_from: Literal["outside", "inside"] = "inside"
    prove: Words = ""
    prove_from: Literal["outside", "inside"] = "inside"
    again: Literal["no", "yes", "after", ""] = ""
    """Whether it builds up again by itself after it was proved."""
    again_after: Words = ""
    needs_releases: Listed = ()
    needs_restores: Listed = ()
    loaded_by: Listed = ()
    chemistry: Words = ""
    capacity: Words = ""
    load: Listed = ()
    capacitance: Words = ""
    resistance: Words = ""
    voltage: Words = ""
    origin: Words = ""


class EnergyAnswer(Answer):
    """One kind of energy: is there any, and each source of it."""

    any: YesNo = ""
    sources: Annotated[tuple[SourceAnswer, ...], Field(max_length=40)] = ()


class ZoneAnswer(Answer):
    """A place where hands go, and what they can reach there."""

    name: Words = ""
    reach: Listed = ()


class SwitchAnswer(Answer):
    """Catalogue figures of a position switch, each as written."""

    name: Words = ""
    fp: Words = ""
    op: Words = ""
    ttp: Words = ""
    rp: Words = ""
    pt: Words = ""
    ot: Words = ""
    md: Words = ""
    window: Words = ""
    use: Words = ""
    origin: Words = ""


class KitAnswer(Answer):
    """A tool or a part."""

    name: Words = ""
    range: Words = ""
    accuracy: Words = ""
    calibration: Words = ""
    stock_number: Words = ""
    quantity: Words = ""
    new: Literal["each time", ""] = ""


class Answers(Answer):
    """The whole form."""

    id: Words = ""
    title: Words = ""
    writers: Listed = ()
    date: Words = ""
    origin: Words = ""
    about: Annotated[str, Field(max_length=5000)] = ""
    """What the machine is; becomes the text of a new profile, an existing text is left alone."""
    energy: dict[str, EnergyAnswer] = Field(default_factory=dict)
    order: Listed = ()
    """Names of sources in the order of an existing file, so that it changes no more than it must."""
    covers: YesNo = ""
    guards: Listed = ()
    zones: Annotated[tuple[ZoneAnswer, ...], Field(max_length=100)] = ()
    tests: Listed = ()
    switches: Annotated[tuple[SwitchAnswer, ...], Field(max_length=100)] = ()
    tools: Annotated[tuple[KitAnswer, ...], Field(max_length=200)] = ()
    parts: Annotated[tuple[KitAnswer, ...], Field(max_length=200)] = ()

    def of(self, kind: str) -> EnergyAnswer:
        """What was answered about a kind of energy."""
        return self.energy.get(kind, EnergyAnswer())

    def sources(self) -> list[tuple[str, int, SourceAnswer]]:
        """Kind, place within the kind and answer of every source, in the order of the file."""
        found = [
            (k, n, s) for k in KINDS if self.of(k).any == "yes" for n, s in enumerate(self.of(k).sources)
        ]
        known = {name: n for n, name in enumerate(self.order)}
        return sorted(found, key=lambda each: known.get(each[2].name, len(known)))
