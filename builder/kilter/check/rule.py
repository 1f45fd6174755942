"""What a rule is, and all rules there are.

A rule is a module below `rules/<family>/` and a page of the same name beside it. The module sets `CODE`
and `SEVERITY`; it has `check(context)` for one document, `check_library(library)` for all of them, or neither
when the reader or the energy analysis raises it. The page is documentation, help text and executed test.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

from kilter.diagnostic import Diagnostic, Severity
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.library import Library

if TYPE_CHECKING:
    from kilter.check.flow import Analysis


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

    @property
    def page(self) -> str:
        """The Markdown of its page."""
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
def all_rules() -> dict[str, Rule]:
    """Every rule by name, found by walking the package."""
    import kilter.check.rules as package

    found: dict[str, Rule] = {}
    for family in pkgutil.iter_modules(package.__path__):
        inner = importlib.import_module(f"{package.__name__}.{family.name}")
        for entry in pkgutil.iter_modules(inner.__path__):
            module = importlib.import_module(f"{inner.__name__}.{entry.name}")
            name = entry.name.replace("_", "-")
            found[name] = Rule(
                code=module.CODE,
                name=name,
                family=family.name,
                severity=module.SEVERITY,
                check=getattr(module, "check", None),
                check_library=getattr(module, "check_library", None),
            )
    return dict(sorted(found.items(), key=lambda item: item[1].code))


def find_rule(word: str) -> Rule | None:
    """A rule by its name or its code, whatever the case."""
    word = word.strip().lower()
    return next((r for r in all_rules().values() if word in (r.name, r.code.lower())), None)
