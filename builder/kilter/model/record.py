"""Records that phones hand over: what was done in one run, or a remark that a step is wrong.

Every scalar is a string, so that each program writes the same bytes, and each has a pattern that means the same to
pydantic and to any JSON Schema validator. No field has room for a patient.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, StringConstraints
from pydantic.alias_generators import to_camel

from kilter.model.base import Value

SCHEMA: Literal["kilter-record-1"] = "kilter-record-1"

NUMBER = r"^(-?[1-9][0-9]{0,11}(\.[0-9]{1,12})?|0(\.[0-9]{1,12})?|-0\.[0-9]{0,11}[1-9][0-9]{0,11})$"
"""A reading: point, no exponent, no leading zero, no minus before nothing."""
_LIMIT = r"^(-?[0-9]{1,24}(\.[0-9]{1,24})?)?$"
_DAY = r"[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
_TIME = _DAY + r"T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9][+-](0[0-9]|1[0-4]):[0-5][0-9]"
_PLAIN = r"[^\u0000-\u001f\u007f]"
_LINES = r"[^\u0000-\u0008\u000b-\u001f\u007f]"


def _text(most: int, least: int = 0, sign: str = _PLAIN) -> StringConstraints:
    pattern = f"^{sign}{{{least},{most}}}$"
    return StringConstraints(strict=True, min_length=least, max_length=most, pattern=pattern)


def _like(pattern: str) -> StringConstraints:
    return StringConstraints(strict=True, pattern=pattern)


Time = Annotated[str, _like(f"^{_TIME}$")]
"""Local time with its offset, as the phone's clock had it."""
MaybeTime = Annotated[str, _like(f"^({_TIME})?$")]
MaybeDay = Annotated[str, _like(f"^({_DAY})?$")]
Decimal = Annotated[str, _like(NUMBER)]
MaybeDecimal = Annotated[str, _like(_LIMIT)]
Count = Annotated[str, _like(r"^[1-9][0-9]{0,5}$")]
Seconds = Annotated[str, _like(r"^(0|[1-9][0-9]{0,7})$")]
Index = Annotated[str, _like(r"^(0|[1-9][0-9]{0,2})$")]
Digest = Annotated[str, _like(r"^[0-9a-f]{64}$")]
MaybeDigest = Annotated[str, _like(r"^([0-9a-f]{64})?$")]
Short = Annotated[str, _like(r"^[0-9a-f]{12}$")]
Id = Annotated[str, _like(r"^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$")]
Code = Annotated[str, _like(r"^[^\s\u0000-\u001f\u007f]{1,8}$")]
"""A person's short code, never a name."""
Name = Annotated[str, _text(400)]
Given = Annotated[str, _text(40)]
"""What is typed at the start of a run."""
Note = Annotated[str, _text(500, 1, _LINES)]
Mark = Annotated[str, _like(r"^(yes)?$")]
Exit = Literal["returned to service", "left locked out, tagged", "left as found"]
"""The ways out that the writing form has."""
Verdict = Literal["pass", "too close to call", "fail", "not judged"]


class Form(Value):
    model_config = ConfigDict(
        frozen=True, extra="forbid", alias_generator=to_camel, use_attribute_docstrings=True
    )


class Entry(Form):
    """One thing that was entered; none is ever changed or taken away."""

    n: Count
    """1, 2, 3 and so on."""
    at: Time
    step: Name
    """Anchor of the step; empty before the first."""
    number: Name
    """The step's number as printed."""
    occurrence: Count
    """The how-manieth time the run is at this step."""


class Begin(Entry):
    kind: Literal["begin"]
    worker: Code


class Caution(Entry):
    kind: Literal["caution"]
    stage: Name
    words: Short
    """Of the words of the panels that were confirmed."""


class Done(Entry):
    kind: Literal["done"]


class Answer(Entry):
    kind: Literal["answer"]
    index: Index
    text: Name
    failed: Name
    """Sources that were not at zero, with commas."""
    not_ok: Mark


class Withdrawn(Entry):
    """The answer was wrong; both stay."""

    kind: Literal["withdrawn"]
    entry: Count
    """`n` of the answer."""


class Reading(Entry):
    kind: Literal["reading"]
    id: Name
    name: Name
    phase: Literal["as found", "as left", ""]
    value: Decimal
    unit: Name
    limits: Name
    """As the document writes them."""
    low: MaybeDecimal
    high: MaybeDecimal
    uncertainty: MaybeDecimal
    """Of the tool at this reading, in its unit; empty where nothing is known."""
    verdict: Verdict
    tool: Name
    tool_id: Given
    calibration_due: MaybeDay


class Waiting(Entry):
    """A timer was started."""

    kind: Literal["waiting"]
    index: Index
    wanted: Seconds


class Wait(Entry):
    kind: Literal["wait"]
    index: Index
    wanted: Seconds
    waited: Seconds


class Hold(Entry):
    """A second person looked."""

    kind: Literal["hold"]
    initials: Code


class Back(Entry):
    kind: Literal["back"]
    missing: Name
    """Sources whose lock was off on coming back."""


class Safe(Entry):
    """The steps that make sources safe were gone to once more, because a step needs what this run no longer has."""

    kind: Literal["safe"]
    names: Name
    """The sources, with commas."""


class Handover(Entry):
    kind: Literal["handover"]
    to: Code
    locks_off: Name
    locks_on: Name


class Pause(Entry):
    """Called away, stopped, or nothing entered for too long."""

    kind: Literal["away", "stop", "idle"]


class Revision(Entry):
    """A newer revision came into force during the run."""

    kind: Literal["revision"]
    in_force: Name
    choice: Literal["go on", "stop"]


class Written(Entry):
    kind: Literal["note"]
    text: Note


class Ended(Entry):
    kind: Literal["exit"]
    exit: Exit


class Remark(Entry):
    """This step is wrong."""

    kind: Literal["remark"]
    hash: Short
    """Of the step's facts and words as they stood."""
    text: Note


AnyEntry = Annotated[
    Begin
    | Caution
    | Done
    | Answer
    | Withdrawn
    | Reading
    | Waiting
    | Wait
    | Hold
    | Back
    | Safe
    | Handover
    | Pause
    | Revision
    | Written
    | Ended
    | Remark,
    Field(discriminator="kind"),
]


class Record(Form):
    """One run, or one remark."""

    schema_: Annotated[Literal["kilter-record-1"], Field(alias="schema")]
    id: Id
    kind: Literal["run", "remark"]
    document: Name
    revision: Annotated[str, _like(r"^[A-Z]{1,2}$")]
    hash: Digest
    """Content hash of the document as the phone had it."""
    equipment: Name
    asset: Given
    serial: Given
    work_order: Given
    worker: Annotated[str, _like(r"^[^\s\u0000-\u001f\u007f]{0,8}$")]
    """Empty only in a remark that was written outside a run."""
    started: Time
    finished: MaybeTime
    """Empty while the run is open."""
    zone_name: Name
    """The phone's name of its time zone: a hint, never computed with."""
    exit: Literal[Exit, ""]
    previous: MaybeDigest
    """Digest of the record before on the same phone."""
    entries: Annotated[tuple[AnyEntry, ...], Field(max_length=5000)]
    digest: Digest
    """SHA-256 over the canonical JSON of all the rest."""

    @property
    def readings(self) -> tuple[Reading, ...]:
        return tuple(entry for entry in self.entries if isinstance(entry, Reading))

    @property
    def remark(self) -> Remark | None:
        return next((entry for entry in self.entries if isinstance(entry, Remark)), None)


class Held(Form):
    """A record that has been received, as it was sent."""

    id: Id
    digest: Digest


class Receipt(Form):
    """What the workshop has received: only against it does a phone delete."""

    schema_: Annotated[Literal["kilter-receipt-1"], Field(alias="schema")]
    taken: Time
    """When, by the clock of the workshop."""
    records: tuple[Held, ...]
    digest: Digest
    """SHA-256 over the canonical JSON of all the rest."""
