"""Findings as SARIF 2.1.0 (OASIS Standard, 27 March 2020), for code hosts and viewers.

Same findings, same bytes: nothing of the machine or the time is in it (see the standard's Appendix F),
so paths count from a base whose own place is not said (section 3.14.14 allows that).
"""

from __future__ import annotations

import json
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from kilter import __version__
from kilter.check.rule import Rule, rule_named
from kilter.diagnostic import Diagnostic, Fix, Hop, Severity
from kilter.report.checked import Checked
from kilter.report.fingerprint import KIND, fingerprints
from kilter.source import Span

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
BASE = "%SRCROOT%"
LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.HINT: "note"}
FAULT = "tool-fault"


def render(checked: Checked) -> str:
    """The whole log, one run."""
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": [_Run(checked).data()]}
    return json.dumps(log, ensure_ascii=False, indent=2) + "\n"


class _Run:
    def __init__(self, checked: Checked) -> None:
        self.checked = checked
        found = {f.rule: rule for f in checked.findings if (rule := rule_named(f.rule)) is not None}
        self.rules = sorted(found.values(), key=lambda rule: rule.code)
        self.rule_index = {rule.name: n for n, rule in enumerate(self.rules)}
        self.artifact_index = {path: n for n, path in enumerate(sorted(set(checked.paths)))}

    def data(self) -> dict[str, Any]:
        marks = fingerprints(self.checked)
        return {
            "tool": {"driver": self._driver()},
            "invocations": [self._invocation()],
            "originalUriBaseIds": {BASE: {"description": {"text": "The folder in which the check was run."}}},
            "artifacts": [self._artifact(path) for path in self.artifact_index],
            "columnKind": "unicodeCodePoints",
            "newlineSequences": ["\r\n", "\n", "\r"],
            "results": [self._result(f, m) for f, m in zip(self.checked.findings, marks, strict=True)],
        }

    def _driver(self) -> dict[str, Any]:
        rules = [_rule(rule, self.checked.site_url) for rule in self.rules]
        return {"name": "Kilter", "version": __version__, "rules": rules}

    def _invocation(self) -> dict[str, Any]:
        """A fault of the tool itself is no finding about the document: the run was not whole."""
        faults = [f for f in self.checked.findings if f.rule == FAULT]
        told = [{"level": "error", "message": {"text": escaped(f.message)}} for f in faults]
        return {"executionSuccessful": not faults, **({"toolExecutionNotifications": told} if told else {})}

    def _artifact(self, path: str) -> dict[str, Any]:
        return {"location": place(path), "mimeType": "text/markdown", "roles": ["analysisTarget"]}

    def _result(self, found: Diagnostic, mark: str) -> dict[str, Any]:
        index = self.rule_index.get(found.rule)
        result: dict[str, Any] = {
            "ruleId": found.code or found.rule,
            **({} if index is None else {"ruleIndex": index}),
            "level": LEVELS[found.severity],
            "message": {"text": _message(found)},
            "locations": [self._location(found.span)],
            "partialFingerprints": {KIND: mark},
        }
        if found.related:
            result["relatedLocations"] = [
                {"id": n, **self._location(label.span, label.text)}
                for n, label in enumerate(found.related, 1)
            ]
        if found.way:
            result["codeFlows"] = [self._flow(found)]
        if found.fixes:
            result["fixes"] = [self._fix(fix) for fix in found.fixes]
        return result

    def _location(self, span: Span, text: str = "") -> dict[str, Any]:
        index = self.artifact_index.get(span.path)
        artifact = {**place(span.path), **({} if index is None else {"index": index})}
        message = {"message": {"text": escaped(text)}} if text else {}
        return {"physicalLocation": {"artifactLocation": artifact, "region": region(span)}, **message}

    def _flow(self, found: Diagnostic) -> dict[str, Any]:
        """The way in, stop by stop, and the finding's own place at its end."""
        stops = [{"location": self._stop(hop)} for hop in found.way]
        end = {"location": self._location(found.span, found.message), "importance": "essential"}
        return {"threadFlows": [{"locations": [*stops, end]}]}

    def _stop(self, hop: Hop) -> dict[str, Any]:
        words = f"{hop.step}: {hop.answer}" if hop.answer else hop.step
        if hop.skipped:
            words = f"{words} (after {hop.skipped} step{'' if hop.skipped == 1 else 's'} left out here)"
        return self._location(hop.span, words) if hop.span else {"message": {"text": escaped(words)}}

    def _fix(self, fix: Fix) -> dict[str, Any]:
        """`alone` says whether it may be applied with nobody choosing; a reader that does not know it asks."""
        paths = dict.fromkeys(edit.span.path for edit in fix.edits)
        changes = [
            {
                "artifactLocation": place(path),
                "replacements": [
                    {"deletedRegion": region(e.span), "insertedContent": {"text": e.text}}
                    for e in fix.edits
                    if e.span.path == path
                ],
            }
            for path in paths
        ]
        return {
            "description": {"text": escaped(fix.title)},
            "artifactChanges": changes,
            "properties": {"alone": fix.alone, "leavesBlank": fix.leaves_blank},
        }


def place(path: str) -> dict[str, Any]:
    """Below the base a relative reference, percent-encoded; elsewhere a file address."""
    if PurePath(path).is_absolute():
        return {"uri": PurePath(path).as_uri()}
    return {"uri": quote(path, safe="/", errors="surrogateescape"), "uriBaseId": BASE}


def region(span: Span) -> dict[str, int]:
    """Columns count characters; the end is the column just after, as in the standard (section 3.30.8)."""
    return {
        "startLine": span.line,
        "startColumn": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }


def escaped(text: str) -> str:
    """Braces are placeholders in a message unless they are doubled (section 3.11.5)."""
    return text.replace("{", "{{").replace("}", "}}")


def _message(found: Diagnostic) -> str:
    return escaped("\n".join(part for part in (found.message, found.why, found.help) if part))


def _rule(rule: Rule, site_url: str) -> dict[str, Any]:
    """A rule from its page: the first paragraph says what it is about."""
    address = f"{site_url.rstrip('/')}/rule-{rule.name}.html"
    page = rule.page.strip()
    about = " ".join(page.split("\n\n")[1].split())
    first = about.split(". ")[0].rstrip(".") + "."
    return {
        "id": rule.code,
        "name": rule.name,
        "shortDescription": {"text": first},
        "fullDescription": {"text": about},
        **({"helpUri": address} if site_url else {}),
        "help": {"text": page, "markdown": page},
        "defaultConfiguration": {"level": LEVELS[rule.severity]},
        "properties": {"tags": [rule.family]},
    }
