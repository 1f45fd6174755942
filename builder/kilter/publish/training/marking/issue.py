"""What was handed out: the papers as they stood, whatever the library says today."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kilter.outcome import CouldNotRunError
from kilter.publish.training.issued import papers_of
from kilter.publish.training.packages.data import FORM


@dataclass(frozen=True)
class Asked:
    """A question as it stood in a paper."""

    id: str
    wire: str
    fact: str
    hash: str
    """Of the step it stands on."""
    choices: tuple[str, ...]
    key: int
    safety: bool
    objectives: tuple[str, ...]

    @property
    def pool(self) -> tuple[str, str]:
        """What answers are counted under: the fact and its hash, so that a changed fact starts a new count."""
        return self.fact or self.id, self.hash


@dataclass(frozen=True)
class Form:
    """One paper."""

    code: str
    form: str
    questions: tuple[Asked, ...]


@dataclass(frozen=True)
class Issue:
    """The papers of one module and revision."""

    module: str
    revision: str
    digest: str
    pass_mark: int
    """Percent."""
    objectives: dict[str, str]
    papers: tuple[Form, ...]

    def paper(self, code: str) -> Form | None:
        return next((p for p in self.papers if p.code.casefold() == code.casefold()), None)


def read_issue(file: Path) -> Issue:
    """From `papers.json` of a build, or from what `kilter training issue` keeps. Raises CouldNotRunError."""
    try:
        data = papers_of(file) if file.suffix == ".zip" else json.loads(file.read_text(encoding="utf-8"))
        if data["schema"] != FORM:
            raise CouldNotRunError(f"{file}: its form is `{data['schema']}`, this Kilter reads `{FORM}`")
        return issue_of(data)
    except FileNotFoundError:
        raise CouldNotRunError(
            f"{file}: no such file; `kilter build` writes it as papers.json with the module"
        ) from None
    except (ValueError, KeyError, TypeError, AttributeError) as trouble:
        raise CouldNotRunError(f"{file}: no papers of a module: {trouble!r}") from None


def issue_of(data: dict[str, Any]) -> Issue:
    return Issue(
        data["module"],
        data["revision"],
        data["digest"],
        int(data["passMark"]),
        dict(data["objectives"]),
        tuple(Form(p["code"], p["form"], tuple(map(_asked, p["questions"]))) for p in data["papers"]),
    )


def _asked(data: dict[str, Any]) -> Asked:
    return Asked(
        data["id"],
        data["wire"],
        data["fact"],
        data["cite"]["hash"],
        tuple(c["text"] for c in data["choices"]),
        int(data["key"]),
        bool(data["safety"]),
        tuple(data["objectives"]),
    )


def find_paper(issues: Sequence[Issue], code: str) -> tuple[Issue, Form] | None:
    """By code; where only one paper was handed out, no code is needed."""
    found = [(issue, p) for issue in issues for p in issue.papers]
    if not code.strip():
        return found[0] if len(found) == 1 else None
    return next(((i, p) for i, p in found if p.code.casefold() == code.strip().casefold()), None)
