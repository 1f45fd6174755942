"""Lighthouse on one page, if npm is there: accessibility, best practices, performance."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

from tests.publish.site_browser import CHROMIUM

VERSION = "12.8.2"
AIMS = {"performance": 90, "accessibility": 95, "best-practices": 95}


def lighthouse(address: str, folder: Path) -> str:
    """A line with the marks and the aims, or why there is none. Installs into `folder` only."""
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
