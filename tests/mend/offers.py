"""Every fix that the examples of the rule pages and the cases of bad input offer, and what comes of making it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.check.pages import examples, library_of
from tests.test_cases import CASES, _lay_out

from kilter.check.rule import all_rules
from kilter.check.workspace import Workspace
from kilter.diagnostic import Diagnostic, Fix
from kilter.mend.apply import apply

Said = Counter[tuple[str, str]]


@dataclass(frozen=True)
class Text:
    """One example or case."""

    name: str
    page: str | None
    """The example's text; None for a case."""
    case: Path | None = None

    def workspace(self, folder: Path) -> Workspace:
        """Laid out below a folder and read."""
        root = folder / "procedures"
        root.mkdir()
        if self.page is not None:
            library_of(self.page, folder)
        else:
            assert self.case is not None
            _lay_out(self.case, root)
        return Workspace(root, base=root)


def texts() -> list[Text]:
    pages = [Text(e.id, e.text) for rule in all_rules().values() for e in examples(rule) if e.fails]
    numbered = [Text(f"{n}-{t.name}", t.page) for n, t in enumerate(pages)]
    return numbered + [Text(c.name, None, c) for c in CASES]


def everything(workspace: Workspace) -> list[Diagnostic]:
    found = dict.fromkeys(d for path in workspace.paths() for d in workspace.findings(path))
    return sorted(found, key=lambda d: d.sort_key)


def said(findings: list[Diagnostic]) -> Said:
    """Rule and message, wherever it stands: rows move."""
    return Counter((d.rule, d.message) for d in findings)


@dataclass(frozen=True)
class Outcome:
    """One finding's fix, made by itself."""

    found: Diagnostic
    fix: Fix
    made: bool
    gone: bool
    """Whether the finding is no longer there."""
    brought: Said
    """What is said now and was not before, but for the blanks."""
    blanks: int
    """Blanks more than before."""
    unread: bool
    """Whether a file that could not be read before is read now, so that it is looked at for the first time."""
    before: Said
    after: tuple[Diagnostic, ...]


def raw_texts(workspace: Workspace) -> dict[str, str]:
    found = {}
    for path in workspace.paths():
        try:
            found[path] = workspace.library.files[path].read_bytes().decode("utf-8")
        except (OSError, UnicodeDecodeError):
            continue
    return found


def outcomes(workspace: Workspace) -> Iterator[Outcome]:
    """Make each fix of each finding alone; the workspace is as before afterwards."""
    before, raw = everything(workspace), raw_texts(workspace)
    read = set(workspace.library.documents)
    for found in before:
        for fix in found.fixes:
            done = apply(raw, [fix])
            changed = [p for p in raw if done.texts[p] != raw[p]]
            for path in changed:
                workspace.write(workspace.library.files[path], done.texts[path])
            after = everything(workspace)
            new = said(after) - said(before)
            blanks = sum(n for (rule, _), n in new.items() if rule == "blank-left")
            yield Outcome(
                found=found,
                fix=fix,
                made=bool(done.made) and bool(changed),
                gone=said(after)[found.rule, found.message] < said(before)[found.rule, found.message],
                brought=Counter({k: n for k, n in new.items() if k[0] != "blank-left"}),
                blanks=blanks,
                unread=bool(set(workspace.library.documents) - read),
                before=said(before),
                after=tuple(after),
            )
            for path in changed:
                workspace.let_go(workspace.library.files[path])
