"""A generated library of sound procedures of 14 steps, and the same words for plain Material."""

from __future__ import annotations

import random
from pathlib import Path

PROFILE = """---
kind: equipment
id: {id}
title: Lift {id}
sources:
  mains: {{kind: mains, lockable: true, word: danger, isolate: "Plug out, locked in its case.", prove: "Voltmeter at the inlet, below 1 V."}}
  battery: {{kind: battery, lockable: true, charged-by: [mains], word: warning, isolate: "Pack out, locked in its case.", prove: "Voltmeter at the motor plug, below 1 V."}}
  boom: {{kind: gravity, lockable: true, word: warning, isolate: "Boom on the stand, locking pin in.", prove: "Push the boom."}}
none: [capacitor, hydraulic, pneumatic, vacuum, spring, heat, motion, pressure]
guards: [mast cover]
before-service: [boom travel]
---
"""

HEAD = """---
kind: procedure
task: {task}
number: {number}
revision: {revision}
equipment: {equipment}
title: {title}
writers: [AB]
date: 2026-10-01
symptoms:
  - {symptom}: {{also: [{synonym}]}}
time: {time}
people: 1
tools: [torque wrench: {{range: 5–40 N·m}}, voltmeter]
parts: [{part}: {{stock-number: {stock}}}]
---
# {title}

The {part} wears. {symptom} is the usual sign.
"""

BODY = """
## Make safe

:::{{danger}} mains, battery, boom
**Shock and crushing.** The boom can fall and break an arm, and the leads can kill. Isolate, lock and prove before you reach in.
:::

### Park the boom
Lower the boom onto the stand and fit the locking pin: {{isolates}}`boom`.

### Pull the plug
Pull the plug and lock it in its case: {{isolates}}`mains`.

### Take the pack out
Slide the pack out and lock it in its case: {{isolates}}`battery`.

### Take off the mast cover
Undo the {screws} screws. Remove the {{removes}}`mast cover`.

### Prove zero
Test the {{tool}}`voltmeter`. Measure at the inlet and at the motor plug: {{proves}}`mains, battery`. Push the boom: {{proves}}`boom`.

- All at zero: [Change the part](#change-the-{slug})
- Anything else: [Stop and tag](#stop-and-tag) {{not-zero}}

## Change the {part}

:::{{danger}} mains, battery, boom
**Shock and crushing.** The boom can fall and break an arm, and the leads can kill. Leave every lock on.
:::

### Change the {slug}
:origin: maker's manual p. {page}

Drive out the pin. Change the {{part}}`{part}`. Tighten the lock nut to {{torque}}`{torque} ± 2 N·m` with the {{tool}}`torque wrench`.

### Measure the play
:origin: shop rule

Move the boom end by hand. Write down {{read}}`as left, play: ≤ {play} mm`.

- Inside the limit: [Close](#put-the-cover-on)
- Above it: [Change it again](#change-the-{slug}) {{not-ok}}

### Put the cover on
Put on the {{refits}}`mast cover` and tighten its screws.

## Return to service

### Clear the lift
Count the tools and send everybody clear: {{all-clear}}`people and tools`.

### Free the boom
Pull the locking pin: {{restores}}`boom`.

### Put the pack in
Unlock the case and slide the pack in: {{restores}}`battery`.

### Plug in
Unlock the plug and plug it in: {{restores}}`mains`.

### Test the boom
Run the boom up and down ({{runs-on}}`battery`): {{tests}}`boom travel`.

- It runs smoothly: [Hand back](#hand-back)
- It jerks or stops: [Lock it again](#lock-it-again) {{not-ok}}

### Hand back
:exit: returned to service

Write down the reading.

### Lock it again
Lower the boom onto the stand and fit the locking pin: {{isolates}}`boom`. Pull the plug and lock it in its case: {{isolates}}`mains`. Slide the pack out and lock it in its case: {{isolates}}`battery`.

### Stop and tag
:exit: left locked out, tagged

Hang the tag. Treat the lift as live.
"""

PARTS = [
    "actuator",
    "clevis pin",
    "brake lead",
    "gas strut",
    "limit switch",
    "drive belt",
    "fuse holder",
    "roller",
]
SIGNS = ["jerks under load", "stops short", "hums but stays put", "drops at the end", "lamp dark when docked"]


def facts(n: int, rng: random.Random) -> dict[str, object]:
    part = rng.choice(PARTS)
    return {
        "task": "replacement", "number": f"BEN-{n:05d}", "revision": "ABCD"[n % 4], "equipment": f"egret-{n % 50}",
        "title": f"Change the {part} {n}", "symptom": rng.choice(SIGNS), "synonym": rng.choice(["won't lift", "no lift"]),
        "time": rng.randint(10, 90), "part": part, "stock": f"TV-{rng.randint(1000, 9999)}", "screws": rng.randint(3, 8),
        "slug": part.replace(" ", "-"), "page": rng.randint(3, 90), "torque": rng.randint(10, 30), "play": rng.randint(1, 4),
    }  # fmt: skip


def write_library(root: Path, count: int) -> Path:
    """A library of `count` procedures on 50 machines below `root`; returns the folder `procedures`."""
    rng, folder = random.Random(7), root / "procedures"
    folder.mkdir(parents=True)
    for machine in range(50):
        (folder / f"egret-{machine}").mkdir()
        (folder / f"egret-{machine}" / "profile.md").write_text(
            PROFILE.format(id=f"egret-{machine}"), encoding="utf-8"
        )
    for n in range(count):
        values = facts(n, rng)
        text = HEAD.format(**values) + BODY.format(**values)
        (folder / str(values["equipment"]) / f"ben-{n:05d}.md").write_text(text, encoding="utf-8")
    (root / "mkdocs.yml").write_text(
        "site_name: Bench\ndocs_dir: procedures\nuse_directory_urls: false\n"
        "theme: {name: material, font: false}\nplugins:\n  - kilter\n",
        encoding="utf-8",
    )
    return folder


def write_plain(root: Path, count: int) -> None:
    """The same words as plain Material with its own syntax and `navigation.prune`."""
    rng, folder = random.Random(7), root / "docs"
    folder.mkdir(parents=True)
    for n in range(count):
        values = facts(n, rng)
        text = (HEAD.format(**values) + BODY.format(**values)).split("---\n", 2)[2]
        place = folder / str(values["equipment"])
        place.mkdir(exist_ok=True)
        (place / f"ben-{n:05d}.md").write_text(_plain(text), encoding="utf-8")
    (folder / "index.md").write_text("# Bench\n", encoding="utf-8")
    (root / "mkdocs.yml").write_text(
        "site_name: Bench\nuse_directory_urls: false\ntheme:\n  name: material\n  font: false\n"
        "  features: [navigation.prune]\nplugins: [search]\n"
        "markdown_extensions: [admonition, attr_list, tables, {toc: {permalink: true}}]\n",
        encoding="utf-8",
    )


def _plain(text: str) -> str:
    import re

    text = re.sub(r"\{(not-zero|not-ok)[^}]*\}", "", text)
    text = re.sub(r"\{[a-z-]+\}`([^`]*)`", r"**\1**", text)
    rows, inside = [], False
    for row in text.split("\n"):
        if row.startswith(":::{"):
            inside = True
            rows.append(f"!!! {row[4:].split('}')[0]}")
        elif row == ":::":
            inside = False
        elif row.startswith(":"):
            rows.append(row.lstrip(":").replace(":", " ", 1) + "\n")
        else:
            rows.append(("    " if inside else "") + row)
    return "\n".join(rows)
