"""A library with every kind of value and one calculation of each kind."""

from __future__ import annotations

from pathlib import Path

from tests.publish.site_frame import MKDOCS

PROFILE = """---
kind: equipment
id: alder-4
title: Bench press Alder 4
sources:
  mains: {kind: mains, lockable: true, word: danger, isolate: "Plug out, in a locked plug case.", prove: "Voltmeter at block X1, 1 V or less."}
  battery: {kind: battery, lockable: true, word: warning, isolate: "Pack out, locked in its case.", prove: "Voltmeter at the plug, 1 V or less.", chemistry: lead-acid AGM, capacity: 12 Ah, load: ["standby: 0.02 A, 22 h", "press: 3 A, 20 min"]}
  link capacitor: {kind: capacitor, fed-by: [mains], word: warning, release: bleed, bleed: 5 min, prove: "Voltmeter at the link, 5 V or less.", capacitance: 470 µF ± 20 %, resistance: 100 kΩ ± 5 %, voltage: 400 V}
none: [hydraulic, pneumatic, vacuum, gravity, spring, heat, motion, pressure]
guards: [rear cover]
zones: {back: [mains, battery, link capacitor]}
switches:
  door switch: {op: 8.8 ± 0.2 mm, ot: 1.2 mm, md: 0.8 mm, origin: switch data sheet}
  foot switch: {op: 8.8 ± 0.5 mm, ot: 1.2 mm, origin: switch data sheet}
---
# Bench press Alder 4

A press on a bench.
"""

BLOCKS = """
:::{calc} torque
:fastener: M8 8.8
:torque: 22 ± 2 N·m
The two screws of the bracket.
:::

:::{calc} torque
:bolts: 8
:pattern: circle
:torque: 22 ± 2 N·m
:::

:::{calc} torque
:bolts: 6
:pattern: rectangle 2 x 3
:::

:::{calc} setting
:op: 8.8 ± 0.2 mm
:ot: 1.2 mm
:set: 7.9 ± 0.05 mm
:found: 8.3 mm
:::

:::{stack}
:plus: case depth: 40.00 ± 0.10 mm
:plus: shim under the bracket: 2 ± 0.05 mm
:minus: lever: 34.1 ± 0.2 mm
:::

:::{calc} bleed
:capacitance: 470 µF ± 20 %
:resistance: 100 kΩ ± 5 %
:from: 400 V
:wait: 5 min
:::

:::{calc} battery
:chemistry: lead-acid AGM
:capacity: 12 Ah
:use: standby: 0.02 A, 22 h
:use: press: 3 A, 20 min
:::

:::{calc} fuse
:rating: 3.15 A
:load: 1.8 A
:::

:::{calc} cable
:size: 1.5 mm²
:length: 3 m
:::

:::{calc} hydraulic
:bore: 40 mm
:pressure: 80 bar
:::

:::{calc} leakage
:measure: protective earth
:standard: IEC 62353
:cord: fixed
:read: 180 mΩ
:uncertainty: 10 mΩ
:::

:::{calc} reading
:limit: ≤ 0.3 Ω
:read: 0.27 Ω
:uncertainty: 0.02 Ω
:::
"""

STEP = """---
kind: procedure
task: adjustment
number: ALD-110
revision: A
equipment: alder-4
title: Set the door switch
writers: [AB]
date: 2026-03-02
time: 25
people: 1
---
# Set the door switch

The values of this page are invented.

## Look

### Look at the values
:hands: controls - the numbers are only looked at
:switch: door switch
:origin: maker's manual p. 9

Set the height to {set}`7.9 ± 0.05 mm`, tighten to {torque}`22 ± 2 N·m`, read {read}`as found, lid travel: 7.6–8.2 mm` and {read}`supply: ≥ 24.0 V`. Wait {wait}`5 min`. The air is at {read}`plate: 45.0–48.0 °C` and {read}`line: −80 ± 5 kPa`.
"""

END = """
### Hand it back
:exit: left as found

Write the values down.
"""


def procedure() -> str:
    """The text of the procedure: the values, then one step for each calculation."""
    blocks = BLOCKS.strip().split("\n\n:::{")
    steps = [
        f"\n### See number {n}\n:hands: away - the numbers are only looked at\n\nSee what it comes to.\n\n{':::{' if n > 1 else ''}{block}\n"
        for n, block in enumerate(blocks, 1)
    ]
    return STEP + "".join(steps) + END


def library(folder: Path) -> Path:
    """Writes the library; returns its `procedures/`."""
    procedures = folder / "procedures"
    procedures.mkdir(parents=True)
    (folder / "mkdocs.yml").write_text(MKDOCS, encoding="utf-8")
    (procedures / "profile.md").write_text(PROFILE, encoding="utf-8")
    (procedures / "ald-110.md").write_text(procedure(), encoding="utf-8")
    return procedures
