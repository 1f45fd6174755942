"""What a check has come to, as every report takes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from kilter.diagnostic import Diagnostic, Severity
from kilter.model.library import Library
from kilter.source import Source


@dataclass(frozen=True)
class Gone:
    """An entry of a baseline whose finding is no longer there."""

    rule: str
    path: str
    line: int
    """Of the baseline file."""


@dataclass(frozen=True)
class Debt:
    """Which old findings a baseline puts off."""

    file: str
    put_off: int
    gone: tuple[Gone, ...] = ()


@dataclass(frozen=True)
class Checked:
    """Findings in order of place, with what a report may need to tell of them."""

    findings: tuple[Diagnostic, ...] = ()
    paths: tuple[str, ...] = ()
    """Every file that was checked, also those with nothing to say."""
    sources: Mapping[str, Source] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    """Path to what the document calls itself, see `name_of`."""
    site_url: str = ""
    """Address of the published site, empty where there is none."""
    debt: Debt | None = None

    def join(self, other: Checked) -> Checked:
        """Two libraries in one report."""
        return Checked(
            self.findings + other.findings,
            self.paths + other.paths,
            {**self.sources, **other.sources},
            {**self.names, **other.names},
            self.site_url or other.site_url,
        )

    def without(self, findings: frozenset[int], debt: Debt) -> Checked:
        """The same with the findings at these positions put off."""
        kept = tuple(f for n, f in enumerate(self.findings) if n not in findings)
        return replace(self, findings=kept, debt=debt)

    @property
    def worst(self) -> Severity | None:
        return max((f.severity for f in self.findings), default=None)


def name_of(library: Library, path: str) -> str:
    """`number lft-120` or `profile egret-2`, which a renamed file keeps; the path where it has neither."""
    document, reading = library.documents.get(path), library.readings.get(path)
    if document is not None:
        return f"{'profile' if document.is_profile else 'number'} {document.key}"
    if reading is not None and reading.claims is not None:
        kind, name = reading.claims
        return f"{'profile' if kind == 'equipment' else 'number'} {name.casefold()}"
    return f"file {path}"
