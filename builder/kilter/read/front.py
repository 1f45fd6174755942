"""Plain front-matter data to the model, and pydantic's complaints into the author's words."""

from __future__ import annotations

from typing import Any, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from kilter.diagnostic import Fix, did_you_mean, nearest
from kilter.model.base import Value
from kilter.model.front import (
    ENERGY_KINDS,
    KINDS,
    CheckFront,
    EnergySource,
    Front,
    Loc,
    Places,
    ProcedureFront,
    ProfileFront,
    Switch,
    Symptom,
    Tool,
)
from kilter.model.training import Objective, PaperPlan, TrainingFront
from kilter.read.blanks import is_blank
from kilter.read.cures import PROOF_WORDS, inserted, replaced, spelt, without_rows
from kilter.read.notes import Notes
from kilter.source import Span

AnyFront = Front | TrainingFront
MODELS: dict[str, type[AnyFront]] = {
    "equipment": ProfileFront,
    "procedure": ProcedureFront,
    "pre-use-check": CheckFront,
    "training": TrainingFront,
}
RESERVED_KEYS = frozenset(
    [
        "power",
        "works",
        "shows",
        "does",
        "harm",
        "store",
        "normal",
        "check",
        "probe",
        "often",
        "rare",
    ]
)
STATUS_KEYS = frozenset(
    [
        "status",
        "state",
        "approved",
        "approval",
        "approved-by",
        "approver",
        "reviewed",
        "reviewed-by",
        "reviewer",
        "released",
        "released-by",
        "effective",
    ]
)
_INNER: dict[str, type[Value]] = {
    "sources": EnergySource,
    "switches": Switch,
    "tools": Tool,
    "parts": Tool,
    "symptoms": Symptom,
    "objectives": Objective,
}
_WHOLE: dict[str, type[Value]] = {"paper": PaperPlan}
"""Keys whose value is one mapping with known keys."""
_FREE = ("sources", "zones", "switches", "objectives", "confirmed")
"""Keys below which the author chooses names."""


def read_model(notes: Notes, data: dict[str, Any], places: Places) -> AnyFront | None:
    """The front matter as its kind's model, or None with the reasons noted."""
    kind = data.get("kind")
    if not isinstance(kind, str) or kind not in MODELS:
        _unknown_kind(notes, kind, places)
        return None
    model = MODELS[kind]
    clean = _known_keys(notes, model, kind, data, places)
    if clean is None:
        return None
    try:
        return model.model_validate(clean)
    except ValidationError as trouble:
        said: set[tuple[str, Loc]] = set()
        for detail in trouble.errors(include_url=False):
            _translate(notes, detail, places, kind, said)
        return None


def _unknown_kind(notes: Notes, kind: Any, places: Places) -> None:
    if kind is None:
        notes.error("missing-key", "key `kind` is missing", places.whole, "write one of: " + ", ".join(KINDS))
    else:
        cure = spelt(notes.source, places.of("kind"), str(kind), KINDS)
        help = did_you_mean(str(kind), KINDS)
        notes.error("bad-value", f"kind `{kind}` is not known", places.of("kind"), help, cure)


def field_names(model: type[Value]) -> list[str]:
    """The keys of a model as authors write them."""
    return [info.alias or name for name, info in model.model_fields.items()]


def _known_keys(notes: Notes, model: type[Value], kind: str, data: dict[str, Any], places: Places) -> Any:
    """The data with keys in their written form (blank for hyphen allowed); None when a key is refused."""
    before = len(notes.found)
    known = field_names(model)
    clean: dict[str, Any] = {}
    for key, value in data.items():
        name = _canonical(key, known)
        if _refused(notes, name, known, (key,), places, model):
            continue
        clean[name] = _inner_keys(notes, name, value, (key,), places)
    return clean if len(notes.found) == before else None


def _canonical(key: str, known: list[str]) -> str:
    hyphened = key.strip().replace(" ", "-")
    return hyphened if hyphened in known else key


def _refused(notes: Notes, name: str, known: list[str], loc: Loc, places: Places, model: type[Value]) -> bool:
    if name in known:
        return False
    span, top = places.key(*loc), len(loc) == 1
    if top and name.replace(" ", "-").lower() in STATUS_KEYS:
        help = "delete it: a status is never typed, a document is a draft until it is approved"
        cure = _row_deleted(notes, name, span, places.of(*loc))
        notes.error("typed-status", f"key `{name}` claims a status", span, help, cure)
    elif model in (ProfileFront, EnergySource, Switch) and name in RESERVED_KEYS:
        cure = _row_deleted(notes, name, span, places.of(*loc))
        notes.error("not-yet", f"key `{name}` is reserved, not yet in use", span, "delete it for now", cure)
    elif top and (owner := _owner(name)):
        notes.error(
            "unknown-key", f"key `{name}` does not belong in this kind", span, f"it is a key of {owner}"
        )
    else:
        free = [k for k in known if not places.known(*loc[:-1], k)]
        cure = spelt(notes.source, span, name, free, alone=top)
        notes.error("unknown-key", f"key `{name}` is not known", span, did_you_mean(name, known), cure)
    return True


def _row_deleted(notes: Notes, name: str, key: Span, value: Span) -> tuple[Fix, ...]:
    """A key with its value taken out, where the two have a row to themselves."""
    alone_in_row = not notes.source.row(key.line - 1)[: key.column - 1].strip(" -")
    if (
        not alone_in_row
        or not key.line == value.line == value.end_line
        or "- " in notes.source.row(key.line - 1)
    ):
        return ()
    return replaced(f"delete `{name}`", without_rows(notes.source, key), "")


def _owner(name: str) -> str:
    owners = [f"`{kind}`" for kind, model in MODELS.items() if name in field_names(model)]
    return " and ".join(owners)


def _inner_keys(notes: Notes, name: str, value: Any, loc: Loc, places: Places) -> Any:
    """Check the keys of the mappings below one top-level key."""
    if name in _WHOLE:
        return _entry(notes, _WHOLE[name], value, loc, places)
    model = _INNER.get(name)
    if model is None or not isinstance(value, (dict, list)):
        return value
    if isinstance(value, dict):
        return {k: _entry(notes, model, v, (*loc, k), places) for k, v in value.items()}
    return [_list_entry(notes, model, v, (*loc, n), places) for n, v in enumerate(value)]


def _list_entry(notes: Notes, model: type[Value], value: Any, loc: Loc, places: Places) -> Any:
    if isinstance(value, dict) and len(value) == 1:
        ((key, rest),) = value.items()
        if isinstance(rest, dict):
            return {key: _entry(notes, model, rest, (*loc, key), places)}
        if rest is None:
            return value
    return _entry(notes, model, value, loc, places)


def _entry(notes: Notes, model: type[Value], value: Any, loc: Loc, places: Places) -> Any:
    if not isinstance(value, dict):
        return value
    known, clean = field_names(model), {}
    for key, inner in value.items():
        name = _canonical(key, known)
        if not _refused(notes, name, known, (*loc, key), places, model):
            clean[name] = inner
    return clean


def _translate(
    notes: Notes, detail: ErrorDetails, places: Places, kind: str, said: set[tuple[str, Loc]]
) -> None:
    loc = _author_loc(detail["loc"], places)
    said_before = (detail["type"], loc)
    if said_before in said:
        return
    said.add(said_before)
    if is_blank(detail["input"]):
        return  # said as a blank, with its place
    key, what = _spoken(loc), detail["type"]
    if what == "missing":
        inner = f" in {_spoken(loc[:-1])}" if len(loc) > 1 else ""
        notes.error(
            "missing-key", f"key `{loc[-1]}` is missing{inner}", places.key(*loc[:-1]) if loc[:-1] else places.whole,
            f"write `{loc[-1]}: {_example(str(loc[-1]))}`", () if loc[:-1] else _blank_key(str(loc[-1]), places),
        )  # fmt: skip
        return
    given = detail["input"]
    shown = f" `{given}`" if isinstance(given, (str, int, float)) and str(given).strip() else ""
    cure: tuple[Fix, ...] = ()
    if what == "literal_error":
        alone = not PROOF_WORDS & set(map(str, loc))
        cure = spelt(notes.source, places.of(*loc), str(given), _possible(detail), alone)
    message = f"{key}{shown}: {_expected(detail)}"
    notes.error("bad-value", message, places.of(*loc), _advice(detail, loc), cure)


def _blank_key(key: str, places: Places) -> tuple[Fix, ...]:
    """A missing key as the last one of the front matter."""
    end = places.whole
    last = Span(end.path, end.end_line, 1, end.end_line, 1)
    return inserted(f"leave a blank for `{key}`", last, f'{key}: "[fill in: {_ASKED.get(key, key)}]"\n')


def _author_loc(loc: tuple[int | str, ...], places: Places) -> Loc:
    """Pydantic's way in, with the names the author chose put back and pydantic's own parts left out."""
    kept: list[int | str] = []
    for part in loc:
        if places.known(*kept, part) or part == loc[-1]:
            kept.append(part)
    return tuple(kept)


def _spoken(loc: Loc) -> str:
    words = [f"entry {part + 1}" if isinstance(part, int) else f"`{part}`" for part in loc]
    return " of ".join(reversed(words)) if words else "the front matter"


def _expected(detail: ErrorDetails) -> str:
    what, context = detail["type"], detail.get("ctx", {})
    if what == "value_error":
        return str(context.get("error", detail["msg"]))
    if what == "literal_error":
        return "not one of the words known here"
    plain = {
        "int_parsing": "should be a whole number", "int_type": "should be a whole number",
        "float_parsing": "should be a number", "float_type": "should be a number",
        "finite_number": "should be a number", "bool_parsing": "should be `true` or `false`",
        "bool_type": "should be `true` or `false`", "string_type": "should be words",
        "tuple_type": "should be a list", "list_type": "should be a list", "dict_type": "should be keys with values",
        "model_type": "should be keys with values", "model_attributes_type": "should be keys with values",
        "extra_forbidden": "is not known here",
    }  # fmt: skip
    if what in plain:
        return plain[what]
    if what.startswith("date"):
        return "should be a date such as 2026-11-03"
    if what in ("greater_than_equal", "greater_than"):
        return f"is too small, the least is {context.get('ge', context.get('gt'))}"
    if what in ("less_than_equal", "less_than"):
        return f"is too large, the most is {context.get('le', context.get('lt'))}"
    return detail["msg"][:1].lower() + detail["msg"][1:]


def _advice(detail: ErrorDetails, loc: Loc) -> str:
    if detail["type"] == "literal_error":
        return did_you_mean(str(detail["input"]), _possible(detail))
    if detail["type"] in ("string_type", "model_type") and detail["input"] is None:
        return "write a value after the colon, or delete the key"
    if detail["type"] in ("model_type", "model_attributes_type", "dict_type"):
        return "write its keys and values in braces, or indented in the lines below it"
    return f"for example `{loc[-1]}: {_example(str(loc[-1]))}`" if loc and isinstance(loc[-1], str) else ""


def _possible(detail: ErrorDetails) -> list[str]:
    """The words that a key may have."""
    words = str(detail.get("ctx", {}).get("expected", "")).replace(" or ", ", ").split(",")
    return [w for word in words if (w := word.strip("' "))]


_ASKED = {
    "number": "letters, digits and hyphens; it stays for ever",
    "revision": "a letter, A at first",
    "equipment": "the id of the equipment profile",
    "title": "what is done to what",
    "task": "fault-isolation, adjustment, replacement, inspection or test",
}
"""What the blank of a missing key asks for."""

_EXAMPLES = {
    "kind": "battery", "task": "replacement", "number": "LFT-120", "revision": "A", "equipment": "tarn-2", "id": "tarn-2",
    "title": "Replace the boom actuator", "word": "warning", "sources": "{battery: {kind: battery, word: warning}}",
    "time": "45", "people": "2", "weight": "18", "date": "2026-11-03", "lockable": "true", "release": "bleed",
    "bleed": "5 min", "load": '["standby: 0.08 A, 22 h"]', "prove-from": "outside", "release-from": "outside", "none": "[mains, heat]",
    "covers": "[LFT-120, LFT-130#prove-zero]", "objectives": "{prove: {text: Prove the lift dead, covers: LFT-120}}", "text": "Prove the lift dead",
    "sessions": "[210, 210]", "trainees": "6", "machines": "2", "practical": "35", "pass-mark": "80", "revalidate": "12", "confirmed": "{}",
    "paper": "{questions: 20, forms: 2}", "questions": "20", "forms": "2", "minutes": "40", "audience": "technicians in their first year",
    "symptoms": "[lamp dark when docked]", "tools": "[torque wrench]", "parts": "[actuator]", "zones": "{column: [battery]}",
}  # fmt: skip


def _example(key: str) -> str:
    return _EXAMPLES.get(key, "...")


__all__ = ["ENERGY_KINDS", "RESERVED_KEYS", "field_names", "get_args", "nearest", "read_model"]
