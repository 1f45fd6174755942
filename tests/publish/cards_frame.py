"""A small library in memory, and ways to look into the cards made of it.

The energy states are made up here, so that the layout is tested with strips of every length
and stays independent of the energy analysis.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageDraw

from kilter.model.library import Library, Settings
from kilter.publish.view import DocumentView, view_of
from kilter.read.document import read_bytes

HASH = "0123456789abcdef" * 4
MM = 72 / 25.4
"""Points in a millimetre."""

PROFILE = """---
kind: equipment
id: heron-5
title: Test lift Heron 5
sources:
  mains: {kind: mains, lockable: true, word: danger, isolate: "Plug out, locked.", prove: "Tester, below 10 V."}
  spring: {kind: spring, word: warning, release: action, prove: "Pull the loop."}
none: [battery, capacitor, hydraulic, pneumatic, vacuum, gravity, heat, motion, pressure]
guards: [cover]
---
# Test lift Heron 5

## Make safe {shared}

### Lock the plug
Pull the plug and lock it: {isolates}`mains`.
"""

FRONT = """---
kind: {kind}
{task}number: {number}
revision: B
equipment: heron-5
title: {title}
writers: [RB]
{more}---
# {title}

"""


@dataclass(frozen=True)
class States:
    """Stands for an energy analysis."""

    entries: tuple[tuple[str, str], ...] = (("mains", "proved zero"), ("spring", "held"))

    @property
    def hands(self) -> dict[str, str]:
        return {}

    def strip(self, key: str) -> tuple[tuple[str, str], ...]:
        return self.entries[: len(key) % 3]

    def held(self, key: str) -> tuple[str, ...]:
        return ("mains",)

    def guards_off(self, key: str) -> tuple[str, ...]:
        return ("cover",)

    def proof_failed(self, key: str) -> bool:
        return True


def procedure(body: str, title: str = "Change the strut", number: str = "HRN-120", more: str = "") -> str:
    """The text of a procedure."""
    task = "task: replacement\n"
    return FRONT.format(kind="procedure", task=task, number=number, title=title, more=more) + body


def check(body: str, title: str = "Check the lift", number: str = "HRN-010", more: str = "") -> str:
    """The text of a pre-use check."""
    return FRONT.format(kind="pre-use-check", task="", number=number, title=title, more=more) + body


def view(
    folder: Path, text: str, profile: str = PROFILE, contact: str = "Workshop, telephone 2140"
) -> DocumentView:
    """The view of one document; its pictures stand in `folder`."""
    settings = Settings(contact=contact, site_url="https://repair.example/")
    library = Library(folder, settings=settings)
    for name, content in (("profile.md", profile), ("document.md", text)):
        reading = read_bytes(f"{folder.as_posix()}/{name}", content.encode("utf-8"))
        assert reading.document is not None, reading.findings
        library.add(reading)
    document = library.documents[f"{folder.as_posix()}/document.md"]
    return view_of(library, document, States(), HASH)  # type: ignore[arg-type]


def draw_picture(file: Path) -> None:
    """A picture of 400 x 300 with something on it."""
    picture = Image.new("RGB", (400, 300), "white")
    ImageDraw.Draw(picture).rectangle((60, 60, 340, 240), outline="black", width=4)
    picture.save(file)


def poppler(tool: str) -> str:
    """A program of poppler-utils; without it the test is skipped, but never on the build server."""
    found = shutil.which(tool)
    if found is None:
        assert not os.environ.get("CI"), f"{tool} is missing: install poppler-utils"
        pytest.skip(f"{tool} is missing: install poppler-utils to run this test")
    return found


def pages_text(pdf: bytes) -> list[str]:
    """The text of each page in the order in which it was drawn, without the joints of long words."""
    made = subprocess.run(
        [poppler("pdftotext"), "-raw", "-", "-"], input=pdf, capture_output=True, check=True
    )
    return made.stdout.decode("utf-8").replace("\u200b", "").split("\f")[:-1]


@dataclass(frozen=True)
class Word:
    """A word on a page; edges in mm from the upper left."""

    text: str
    page: int
    left: float
    top: float
    right: float
    bottom: float


def words(pdf: bytes) -> list[Word]:
    """Every word with its box."""
    made = subprocess.run(
        [poppler("pdftotext"), "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    space = "{http://www.w3.org/1999/xhtml}"
    found = []
    for number, page in enumerate(ElementTree.fromstring(made.stdout).iter(f"{space}page"), 1):
        for word in page.iter(f"{space}word"):
            box = [float(word.attrib[k]) / MM for k in ("xMin", "yMin", "xMax", "yMax")]
            found.append(Word(word.text or "", number, *box))
    return found


def structure(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    """Every element of the structure tree."""
    found, queue = [], [pdf.Root.StructTreeRoot]
    while queue:
        node = queue.pop()
        if isinstance(node, pikepdf.Array):
            queue += list(node)
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                found.append(node)
            if "/K" in node:
                queue.append(node.K)
    return found


def fonts(pdf: pikepdf.Pdf) -> set[str]:
    return {
        str(o.BaseFont)
        for o in pdf.objects
        if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/Font"
    }
