"""Old findings that a library came with and that may wait: what is new is still seen.

Only style, values, pictures and cards can be put off. What the proof about energy stands on, signal-word
panels and reading errors never are, whatever the file says. A baseline is heeded by `kilter check`
alone; what is published does not know of it.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Annotated, Any, Literal

import yaml
from pydantic import StringConstraints, ValidationError

from kilter.check.rule import rule_named
from kilter.diagnostic import Diagnostic
from kilter.model.base import Value
from kilter.outcome import CouldNotRunError
from kilter.report.checked import Checked, Debt, Gone
from kilter.report.fingerprint import fingerprints

VERSION: Literal["1"] = "1"
NEVER = frozenset({"energy", "panels", "syntax"})
CURE = "write it again with `kilter check --write-baseline`"


class Entry(Value):
    """One finding that is put off."""

    fingerprint: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
    rule: Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
    path: Annotated[str, StringConstraints(min_length=1)]


class Baseline(Value):
    """The whole file."""

    version: Literal["1"]
    findings: tuple[Entry, ...]


def may_wait(rule: str) -> bool:
    """Whether findings of a rule can be put off at all; those of an unknown rule can't."""
    known = rule_named(rule)
    return known is not None and not known.safety and known.family not in NEVER


def written(checked: Checked) -> str:
    """The baseline of all present findings that may wait, a line each; same findings, same bytes."""
    pairs = zip(checked.findings, fingerprints(checked), strict=True)
    rows = [_row(found, mark) for found, mark in pairs if may_wait(found.rule)]
    entries = ",\n".join(sorted(rows))
    return f'{{\n"version": "{VERSION}",\n"findings": [\n{entries}\n]\n}}\n'


def _row(found: Diagnostic, mark: str) -> str:
    row = {"path": found.span.path, "rule": found.rule, "fingerprint": mark}
    return json.dumps(row, ensure_ascii=False)


def write(file: Path, checked: Checked) -> int:
    """Write a baseline, whole or not at all; how many findings it puts off."""
    if file.is_dir():
        raise CouldNotRunError(f"{file}: is a folder; name a file to write")
    if file.exists():
        read(file)  # whatever else it is, it is not overwritten
    text = written(checked)
    aside = file.with_name(f".{file.name}.new")
    aside.write_text(text, encoding="utf-8", newline="\n")
    aside.replace(file)
    return sum(may_wait(f.rule) for f in checked.findings)


@dataclass(frozen=True)
class Read:
    """A baseline and the file it came from."""

    file: Path
    text: str
    entries: tuple[Entry, ...]

    @cached_property
    def lines(self) -> list[int]:
        """The 1-based line at which each entry begins, however the file is laid out."""
        return lines_of(self.text)

    def line(self, entry: int) -> int:
        return self.lines[entry] if entry < len(self.lines) else 1


def apply(baseline: Read, checked: Checked, whole: bool) -> Checked:
    """Leave out what the entries put off, each once; `whole` where the whole library was checked."""
    waiting = Counter((e.rule, e.fingerprint) for e in baseline.entries)
    out = set()
    for n, (found, mark) in enumerate(zip(checked.findings, fingerprints(checked), strict=True)):
        if waiting[(found.rule, mark)] > 0 and may_wait(found.rule):
            waiting[(found.rule, mark)] -= 1
            out.add(n)
    told = set(checked.paths)
    gone = []
    for n, entry in enumerate(baseline.entries):
        key = (entry.rule, entry.fingerprint)
        if waiting[key] > 0 and (whole or entry.path in told):
            waiting[key] -= 1
            gone.append(Gone(entry.rule, entry.path, baseline.line(n)))
    return checked.without(frozenset(out), Debt(baseline.file.as_posix(), len(out), tuple(gone)))


def read(file: Path) -> Read:
    """A baseline; raises CouldNotRunError with the place of what is wrong, and the cure."""
    try:
        text = file.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise CouldNotRunError(f"{file}: no such baseline; {CURE} {file}") from None
    except UnicodeDecodeError:
        raise CouldNotRunError(f"{file}:1:1: is no baseline: not UTF-8") from None
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as trouble:
        line, column = getattr(trouble, "lineno", 1), getattr(trouble, "colno", 1)
        said = getattr(trouble, "msg", "no value that can be read").lower()
        raise CouldNotRunError(f"{file}:{line}:{column}: is no baseline: not JSON: {said}") from None
    found = Read(file, text, _entries(file, text, data))
    _refuse_safety(found)
    return found


def _entries(file: Path, text: str, data: Any) -> tuple[Entry, ...]:
    try:
        return Baseline.model_validate(data).findings
    except ValidationError as trouble:
        first = trouble.errors()[0]
        loc = first["loc"]
        entry = loc[1] if len(loc) > 1 and isinstance(loc[1], int) else None
        line = 1 if entry is None else (lines_of(text)[entry:] or [1])[0]
        raise CouldNotRunError(f"{file}:{line}:1: {_told(loc, first['type'])}; {CURE}") from None


def _told(loc: tuple[str | int, ...], kind: str) -> str:
    """Pydantic's trouble in the words of somebody who has edited the file."""
    if loc[:1] == ("version",) and kind != "missing":
        return f'`version` is not "{VERSION}", the one that is known here'
    key = f"`{loc[-1]}`" if loc and isinstance(loc[-1], str) else "an entry" if loc else "the file"
    said = {"missing": "is missing", "extra_forbidden": "is no key of a baseline"}
    return f"{key} {said.get(kind, 'is not what it has to be')}"


def _refuse_safety(baseline: Read) -> None:
    """What can't be put off is not silently heeded nor silently passed over: somebody wrote it by hand."""
    for n, entry in enumerate(baseline.entries):
        if rule_named(entry.rule) is not None and not may_wait(entry.rule):
            raise CouldNotRunError(
                f"{baseline.file}:{baseline.line(n)}:1: `{entry.rule}` can't be put off: it is about safety "
                f"or about reading the file; delete the entry and mend {entry.path}"
            )


def lines_of(text: str) -> list[int]:
    """JSON is read as YAML here, because only that reader tells places."""
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        root = yaml.compose(text, Loader=loader)
    except yaml.YAMLError:
        return []
    pairs = root.value if isinstance(root, yaml.MappingNode) else []
    lists = [v for k, v in pairs if k.value == "findings" and isinstance(v, yaml.SequenceNode)]
    return [entry.start_mark.line + 1 for entry in lists[-1].value] if lists else []
