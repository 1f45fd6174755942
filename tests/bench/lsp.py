"""How long after a change are its findings on the screen, without the pause that is waited for the writer?

    python -m tests.bench.lsp [--changes 60]

Milliseconds from sending a change of a procedure of about 40 steps to having its findings, the server's pause taken
off; the ratio is to a fresh check of the same file (reading, rules and proof) in this process, in the same run.
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
import time
from pathlib import Path

from tests.bench.energy import long_procedure
from tests.bench.library import PROFILE
from tests.lsp.client import Client

from kilter.check.run import check_library
from kilter.model.library import Library
from kilter.read.document import read_bytes

PAUSE = 60
"""Milliseconds: the server's own default."""


def fresh(texts: dict[str, str], path: str) -> float:
    """Milliseconds of a fresh check of one file; the profile is read but not checked."""
    library = Library(Path("procedures"))
    started = time.perf_counter()
    for name, text in texts.items():
        library.add(read_bytes(name, text.encode()))
    check_library(library, {path})
    return (time.perf_counter() - started) * 1000


def latencies(folder: Path, text: str, changes: int) -> list[float]:
    """Milliseconds for each of so many changes, one letter of a sentence each."""
    file = folder / "procedures" / "bench.md"
    at = text.index("Turn screw 12 once.")
    found = []
    with Client([folder], pause=PAUSE) as client:
        client.open(file)
        client.wait(file, 1)
        for n in range(changes):
            changed = text[:at] + "x" * (n % 2 + 1) + text[at:]
            started = time.perf_counter()
            version = client.change(file, changed)
            found.append((client.wait(file, version) - started) * 1000 - PAUSE)
            time.sleep(0.02)
    return found


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--changes", type=int, default=60)
    changes = arguments.parse_args().changes
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "procedures").mkdir()
        text = long_procedure(25)
        texts = {"profile.md": PROFILE.format(id="egret-1"), "bench.md": text}
        for path, content in texts.items():
            (folder / "procedures" / path).write_text(content, encoding="utf-8")
        took = sorted(latencies(folder, text, changes))
        checks = [fresh(texts, "bench.md") for _ in range(7)]
    median, late = statistics.median(took), took[int(len(took) * 0.95)]
    once = statistics.median(checks)
    print(f"{text.count(chr(10) + '### ')} steps, {changes} changes, pause of {PAUSE} ms taken off")
    print(f"change to findings: median {median:.1f} ms, 95 of 100 within {late:.1f} ms")
    print(f"fresh check of the file: {once:.1f} ms; ratio {median / once:.2f}")


if __name__ == "__main__":
    main()
