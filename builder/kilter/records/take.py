"""`kilter records take` and `check`: from files to records that are sound and match their documents."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from kilter.diagnostic import Diagnostic, Severity, error, warning
from kilter.model.record import Record
from kilter.outcome import CouldNotRunError
from kilter.records.against import against
from kilter.records.code import BEGINS, NotACodeError, unpacked
from kilter.records.plans import Plans
from kilter.records.read import RULE, Taken, read_records
from kilter.source import MAX_BYTES, Source, Span

PICTURES = (".png", ".jpg", ".jpeg", ".webp", ".heic", ".pdf")
TEXTS = (".json", ".txt")


@dataclass
class Looked:
    """What some files hold."""

    sound: list[Record] = field(default_factory=list)
    findings: list[Diagnostic] = field(default_factory=list)
    sources: dict[str, Source] = field(default_factory=dict)
    files: int = 0
    plans: list[dict[str, object]] = field(default_factory=list)
    """Of the documents that records were held against."""

    @property
    def refused(self) -> bool:
        return any(f.severity is Severity.ERROR for f in self.findings)


def look(paths: Iterable[Path], plans: Plans, clock_was_set: bool = False) -> Looked:
    """Read and judge files and folders; nothing is written. A record with an error is not among the sound."""
    looked = Looked()
    for source in _sources(paths, looked):
        looked.files += 1
        looked.sources[source.path] = source
        taken, findings = read_records(source, clock_was_set)
        looked.findings += findings
        for one in taken:
            said = list(_judged(one, plans, looked))
            looked.findings += said
            if not any(f.severity is Severity.ERROR for f in said):
                looked.sound.append(one.record)
    looked.findings.sort(key=lambda f: f.sort_key)
    return looked


def _judged(taken: Taken, plans: Plans, looked: Looked) -> Iterator[Diagnostic]:
    record = taken.record
    plan = plans.of(record.document, record.hash)
    if plan is not None:
        looked.plans.append(plan)
        yield from against(taken, plan)
        return
    if not plans.knows(record.document):
        said = f"no document has the number `{record.document}` in this library"
        yield error(RULE, said, taken.span("document"), "say with --library where its library is")
        return
    said = f"can't be checked against its document: revision {record.revision} of {record.document} ({record.hash[:12]}) is not in this library"
    help = "it is taken as it is; `kilter records keep OUT` of the build that the phone had makes it known"
    yield warning(RULE, said, taken.span("hash"), help)


def _sources(paths: Iterable[Path], looked: Looked) -> Iterator[Source]:
    for path in paths:
        for file in _files(path):
            source = _source(file, looked)
            if source is not None:
                yield source


def _files(path: Path) -> list[Path]:
    if path.is_dir():
        inside = (f for f in path.rglob("*") if f.suffix.lower() in TEXTS and f.is_file())
        return sorted(f for f in inside if not any(p.startswith(".") for p in f.relative_to(path).parts))
    if not path.exists():
        raise CouldNotRunError(f"{path}: no such file or folder")
    return [path]


def _source(file: Path, looked: Looked) -> Source | None:
    """The JSON of a file, also of a code in it or of a picture of one."""
    name = file.as_posix()
    if file.suffix.lower() in PICTURES:
        return _unpacked(name, _seen(file), looked)
    if file.stat().st_size > MAX_BYTES:
        looked.findings.append(error(RULE, f"larger than {MAX_BYTES // 1_000_000} MB: no record", _top(name)))
        return None
    try:
        text = file.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        looked.findings.append(error(RULE, "not UTF-8: no record", _top(name)))
        return None
    return _unpacked(name, text.lstrip(), looked) if text.lstrip().startswith(BEGINS) else Source(name, text)


def _unpacked(name: str, text: str, looked: Looked) -> Source | None:
    try:
        return Source(name, unpacked(text))
    except NotACodeError as trouble:
        looked.findings.append(error(RULE, str(trouble), _top(name)))
        return None


def _seen(file: Path) -> str:
    """The text of the code in a picture; of several that of a record."""
    from kilter.publish.paper.scan import read_file

    codes = [seen.text for seen in read_file(file).codes]
    return next((text for text in codes if text.startswith(BEGINS)), codes[0] if codes else "")


def _top(name: str) -> Span:
    return Source(name, "").span(0, 0)
