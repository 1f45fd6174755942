"""What a new file leans on: the profile, and a number or id that nobody has yet."""

from __future__ import annotations

import re
from collections.abc import Container
from pathlib import Path

from kilter.check.rules.structure.reserved_number import RESERVED_ADDRESSES, RESERVED_BEGINNINGS
from kilter.diagnostic import Severity, did_you_mean
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ID_PATTERN, NUMBER_PATTERN
from kilter.model.library import Library
from kilter.outcome import CouldNotRunError
from kilter.read.blanks import BLANK_MARK
from kilter.read.library import is_document, library_root

LONGEST = 40
"""Letters of a number or id, as the front matter has it."""


def one_line(words: str | None) -> str:
    """Words without line breaks; empty for none."""
    return " ".join((words or "").split())


def profile_for(library: Library, wanted: str | None) -> Document:
    """The profile that was asked for, or the only one there is; it has no blanks left."""
    profiles = library.profiles
    if wanted is None and len(profiles) == 1 and not _unread(library):
        document = next(iter(profiles.values()))
    elif wanted is None or fold(wanted) not in profiles:
        _refuse_unreadable(library, wanted)
        missing = f"no equipment profile `{wanted}`" if wanted else "which equipment? --equipment ID"
        help = did_you_mean(wanted or "", [p.profile.id for p in profiles.values()])
        raise CouldNotRunError(f"{missing}; {help if profiles else 'write one first: kilter new equipment'}")
    else:
        document = profiles[fold(wanted)]
    _refuse_blanks(library, document.path)
    return document


def _unread(library: Library) -> list[str]:
    """Profiles that have an id but can't be read."""
    return [
        p for p, r in library.readings.items() if r.document is None and (r.claims or ("",))[0] == "equipment"
    ]


def _refuse_unreadable(library: Library, wanted: str | None) -> None:
    """A profile is there, but something in it is so wrong that it has no contents: say what, and where."""
    for path in _unread(library):
        claims = library.readings[path].claims
        if wanted is not None and claims is not None and fold(claims[1]) != fold(wanted):
            continue
        _refuse_blanks(library, path)
        errors = [d for d in library.readings[path].findings if d.severity is Severity.ERROR]
        first = min(errors, key=lambda d: d.sort_key, default=None)
        where = f"{first.span}: {first.message}" if first else f"{path}: can't be read"
        raise CouldNotRunError(f"{where}; mend the profile first: kilter check {path}")


def _refuse_blanks(library: Library, path: str) -> None:
    """A procedure takes its words from the profile: blanks there would come up again in every procedure."""
    rows = library.sources[path].lines
    end = next((n for n, row in enumerate(rows) if n and row.rstrip() == "---"), len(rows))
    for n, row in enumerate(rows[:end], 1):
        at = row.find(BLANK_MARK)
        if at >= 0:
            blank = row[at : row.find("]", at) + 1 or len(row)]
            raise CouldNotRunError(
                f"{path}:{n}:{at + 1}: a blank of the profile is not filled in: {blank}; "
                "fill it in first, the new document takes its words from there"
            )


def free_number(library: Library, number: str | None) -> str:
    """The number, if it has the form of one and nobody has it."""
    if not number:
        raise CouldNotRunError("the document's number is missing: --number LFT-140")
    if not re.fullmatch(NUMBER_PATTERN, number) or len(number) > LONGEST:
        help = "letters, digits and single hyphens, 40 at most, such as LFT-140"
        raise CouldNotRunError(f"`{number}` is no number: {help}")
    if fold(number) in RESERVED_ADDRESSES or fold(number).startswith(RESERVED_BEGINNINGS):
        raise CouldNotRunError(f"number `{number}` is the address of a page of the site; choose another")
    taken = {key: d.path for key, d in library.numbers.items()} | {
        m.key: m.path for m in library.modules.values()
    }
    if fold(number) in taken:
        where = taken[fold(number)]
        raise CouldNotRunError(
            f"number `{number}` is taken by {where}; the next free one is {_next(number, taken)}"
        )
    return number


def free_id(library: Library, id: str | None) -> str:
    """The id of new equipment, empty if none was given."""
    if not id:
        return ""
    if not re.fullmatch(ID_PATTERN, id) or len(id) > LONGEST:
        help = "lower-case letters, digits and single hyphens, such as egret-2"
        raise CouldNotRunError(f"`{id}` is no id: {help}")
    taken = library.profiles
    if fold(id) in taken:
        where = taken[fold(id)].path
        raise CouldNotRunError(f"id `{id}` is taken by {where}; the next free one is {_next(id, taken)}")
    return id


def _next(name: str, taken: Container[str]) -> str:
    """The same name with the next number at its end that nobody has; leading zeros stay."""
    match = re.fullmatch(r"(.*?)(\d+)", name)
    stem, digits = match.groups() if match else (f"{name}-", "1")
    n = int(digits) + 1
    while fold(f"{stem}{n:0{len(digits)}d}") in taken:
        n += 1
    return f"{stem}{n:0{len(digits)}d}"


def unseen(file: Path) -> str:
    """Why the library will not see a file of this name; empty if it will."""
    file = file.absolute()
    root = library_root(_there(file))
    if not file.name.endswith(".md"):
        return "its name does not end in .md"
    if root.name != "procedures" or not file.is_relative_to(root):
        return "it does not stand below a folder `procedures`"
    return "" if is_document(file, root) else "its name is not that of a document (hidden, or the front page)"


def _there(file: Path) -> Path:
    """A folder above the file that exists, or would once it is written."""
    named = next((p for p in file.parents if p.name == "procedures"), None)
    folder = named or file.parent
    while named is None and not folder.exists():
        folder = folder.parent
    return folder
