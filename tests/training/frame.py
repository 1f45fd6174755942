"""A library with one machine, one procedure and one training module, in a folder of its own."""

from pathlib import Path

from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE, pictures

PROCEDURE = f"---\n{FRONT}---\n{SAFE}\n## Work\n\n### Do the work\n:origin: measured\n\nTighten it to {{torque}}`22 ± 2 N·m`.\n{END}"
MODULE = """---
kind: training
number: TRN-1
revision: A
title: The rig
covers: [BENCH-1]
# why the order: most frequent first
objectives:
  tighten: {text: Tighten the screw, covers: BENCH-1#do-the-work}
sessions: 120
---
# The rig

## Before you begin
:minutes: 20

What the rig is.

:::{from} BENCH-1#do-the-work
:::
"""


def library(folder: Path, module: str = MODULE, procedure: str = PROCEDURE, profile: str = PROFILE) -> Path:
    root = folder / "procedures"
    root.mkdir(exist_ok=True)
    for name, data in pictures().items():
        (root / name).write_bytes(data)
    (root / "rig.md").write_text(f"---\n{profile}---\n{PROFILE_BODY}", encoding="utf-8")
    (root / "bench.md").write_text(procedure, encoding="utf-8")
    (root / "module.md").write_bytes(module.encode())
    return root
