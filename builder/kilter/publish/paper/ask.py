"""What `kilter card verify` does."""

from __future__ import annotations

from pathlib import Path

from kilter.outcome import FINDINGS, OK, CouldNotRunError
from kilter.publish.paper.code import NotACodeError, Said, read_code, shown
from kilter.publish.paper.run import prepared
from kilter.publish.paper.scan import read_file
from kilter.publish.paper.verify import Register, State, Verdict, register

FILES = (".pdf", ".png", ".jpg", ".jpeg", ".webp", ".tif", ".tiff", ".bmp", ".gif", ".heic")


def verify(library: Path, asked: list[str]) -> int:
    """Say of each code or file what it is; 0 only where all are current."""
    papers = [paper for one in asked for paper in _papers(one)]
    known = register(prepared(library))
    states = [_tell(where, said, known) for where, said in papers]
    return OK if all(state is State.CURRENT for state in states) else FINDINGS


Paper = tuple[str, Said]
"""Where a code was found, empty if it was typed, and what it says."""


def _papers(asked: str) -> list[Paper]:
    file = _file(asked)
    if file is not None:
        return _in_file(file)
    try:
        return [("", read_code(asked))]
    except NotACodeError as trouble:
        raise CouldNotRunError(str(trouble)) from None


def _file(asked: str) -> Path | None:
    """The file of that name; None for a code. Raises CouldNotRunError for a name of a file that is not there."""
    try:
        file = Path(asked)
        if file.is_file():
            return file
        if file.is_dir():
            raise CouldNotRunError(f"{shown(asked)}: is a folder; name a picture or PDF in it")
    except (OSError, ValueError):
        return None
    if asked.lower().endswith(FILES) and "?" not in asked:
        raise CouldNotRunError(f"{shown(asked)}: no such file")
    return None


def _in_file(file: Path) -> list[Paper]:
    read = read_file(file)
    found: dict[Said, list[int]] = {}
    others = []
    for seen in read.codes:
        try:
            pages = found.setdefault(read_code(seen.text), [])
        except NotACodeError:
            others.append(seen.text)
            continue
        if seen.page not in pages:
            pages.append(seen.page)
    if not found:
        more = f"; the code in it says `{shown(others[0])}`, which is on no card" if others else ""
        raise CouldNotRunError(
            f"{file}: no card's QR code found in it{more}; take the photo closer, straight and without glare"
        )
    return [(f"{file}{_where(pages, read.pages)}", said) for said, pages in found.items()]


def _where(pages: list[int], of: int) -> str:
    if of == 1:
        return ""
    runs: list[list[int]] = []
    for page in pages:
        if runs and page == runs[-1][-1] + 1:
            runs[-1].append(page)
        else:
            runs.append([page])
    listed = ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
    return f", page{'s' * (len(pages) > 1)} {listed} of {of}"


def _tell(where: str, said: Said, known: Register) -> State:
    verdict: Verdict = known.judge(said)
    if where:
        print(where)
    first, *more = verdict.lines
    print(f"{verdict.state.value.upper()}: {first}")
    for line in more:
        print(f"  {line}")
    return verdict.state
