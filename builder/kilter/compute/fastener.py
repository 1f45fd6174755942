"""A fastener as people write it: `M8 8.8`, `M6x1 A2-70`, `M8 x 25 - 8.8`, `1/4-20 Gr 5`, `#10-32`, `M5`.

A size in the table of threads, if need be its pitch, a length (not needed for anything here, but people write it)
and a strength class. Read left to right; the first part that has no meaning is refused with its place.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from kilter.compute.fastener_tables import (
    COARSE,
    FINE,
    GRADES,
    STAINLESS,
    STEEL,
    UN,
    Strength,
    Thread,
    metric,
    strength,
    unified,
)

MOST_CHARACTERS = 80
EXAMPLE = "M8 8.8"
_HELP = "write size and class, such as `M8 8.8`, `M6x1 A2-70` or `1/4-20 Gr 5`"


class FastenerError(ValueError):
    """A text that names no fastener; `start` and `end` are offsets in it, `instead` what should stand there."""

    def __init__(self, message: str, help: str, start: int, end: int, instead: str = "") -> None:
        super().__init__(message)
        self.message, self.help, self.instead = message, help, instead
        self.start, self.end = start, max(end, start + 1)


@dataclass(frozen=True, slots=True)
class Fastener:
    """A screw or bolt."""

    text: str
    thread: Thread
    strength: Strength | None
    """None where no class was written."""

    def __str__(self) -> str:
        return self.thread.name + (f" {self.strength.name}" if self.strength else "")


_BY = r"\s?[x×X*]\s?"
_METRIC = re.compile(
    rf"[mM]\s?(?P<size>[0-9]+(?:\.[0-9]+)?)(?:(?:{_BY}|-(?=(?:0|[123])(?:\.[0-9]+)?(?:[\sx×]|$)))(?P<one>[0-9]+(?:\.[0-9]+)?)(?:{_BY}(?P<two>[0-9]+(?:\.[0-9]+)?))?(?:\s?mm)?)?(?![0-9./x×])"
)
_INCH = re.compile(
    r"(?:(?P<number>(?:#|[nN]o\.?\s?)?(?:12|10|[2-9]))|(?P<size>1/4|5/16|3/8|7/16|1/2|9/16|5/8|3/4|7/8|1))(?:\"|″|\s?in\.?(?![a-z]))?"
    r"(?:\s?-\s?(?P<tpi>[0-9]{1,3})|(?=\s?UN[CF]))(?:\s?(?P<series>UN[CF])\b(?:\s?-?[123]A\b)?)?"
    rf"(?:{_BY}[0-9]+(?:[-\s][0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)?(?:\"|″|\s?in\.?(?![a-z]))?)?(?![0-9./])"
)
_GRADE = re.compile(
    r"(?:SAE\s*)?(?:gr(?:ade)?\.?)\s?-?(?P<n>[0-9]+(?:\.[0-9]+)?)|SAE\s*(?P<m>[0-9]+)", re.IGNORECASE
)
_CLASS = re.compile(r"(?:(?:property\s+)?class\s+|cl\.?\s*)?(?P<name>[0-9]{1,2}\.[0-9]{1,2})", re.IGNORECASE)
_STEEL_GROUP = re.compile(r"(?P<steel>[aA][1-5])(?:\s?-\s?|\s)?(?P<grade>[0-9]{2,3})?")


def parse_fastener(text: str) -> Fastener:
    """The fastener that a text names; raises FastenerError with what is wrong, where, and the cure."""
    if len(text) > MOST_CHARACTERS:
        raise FastenerError(f"a fastener of {len(text):,} characters", _HELP, 0, len(text))
    if not text.strip():
        raise FastenerError("no fastener", _HELP, 0, len(text))
    comma = re.search(r"[0-9],[0-9]+(?![0-9.])", text)
    if comma:
        instead = comma.group().replace(",", ".")
        raise FastenerError(
            f"a comma in a number: `{comma.group()}`", f"write `{instead}`", *comma.span(), instead
        )
    start = len(text) - len(text.lstrip())
    thread, end = _thread(text, start)
    rest = re.compile(r"\s*(?:[-–,;]\s*)?").match(text, end)
    assert rest is not None
    end = rest.end()
    name = _named(text, end, thread) if text[end:].strip() else None
    return Fastener(text.strip(), thread, strength(name, thread) if name else None)


def _thread(text: str, start: int) -> tuple[Thread, int]:
    match = _METRIC.match(text, start)
    if match is not None:
        return _metric(match), match.end()
    match = _INCH.match(text, start)
    if match is not None:
        return _inch(match), match.end()
    word = re.compile(r"\S+").match(text, start)
    assert word is not None
    shown = f"`{word.group()[:30]}`"
    if re.fullmatch(r"(?:#|No\.?)?[0-9/]+\"?", word.group()):
        help = "write the threads an inch, such as `1/4-20`, or `M` before a metric size, such as `M6`"
        raise FastenerError(f"{shown} names no thread", help, *word.span())
    raise FastenerError(f"{shown} names no thread", _HELP, *word.span())


def _metric(match: re.Match[str]) -> Thread:
    size = _plain(match["size"])
    if size not in COARSE:
        near = min(COARSE, key=lambda s: abs(float(s) - float(size)))
        help = f"sizes here are M2 to M24; the nearest is M{near}"
        raise FastenerError(f"no thread M{size[:8]}", help, match.start(), match.end("size"))
    if match["one"] is None or (float(match["one"]) >= 0.75 * float(size) and match["two"] is None):
        return metric(size, COARSE[size])
    pitches = (COARSE[size], *FINE.get(size, ()))
    pitch = _plain(match["one"])
    if pitch not in pitches:
        if match["two"] is not None or float(pitch) < 0.35 * float(size):
            help = f"pitches of M{size}: {', '.join(pitches)} mm"
            raise FastenerError(f"no thread M{size} with pitch {pitch[:8]}", help, *match.span("one"))
        help = f"write a pitch ({', '.join(pitches)}) or a length after M{size}"
        raise FastenerError(
            f"`{match['one'][:8]}` is no pitch of M{size}, and short for a length", help, *match.span("one")
        )
    return metric(size, pitch)


def _inch(match: re.Match[str]) -> Thread:
    size = match["size"] or "#" + re.sub(r"\D", "", match["number"])
    _, coarse, fine = UN[size]
    known = {"UNC": coarse, "UNF": fine}
    if match["tpi"] is None:
        return unified(size, known[match["series"]])
    tpi = int(match["tpi"])
    if tpi not in (coarse, fine):
        help = f"{size} has {coarse} (UNC) or {fine} (UNF) threads an inch"
        raise FastenerError(f"no thread {size}-{tpi}", help, *match.span("tpi"))
    if match["series"] and known[match["series"]] != tpi:
        other = "UNF" if tpi == fine else "UNC"
        raise FastenerError(f"{size}-{tpi} is {other}", f"write `{other}`", *match.span("series"), other)
    return unified(size, tpi)


def _plain(number: str) -> str:
    return f"{float(number):g}"


def _named(text: str, start: int, thread: Thread) -> str:
    end = len(text.rstrip())
    written = text[start:end]
    name = _known(written, start, end)
    if name in GRADES and not thread.inch:
        help = f"metric classes: {', '.join(STEEL)}, {', '.join(STAINLESS)}"
        raise FastenerError(f"{name} is a grade of inch screws, {thread.name} is metric", help, start, end)
    if name in STEEL and thread.inch:
        help = f"inch grades: {', '.join(GRADES)}; or {', '.join(STAINLESS)}"
        raise FastenerError(f"{name} is a class of metric screws, {thread.name} is inch", help, start, end)
    if name == "9.8" and thread.diameter > 0.0160001:
        raise FastenerError("class 9.8 ends at M16", "look at the mark on the head", start, end)
    return name


def _known(written: str, start: int, end: int) -> str:
    grade = _GRADE.fullmatch(written)
    if grade is not None:
        return _of(GRADES, f"Gr {grade['n'] or grade['m']}", start, end)
    steel = _STEEL_GROUP.fullmatch(written)
    if steel is not None:
        if steel["grade"] is None:
            group = steel["steel"].upper()
            help = f"write its strength too: {group}-50, {group}-70 or {group}-80 (on the head)"
            raise FastenerError(f"`{written}` says the steel, not the strength", help, start, end)
        return _of(STAINLESS, f"{steel['steel'].upper()}-{steel['grade']}", start, end)
    plain = _CLASS.fullmatch(written)
    return _of(STEEL, plain["name"] if plain else written, start, end)


def _of(names: tuple[str, ...], name: str, start: int, end: int) -> str:
    if name in names:
        return name
    every = (*STEEL, *STAINLESS, *GRADES)
    close = get_close_matches(name, names, 1, 0.5) or get_close_matches(name, every, 1, 0.5)
    known = ", ".join(names if names is not STEEL else every)
    help = f"did you mean `{close[0]}`? known: {known}" if close else f"known: {known}"
    raise FastenerError(f"`{name[:30]}` is no strength class", help, start, end, close[0] if close else "")
