"""Training modules beside the files that are checked: what a changed step there touches is said also of a part.

A module is looked at only if its text names a document that is checked, or one on a machine that is checked; the
others stay unread, so that checking one document of a thousand takes no longer.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from kilter.check.module import ModuleContext
from kilter.check.rules.training.step_changed import changed_steps
from kilter.diagnostic import Diagnostic
from kilter.model.base import fold
from kilter.model.library import Library
from kilter.model.training import split_reference


def touched_modules(library: Library, checked: Collection[str]) -> Iterator[Diagnostic]:
    """That a step of a checked file has changed since a module, which is not checked itself, confirmed it."""
    documents = [d for path in checked if (d := library.documents.get(path)) is not None]
    numbers = {fold(d.key) for d in documents if not d.is_profile}
    machines = {fold(d.key) for d in documents if d.is_profile}
    if not numbers and not machines:
        return
    for path in _modules(library, checked):
        wanted = _taught(library, _text(library, path), numbers, machines)
        if not wanted:
            continue
        _read(library, path)
        module = library.modules.get(path)
        if module is None:
            continue
        context = ModuleContext(library, module)
        named = (r for r in module.front.covers if fold(split_reference(r)[0]) in wanted)
        covered = {c.key: c for reference in named for c in context.find(reference)}
        changed = {k: c for k, c in covered.items() if c.document.path in checked or c.owner.path in checked}
        yield from changed_steps(context, changed)


def _modules(library: Library, checked: Collection[str]) -> list[str]:
    waiting = {path for path, claim in library.waiting.items() if claim.module}
    return sorted((waiting | set(library.modules)) - set(checked))


def _read(library: Library, path: str) -> None:
    own = library.waiting.get(path)
    if own is not None:
        library.read_waiting(lambda claim: claim is own)


def _text(library: Library, path: str) -> str:
    try:
        return library.file_of(path).read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""


def _taught(library: Library, text: str, numbers: set[str], machines: set[str]) -> set[str]:
    """Numbers of checked documents, and of documents on checked machines, that a module's text names."""
    said = set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", text.casefold()))
    found = numbers & said
    if machines:
        known = {fold(d.key): path for path, d in library.documents.items() if not d.is_profile}
        known |= {c.name: path for path, c in library.waiting.items() if not c.profile and not c.module}
        found |= {n for n in said & known.keys() if _on(_text(library, known[n]), machines)}
    return found


def _on(text: str, machines: set[str]) -> bool:
    match = re.search(r"^equipment[ \t]*:[ \t]*[\"']?([^\"'\n#]+)", text, re.MULTILINE)
    return match is not None and fold(match[1].strip()) in machines
