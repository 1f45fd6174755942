"""The guide's own examples: what its commands print, and what the check says of its texts."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from kilter.cli import main
from kilter.publish.site.guide import GuidePage, guide_files

FENCE = re.compile(r"^(?P<tick>`{3,})(?P<info>[^`\n]*)\n(?P<text>.*?)^(?P=tick)[ ]*$", re.M | re.S)
WIDE = "example"


@dataclass(frozen=True)
class Fence:
    """One fenced block of a page of the guide."""

    page: str
    info: tuple[str, ...]
    text: str
    line: int

    @property
    def id(self) -> str:
        return f"{self.page}-{self.line}"


def page(name: str) -> GuidePage:
    return next(p for p in guide_files() if p.name == name)


def fences(page: GuidePage) -> Iterator[Fence]:
    """Every fenced block of a page, in order."""
    for m in FENCE.finditer(page.markdown):
        yield Fence(
            page.name, tuple(m["info"].split()), m["text"], page.markdown.count("\n", 0, m.start()) + 1
        )


def commands(console: str) -> Iterator[tuple[list[str], list[str]]]:
    """Each command of a terminal block with the lines that it is said to print."""
    for part in re.split(r"^\$ ", console, flags=re.M)[1:]:
        first, *lines = part.rstrip("\n").split("\n")
        yield shlex.split(first), lines


def matches(expected: list[str], printed: list[str]) -> bool:
    """Line for line; `...` stands for any number of lines."""
    parts = [re.escape(line) + "\n" if line.strip() != "..." else "(?:.*\n)*?" for line in expected]
    return re.fullmatch("".join(parts), "".join(f"{line}\n" for line in printed)) is not None


def put(fence: Fence, folder: Path) -> None:
    """Write the file that a block shows, or set its lines above the one that it ends with."""
    file = folder / fence.info[2]
    file.parent.mkdir(parents=True, exist_ok=True)
    if fence.info[1] == "file":
        file.write_text(fence.text, encoding="utf-8")
        return
    text, last = file.read_text(encoding="utf-8"), fence.text.rstrip("\n").rsplit("\n", 1)[1]
    assert text.count(f"\n{last}\n") == 1, f"{fence.id}: `{last}` is not once in {file.name}"
    file.write_text(text.replace(f"\n{last}\n", f"\n{fence.text}", 1), encoding="utf-8")


def run(words: list[str]) -> int:
    assert words[0] == "kilter"
    return main(words[1:])
