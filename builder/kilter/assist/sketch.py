"""What can be told of a text row by row, also while it is broken: headings, figures, tools, what is open."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from kilter.model.base import slugify
from kilter.source import Source

_FENCE = re.compile(r"^ {0,3}(`{3,}|~{3,})")
_HEADING = re.compile(r"^ {0,3}(#{1,3})[ \t]+(.*?)[ \t]*#*$")
_BRACED = re.compile(r"\s*\{([^{}]*)\}\s*$")
_DIRECTIVE = re.compile(r"^ {0,3}:{3,}\{([a-z-]+)\}[ \t]*(.*)$")
_OPTION = re.compile(r"^ {0,3}:([^:\n]+):[ \t]*(.*?)[ \t]*$")
_ITEM = re.compile(r"^\s*[\d.]+\s*,\s*[\d.]+\s+(\S.*)$")
_KIT = re.compile(r"\{(tool|part)\}`([^`]+)`")


@dataclass
class Heading:
    """An H1, H2 or H3."""

    level: int
    title: str
    slug: str
    shared: bool
    row: int
    """0-based."""
    answers: bool = False
    """Whether a list of answers stands under it."""


@dataclass
class Sketch:
    """A text as its rows show it."""

    front_end: int = 0
    """0-based row of the second `---`; the number of rows where it is missing, 0 where there is no front matter."""
    headings: list[Heading] = field(default_factory=list)
    figures: dict[str, dict[int, str]] = field(default_factory=dict)
    """Items with their names, by the figure's id."""
    kit: dict[str, list[str]] = field(default_factory=lambda: {"tool": [], "part": []})
    inside: list[str] = field(default_factory=list)
    """For each row what it stands in: a directive's name, `code`, or nothing."""

    def heading_above(self, row: int) -> Heading | None:
        """The nearest heading above a row."""
        return next((h for h in reversed(self.headings) if h.row < row), None)

    @property
    def steps(self) -> list[Heading]:
        return [h for h in self.headings if h.level == 3]

    @property
    def shared_stages(self) -> list[Heading]:
        return [h for h in self.headings if h.level == 2 and h.shared]


def sketch(source: Source) -> Sketch:
    """Look at every row once."""
    found = Sketch(front_end=_front_end(source))
    found.inside = [""] * len(source.lines)
    code, directive, figure = "", "", ""
    for row in range(found.front_end + 1 if found.front_end else 0, len(source.lines)):
        text = source.lines[row]
        fence = _FENCE.match(text)
        if code or fence:
            found.inside[row] = "code"
            if not code and fence:
                code = fence.group(1)
            elif fence and text.strip() == fence.group(1) and fence.group(1).startswith(code):
                code = ""
            continue
        if text.strip().startswith(":::"):
            opened = _DIRECTIVE.match(text)
            directive, figure = (opened.group(1), "") if opened else ("", "")
            continue
        found.inside[row] = directive
        if directive == "figure":
            figure = _option(found, text, figure)
        elif (heading := _heading(text, row)) is not None:
            found.headings.append(heading)
        else:
            _body_row(found, text)
    return found


def _front_end(source: Source) -> int:
    if source.row(0).rstrip() != "---":
        return 0
    ends = (n for n in range(1, len(source.lines)) if source.lines[n].rstrip() in ("---", "..."))
    return next(ends, len(source.lines))


def _heading(text: str, row: int) -> Heading | None:
    match = _HEADING.match(text)
    if match is None:
        return None
    mark = _BRACED.search(match.group(2))
    title = match.group(2)[: mark.start()] if mark else match.group(2)
    return Heading(len(match.group(1)), title, slugify(title), bool(mark and mark.group(1) == "shared"), row)


def _option(found: Sketch, text: str, figure: str) -> str:
    """One row of a figure; returns the id of the figure, once it is known."""
    match = _OPTION.match(text)
    if match is None:
        return figure
    name, value = match.groups()
    if name == "id":
        found.figures[value] = {}
        return value
    if name.isdigit() and figure and (item := _ITEM.match(value)) is not None:
        found.figures[figure][int(name)] = item.group(1)
    return figure


def _body_row(found: Sketch, text: str) -> None:
    option = _OPTION.match(text)
    if option is not None and option.group(1) == "id" and found.headings:
        found.headings[-1].slug = slugify(option.group(2))
    if found.headings and re.match(r"^\s*[-*+]\s.*\]\(#", text):
        found.headings[-1].answers = True
    for what, words in _KIT.findall(text):
        names = (w.strip() for w in words.split(","))
        found.kit[what] += [n for n in names if n and n not in found.kit[what]]
