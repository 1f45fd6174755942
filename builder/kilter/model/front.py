"""Front matter: what a document says of itself before its text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date as Date
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import AfterValidator, BeforeValidator, Field, PrivateAttr, WithJsonSchema

from kilter.model.base import Value, fold
from kilter.source import Span

KINDS = ("equipment", "procedure", "pre-use-check", "training")
TASKS = ("fault-isolation", "adjustment", "replacement", "inspection", "test")
ENERGY_KINDS = (
    "mains", "battery", "capacitor", "hydraulic", "pneumatic", "vacuum",
    "gravity", "spring", "heat", "motion", "pressure",
)  # fmt: skip
"""Every one of these is a source of the machine or stands in its `none`."""

NUMBER_PATTERN = r"[A-Za-z0-9]+(-[A-Za-z0-9]+)*"
REVISION_PATTERN = r"[A-HJ-NPRT-WY]{1,2}"
ID_PATTERN = r"[a-z0-9]+(-[a-z0-9]+)*"

Loc: TypeAlias = tuple[str | int, ...]
"""A way into the front matter: keys and list positions."""


class Places:
    """Where each value and each key of the front matter stands."""

    __slots__ = ("_keys", "_values", "whole")

    def __init__(self, values: Mapping[Loc, Span], keys: Mapping[Loc, Span], whole: Span) -> None:
        self._values, self._keys, self.whole = values, keys, whole

    def of(self, *loc: str | int) -> Span:
        """The value there, or the nearest value around it."""
        while loc not in self._values and loc:
            loc = loc[:-1]
        return self._values.get(loc, self.whole)

    def key(self, *loc: str | int) -> Span:
        """The key there, or the value where it has none."""
        return self._keys.get(loc) or self.of(*loc)

    def known(self, *loc: str | int) -> bool:
        return loc in self._values


def _as_list(given: Any) -> Any:
    return [given] if isinstance(given, str) else given


def _number(text: str) -> str:
    if not re.fullmatch(NUMBER_PATTERN, text) or len(text) > 40:
        raise ValueError("letters, digits and single hyphens, 40 at most, such as LFT-120")
    return text


def _revision(text: str) -> str:
    if not re.fullmatch(REVISION_PATTERN, text):
        raise ValueError("letters A, B, C .. without I, O, Q, S, X and Z; after Y comes AA")
    return text


def _identifier(text: str) -> str:
    if not re.fullmatch(ID_PATTERN, text) or len(text) > 40:
        raise ValueError("lower-case letters, digits and single hyphens, such as tarn-2")
    return text


def _words(text: str) -> str:
    if not text.strip():
        raise ValueError("words, not nothing")
    return text


Words = Annotated[str, AfterValidator(_words)]


def _pattern(pattern: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": f"^{pattern}$", "maxLength": 40})


DocumentNumber = Annotated[str, AfterValidator(_number), _pattern(NUMBER_PATTERN)]
Revision = Annotated[str, AfterValidator(_revision), _pattern(REVISION_PATTERN)]
Identifier = Annotated[str, AfterValidator(_identifier), _pattern(ID_PATTERN)]
ListOfWords = Annotated[tuple[Words, ...], BeforeValidator(_as_list)]


def _named(key: str) -> BeforeValidator:
    """`name`, `name: {..}` or a mapping of names become entries that know their name."""

    def entry(given: Any) -> Any:
        if isinstance(given, str):
            return {key: given}
        if isinstance(given, dict) and key not in given and len(given) == 1:
            ((name, rest),) = given.items()
            if isinstance(rest, dict):
                return {key: name, **rest}
            if rest is None or rest == "":
                return {key: name}
        return given

    return BeforeValidator(entry)


def _entries(given: Any) -> Any:
    return [{name: rest} for name, rest in given.items()] if isinstance(given, dict) else _as_list(given)


class Symptom(Value):
    """What is noticed first, with other words for it that are searched but never printed."""

    symptom: Words
    also: ListOfWords = ()


class Tool(Value):
    """A tool of the kit list; all but the name may be left out."""

    name: Words
    range: str | None = None
    accuracy: str | None = None
    calibration: str | None = None
    stock_number: str | None = Field(None, alias="stock-number")
    quantity: str | None = None
    new: Literal["each time"] | None = None


Symptoms = Annotated[tuple[Annotated[Symptom, _named("symptom")], ...], BeforeValidator(_entries)]
Kit = Annotated[tuple[Annotated[Tool, _named("name")], ...], BeforeValidator(_entries)]


class CommonFront(Value):
    """Keys of every kind."""

    title: Words
    writers: ListOfWords = ()
    date: Date | None = None
    tools: Kit = ()
    parts: Kit = ()


class ProcedureFront(CommonFront):
    """Front matter of a procedure."""

    kind: Literal["procedure"]
    task: Literal["fault-isolation", "adjustment", "replacement", "inspection", "test"]
    number: DocumentNumber
    revision: Revision
    equipment: Identifier
    applies_to: ListOfWords = Field((), alias="applies-to")
    symptoms: Symptoms = ()
    time: Annotated[int, Field(ge=1, le=100_000)] | None = None
    """Minutes."""
    people: Annotated[int, Field(ge=1, le=50)] | None = None
    weight: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None
    """Kilograms lifted at once."""
    protective: ListOfWords = ()


class CheckFront(CommonFront):
    """Front matter of a pre-use check."""

    kind: Literal["pre-use-check"]
    number: DocumentNumber
    revision: Revision
    equipment: Identifier
    applies_to: ListOfWords = Field((), alias="applies-to")


class Needs(Value):
    """Other sources that must be held before this one is released, or live again before it is restored."""

    releases: ListOfWords = ()
    restores: ListOfWords = ()


def _true_or_time(given: Any) -> Any:
    if isinstance(given, str):
        return {"true": True, "false": False}.get(given.strip().lower(), given)
    return given


def _loads(given: Any) -> Any:
    """`standby: 0.08 A, 22 h` as a text, as an entry with a key, or as one of a mapping: all become the text."""
    if isinstance(given, dict):
        given = [{name: rest} for name, rest in given.items()]
    if not isinstance(given, list):
        return _as_list(given)
    return [_load(entry) for entry in given]


def _load(entry: Any) -> Any:
    if isinstance(entry, dict) and len(entry) == 1:
        ((name, rest),) = entry.items()
        return f"{name}: {rest}" if isinstance(rest, str) else entry
    return entry


Loads = Annotated[tuple[Words, ...], BeforeValidator(_loads)]


class EnergySource(Value):
    """One source of energy of a machine."""

    kind: Literal[
        "mains", "battery", "capacitor", "hydraulic", "pneumatic", "vacuum",
        "gravity", "spring", "heat", "motion", "pressure", "other",
    ]  # fmt: skip
    why: Words | None = None
    """What it is; needed for `other`."""
    word: Literal["danger", "warning", "caution"]
    """The mildest signal word a caution about it may have."""
    lockable: bool = False
    isolate: Words | None = None
    prove: Words | None = None
    release: Literal["action", "bleed"] | None = None
    bleed: str | None = None
    """How long it takes to drain by itself once isolated."""
    release_from: Literal["outside", "inside"] = Field("inside", alias="release-from")
    prove_from: Literal["outside", "inside"] = Field("inside", alias="prove-from")
    fed_by: ListOfWords = Field((), alias="fed-by")
    """It dies when all of these are cut."""
    charged_by: ListOfWords = Field((), alias="charged-by")
    """These charge it; cutting them leaves it live."""
    reaccumulates: Annotated[bool | str, BeforeValidator(_true_or_time)] = False
    """True, or the time after which its proof no longer counts."""
    chemistry: Words | None = None
    """Of a battery: what it is made of, one of the words of the calculation `battery`."""
    capacity: Words | None = None
    """Of a battery: its rated charge."""
    load: Loads = ()
    """Of a battery: the parts of the machine's day, such as `standby: 0.08 A, 22 h`."""
    capacitance: Words | None = None
    """Of a capacitor, with its tolerance."""
    resistance: Words | None = None
    """Of a capacitor: of the resistor that drains it."""
    voltage: Words | None = None
    """Of a capacitor: the highest that it can be charged to."""
    needs: Needs = Needs()
    loaded_by: ListOfWords = Field((), alias="loaded-by")
    origin: Words | None = None

    @property
    def needs_release(self) -> bool:
        return self.release is not None

    @property
    def can_be_cut(self) -> bool:
        """Whether it can be live at all: it has a feed, or a way to isolate it."""
        return bool(self.fed_by) or self.isolate is not None or self.lockable


class Switch(Value):
    """Catalogue figures of a position switch, each as written; distances along the plunger's travel."""

    fp: str | None = None
    op: str | None = None
    ttp: str | None = None
    rp: str | None = None
    pt: str | None = None
    ot: str | None = None
    md: str | None = None
    window: str | None = None
    use: str | None = None
    origin: Words | None = None


class ProfileFront(CommonFront):
    """Front matter of an equipment profile."""

    kind: Literal["equipment"]
    id: Identifier
    sources: dict[str, EnergySource]
    none: ListOfWords = ()
    guards: ListOfWords = ()
    zones: dict[str, ListOfWords] = Field(default_factory=dict)
    switches: dict[str, Switch] = Field(default_factory=dict)
    before_service: ListOfWords = Field((), alias="before-service")
    origin: Words | None = None

    _folded: dict[str, str] = PrivateAttr(default_factory=dict)

    def model_post_init(self, context: Any) -> None:
        self._folded.update({fold(name): name for name in self.sources})

    def source_name(self, name: str) -> str | None:
        """The source's name as the profile writes it, None if there is none of that name."""
        return self._folded.get(fold(name))

    def zone(self, name: str) -> tuple[str, ...] | None:
        """The folded names of the sources that a zone reaches."""
        return next(
            (tuple(map(fold, reach)) for zone, reach in self.zones.items() if fold(zone) == fold(name)), None
        )


Front = ProcedureFront | CheckFront | ProfileFront
