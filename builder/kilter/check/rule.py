"""What a rule is, and all rules there are.

A rule is a module below `rules/<family>/` and a page of the same name beside it. The module sets `CODE`
and `SEVERITY`; it has `check(context)` for one document, `check_module(context)` for one training module,
`check_library(library)` for all of them, or none of these when the reader or the energy analysis raises it. The page is documentation, help text and executed test.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from kilter.diagnostic import Diagnostic, Severity
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.library import Library

if TYPE_CHECKING:
    from kilter.check.flow import Analysis
    from kilter.check.module import ModuleContext


@dataclass(frozen=True)
class Context:
    """One document under check, with what it leans on."""

    library: Library
    document: Document
    profile: Document | None
    """The equipment profile it stands on; a profile stands on itself."""

    @property
    def equipment(self) -> ProfileFront | None:
        return self.profile.profile if self.profile is not None else None

    @cached_property
    def analysis(self) -> Analysis:
        """The energy states, computed once."""
        from kilter.check.flow import analyse

        return analyse(self.document, self.profile, self.library.settings.hold_words)


Check = Callable[[Context], Iterable[Diagnostic]]
LibraryCheck = Callable[[Library], Iterable[Diagnostic]]
ModuleCheck = Callable[["ModuleContext"], Iterable[Diagnostic]]


@dataclass(frozen=True)
class Rule:
    """A rule's identity and its functions."""

    code: str
    """For print and dictation; never used again for another rule."""
    name: str
    family: str
    severity: Severity
    """The gravest that it gives."""
    check: Check | None
    check_library: LibraryCheck | None
    check_module: ModuleCheck | None = None

    @property
    def page(self) -> str:
        """The Markdown of its page."""
        from importlib.resources import files

        module = self.name.replace("-", "_")
        return files(f"kilter.check.rules.{self.family}").joinpath(f"{module}.md").read_text(encoding="utf-8")

    @property
    def safety(self) -> bool:
        """Whether the proof about energy stands on it: such a rule can't be allowed away.

        An unknown source or a lost link is left out of the proof, so structure counts as well.
        """
        proof = self.family in ("structure", "panels") and self.severity is Severity.ERROR
        return self.family == "energy" or proof


@lru_cache(maxsize=1)
def _files() -> dict[str, Path]:
    """The module of every rule, found by walking the package; nothing is imported."""
    import kilter.check.rules as package

    below = (f for folder in package.__path__ for f in sorted(Path(folder).glob("*/*.py")))
    return {f.stem.replace("_", "-"): f for f in below if f.stem != "__init__"}


@cache
def rule_named(name: str) -> Rule | None:
    """The rule of exactly this name; only its own module is imported."""
    file = _files().get(name)
    if file is None:
        return None
    family = file.parent.name
    module = importlib.import_module(f"kilter.check.rules.{family}.{file.stem}")
    return Rule(
        code=module.CODE,
        name=name,
        family=family,
        severity=module.SEVERITY,
        check=getattr(module, "check", None),
        check_library=getattr(module, "check_library", None),
        check_module=getattr(module, "check_module", None),
    )


@lru_cache(maxsize=1)
def all_rules() -> dict[str, Rule]:
    """Every rule by name, in order of code."""
    found = [rule for name in _files() if (rule := rule_named(name)) is not None]
    return {rule.name: rule for rule in sorted(found, key=lambda r: r.code)}


@lru_cache(maxsize=1)
def checking_rules() -> tuple[Rule, ...]:
    """The rules that look at something themselves. Those whose file defines no check are not even imported."""
    names = [name for name, file in _files().items() if b"\ndef check" in file.read_bytes()]
    return tuple(rule for name in names if (rule := rule_named(name)) is not None)


def names_in(family: str) -> frozenset[str]:
    """The names of a family's rules."""
    return frozenset(name for name, file in _files().items() if file.parent.name == family)


def find_rule(word: str) -> Rule | None:
    """A rule by its name or its code, whatever the case."""
    word = word.strip().lower()
    found = rule_named(word)
    return found or next((r for r in all_rules().values() if word == r.code.lower()), None)
