"""Where a reader writes down what it could not read."""

from __future__ import annotations

from dataclasses import dataclass, field

from kilter.diagnostic import Diagnostic, Fix, error, warning
from kilter.source import Source, Span


@dataclass
class Notes:
    """One file being read and the findings so far."""

    source: Source
    found: list[Diagnostic] = field(default_factory=list)

    def error(self, rule: str, message: str, span: Span, help: str = "", fixes: tuple[Fix, ...] = ()) -> None:
        self.found.append(error(rule, message, span, help, fixes=fixes))

    def warning(
        self, rule: str, message: str, span: Span, help: str = "", fixes: tuple[Fix, ...] = ()
    ) -> None:
        self.found.append(warning(rule, message, span, help, fixes=fixes))
