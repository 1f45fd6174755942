"""What is being written at a place, told from the text alone, so that it works on broken text too."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from kilter.assist.sketch import Sketch
from kilter.model.text import SIGNAL_WORDS
from kilter.read.blocks import CALCULATIONS
from kilter.read.fields import field_at
from kilter.source import Source, Span

SpotKind = Literal[
    "mark-text", "failed", "target", "directive", "panel", "picture", "field", "option", "value",
    "mark-name", "brace", "blank", "calculation", "input", "input-value",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Spot:
    """A place where something particular is expected."""

    kind: SpotKind
    about: str
    """The mark, directive or field that it belongs to; for `brace` the marks that may stand here."""
    typed: str
    """What stands between the start of `replace` and the cursor."""
    replace: Span
    before: str = ""
    """Of a list of names what stands before this one; of a value the text up to the cursor."""


_TEXT = re.compile(r"\{([a-z-]+)\}`([^`]*)$")
_FAILED = re.compile(r"\{not-zero\s+([^{}]*)$")
_TARGET = re.compile(r"\]\(([^()\s]*)$")
_NAME = re.compile(r"(?:^|[\s(])\{([a-z-]*)$")
_DIRECTIVE = re.compile(r"^ {0,3}:{3,}\{?([a-z-]*)$")
_HEADER = re.compile(r"^ {0,3}:{3,}\{([a-z-]+)\}[ \t]+(.*)$")
_FIELD = re.compile(r"^ {0,3}:([\w-]*)$")
_VALUE = re.compile(r"^ {0,3}:([a-z-]+):[ \t]+(.*)$")
_ANSWER = re.compile(r"^\s*[-*+]\s.*\]\([^()]*\)\s*$")


def spot(source: Source, drawn: Sketch, line: int, column: int) -> Spot | None:
    """What is expected at a 1-based place of the text below the front matter; None in plain prose."""
    row = line - 1
    if not 0 <= row < len(source.lines) or drawn.inside[row] == "code":
        return None
    return _Row(source, drawn, row, column - 1).spot()


class _Row:
    def __init__(self, source: Source, drawn: Sketch, row: int, at: int) -> None:
        self.source, self.drawn, self.row = source, drawn, row
        self.text = source.row(row)[:at]
        self.at, self.rest = len(self.text), source.row(row)[at:]

    def spot(self) -> Spot | None:
        if not (self.text + self.rest).strip():
            return self._make("blank", self.drawn.inside[self.row], self.text)
        return self._directive() or self._inline() or self._field() or self._name()

    def _make(self, kind: SpotKind, about: str, typed: str, more: int = 0, before: str = "") -> Spot:
        span = self.source.in_row(self.row, self.at - len(typed), self.at + more)
        return Spot(kind, about, typed, span, before)

    def _inline(self) -> Spot | None:
        if match := _TEXT.search(self.text):
            stop = "`" if "`" in self.rest else ""
            return self._listed("mark-text", match.group(1), match.group(2), stop)
        if match := _FAILED.search(self.text):
            return self._listed("failed", "not-zero", match.group(1), "}")
        if match := _TARGET.search(self.text):
            tail = re.match(r"[^()\s]*(?=\))", self.rest)
            return self._make("target", "", match.group(1), len(tail.group()) if tail else 0)
        return None

    def _listed(self, kind: SpotKind, about: str, all: str, stop: str) -> Spot:
        """One of several names between commas; the rest of that name is replaced too."""
        comma = all.rfind(",") + 1
        typed = all[comma:].lstrip()
        tail = re.match(rf"[^,{stop}\n]*(?=[,{stop}])", self.rest) if stop else None
        return self._make(kind, about, typed, len(tail.group().rstrip()) if tail else 0, all[:comma])

    def _directive(self) -> Spot | None:
        if match := _DIRECTIVE.match(self.text):
            opened = self.text[: match.start(1)].strip()
            return self._make("directive", "", opened + match.group(1), 1 if self.rest[:1] == "}" else 0)
        if match := _HEADER.match(self.text):
            if match.group(1) == "figure":
                return self._make("picture", "figure", match.group(2), len(self.rest.rstrip()))
            if match.group(1) == "calc":
                return self._make("calculation", "calc", match.group(2), len(self.rest.rstrip()))
            if match.group(1) in SIGNAL_WORDS:
                return self._listed("panel", match.group(1), match.group(2), "")
        return None

    def _field(self) -> Spot | None:
        if match := _FIELD.match(self.text):
            where = self._where()
            tail = 1 if self.rest[:1] == ":" else 0
            of_block: SpotKind = "option" if where == "figure" else "input"
            kind: SpotKind = of_block if where in ("figure", *CALCULATIONS) else "field"
            return self._make(kind, where, f":{match.group(1)}", tail) if where else None
        if (match := _VALUE.match(self.text)) and self._where() not in ("", "figure"):
            name, value = match.groups()
            if self._where() in CALCULATIONS:
                return self._make("input-value", name, value, len(self.rest.rstrip()))
            if name in ("clear-of", "hands"):
                return self._reasoned(name, value)
            return self._make("value", name, value, len(self.rest.rstrip()))
        return None

    def _reasoned(self, name: str, value: str) -> Spot | None:
        """Names before a dash; behind it the reason, which nobody can offer."""
        if re.search(r"\s[-–—](\s|$)", value):
            return None
        live = re.match(r"live\s+", value) if name == "hands" else None
        if name == "hands" and live is None:
            return self._make("value", name, value)
        spot = self._listed("value", name, value[live.end() :] if live else value, "")
        return Spot(spot.kind, "live" if live else name, spot.typed, spot.replace, spot.before)

    def _where(self) -> str:
        """`stage` or `step` right under a heading, `figure`, `calc` or `stack` in one, `last` in a step's text, else nothing."""
        inside = self.drawn.inside[self.row]
        if inside:
            return inside if inside in ("figure", *CALCULATIONS) and self._only_fields_above(":::") else ""
        head = self.drawn.heading_above(self.row)
        if head is None or head.level == 1:
            return ""
        if self._only_fields_above("#"):
            return "stage" if head.level == 2 else "step"
        below = self.source.lines[self.row + 1 :]
        after = next((text for text in below if text.strip()), "#")
        return (
            "last"
            if head.level == 3 and (after.startswith("#") or field_at(self.source, self.row + 1))
            else ""
        )

    def _only_fields_above(self, opening: str) -> bool:
        row = self.row - 1
        while row > 0 and (
            field_at(self.source, row) or (opening == "#" and not self.source.row(row).strip())
        ):
            row -= 1
        return self.source.row(row).lstrip().startswith(opening)

    def _name(self) -> Spot | None:
        match = _NAME.search(self.text)
        if match is None:
            return None
        tail = 1 if self.rest[:1] == "}" else 0
        head = self.text[: match.start(1) - 1].rstrip()
        if head.startswith("#"):
            level = len(head) - len(head.lstrip("#"))
            return self._make("brace", "shared", f"{{{match.group(1)}", tail) if level == 2 else None
        if _ANSWER.match(head):
            return self._make("brace", "not-zero not-ok", f"{{{match.group(1)}", tail)
        return self._make("mark-name", "", f"{{{match.group(1)}", tail)
