"""Findings as JUnit XML, for build servers: a suite for each document, a case for each rule that speaks.

A case fails where the exit code would: by an error, with `strict` by anything. What does not fail is told
in the case's output. A document with nothing to say has one case, which passes.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from kilter.diagnostic import Diagnostic, Severity
from kilter.report.checked import Checked
from kilter.report.text import TextReport

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 (fifth edition, production 2) allows in no document, not even escaped."""
FAULT = "tool-fault"
CLEAN = "nothing to mend"


def render(checked: Checked, strict: bool = False) -> str:
    """The whole report; same findings, same bytes."""
    root = Element("testsuites", name="kilter check")
    by_path: dict[str, list[Diagnostic]] = {path: [] for path in sorted(set(checked.paths))}
    for found in checked.findings:
        by_path.setdefault(found.span.path, []).append(found)
    text = TextReport(checked.sources, colour=False)
    for path, findings in by_path.items():
        _suite(root, path, findings, text, strict)
    for key in ("tests", "failures", "errors"):
        root.set(key, str(sum(int(suite.get(key, "0")) for suite in root)))
    ElementTree.indent(root)
    body = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'


def _suite(root: Element, path: str, findings: list[Diagnostic], text: TextReport, strict: bool) -> None:
    suite = SubElement(root, "testsuite", name=clean(path))
    by_rule: dict[str, list[Diagnostic]] = {}
    for found in findings:
        by_rule.setdefault(f"{found.code} {found.rule}".strip(), []).append(found)
    for name, alike in sorted(by_rule.items()):
        _case(suite, path, name, alike, text, strict)
    if not by_rule:
        SubElement(suite, "testcase", name=CLEAN, classname=clean(path))
    suite.set("tests", str(len(suite)))
    suite.set("failures", str(sum(case.find("failure") is not None for case in suite)))
    suite.set("errors", str(sum(case.find("error") is not None for case in suite)))


def _case(
    suite: Element, path: str, name: str, findings: list[Diagnostic], text: TextReport, strict: bool
) -> None:
    case = SubElement(suite, "testcase", name=clean(name), classname=clean(path))
    bad = [f for f in findings if strict or f.severity is Severity.ERROR]
    if bad:
        kind = "error" if bad[0].rule == FAULT else "failure"
        trouble = SubElement(case, kind, type=str(bad[0].severity), message=clean(_headline(bad)))
        trouble.text = clean(text.render(bad))
    told = [f for f in findings if f not in bad]
    if told:
        SubElement(case, "system-out").text = clean(text.render(told))


def _headline(findings: list[Diagnostic]) -> str:
    more = len(findings) - 1
    return findings[0].message + (f" (and {more} more)" if more else "")


def clean(text: str) -> str:
    """With U+FFFD for signs that XML can't hold."""
    return _NOT_XML.sub("\ufffd", text)
