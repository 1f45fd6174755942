"""How fast the procedure card is made: many generated cards of 14 steps, each core its own process.

    python -m tests.bench.cards [--count 1000] [--rounds 1] [--kind procedure]

The library is read and checked first and does not count. Every process then makes its share with one kept compiler.
In the same run one process compiles a plain A5 page of the same words (no tags, no pictures, no rules of layout) with
typst alone, so that the ratio says something on any machine. Both rounds of cards must be the same bytes.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import multiprocessing
import os
import resource
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

import typst
from tests.bench.library import write_library

from kilter.publish.cards.family import KINDS, Kind, make
from kilter.publish.cards.glyphs import font_folder
from kilter.publish.prepare import prepare
from kilter.publish.view import DocumentView

PLAIN = """#set page(width: 148mm, height: 210mm, margin: 9mm)
#set text(font: "Atkinson Hyperlegible", size: 10pt)
#for line in json(bytes(sys.inputs.data)) [#par(line)]
"""


class Share(NamedTuple):
    """What one process came to."""

    seconds: float
    """Of the processor, from its first card to its last: other programs beside it do not count."""
    megabytes: float
    """Peak of the process."""
    before: float
    """Peak before its first card: the library, which it shares with the others."""
    digests: list[str]
    bytes: int


_views: list[DocumentView] = []


def peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


def work(given: tuple[str, int, int]) -> Share:
    """The cards of every `of`-th view."""
    name, first, of = given
    kind = kind_named(name)
    before, start, digests, size = peak(), time.process_time(), [], 0
    for view in _views[first::of]:
        made = make(kind, view)
        digests.append(hashlib.sha256(made).hexdigest())
        size += len(made)
    return Share(time.process_time() - start, peak(), before, digests, size)


def kind_named(name: str) -> Kind:
    return next(kind for kind in KINDS if kind.name == name and kind.made_of == "document")


def cards(name: str, processes: int) -> tuple[float, list[Share]]:
    """Wall seconds of all, and what each process came to."""
    start = time.perf_counter()
    with multiprocessing.get_context("fork").Pool(processes) as pool:
        shares = pool.map(work, [(name, n, processes) for n in range(processes)], chunksize=1)
    return time.perf_counter() - start, shares


def plain(count: int) -> float:
    """Seconds of the processor a page, of typst alone with a kept compiler.

    Like the cards it runs in a fork: typst starts threads, and a process that has some can't be forked any more.
    """
    with tempfile.TemporaryDirectory() as folder:
        template = Path(folder) / "plain.typ"
        template.write_text(PLAIN, encoding="utf-8")
        compiler = typst.Compiler(str(template), font_paths=[str(font_folder())], ignore_system_fonts=True)
        texts = [
            json.dumps([s.step.title for stage in view.stages for s in stage.steps])
            for view in _views[:count]
        ]
        start = time.process_time()
        for text in texts:
            compiler.compile(format="pdf", sys_inputs={"data": text})
        return (time.process_time() - start) / len(texts)


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--count", type=int, default=1000)
    arguments.add_argument("--rounds", type=int, default=1)
    arguments.add_argument(
        "--kind", default="procedure", choices=sorted({k.name for k in KINDS if k.made_of == "document"})
    )
    n = arguments.parse_args()
    cores = len(os.sched_getaffinity(0))
    with tempfile.TemporaryDirectory() as folder:
        _views.extend(prepare(write_library(Path(folder), n.count)).views)
        assert len(_views) == n.count, "every generated document is sound"
        steps = sum(len(stage.steps) for stage in _views[0].stages)
        with multiprocessing.get_context("fork").Pool(1) as pool:
            (bare,) = pool.map(plain, [200])
        digests = []
        for _ in range(n.rounds + 1):
            wall, shares = cards(n.kind, cores)
            digests.append([share.digests for share in shares])
            busy = sum(share.seconds for share in shares) / n.count
            print(f"{n.count} cards ({n.kind}) of {steps} steps in {cores} processes: {wall:.1f} s, ", end="")
            print(
                f"{wall / n.count * 1000:.1f} ms each; {busy * 1000:.1f} ms of the processor each, ", end=""
            )
            print(f"{busy / bare:.1f} times a plain page ({bare * 1000:.1f} ms)")
            for share in shares:
                print(
                    f"  peak {share.megabytes:.0f} MB, of which {share.before:.0f} MB before the first card"
                )
            print(f"  {sum(share.bytes for share in shares) / n.count / 1000:.0f} kB a card")
        print("all runs the same bytes:", all(d == digests[0] for d in digests))


if __name__ == "__main__":
    main()
