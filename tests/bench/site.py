"""How fast is the whole site, against plain mkdocs-material on the same words in the same run?

    python -m tests.bench.site [--count 1000] [--rounds 2]

Each build runs in a process of its own; its wall time, peak memory and output size are printed, then ratios.
Nothing here is a test: times on a shared machine say little, ratios of one run say more.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.library import write_library, write_plain

ROOT = Path(__file__).parent.parent.parent


def timed(command: list[str], folder: Path) -> tuple[float, float]:
    """Wall and CPU seconds of a command, its children's included."""
    before, started = used(), time.perf_counter()
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise SystemExit(f"{command}: exit {done.returncode}\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    return time.perf_counter() - started, used() - before


def used() -> float:
    """CPU seconds of all children so far."""
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def megabytes(folder: Path) -> float:
    return sum(f.stat().st_size for f in folder.rglob("*") if f.is_file()) / 1e6


def peak(command: list[str], folder: Path) -> float:
    """Peak memory of a command in MB (of the largest child so far, so call it for the smaller ones first)."""
    timed(command, folder)
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1e3


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--count", type=int, default=1000)
    arguments.add_argument("--rounds", type=int, default=2)
    n = arguments.parse_args()
    kilter, mkdocs = [sys.executable, "-m", "kilter"], [sys.executable, "-m", "mkdocs"]
    with tempfile.TemporaryDirectory() as folder:
        ours, plain, half = Path(folder) / "ours", Path(folder) / "plain", Path(folder) / "half"
        for place, count in ((ours, n.count), (half, n.count // 2)):
            place.mkdir()
            write_library(place, count)
        plain.mkdir()
        write_plain(plain, n.count)
        rows: dict[str, list[tuple[float, float]]] = {}
        for _ in range(n.rounds):
            rows.setdefault("check alone", []).append(timed([*kilter, "check", "procedures"], ours))
            rows.setdefault("check + site", []).append(timed([*mkdocs, "build", "-q", "-d", "site"], ours))
            rows.setdefault("check + site, half as many", []).append(
                timed([*mkdocs, "build", "-q", "-d", "site"], half)
            )
            rows.setdefault("plain Material, pruned", []).append(
                timed([*mkdocs, "build", "-q", "-d", "site"], plain)
            )
        for name, times in rows.items():
            wall, cpu = (min(t[k] for t in times) for k in (0, 1))
            print(f"{name:<30} wall {wall:6.2f} s   CPU {cpu:6.2f} s   best of {len(times)}")
        for k, kind in enumerate(("wall", "CPU")):
            best = {name: min(t[k] for t in times) for name, times in rows.items()}
            whole, stock = best["check + site"], best["plain Material, pruned"]
            fewer = best["check + site, half as many"]
            print(
                f"{kind:<4} check + site / plain Material {whole / stock:.2f} (aim: at most 0.60), ", end=""
            )
            print(f"check / (check + site) {best['check alone'] / whole:.2f}, ", end="")
            print(f"twice as many take {whole / fewer:.2f} times as long")
        print(
            f"site {megabytes(ours / 'site'):.1f} MB, plain {megabytes(plain / 'site'):.1f} MB, half {megabytes(half / 'site'):.1f} MB"
        )
        page = "ben-00001.html"
        sizes = [(p / "site" / page).stat().st_size for p in (half, ours)]
        print(f"one page: {sizes[0]} bytes in the half library, {sizes[1]} in the whole one")
        print(f"peak memory: check {peak([*kilter, 'check', 'procedures'], half):.0f} MB (half), ", end="")
        print(f"site {peak([*mkdocs, 'build', '-q', '-d', 'site'], ours):.0f} MB (whole)")


if __name__ == "__main__":
    main()
