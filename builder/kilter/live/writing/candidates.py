"""Words that look like effects and values. They are listed for the writer, never marked by themselves."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.diagnostic import Edit, Fix
from kilter.model.base import fold
from kilter.model.front import ProfileFront
from kilter.source import Source, Span

_EFFECTS = (
    ("isolates", r"unplug\w*|disconnect\w*|isolat\w+|(?:switch|turn)(?:ed)? (?:[\w-]+ ){0,3}?off|lock(?:ed)?(?: it)?(?: out| off)?|padlock\w*|pull(?: out)? the (?:\w+ )?plug"),
    ("releases", r"bleed|drain|vent|discharge|depressuri[sz]e|unload|let (?:out|off) the (?:pressure|spring|air)"),
    ("proves", r"prove|test for dead|verify (?:that )?(?:there is )?no|check (?:that )?(?:there is )?(?:no|zero)"),
    ("restores", r"reconnect|plug (?:it|them|the (?:\w+ ){1,3}?)\s?(?:back )?in\b(?! (?:its|a|the))|(?:switch|turn)(?:ed)? (?:[\w-]+ ){0,3}?on(?! (?:the|a|its|each)\b)|power up|unlock"),
    ("removes", r"(?:remove|take off|lift off|detach|undo|open) (?:[\w-]+ ){0,4}?(?:cover|panel|lid|guard|hood|housing|shroud|case)s?"),
    ("refits", r"(?:refit|replace|put back|put on|fit|close) (?:[\w-]+ ){0,4}?(?:cover|panel|lid|guard|hood|housing|shroud|case)s?"),
    ("all-clear", r"stand clear|everybody clear|everyone clear|count the tools"),
)  # fmt: skip
_PATTERNS = [(name, re.compile(rf"(?i)\b(?:{words})\b")) for name, words in _EFFECTS]
_KIND_WORDS = {
    "mains": r"mains|plug\w*|unplug\w*|wall|socket|outlet|power (?:lead|cord|cable|supply)",
    "battery": r"batter(?:y|ies)|pack",
    "capacitor": r"capacitors?",
    "hydraulic": r"hydraulic\w*|oil|pump",
    "pneumatic": r"air|compress\w+",
    "vacuum": r"vacuum|suction",
    "gravity": r"prop\w*|stand|boom|deck",
    "spring": r"springs?",
    "heat": r"hot|cool|heat\w*",
    "pressure": r"pressure",
}
_UNIT = r"(?:N·?\.?m|minutes?|mins?|seconds?|secs?|hours?|s|h|mm|cm|mV|kV|V|mA|µA|uA|A|kΩ|MΩ|Ω|ohms?|kPa|MPa|bar|psi|°C|N|%)(?![\w])"
_NUMBER = r"\d+(?:[.,]\d+)?"
_VALUE = re.compile(
    rf"(?<![\w.,/`−-])(?:[≤≥<>]=?\s*)?[−-]?{_NUMBER}(?:\s*(?:±|\+/-|\+-|to|–|-)\s*{_NUMBER})?\s*{_UNIT}"
    rf"(?:\s*(?:±|\+/-|\+-)\s*{_NUMBER}(?:\s*{_UNIT})?)?"
)
_SENTENCE = re.compile(r"[^.!?]*(?:[.!?](?!\s|$)[^.!?]*)*[.!?]?\s*")
_SKIPPED = re.compile(r"^\s*(?:#|:|\||- .*\]\(#)")


@dataclass(frozen=True)
class Candidate:
    """Words that may want a mark."""

    span: Span
    words: str
    message: str
    fix: Fix


def candidates(source: Source, first_row: int, profile: ProfileFront | None) -> list[Candidate]:
    """All candidates from a 0-based row on; rows that say fields, headings, panels and answers are passed over."""
    found: list[Candidate] = []
    fence = False
    for row in range(first_row, len(source.lines)):
        text = source.row(row)
        if text.lstrip().startswith(":::"):
            fence = not fence
        elif not fence and not _SKIPPED.match(text):
            found += _in_row(source, row, profile)
    return found


def _in_row(source: Source, row: int, profile: ProfileFront | None) -> Iterator[Candidate]:
    for match in _SENTENCE.finditer(source.row(row)):
        if match[0].strip():
            yield from _effects(source, row, match, profile)
            yield from _values(source, row, match)


def _effects(
    source: Source, row: int, sentence: re.Match[str], profile: ProfileFront | None
) -> Iterator[Candidate]:
    plain = _without_marks(sentence[0])
    for effect, pattern in _PATTERNS:
        said = pattern.search(plain)
        if said is None or f"{{{effect}}}" in sentence[0]:
            continue
        mark = f"{{{effect}}}`{_named(effect, plain, profile)}`"
        end = sentence.start() + len(sentence[0].rstrip().rstrip(".!?:"))
        edit = Edit(source.in_row(row, end, end), f": {mark}" if "{" not in sentence[0] else f" ({mark})")
        start = sentence.start() + said.start()
        span = source.in_row(row, start, start + len(said[0]))
        yield _candidate(span, said[0], mark, edit)


def _candidate(span: Span, words: str, mark: str, edit: Edit) -> Candidate:
    blank = "[fill in" in mark
    message = f"`{words}` here may be {mark}: mark it if it is true"
    return Candidate(span, words, message, Fix(f"mark it {mark}", (edit,), leaves_blank=blank))


def _without_marks(text: str) -> str:
    """The sentence with what is marked already blotted out, every sign in its place."""
    return re.sub(r"\{[\w-]+\}`[^`]*`|`[^`]*`", lambda m: "\x00" * len(m[0]), text)


def _named(effect: str, sentence: str, profile: ProfileFront | None) -> str:
    if effect == "all-clear":
        return "people and tools"
    if effect in ("removes", "refits"):
        return _guard(sentence, profile.guards if profile else ())
    if profile is not None:
        named = [n for n in profile.sources if fold(n) in fold(sentence)]
        kinds = [k for k, words in _KIND_WORDS.items() if re.search(rf"(?i)\b(?:{words})\b", sentence)]
        guessed = named or [n for n, s in profile.sources.items() if s.kind in kinds]
        if len(guessed) == 1 or (named and effect == "proves"):
            return ", ".join(guessed)
    return "[fill in: which source]"


def _guard(sentence: str, guards: tuple[str, ...]) -> str:
    named = [g for g in guards if fold(g) in fold(sentence)]
    return named[0] if named else guards[0] if len(guards) == 1 else "[fill in: which cover]"


def _values(source: Source, row: int, sentence: re.Match[str]) -> Iterator[Candidate]:
    plain = _without_marks(sentence[0])
    for said in _VALUE.finditer(plain):
        purpose = _purpose(said[0], plain)
        if purpose:
            start = sentence.start() + said.start()
            span = source.in_row(row, start, start + len(said[0]))
            mark = f"{{{purpose}}}`{said[0]}`"
            yield _candidate(span, said[0], mark, Edit(span, mark))


def _purpose(value: str, sentence: str) -> str:
    """What a value is for, by its dimension and the verb of its sentence; empty where that can't be told."""
    try:
        dimension = parse_quantity(value).dimension
    except QuantityError:
        return ""
    verbs = ((r"wait|let|leave|stand for", "wait"),) if dimension == "time" else _VERBS
    if dimension == "torque":
        return "torque"
    return next((purpose for words, purpose in verbs if re.search(rf"(?i)\b(?:{words})\b", sentence)), "")


_VERBS = ((r"measure|read|reads|check|shows?|below|test", "read"), (r"set|adjust|turn", "set"))
