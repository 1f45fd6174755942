"""Holds a record against its document: what it says was asked for must be what the document asks for.

A record that does not match is refused: it was written by something else than the page it names, or changed.
What a person did against the page is no mismatch; it is kept, and told as a warning.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from kilter.compute import answerfit
from kilter.compute.decision import judge
from kilter.diagnostic import Diagnostic, error, warning
from kilter.model import record as form
from kilter.records.plans import Plan
from kilter.records.read import RULE, Taken

Step = dict[str, Any]


def against(taken: Taken, plan: Plan) -> list[Diagnostic]:
    """All that differs between a record and its document's plan."""
    return list(_Judge(taken, plan).findings())


class _Judge:
    def __init__(self, taken: Taken, plan: Plan) -> None:
        self.taken, self.plan = taken, plan
        self.name = f"{plan['document']} revision {plan['revision']}"
        self.steps: dict[str, Step] = {step["anchor"]: step for step in plan["steps"]}

    def findings(self) -> Iterator[Diagnostic]:
        record = self.taken.record
        for key in ("document", "revision", "hash", "equipment"):
            yield from self._same(getattr(record, key), self.plan[key], key)
        for n, entry in enumerate(record.entries):
            yield from self._entry(entry, n)

    def _entry(self, entry: form.Entry, n: int) -> Iterator[Diagnostic]:
        step = self.steps.get(entry.step)
        if step is None:
            if entry.step or not isinstance(
                entry, form.Begin | form.Pause | form.Back | form.Handover | form.Ended
            ):
                yield self._wrong(f"{self.name} has no step `{entry.step}`", "entries", n, "step")
            return
        yield from self._same(entry.number, step["number"], "entries", n, "number")
        yield from self._kind(entry, step, n)

    def _kind(self, entry: form.Entry, step: Step, n: int) -> Iterator[Diagnostic]:
        match entry:
            case form.Reading():
                yield from self._reading(entry, step, n)
            case form.Answer():
                yield from self._answer(entry, step, n)
            case form.Caution():
                yield from self._caution(entry, n)
            case form.Waiting() | form.Wait():
                yield from self._wait(entry, step, n)
            case form.Done() if step["answers"] and not step["do"]:
                yield self._wrong(f"step {step['number']} is left by an answer only", "entries", n, "kind")
            case form.Hold() if not step["hold"]:
                yield self._wrong(f"step {step['number']} asks for no second person", "entries", n, "kind")
            case form.Ended() if step["exit"] != entry.exit:
                yield self._wrong(
                    f"step {step['number']} does not end with `{entry.exit}`", "entries", n, "exit"
                )
            case form.Remark():
                yield from self._same(entry.hash, step["hash"], "entries", n, "hash")

    def _reading(self, entry: form.Reading, step: Step, n: int) -> Iterator[Diagnostic]:
        asked = next((r for r in step["readings"] if r["id"] == entry.id), None)
        if asked is None:
            yield self._wrong(f"step {step['number']} has no reading `{entry.id}`", "entries", n, "id")
            return
        for key in ("name", "phase", "unit", "limits", "low", "high", "tool"):
            yield from self._same(getattr(entry, key), asked[key], "entries", n, key)
        by = uncertainty_at(entry.value, asked["share"], asked["off"])
        yield from self._same(entry.uncertainty, by, "entries", n, "uncertainty")
        verdict = verdict_on(entry.value, by, asked)
        if entry.verdict != verdict:
            said = f"{entry.value} {entry.unit} against {entry.limits} is `{verdict}`, not `{entry.verdict}`"
            yield self._wrong(said, "entries", n, "verdict")
        if entry.calibration_due and entry.calibration_due < entry.at[:10]:
            tool = f"{entry.tool} {entry.tool_id}".strip()
            said = f"{tool} was past its calibration of {entry.calibration_due}"
            yield warning(RULE, said, self.taken.span("entries", n, "calibrationDue"))

    def _answer(self, entry: form.Answer, step: Step, n: int) -> Iterator[Diagnostic]:
        answers, index = step["answers"], int(entry.index)
        if index >= len(answers):
            yield self._wrong(f"step {step['number']} has {len(answers)} answers", "entries", n, "index")
            return
        asked = answers[index]
        yield from self._same(entry.text, asked["text"], "entries", n, "text")
        failed = ", ".join(asked["failed"]) if asked["notZero"] else ""
        yield from self._same(entry.failed, failed, "entries", n, "failed")
        yield from self._same(entry.not_ok, "yes" if asked["notOk"] else "", "entries", n, "notOk")
        yield from self._in_spite(entry, answers, index, n)

    def _in_spite(self, entry: form.Answer, answers: list[Step], index: int, n: int) -> Iterator[Diagnostic]:
        """An answer that the phone closes because of the last of each reading at this visit."""
        last: dict[str, form.Reading] = {}
        for before in self.taken.record.entries[:n]:
            if isinstance(before, form.Reading) and (before.step, before.occurrence) == (
                entry.step,
                entry.occurrence,
            ):
                last[before.id] = before
        read = {of: {"value": r.value, "verdict": r.verdict, "phase": r.phase} for of, r in last.items()}
        why = answerfit.refused(answers, index, read)
        if not why and index in answerfit.closed(answers, read):
            why = answers[index]["fits"]["limits"][0][0]
        if why:
            reading = last[why]
            said = (
                f"answered `{entry.text}` though {reading.value} {reading.unit} is `{reading.verdict}`"
                if reading.verdict != "pass"
                else f"answered `{entry.text}` though {reading.value} {reading.unit} was read"
            )
            yield warning(RULE, said, self.taken.span("entries", n, "text"))

    def _caution(self, entry: form.Caution, n: int) -> Iterator[Diagnostic]:
        known = {s["anchor"]: s["caution"] for s in (*self.plan["steps"], *self.plan["stages"])}
        if known.get(entry.stage) != entry.words:
            said = f"{self.name} has no panel of these words at `{entry.stage}`"
            yield self._wrong(said, "entries", n, "words")

    def _wait(self, entry: form.Waiting | form.Wait, step: Step, n: int) -> Iterator[Diagnostic]:
        waits, index = step["waits"], int(entry.index)
        if index >= len(waits):
            yield self._wrong(f"step {step['number']} has {len(waits)} waits", "entries", n, "index")
            return
        yield from self._same(entry.wanted, str(waits[index]["seconds"]), "entries", n, "wanted")
        if isinstance(entry, form.Wait) and int(entry.waited) < int(entry.wanted):
            said = f"waited {entry.waited} s where {entry.wanted} s are asked for"
            yield warning(RULE, said, self.taken.span("entries", n, "waited"))

    def _same(self, said: str, asked: str, *way: str | int) -> Iterator[Diagnostic]:
        if said != asked:
            yield self._wrong(f"the record says `{said}`, {self.name} says `{asked}`", *way)

    def _wrong(self, message: str, *way: str | int) -> Diagnostic:
        return error(
            RULE, message, self.taken.span(*way), "the record does not match the document that it names"
        )


def verdict_on(value: str, uncertainty: str, asked: dict[str, Any]) -> form.Verdict:
    """By the function that the whole of Kilter judges with."""
    low, high = (Fraction(asked[key]) if asked[key] else None for key in ("low", "high"))
    by = Fraction(uncertainty) if uncertainty else None
    return judge(Fraction(value), by, low, high, asked["lowItself"], asked["highItself"])


def uncertainty_at(value: str, share: str, off: str) -> str:
    """How far off the tool may be at a reading, in its unit; empty where nothing is known of it."""
    if off or not share:
        return off
    return spelt(abs(Fraction(value) * Fraction(share)))


def spelt(value: Fraction) -> str:
    """Plain digits of a decimal number, no trailing zeros."""
    places = 0
    while value.denominator != 1 and places < 60:
        value, places = value * 10, places + 1
    digits = str(abs(value.numerator)).rjust(places + 1, "0")
    whole, part = digits[: len(digits) - places], digits[len(digits) - places :].rstrip("0")
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{part}" if part else f"{sign}{whole}"
