"""What does a phone load and wait for, against the theme's own search on the same words in the same run?

    python -m tests.bench.phone [--count 10000] [--theme-count 1000] [--rounds 3] [--no-lighthouse]

Bytes are those of the network, from a server that packs text (gzip); "all to first result" is the page and the search
together, because the theme loads its index with the page. The first result is asked for as soon as the page stands. Throttled figures have the index in the page,
because slowing the processor does not reach a worker. Plain Material takes minutes for 10,000 pages, so its corpus
is smaller unless `--theme-count` says otherwise; ours is then measured on that size too, and the ratio is of equals.
Lighthouse comes from npm into a folder of its own; without npm it is left out, and that is said.
Nothing here is a test: times on a shared machine say little, ratios of one run say more.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.bench.library import write_library, write_plain
from tests.bench.lighthouse import lighthouse
from tests.bench.packed import SENT, packed
from tests.publish.site_browser import ARGUMENTS, CHROMIUM

PAGE = "ben-00001.html"
SLOW = 6
QUERIES = [
    "jerks under load", "hums but stays put", "change the actuator", "won't lift", "gas strut", "BEN-00042", "ben42",
    "TV-4711", "22 Nm", "16 ft-lb", "limit swich", "actuatr jerks", "lamp dark docked", "prove zero boom", "roller",
    "drive belt drops at the end", "E57", "clevis", "brake lead egret", "torque wrench",
]  # fmt: skip


def build(folder: Path) -> Path:
    """`mkdocs build` of a library; returns its site."""
    command = [sys.executable, "-m", "mkdocs", "build", "-q", "-d", "site"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise SystemExit(f"mkdocs build: exit {done.returncode}\n{done.stderr[-2000:]}")
    return folder / "site"


@contextmanager
def opened(chromium: Any, address: str, slow: bool, settled: bool = True) -> Iterator[Any]:
    """A page on a phone; slowed ones have no worker. What it loads is counted in SENT."""
    SENT.clear()
    context = chromium.new_context(viewport={"width": 360, "height": 780})
    page = context.new_page()
    if slow:
        page.add_init_script("delete window.Worker")
        session = context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOW})
    page.goto(address, wait_until="networkidle" if settled else "domcontentloaded")
    try:
        yield page
    finally:
        context.close()


ASK = """([words, box, row, before]) => new Promise((done, failed) => {
  setTimeout(() => failed(new Error(`no answer to ${words}`)), 120000);
  const input = document.querySelector(box), began = performance.now();
  const look = () => {
    const ready = row ? document.querySelector(row) : document.querySelector('.found').dataset.answers === words.trim();
    if (ready) { observer.disconnect(); requestAnimationFrame(() => done(performance.now() - began)); }
  };
  const observer = new MutationObserver(look);
  observer.observe(document.body, { subtree: true, childList: true, attributes: true });
  if (before) document.querySelector(before)?.click();
  input.focus();
  input.value = words;
  for (const kind of ['input', 'keyup']) input.dispatchEvent(new Event(kind, { bubbles: true }));
})"""
"""Milliseconds from the last key until the list is drawn."""


def ours(chromium: Any, base: str, slow: bool) -> dict[str, float]:
    with opened(chromium, base + PAGE, slow) as page:
        view = sum(SENT)
        page.evaluate(ASK, [QUERIES[0], "#q", ".found li", ""])
        page.wait_for_load_state("networkidle")
        searched = sum(SENT) - view
        times = [page.evaluate(ASK, [words, "#q", "", ""]) for words in QUERIES[1:]]
    with opened(chromium, base + PAGE, slow, settled=False) as page:
        first = page.evaluate(ASK, [QUERIES[0], "#q", ".found li", ""])
    return {"view": view, "bytes": view + searched, "first": first, **spread(times)}


ASK_THEIRS = """([words, begin]) => new Promise((done, failed) => {
  const box = document.querySelector('.md-search__input'), began = performance.now();
  const meta = () => document.querySelector('.md-search-result__meta').textContent.trim();
  const before = meta();
  if (begin) document.querySelector('[for=__search]').click();
  box.focus();
  box.value = words;
  box.dispatchEvent(new Event('keyup', { bubbles: true }));
  const look = () => {
    const now = performance.now() - began;
    if (meta() !== before && (words === '') === !/match/.test(meta())) done(now);
    else if (now > 60000) failed(new Error(`no answer to ${words}: ${meta()}`));
    else requestAnimationFrame(look);
  };
  look();
})"""
"""The same for the theme's box, whose line of totals changes with every answer."""


def theirs(chromium: Any, base: str) -> dict[str, float]:
    with opened(chromium, base + "index.html", False) as page:
        view = sum(SENT)
        page.evaluate(ASK_THEIRS, [QUERIES[0], True])
        page.wait_for_load_state("networkidle")
        searched = sum(SENT) - view
        times = []
        for words in QUERIES[1:12]:
            page.evaluate(ASK_THEIRS, ["", False])
            times.append(page.evaluate(ASK_THEIRS, [words, False]))
    with opened(chromium, base + "index.html", False, settled=False) as page:
        first = page.evaluate(ASK_THEIRS, [QUERIES[0], True])
    return {"view": view, "bytes": view + searched, "first": first, **spread(times)}


def spread(times: list[float]) -> dict[str, float]:
    return {"p50": statistics.median(times), "p95": statistics.quantiles(times, n=20)[-1]}


def best(rounds: list[dict[str, float]]) -> dict[str, float]:
    return {key: min(each[key] for each in rounds) for key in rounds[0]}


def told(name: str, found: dict[str, float]) -> None:
    print(
        f"{name:<44} first view {found['view'] / 1e3:7.1f} kB   all to first result {found['bytes'] / 1e3:8.1f} kB"
        f" {found['first']:7.0f} ms   query p50 {found['p50']:6.0f} ms  p95 {found['p95']:6.0f} ms"
    )


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--count", type=int, default=10_000)
    arguments.add_argument("--theme-count", type=int, default=1000)
    arguments.add_argument("--rounds", type=int, default=3)
    arguments.add_argument("--no-lighthouse", action="store_true")
    n = arguments.parse_args()
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        sites = {}
        for name, count in (("large", n.count), ("equal", n.theme_count)):
            (Path(folder) / name).mkdir()
            write_library(Path(folder) / name, count)
            sites[name] = build(Path(folder) / name)
        (Path(folder) / "plain").mkdir()
        write_plain(Path(folder) / "plain", n.theme_count)
        sites["plain"] = build(Path(folder) / "plain")
        for name, count in (("large", n.count), ("equal", n.theme_count)):
            with packed(sites[name]) as base:
                for slow in (True, False):
                    label = f"ours, {count} documents, {f'page, {SLOW}x slower' if slow else 'worker, full speed'}"
                    mine = best([ours(chromium, base, slow) for _ in range(n.rounds)])
                    told(label, mine)
        with packed(sites["plain"]) as base:
            stock = best([theirs(chromium, base) for _ in range(n.rounds)])
        told(f"theme's own, {n.theme_count} documents, full speed", stock)
        ratios = ", ".join(f"{key} {mine[key] / stock[key]:.3f}" for key in ("bytes", "first", "p50"))
        print(f"ours / theme's own, {n.theme_count} documents, workers at full speed: {ratios}")
        chromium.close()
        if not n.no_lighthouse:
            with packed(sites["large"]) as base:
                print(lighthouse(base + PAGE, Path(folder)))


if __name__ == "__main__":
    main()
