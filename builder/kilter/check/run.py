"""Runs the rules over a library and sorts what they say."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import lru_cache, partial
from typing import TypeVar

from kilter import parallel
from kilter.check.cause import with_cause
from kilter.check.flow.told import Told, told
from kilter.check.rule import Context, Rule, all_rules, checking_rules, find_rule, names_in, rule_named
from kilter.diagnostic import Diagnostic, Severity, did_you_mean, error, nearest, warning
from kilter.model.document import Allowance, Document
from kilter.model.library import Library
from kilter.model.training import Module
from kilter.read.cures import replaced
from kilter.source import Span

_Under = TypeVar("_Under")
"""A document or a training module under check."""


@dataclass
class Report:
    """Findings by the path of the document they belong to."""

    found: dict[str, list[Diagnostic]] = field(default_factory=dict)
    """What the document itself has, also where the place is in its profile."""
    contexts: dict[str, Context] = field(default_factory=dict)
    told: dict[str, Told] = field(default_factory=dict)
    """What pages need of the energy states, where it was asked for."""
    beside: list[Diagnostic] = field(default_factory=list)
    """What a checked document touches in training modules that are not checked themselves."""

    def add(self, path: str, findings: Iterable[Diagnostic]) -> None:
        self.found.setdefault(path, []).extend(findings)

    def all(self) -> list[Diagnostic]:
        """Every finding once, in order of place."""
        return sorted(
            dict.fromkeys(d for each in (*self.found.values(), self.beside) for d in each),
            key=lambda d: d.sort_key,
        )

    def errors(self, path: str) -> list[Diagnostic]:
        return [d for d in self.found.get(path, []) if d.severity is Severity.ERROR]

    @property
    def failed(self) -> bool:
        return any(d.severity is Severity.ERROR for each in self.found.values() for d in each)


def check_library(library: Library, only: set[str] | None = None, tell: bool = False) -> Report:
    """Check every document, or `only` those of the given paths; `tell` also what pages need of the states."""
    report = Report()
    wanted = set(library.sources) if only is None else only
    for path in sorted(wanted):
        report.add(path, map(_coded, library.readings[path].findings))
        document = library.documents.get(path)
        if document is not None:
            report.contexts[path] = Context(library, document, library.profile_of(document))
        report.add(path, module_findings(library, path))
    found_in = parallel.each(partial(_one, tell=tell), list(report.contexts.values()))
    for path, (findings, states) in zip(report.contexts, found_in, strict=True):
        report.add(path, findings)
        if states is not None:
            report.told[path] = states
    library.read_rivals()
    for found in findings_between(library):
        if found.span.path in wanted or (only is None and found.span.path not in library.sources):
            report.add(found.span.path, [found])
    for path, findings in report.found.items():
        report.found[path] = finished(library.documents.get(path) or library.modules.get(path), findings)
    if only is not None:
        report.beside = _beside(library, wanted)
    return report


def _beside(library: Library, checked: set[str]) -> list[Diagnostic]:
    from kilter.check.touched import touched_modules

    said = [(library.modules[d.span.path], d) for d in map(_coded, touched_modules(library, checked))]
    return [
        d
        for module, d in said
        if not any(_holds(a, d, module) for a in module.allowances if _refused(a) is None)
    ]


def findings_between(library: Library) -> list[Diagnostic]:
    """What is wrong only because of another document of the library."""
    checks = [r.check_library for r in checking_rules() if r.check_library is not None]
    return [_coded(found) for check in checks for found in check(library)]


def findings_within(library: Library, path: str, context: Context | None) -> list[Diagnostic]:
    """What reading and the rules say of one file, nothing taken out yet."""
    read = list(map(_coded, library.readings[path].findings))
    return read + (check_document(context) if context is not None else module_findings(library, path))


def module_findings(library: Library, path: str) -> list[Diagnostic]:
    """What the rules say of a training module; nothing of any other file."""
    module = library.modules.get(path)
    if module is None:
        return []
    from kilter.check.module import ModuleContext

    context = ModuleContext(library, module)
    found: list[Diagnostic] = []
    for rule in _module_rules():
        assert rule.check_module is not None
        found.extend(_guarded(rule.name, rule.check_module, context, module.first_row_span))
    return list(map(_coded, found))


def finished(document: Document | Module | None, findings: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Findings of one file without doubles and what its comments allow, in order of place."""
    kept = _without_style_of_blanks(list(findings))
    if document is not None:
        kept = _allowed(document, kept)
    return sorted(dict.fromkeys(with_cause(kept)), key=lambda d: d.sort_key)


def _without_style_of_blanks(findings: list[Diagnostic]) -> list[Diagnostic]:
    """How a sentence is written is not told of one whose words are still missing."""
    blank = {d.span.line for d in findings if d.rule == "blank-left"}
    style = names_in("writing") if blank else frozenset()
    return [d for d in findings if d.rule not in style or d.span.line not in blank]


def _one(context: Context, tell: bool) -> tuple[list[Diagnostic], Told | None]:
    found = check_document(context)
    faulty = any(d.severity is Severity.ERROR for d in found)
    return found, told(context.analysis) if tell and not faulty else None


def check_document(context: Context) -> list[Diagnostic]:
    """All findings of the rules that look at one document."""
    found: list[Diagnostic] = []
    for rule in _document_rules():
        assert rule.check is not None
        found.extend(_guarded(rule.name, rule.check, context, context.document.first_row_span))
    place = context.document.first_row_span
    found.extend(_guarded("the energy analysis", lambda c: c.analysis.findings, context, place))
    return list(map(_coded, found))


def _guarded(
    name: str, check: Callable[[_Under], Iterable[Diagnostic]], context: _Under, place: Span
) -> list[Diagnostic]:
    """What a check says. A fault of the tool itself is an error too: what was not checked is not accepted."""
    try:
        return list(check(context))
    except Exception as trouble:
        message = f"the tool itself failed in {name}: {type(trouble).__name__}: {trouble}"
        help = "the document is not accepted; please report this with the file"
        return [error("tool-fault", message, place, help)]


@lru_cache(maxsize=1)
def _document_rules() -> tuple[Rule, ...]:
    return tuple(r for r in checking_rules() if r.check is not None)


@lru_cache(maxsize=1)
def _module_rules() -> tuple[Rule, ...]:
    return tuple(r for r in checking_rules() if r.check_module is not None)


def _coded(found: Diagnostic) -> Diagnostic:
    rule = rule_named(found.rule)
    return found.with_code(rule.code) if rule else found


def _allowed(document: Document | Module, findings: list[Diagnostic]) -> list[Diagnostic]:
    """Findings without those that a comment allows, and with what is wrong about the comments."""
    kept = list(findings)
    whole = bool(document.allowances) and not any(map(_unread, kept))
    for allowance in document.allowances:
        refused = _refused(allowance)
        if refused is not None:
            kept.append(_coded(refused))
            continue
        let_pass = [d for d in kept if _holds(allowance, d, document)]
        if not let_pass:
            # where something is missing or could not be read, it may yet have something to say
            help, cure = "delete the comment", replaced("delete the comment", allowance.whole, "", whole)
            message = f"`{allowance.rule}` is allowed here but has nothing to say"
            kept.append(_coded(warning("unused-allowance", message, allowance.span, help, fixes=cure)))
        kept = [d for d in kept if d not in let_pass]
    return kept


def _unread(found: Diagnostic) -> bool:
    rule = all_rules().get(found.rule)
    return found.severity is Severity.ERROR and rule is not None and rule.family == "syntax"


def _refused(allowance: Allowance) -> Diagnostic | None:
    rule = find_rule(allowance.rule)
    if rule is None:
        near, message = nearest(allowance.rule, all_rules()), f"no rule is called `{allowance.rule}`"
        cure = replaced(f"write `{near}`", allowance.rule_span, near) if near and _allowable(near) else ()
        help = did_you_mean(allowance.rule, all_rules())
        return error("bad-allowance", message, allowance.span, help, fixes=cure)
    if rule.safety or rule.family == "syntax":
        what = "is part of the proof about energy" if rule.safety else "is about reading the file"
        message = f"`{rule.name}` {what}: it can't be allowed away"
        return error("bad-allowance", message, allowance.span, "delete the comment and mend the step")
    return None


def _allowable(name: str) -> bool:
    return not all_rules()[name].safety and all_rules()[name].family != "syntax"


def _holds(allowance: Allowance, found: Diagnostic, document: Document | Module) -> bool:
    first, last = allowance.rows
    named = allowance.rule.lower() in (found.rule, found.code.lower())
    return named and found.span.path == document.path and first <= found.span.line <= last
