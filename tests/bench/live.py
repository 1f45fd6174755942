"""How long from saving a file to seeing it in a browser, in a library of many documents?

    python -m tests.bench.live [--count 1000] [--edits 20]

The server runs in a process of its own. Each edit changes one sentence; the clock runs from the end of the write
until the open page in headless Chromium holds the new words and has been painted. Then a whole `kilter build`
of the same library is timed in the same run, so that the ratio says something on any machine.
"""

from __future__ import annotations

import argparse
import re
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.library import write_library
from tests.publish.site_browser import browser

SEEN = """(words) => new Promise((done) => {
  const painted = () => requestAnimationFrame(() => requestAnimationFrame(() => done(Date.now())));
  const look = () => document.getElementById('content').textContent.includes(words) && (seer.disconnect(), painted());
  const seer = new MutationObserver(look);
  seer.observe(document.body, { subtree: true, childList: true, characterData: true });
  look();
})"""
"""Waits in the page; the clock of page and script is the same machine's."""


def memory(pid: int) -> tuple[float, float]:
    """Memory of a process now and at its highest, MB."""
    status = Path(f"/proc/{pid}/status").read_text()
    now, peak = (re.search(rf"{name}:\s+(\d+) kB", status) for name in ("VmRSS", "VmHWM"))
    return int(now[1]) / 1e3, int(peak[1]) / 1e3


def started(folder: Path) -> tuple[subprocess.Popen, str, float]:
    """A server, its address, and how many seconds it took to be ready."""
    begun = time.perf_counter()
    command = [sys.executable, "-m", "kilter", "serve", "--port", "0"]
    server = subprocess.Popen(command, cwd=folder, stdout=subprocess.PIPE, text=True)
    line = server.stdout.readline()
    return server, line.split()[0], time.perf_counter() - begun


def timed_edits(page, file: Path, edits: int, old: str) -> list[float]:
    """Seconds from each save until the new words are painted."""
    text, took = file.read_text(encoding="utf-8"), []
    for n in range(edits):
        words = f"Mark {n} of {file.stem}."
        page.evaluate(f"window.seen = ({SEEN})({words!r}); 0")
        file.write_text(text.replace(old, f"{old} {words}", 1), encoding="utf-8")
        saved = time.time()
        took.append(page.evaluate("window.seen") / 1000 - saved)
        time.sleep(0.4)
    return took


def told(name: str, took: list[float]) -> float:
    middle = statistics.median(took)
    print(f"{name:<34} median {middle:.3f} s, worst {max(took):.3f} s, {len(took)} edits")
    return middle


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--count", type=int, default=1000)
    arguments.add_argument("--edits", type=int, default=20)
    arguments.add_argument("--no-build", action="store_true", help="leave out the whole build")
    n = arguments.parse_args()
    with tempfile.TemporaryDirectory() as name, browser() as chromium:
        folder = Path(name)
        write_library(folder, n.count)
        server, address, ready = started(folder)
        print(f"{n.count} documents: ready after {ready:.1f} s, {memory(server.pid)[0]:.0f} MB")
        try:
            page = chromium.new_page(viewport={"width": 1280, "height": 900})
            document = sorted((folder / "procedures").rglob("ben-*.md"))[0]
            page.goto(f"{address}{document.stem}.html")
            page.wait_for_selector("#live-state.on")
            time.sleep(2)
            middle = told(
                "a procedure, its page open", timed_edits(page, document, n.edits, "Push the boom:")
            )
            profile = document.with_name("profile.md")
            told("its profile, the same page open", timed_edits(page, profile, n.edits, "Push the boom"))
            page.goto(f"{address}by-number.html")
            page.wait_for_selector("#live-state.on")
            print(f"with the list of all documents asked for: {memory(server.pid)[0]:.0f} MB")
            print(f"peak {memory(server.pid)[1]:.0f} MB")
        finally:
            server.send_signal(signal.SIGINT)
            server.wait(timeout=20)
        if not n.no_build:
            begun = time.perf_counter()
            subprocess.run(
                [sys.executable, "-m", "kilter", "build", "--quiet"],
                cwd=folder,
                capture_output=True,
                check=False,
            )
            whole = time.perf_counter() - begun
            print(f"a whole build: {whole:.1f} s; a save is seen in 1/{whole / middle:.0f} of it")


if __name__ == "__main__":
    main()
