"""A checked document as site and cards show it: numbered, with what it borrows put in place.

The one place that decides numbers, anchors, order and wording of what is computed, so that page, card
and (later) record agree. It holds model values, never markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import partial
from pathlib import PurePosixPath

from kilter.check.calculated import calculated
from kilter.check.flow import Analysis
from kilter.check.flow.told import Told
from kilter.model.base import fold
from kilter.model.document import Document, Stage, Step
from kilter.model.front import CheckFront, EnergySource, ProcedureFront, ProfileFront, Tool
from kilter.model.library import Library
from kilter.model.text import Figure, Panel, Role
from kilter.publish.numbers import Numbers
from kilter.publish.worked import Answerer, unanswered

STANDING = (
    "Follow the maker's service manual and local rules. "
    "Do this work only if you are trained and authorised for it."
)
UNCONTROLLED = "Uncontrolled when printed: compare revision and content hash with the library before use."
DRAFT = "DRAFT"

HANDS = {
    "away": "hands off",
    "controls": "outside controls",
    "open": "opening guards",
    "probe": "rated instrument or release tool",
    "inside": "hands inside",
    "live": "energised work",
}
TASKS = {
    "fault-isolation": "Fault isolation",
    "adjustment": "Adjustment",
    "replacement": "Replacement",
    "inspection": "Inspection",
    "test": "Test",
    "pre-use-check": "Pre-use check",
}
EFFECT_WORDS = {
    "isolates": "isolates",
    "releases": "releases",
    "proves": "proves zero:",
    "restores": "restores",
    "runs-on": "runs on",
    "loads": "loads",
    "all-clear": "all clear:",
    "tests": "tests",
}
"""What an effect is called before the name of what it acts on."""
EXITS = {
    "returned to service": "Returned to service",
    "left locked out, tagged": "Left locked out and tagged",
    "left as found": "Left as found",
}


@dataclass(frozen=True)
class EnergyRow:
    """One line of the energy table."""

    name: str
    source: EnergySource

    @property
    def isolate(self) -> str:
        if self.source.isolate:
            return self.source.isolate
        if self.source.fed_by:
            feeds, be = " and ".join(self.source.fed_by), "are" if len(self.source.fed_by) > 1 else "is"
            if self.source.release:
                return f"Nothing more comes once {feeds} {be} isolated; what is stored stays."
            return f"Dead once {feeds} {be} isolated."
        return (
            "Can't be isolated: release it." if self.source.release else "Can't be isolated: keep it closed."
        )

    @property
    def release(self) -> str:
        if self.source.release == "bleed":
            return (
                f"Drains by itself: wait {self.source.bleed}." if self.source.bleed else "Drains by itself."
            )
        if self.source.release == "action":
            where = "from outside" if self.source.release_from == "outside" else "with the guards off"
            return f"By hand, {where}."
        return "Nothing left to release."

    @property
    def prove(self) -> str:
        return self.source.prove or "The profile does not say: ask before you start."


@dataclass(frozen=True)
class KitRow:
    """One line of the kit table; empty where nothing is declared."""

    name: str
    kind: str
    """`tool` or `part`."""
    quantity: str = ""
    range: str = ""
    accuracy: str = ""
    calibration: str = ""
    stock: str = ""
    new: str = ""


@dataclass(frozen=True)
class Must:
    """One entry of the energy strip: what must be true before the step, never what was done."""

    source: str
    state: str
    """Words of the analysis, such as `proved zero` or `live`."""


@dataclass(frozen=True)
class StripRow:
    """Entries of the strip under one label; nobody has to make a source live because the strip names it."""

    label: str
    entries: tuple[Must, ...]
    states: bool
    """Whether the state of each is said, because the label does not say it."""


def strip_rows(strip: tuple[Must, ...]) -> tuple[StripRow, ...]:
    """The strip as it is shown: what must be true, and apart from it what may be live or charged."""
    apart = {"live": "Treat as live", "charged": "Treat as charged"}
    rows = [StripRow("Must be", tuple(m for m in strip if m.state not in apart), states=True)]
    rows += [
        StripRow(label, tuple(m for m in strip if m.state == state), False) for state, label in apart.items()
    ]
    return tuple(r for r in rows if r.entries)


SHOWN_FIELDS = {
    "hold": "Stop, a second person looks",
    "zone": "Works in",
    "clear-of": "Out of reach",
    "switch": "Switch",
}
"""Fields that are checked and belong to nothing else that is shown: the reader sees what was checked."""


def shown_fields(of: Stage | Step) -> tuple[str, ...]:
    """Zone, exemptions and switch, in the author's words."""
    return tuple(f"{SHOWN_FIELDS[f.name]}: {f.value}" for f in of.fields if f.name in SHOWN_FIELDS)


def hands_reason(step: Step) -> str:
    """Why the hands are where the author says: what stands after the dash."""
    field = step.field("hands")
    for dash in (" - ", " – ", " — "):
        _, found, why = field.value.partition(dash) if field else ("", "", "")
        if found:
            return why.strip()
    return ""


@dataclass(frozen=True)
class AnswerView:
    """An answer and the step it leads to."""

    index: int
    target: str
    """Anchor of the step, empty for a return."""
    number: str
    """Its number, empty for a return."""
    back: bool


@dataclass(frozen=True)
class StepView:
    """One step as it is shown."""

    step: Step
    owner: Document
    """Whose file it stands in: the document, or its profile."""
    number: str
    """Stage, dot, step: `4.2`; steps of the machine's own shared stages are `A.2`."""
    anchor: str
    key: str
    """The key of the analysis."""
    hands: str
    """One of HANDS, in words."""
    strip: tuple[Must, ...]
    answers: tuple[AnswerView, ...]
    do: str = ""
    """Anchor of the shared stage that is done here."""
    do_label: str = ""
    """`A Make safe` and its range of steps."""
    go_to: str = ""
    go_to_number: str = ""
    exit: str = ""
    """As typed, empty if the procedure goes on."""
    held: tuple[str, ...] = ()
    """At a tagged exit: sources that are locked or held there, as the analysis says."""
    guards_off: tuple[str, ...] = ()
    """At a tagged exit: guards that may be off there."""
    treat_as_live: bool = False
    """At a tagged exit: a proof failed on a way that leads here."""
    origin: str = ""


@dataclass(frozen=True)
class StageView:
    """One stage as it is shown."""

    stage: Stage
    owner: Document
    number: str
    anchor: str
    steps: tuple[StepView, ...]
    standing: tuple[Panel, ...]
    """Panels of the whole document that this stage needs again."""
    borrowed: bool
    """True for a shared stage of the equipment profile."""


@dataclass(frozen=True)
class DocumentView:
    """A procedure or pre-use check as it is shown."""

    document: Document
    profile: Document
    front: ProcedureFront | CheckFront
    equipment: ProfileFront
    stages: tuple[StageView, ...]
    energy: tuple[EnergyRow, ...]
    kit: tuple[KitRow, ...]
    hash: str
    contact: str
    site_url: str
    figure_numbers: dict[str, int] = field(default_factory=dict)
    """Figure id (with its owner's path) to its number in this document."""
    pictures: Mapping[str, str] = field(default_factory=dict, repr=False)
    """What the hash leans on besides the texts, as `picture_hashes` gives it."""
    shelf_days: int = 14
    """Days after which a phone warns that its copy was not checked."""
    idle: int = 30
    """Minutes without an entry after which a run's proofs no longer count."""
    answer: Answerer = field(default=unanswered, repr=False, compare=False)
    """Works out a calculation, with the library's own limits."""

    @property
    def number(self) -> str:
        return self.front.number

    @property
    def address(self) -> str:
        return address(self.front.number)

    @property
    def url(self) -> str:
        """Full web address of the page, for the QR code; relative where the library has no site address."""
        return f"{self.site_url.rstrip('/')}/{self.address}" if self.site_url else self.address

    @property
    def task(self) -> str:
        return TASKS[self.front.task if isinstance(self.front, ProcedureFront) else "pre-use-check"]

    @property
    def short_hash(self) -> str:
        return self.hash[:12]

    @property
    def qr_text(self) -> str:
        """What the QR code says: the page with revision and content hash, never the other way round."""
        return f"{self.url}?rev={self.front.revision}&hash={self.short_hash}"


def address(number: str) -> str:
    """The page of a document: its number alone, so that a printed card stays right for ever."""
    return f"{number.lower()}.html"


def states_address(number: str) -> str:
    """The reviewer's page of a document."""
    return f"states-{address(number)}"


def equipment_address(id: str) -> str:
    """The page of an equipment profile."""
    return f"equipment-{id}.html"


def view_of(
    library: Library,
    document: Document,
    analysis: Analysis | Told,
    hash: str,
    pictures: Mapping[str, str] | None = None,
) -> DocumentView:
    """Put a document, its profile and its analysis together. The document has no errors."""
    profile = library.profile_of(document)
    assert profile is not None
    front = document.front
    assert not isinstance(front, ProfileFront)
    stages = tuple(_Builder(document, profile, analysis).stages())
    return DocumentView(
        document=document,
        profile=profile,
        front=front,
        equipment=profile.profile,
        stages=stages,
        energy=tuple(EnergyRow(name, source) for name, source in profile.profile.sources.items()),
        kit=tuple(_kit(stages, front, profile.profile)),
        hash=hash,
        contact=library.settings.contact,
        site_url=library.settings.site_url,
        figure_numbers=_figure_numbers(document, stages),
        pictures=pictures or {},
        idle=library.settings.idle,
        shelf_days=library.settings.shelf_days,
        answer=partial(calculated, library=library),
    )


class _Builder:
    """Numbers and joins the stages of one document."""

    def __init__(self, document: Document, profile: Document, analysis: Analysis | Told) -> None:
        self.document, self.profile, self.analysis = document, profile, analysis
        numbers = Numbers(document, profile)
        self.borrowed, self.stage_number = numbers.borrowed, numbers.stages
        self.step_number, self.step_anchor = numbers.steps, numbers.anchors

    def stages(self) -> Iterable[StageView]:
        for n, stage in enumerate(self.document.stages, 1):
            yield self._stage(self.document, str(n), stage, borrowed=False)
        for letter, stage in self.borrowed:
            yield self._stage(self.profile, letter, stage, borrowed=True)

    def _stage(self, owner: Document, number: str, stage: Stage, borrowed: bool) -> StageView:
        steps = tuple(self._step(owner, stage, step) for step in stage.steps)
        needed = {
            fold(m.source) for s in steps if s.hands not in ("hands off", "outside controls") for m in s.strip
        }
        standing = tuple(p for p in self.document.panels if p.sources and needed & {n.key for n in p.sources})
        return StageView(stage, owner, number, f"stage.{number.lower()}", steps, standing, borrowed)

    def _step(self, owner: Document, stage: Stage, step: Step) -> StepView:
        key = step.slug if owner is self.document else f"{owner.profile.id}:{step.slug}"
        do, go_to, leave = step.field("do"), step.field("go-to"), step.field("exit")
        do_name = do.value.removeprefix("#") if do else ""
        do_number = self.stage_number.get(do_name, "")
        jump = (owner.path, go_to.value.removeprefix("#")) if go_to else ("", "")
        origin = step.field("origin") or stage.field("origin")
        tagged = leave is not None and fold(leave.value) == fold("left locked out, tagged")
        return StepView(
            step=step,
            owner=owner,
            number=self.step_number[(owner.path, step.slug)],
            anchor=self.step_anchor[(owner.path, step.slug)],
            key=key,
            hands=HANDS.get(self.analysis.hands.get(key, ""), ""),
            strip=tuple(Must(name, state) for name, state in self.analysis.strip(key)),
            answers=tuple(self._answer(owner, n, a.target) for n, a in enumerate(step.answers)),
            do=f"stage.{do_number.lower()}" if do_number else "",
            do_label=self._label(do_name, do_number),
            go_to=self.step_anchor.get(jump, ""),
            go_to_number=self.step_number.get(jump, ""),
            exit=leave.value if leave else "",
            held=self.analysis.held(key) if tagged else (),
            guards_off=self.analysis.guards_off(key) if tagged else (),
            treat_as_live=self.analysis.proof_failed(key) if tagged else False,
            origin=origin.value if origin else "",
        )

    def _answer(self, owner: Document, index: int, target: str) -> AnswerView:
        if target == "back":
            return AnswerView(index, "", "", back=True)
        key = (owner.path, target)
        return AnswerView(index, self.step_anchor.get(key, ""), self.step_number.get(key, ""), back=False)

    def _label(self, name: str, number: str) -> str:
        if not number:
            return ""
        stage = self.document.shared_stages.get(name) or self.profile.shared_stages.get(name)
        assert stage is not None
        return f"{number} {stage.title} (steps {number}.1 to {number}.{len(stage.steps)})"


def _kit(
    stages: tuple[StageView, ...], front: ProcedureFront | CheckFront, equipment: ProfileFront
) -> Iterable[KitRow]:
    """Declared tools and parts of the document, then what its steps name, with the profile's declarations."""
    for kind, own, lent in (("tool", front.tools, equipment.tools), ("part", front.parts, equipment.parts)):
        declared = {fold(t.name): t for t in (*lent, *own)}
        names = {fold(t.name): t.name for t in own}
        for step in (s for stage in stages for s in stage.steps):
            for role in (r for r in step.step.roles if isinstance(r, Role) and r.name == kind):
                for named in role.names:
                    names.setdefault(named.key, named.text)
        for key, name in names.items():
            yield declared_kit(kind, declared.get(key) or Tool(name=name))


def declared_kit(kind: str, tool: Tool) -> KitRow:
    """A tool or part as it is declared."""
    return KitRow(
        name=tool.name,
        kind=kind,
        quantity=tool.quantity or "",
        range=tool.range or "",
        accuracy=tool.accuracy or "",
        calibration=tool.calibration or "",
        stock=tool.stock_number or "",
        new=f"new {tool.new}" if tool.new else "",
    )


def _figure_numbers(document: Document, stages: tuple[StageView, ...]) -> dict[str, int]:
    figures = [(document, b) for b in document.blocks if isinstance(b, Figure)]
    for stage in stages:
        figures += [(stage.owner, b) for b in stage.stage.blocks if isinstance(b, Figure)]
        figures += [(s.owner, f) for s in stage.steps for f in s.step.figures]
    return {figure_key(owner, figure): n for n, (owner, figure) in enumerate(figures, 1)}


def figure_key(owner: Document, figure: Figure) -> str:
    """Names a figure within a view: by its id, else by its place."""
    return f"{owner.path}#{figure.id}" if figure.id else f"{owner.path}:{figure.span.line}"


def picture_path(owner: Document, figure: Figure) -> PurePosixPath:
    """The picture's path from where the documents' paths count."""
    return PurePosixPath(owner.path).parent / figure.path
