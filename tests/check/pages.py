"""The examples of the rule pages, and the frame that a short example is set into.

A page opens with `# K206 duplicate-step`, a paragraph, `## Mend it`, a paragraph, and then its examples:
fenced blocks with the info string `kilter fails` or `kilter passes`. What an example is, its first line tells:

- `=== name.md ===`: several files, each below such a line.
- `---`: one whole file, `example.md`.
- `# Title`: the whole text below the frame's front matter.
- `key: value`: keys that take the place of those of the frame's front matter: of its equipment profile
  if one of them is a key that only a profile has, else of its procedure.
- `## Stage`: stages, set after the frame's make-safe stage, which also takes the side cover off.
- `### Step`: steps, set into the frame's stage `## Work`.
- anything else (text, fields, a panel): what stands in the frame's step `### Do the work`.

The frame is a sound procedure on a sound profile, `rig.md`: BENCH-1 on the equipment `test-rig` with the sources
battery, capacitor, boom, spring and heat, the guard `side cover`, the zone `side`, the switch `door switch`,
the tests `full run` and `lamp test`, and the shared stage `isolate-everything`. Tools `torque wrench` and
`voltmeter` and the part `actuator` are declared. Whole files lean on `rig.md` too, unless one of them is a
profile. Beside the files stand `picture.png` (800 x 600 pixels), `text.png` (words with a picture's name),
`moving.png` (an animated picture), `cut.png` (a picture whose end is missing), `photo.jpg` (800 x 600 pixels),
`plain.svg` (a drawing) and `linked.svg` (a drawing that shows another file).

An example may not need a rule's whole world: only the named rule is looked for in a `fails` example, and only it
and the syntax rules must be quiet in a `passes` example. A page whose fault can't be shown in a text says
`no example: why` and has a folder `tests/cases/<rule>*` or a file `tests/check/test_<rule>.py` instead.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE, pictures

from kilter.check.rule import Rule
from kilter.check.run import Report, check_library
from kilter.model.front import ProfileFront
from kilter.model.library import Library
from kilter.read.front import field_names
from kilter.read.library import read_library

_FENCE = re.compile(
    r"^(?P<tick>`{3,})kilter (?P<kind>fails|passes)\n(?P<text>.*?)^(?P=tick)[ ]*$", re.M | re.S
)
_FILE = re.compile(r"^=== (\S+) ===\n", re.M)
_KEY = re.compile(r"^[a-z][a-z-]*:(?:\s|$)")
_PROFILE_ONLY = set(field_names(ProfileFront)) - {
    "kind",
    "title",
    "writers",
    "date",
    "tools",
    "parts",
    "origin",
}


@dataclass(frozen=True)
class Example:
    """One fenced example of a rule's page."""

    rule: str
    fails: bool
    text: str

    @property
    def id(self) -> str:
        first = self.text.strip().splitlines()[0][:40] if self.text.strip() else "empty"
        return f"{self.rule}-{'fails' if self.fails else 'passes'}-{first}"


def examples(rule: Rule) -> list[Example]:
    """The examples of a rule's page, in order."""
    return [Example(rule.name, m["kind"] == "fails", m["text"]) for m in _FENCE.finditer(rule.page)]


def files_of(text: str) -> dict[str, str]:
    """The files of an example by name, the frame's put in."""
    if text.startswith("=== "):
        _, *parts = _FILE.split(text)
        files = dict(zip(parts[::2], parts[1::2], strict=True))
    elif text.startswith("---"):
        files = {"example.md": text}
    elif _KEY.match(text):
        return _with_keys(text)
    else:
        files = {"example.md": f"---\n{FRONT}---\n{_body(text)}"}
    if not any(re.search(r"^kind: equipment\s*$", t, re.M) for t in files.values()):
        files["rig.md"] = f"---\n{PROFILE}---\n{PROFILE_BODY}"
    return files


def _body(text: str) -> str:
    if text.startswith("# "):
        return text
    if text.startswith("## "):
        work = text
    elif text.startswith("### "):
        work = f"## Work\n\n{text}"
    else:
        work = f"## Work\n\n### Do the work\n{text}"
    return f"{SAFE}\n{work}\n{END}"


def _with_keys(text: str) -> dict[str, str]:
    parts = _split_keys(text)
    profile = bool(_PROFILE_ONLY & parts.keys())
    old = _split_keys(PROFILE if profile else FRONT)
    front = "".join({**old, **parts}.values())
    if profile:
        return {
            "rig.md": f"---\n{front}---\n{PROFILE_BODY}",
            "example.md": f"---\n{FRONT}---\n{_body('Change the part.')}",
        }
    return {
        "rig.md": f"---\n{PROFILE}---\n{PROFILE_BODY}",
        "example.md": f"---\n{front}---\n{_body('Change the part.')}",
    }


def _split_keys(text: str) -> dict[str, str]:
    """Top-level keys with all their lines; a key that stands twice keeps both."""
    parts: dict[str, str] = {}
    key = ""
    for row in text.splitlines(keepends=True):
        if _KEY.match(row):
            key = row.split(":")[0]
        parts[key] = parts.get(key, "") + row
    return parts


def library_of(example: str, folder: Path) -> Library:
    """Write an example's files below `folder` and read them as a library."""
    root = folder / "procedures"
    root.mkdir(exist_ok=True)
    for name, data in pictures().items():
        (root / name).write_bytes(data)
    for name, text in files_of(example).items():
        file = root / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return read_library(root, base=root)


def report_of(example: str, folder: Path) -> Report:
    """What the check says about an example."""
    return check_library(library_of(example, folder))
