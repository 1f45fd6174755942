"""What can be written at a place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kilter.assist import calculations
from kilter.assist.front import front_spot
from kilter.assist.frontoffers import front_entries
from kilter.assist.known import Entry, Known
from kilter.assist.snippets import blocks, directives
from kilter.assist.spot import Spot, spot
from kilter.assist.units import typed_unit, units
from kilter.assist.values import Offer
from kilter.assist.words import BRACES, FIELDS, HANDS, MARKS, ORIGINS
from kilter.check.flow.fields import EXITS
from kilter.check.flow.fields import HANDS as LEVELS
from kilter.check.rules.structure.unknown_source import EFFECTS as SOURCE_MARKS
from kilter.check.targets import BACK
from kilter.check.workspace import Workspace
from kilter.compute.pictureinfo import ENDINGS
from kilter.model.base import fold
from kilter.model.document import ROLES, VALUES
from kilter.model.front import EnergySource
from kilter.read.fields import LAST_LINE_FIELDS, STAGE_FIELDS, STEP_FIELDS
from kilter.read.figures import FIGURE_OPTIONS


def completions(workspace: Workspace, path: str, line: int, column: int) -> list[Offer]:
    """What can be written at a 1-based place of a file, the likeliest first; nothing in plain prose.

    The list is not narrowed by what has been typed: `Offer.replace` begins where the word begins. The text is the
    workspace's, sound or broken; names come from it and from the last sound reading of the profile.
    """
    source = workspace.library.sources.get(path)
    if source is None:
        return []
    known = Known(workspace, path, source)
    in_front = front_spot(source, known.drawn, line, column)
    if in_front is not None:
        return [entry.at(in_front.replace) for entry in front_entries(known, in_front)]
    if line - 1 <= known.drawn.front_end and known.drawn.front_end:
        return []
    found = spot(source, known.drawn, line, column)
    if found is None:
        return []
    place = found.replace
    if found.kind == "mark-text" and found.about in VALUES:
        place = source.in_row(line - 1, column - 1 - len(typed_unit(found.typed)), column - 1)
    return [entry.at(place) for entry in _entries(known, found, line)]


def _entries(known: Known, found: Spot, line: int) -> Iterable[Entry]:
    match found.kind:
        case "mark-text":
            return _in_mark(known, found)
        case "failed" | "panel":
            return _unnamed(known.sources(), found.before)
        case "target":
            return _targets(known)
        case "directive":
            return directives(known)
        case "picture":
            return _pictures(known)
        case "calculation":
            return calculations.names()
        case "input":
            return calculations.inputs(known, line)
        case "input-value":
            return calculations.values(known, line, found.about)
        case "field" | "option":
            return _fields(known, found.about, line)
        case "value":
            return _value(known, found)
        case "mark-name":
            return (Entry(name, "mark", MARKS[name], insert=f"{{{name}}}`") for name in ROLES)
        case "brace":
            names = found.about.split()
            return (Entry(f"{{{n}}}", "mark", BRACES[n]) for n in names)
        case "blank":
            return blocks(known, line - 1) if not found.about else ()


def _unnamed(entries: Iterable[Entry], before: str) -> Iterator[Entry]:
    """Without those that the list names already."""
    named = {fold(n) for n in before.split(",")}
    return (e for e in entries if fold(e.label) not in named)


def _in_mark(known: Known, found: Spot) -> Iterable[Entry]:
    name = found.about
    if name in SOURCE_MARKS:
        return _unnamed(known.sources(lambda s: _fits(name, s)), found.before)
    if name in VALUES:
        return units(name, found.typed if not found.before else found.before + found.typed)
    match name:
        case "removes" | "refits":
            return _unnamed(known.listed("guards", "guard"), found.before)
        case "tests":
            return _unnamed(known.listed("before_service", "test"), found.before)
        case "tool" | "part":
            return _unnamed(known.kit("tool" if name == "tool" else "part"), found.before)
        case "item":
            return known.items(found.before)
        case "all-clear":
            return (Entry("people and tools", "word"),)
    return ()


def _fits(mark: str, source: EnergySource) -> bool:
    match mark:
        case "isolates" | "restores":
            return source.lockable or source.isolate is not None
        case "releases" | "loads":
            return source.needs_release
        case "proves":
            return source.prove is not None
    return source.can_be_cut


def _targets(known: Known) -> Iterator[Entry]:
    yield from known.steps()
    if known.drawn.shared_stages:
        yield Entry(f"#{BACK}", "word", "return from the shared stage")
    yield from known.numbers()


def _pictures(known: Known) -> Iterator[Entry]:
    """Pictures that lie in the document's folder or below it."""
    folder = known.workspace.library.file_of(known.path).parent
    if not folder.is_dir():
        return
    for depth in ("*", "*/*"):
        for file in sorted(folder.glob(depth)):
            if file.suffix.lower() in ENDINGS and file.is_file():
                yield Entry(file.relative_to(folder).as_posix(), "file")


def _fields(known: Known, where: str, line: int) -> Iterator[Entry]:
    if where == "figure":
        number = 1 + max((int(n) for n in _numbers_above(known, line)), default=0)
        yield Entry(f":{number}:", "field", "an item: x,y in pixels, and its name", insert=f":{number}: ")
    names = {"step": STEP_FIELDS, "stage": STAGE_FIELDS, "last": LAST_LINE_FIELDS, "figure": FIGURE_OPTIONS}[
        where
    ]
    for name in names:
        insert = f":{name}: #" if name == "go-to" else f":{name}: "
        yield Entry(f":{name}:", "field", FIELDS[name], insert=insert)


def _numbers_above(known: Known, line: int) -> Iterator[str]:
    row = line - 2
    while row > 0 and known.drawn.inside[row] == "figure":
        name = known.source.row(row).lstrip()[1:].partition(":")[0]
        if name.isdigit():
            yield name
        row -= 1


def _value(known: Known, found: Spot) -> Iterable[Entry]:
    match found.about:
        case "zone":
            return known.listed("zones", "zone")
        case "switch":
            return known.listed("switches", "switch")
        case "friction":
            return calculations.frictions()
        case "do":
            return known.shared_stages()
        case "go-to":
            return known.steps()
        case "exit":
            return (Entry(name, "word") for name in EXITS)
        case "origin":
            return (Entry(name.strip(), "word", insert=name) for name in ORIGINS)
        case "hands":
            return (Entry(n, "word", HANDS[n], insert="live " if n == "live" else f"{n} - ") for n in LEVELS)
        case "clear-of" | "live":
            return _unnamed(known.sources(), found.before)
    return ()
