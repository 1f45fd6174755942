"""Lighthouse on one page, if npm is there: accessibility, best practices, performance.

    python -m tests.bench.lighthouse

asks it about the largest demo page, about the same page while a run is under way on it, and about the search.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from tests.bench.packed import packed
from tests.publish.site_browser import ARGUMENTS, CHROMIUM
from tests.publish.site_frame import ROOT, build_site
from tests.run.hand import PHONE, Hand

VERSION = "12.8.2"
AIMS = {"performance": 90, "accessibility": 95, "best-practices": 95}


def lighthouse(address: str, folder: Path, profile: Path | None = None) -> str:
    """A line with the marks and the aims, or why there is none. Installs into `folder` only.

    `profile` is that of a browser which has been on the page: what it keeps there stays.
    """
    if shutil.which("npm") is None:
        return "lighthouse: SKIPPED, there is no npm on this machine"
    install = ["npm", "install", "--no-save", "--prefix", str(folder), f"lighthouse@{VERSION}"]
    done = subprocess.run(install, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        return f"lighthouse: SKIPPED, npm could not install it: {done.stderr.strip()[-300:]}"
    out = folder / "lighthouse.json"
    command = [
        str(folder / "node_modules/.bin/lighthouse"), address, "--quiet", "--output=json", f"--output-path={out}",
        f"--only-categories={','.join(AIMS)}", "--chrome-flags=--headless=new --no-sandbox --disable-gpu",
    ]  # fmt: skip
    if profile is not None:
        command[-1] += f" --user-data-dir={profile}"
        command.append("--disable-storage-reset")
    environment = {**os.environ, "CHROME_PATH": str(CHROMIUM)}
    ran = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
    if ran.returncode != 0:
        return f"lighthouse: FAILED: {ran.stderr.strip()[-600:]}"
    found = json.loads(out.read_text(encoding="utf-8"))
    marks = {name: round(100 * found["categories"][name]["score"]) for name in AIMS}
    said = ", ".join(f"{name} {mark} (aim {AIMS[name]})" for name, mark in marks.items())
    failing = [
        a["id"] for a in found["audits"].values() if a["score"] == 0 and a["scoreDisplayMode"] == "binary"
    ]
    missed = [name for name, mark in marks.items() if mark < AIMS[name]]
    return f"lighthouse: {said}; {'MISSED ' + ', '.join(missed) if missed else 'all met'}; failing audits: {failing or 'none'}"


def under_way(address: str, profile: Path) -> None:
    """Begin a run on the page and stand at its first step, in a browser that keeps it."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch_persistent_context(
            str(profile), executable_path=str(CHROMIUM), args=ARGUMENTS, **PHONE
        )
        page = opened.pages[0]
        page.goto(address)
        hand = Hand(page)
        hand.begin()
        hand.cautions()
        opened.close()


def main() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder, site = Path(place), build_site(ROOT, Path(place) / "site")
        with packed(site) as base:
            under_way(f"{base}str-110.html", folder / "profile")
            for name, address, profile in (
                ("procedure page", "str-110.html", None),
                ("the same, a run under way", "str-110.html#run", folder / "profile"),
                ("search", "search.html", None),
            ):
                print(f"{name:<26} {lighthouse(base + address, folder, profile)}", flush=True)


if __name__ == "__main__":
    main()
