"""How fast questions and papers are made, beside the reading of the documents they are made from.

    python -m tests.bench.training [--papers 200]

The bank is that of the demo library without the questions that check copies of a document; those are timed apart,
once without what is kept on the disk and once with it. Papers are of 20 questions, each of another serial.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from tests.training.question_library import DEMO, module_of

from kilter.publish.training.questions import bank, paper
from kilter.read.library import read_library

T = TypeVar("T")


def timed(work: Callable[[], T]) -> tuple[float, T]:
    """Seconds of processor time, and what came of it."""
    start = time.process_time()
    found = work()
    return time.process_time() - start, found


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--papers", type=int, default=200)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "procedures"
        shutil.copytree(DEMO, root)
        (root.parent / "mkdocs.yml").write_text("site_name: bench\n", encoding="utf-8")
        reading, library = timed(lambda: read_library(root, base=root.parent))
        numbers = [d.front.number for _, d in sorted(library.documents.items()) if not d.is_profile]
        context = module_of(library, numbers)
        made, questions = timed(lambda: bank(context, missing=False))
        first, whole = timed(lambda: bank(context))
        again, _ = timed(lambda: bank(context))
        front = context.module.front
        drawn, _ = timed(lambda: [paper(questions, front, "A", n) for n in range(given.papers)])
    print(f"reading {len(numbers)} documents        {reading:6.2f} s")
    print(f"{len(questions)} questions            {made:6.2f} s  {made / reading:5.1f} x the reading")
    print(f"{len(whole)} with missing controls {first:6.2f} s  {first / reading:5.1f} x, kept {again:.2f} s")
    print(
        f"papers of 20 a second      {given.papers / drawn:6.0f}    one is {drawn / given.papers / reading:.3f} x the reading"
    )
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
