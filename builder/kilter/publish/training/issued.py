"""Papers that were handed out, kept as they stood: a build makes new ones from the facts, an issue stays.

Each issue is a zip in the folder `training-issued` beside mkdocs.yml, to be kept with the library: the papers as data,
as they were printed, their keys and packages. Its name says module, revision, day, and the digest of what is asked.
The code on a paper is over all that it asks, so it leads to its issue whatever the documents say later.
"""

from __future__ import annotations

import json
import os
import re
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from kilter.model.base import fold
from kilter.model.training import TrainingFront
from kilter.outcome import CouldNotRunError
from kilter.publish.training.packages.wire import canonical, papers_digest
from kilter.publish.training.packages.write import PAPERS
from kilter.publish.training.packages.zipped import zipped
from kilter.publish.training.questions.model import Paper

FOLDER = "training-issued"
_NAME = re.compile(
    r"(?P<module>.+)-(?P<revision>[^-]+)-(?P<day>\d{4}-\d\d-\d\d)-(?P<digest>[0-9a-f]{8})\.zip", re.IGNORECASE
)
_KEPT = re.compile(r"papers\.json|paper-.*\.pdf|.*-scorm12\.zip")
"""Of what a build makes of a module: what people answer, and its keys."""


@dataclass(frozen=True)
class Issued:
    """One issue of a module's papers."""

    file: Path
    module: str
    revision: str
    day: date
    digest: str


def archive_of(root: Path) -> Path:
    """Where the issues of the library at `root` are kept."""
    root = root.absolute()
    home = next((p for p in (root, *root.parents) if (p / "mkdocs.yml").is_file()), root.parent)
    return home / FOLDER


def issues_in(folder: Path) -> tuple[Issued, ...]:
    """All issues, the oldest first; other files are let be."""
    found = []
    for file in sorted(folder.glob("*.zip")):
        if match := _NAME.fullmatch(file.name):
            day = date.fromisoformat(match["day"])
            found.append(Issued(file, match["module"], match["revision"], day, match["digest"].casefold()))
    return tuple(sorted(found, key=lambda i: (i.day, i.file.name)))


def of_module(issues: Sequence[Issued], front: TrainingFront) -> tuple[Issued, ...]:
    return tuple(i for i in issues if fold(i.module) == fold(front.number))


def papers_of(file: Path) -> dict[str, Any]:
    """The papers of an issue as data. Raises CouldNotRunError for a file that is none, or was changed."""
    try:
        with zipfile.ZipFile(file) as archive:
            broken = archive.testzip()
            if broken is not None:
                raise CouldNotRunError(f"{file}: `{broken}` in it is spoilt; take the file from your backup")
            found: dict[str, Any] = json.loads(archive.read(PAPERS))
            return found
    except (OSError, KeyError, ValueError, zipfile.BadZipFile) as trouble:
        raise CouldNotRunError(f"{file}: no issue of papers: {trouble}") from None


def issue(
    folder: Path, front: TrainingFront, papers: Sequence[Paper], built: Path, day: date
) -> tuple[Issued, bool]:
    """Keep what a build made of a module; also whether it is new. Raises CouldNotRunError where that is of another state."""
    files = _built(built, front, papers_digest(papers))
    digest = papers_digest(papers)
    same = [
        i for i in of_module(issues_in(folder), front) if i.digest == digest and i.revision == front.revision
    ]
    if same:
        return same[0], False
    file = folder / f"{front.number}-{front.revision}-{day.isoformat()}-{digest}.zip"
    _write(file, zipped(files, PAPERS))
    return Issued(file, front.number, front.revision, day, digest), True


def _built(built: Path, front: TrainingFront, digest: str) -> Mapping[str, bytes]:
    try:
        files = {f.name: f.read_bytes() for f in sorted(built.iterdir()) if _KEPT.fullmatch(f.name)}
        made = json.loads(files[PAPERS])
    except (OSError, KeyError, ValueError):
        raise CouldNotRunError(
            f"{built}: holds no papers of {front.number}; run `kilter build` first, print, then issue"
        ) from None
    if (made["revision"], made["digest"]) != (front.revision, digest):
        raise CouldNotRunError(
            f"{built}: its papers ({made['revision']}, {made['digest']}) are not what the documents give now "
            f"({front.revision}, {digest}); run `kilter build` and look at what you hand out"
        )
    return files


def _write(file: Path, data: bytes) -> None:
    """Whole or not at all, and never over an issue that is there."""
    aside = file.with_name(f".{file.name}-{os.getpid()}")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        aside.write_bytes(data)
        os.link(aside, file)
        aside.unlink()
    except OSError as trouble:
        aside.unlink(missing_ok=True)
        raise CouldNotRunError(f"{file}: can't be written: {trouble}") from None


def drift(issued: Issued, papers: Sequence[Paper]) -> str:
    """What a build says of an issue whose papers are not what the facts give now; empty where they are."""
    if issued.digest == papers_digest(papers):
        return ""
    then = {canonical(_asked(q)) for p in papers_of(issued.file)["papers"] for q in p["questions"]}
    now = {
        canonical([q.id, q.stem, sorted(c.text for c in q.choices), q.choices[q.key].text])
        for p in papers
        for q in p.questions
    }
    gone = len(then - now)
    what = (
        f"{gone} of {len(then)} questions are not asked so any more"
        if gone
        else "other forms or another order"
    )
    return (
        f"{issued.module} {issued.revision}: the papers issued on {issued.day.isoformat()} ({issued.digest}) are not what "
        f"the facts give now: {what}. They stay in {issued.file.parent.name}/{issued.file.name} and are marked by it; "
        f"print no more of them, and issue the new ones: `kilter training issue {issued.module}`"
    )


def _asked(question: Mapping[str, Any]) -> list[Any]:
    texts = [c["text"] for c in question["choices"]]
    return [question["id"], question["stem"], sorted(texts), texts[question["key"]]]
