"""The sound procedure and profile that short examples of the rule pages are set into; see `pages.py`."""

from __future__ import annotations

import io
from functools import lru_cache

from PIL import Image

FRONT = """\
kind: procedure
task: replacement
number: BENCH-1
revision: A
equipment: test-rig
title: Change the worn part
writers: [RB]
date: 2026-05-04
tools:
  - torque wrench: {range: 5–50 N·m, accuracy: 4 %}
  - voltmeter: {range: 0–60 V, accuracy: 0.5 %}
parts:
  - actuator: {stock-number: TR-1, quantity: "1"}
"""

PROFILE = """\
kind: equipment
id: test-rig
title: Test rig
sources:
  battery: {kind: battery, lockable: true, word: warning, isolate: "Pack out and locked in its case.", prove: "Voltmeter at the motor plug, below 1 V.", prove-from: outside}
  capacitor: {kind: capacitor, fed-by: [battery], word: warning, release: bleed, bleed: 5 min, prove: "Voltmeter at the link terminals, below 5 V.", prove-from: outside}
  boom: {kind: gravity, lockable: true, word: warning, isolate: "Boom on the stand, pin in.", prove: "Push the boom by hand.", prove-from: outside}
  spring: {kind: spring, word: warning, release: action, release-from: outside, loaded-by: "wind the spring nut in", prove: "Pull the loop.", prove-from: outside}
  heat: {kind: heat, lockable: true, word: caution, isolate: "Heater plug out, in a locked case.", prove: "Thermometer on the plate, below 40 °C.", prove-from: outside}
none: [mains, hydraulic, pneumatic, vacuum, motion, pressure]
guards: [side cover]
zones: {side: [battery, capacitor, boom, spring, heat]}
switches: {door switch: {op: 8.8 ± 0.1 mm, ot: 1.2 mm, md: 0.8 mm, origin: switch data sheet}}
before-service: [full run, lamp test]
"""

PROFILE_BODY = """\
# Test rig

A rig with a boom, a spring and a heated plate.

## Isolate everything {shared}

### Park the boom

Lower the boom onto the stand. Push the pin in: {isolates}`boom`.

### Cut the power

Take the pack out. Lock it in its case: {isolates}`battery`. Pull the heater plug. Lock it in its case: {isolates}`heat`.

### Let the spring out

Back the spring nut off until the loop is loose: {releases}`spring`.

### Let it drain

Wait {wait}`5 min`.

### Prove it dead

Test the meter. Measure at the motor plug and at the link terminals: {proves}`battery, capacitor`. Test the meter again. Push the boom. Pull the loop: {proves}`boom, spring`. Hold the thermometer on the plate: {proves}`heat`.

- All dead: [Carry on](#back)
- Anything is alive: [Leave it locked](#leave-it-locked) {not-zero}

### Leave it locked
:exit: left locked out, tagged

Treat the rig as live. Keep everybody away. Hang your tag on it.
"""

SAFE = """\
# Change the worn part

The part rattles or sticks.

:::{warning} battery, capacitor, boom, spring, heat
**Shock, crushing, recoil and burns.** The boom can drop, the spring can fly out and the pack can feed an arc. It can break or burn a hand. Park the boom, take the pack out, wait and let the spring out.
:::

## Make safe

### Isolate the rig
:do: isolate-everything

### Take the cover off

Undo the screws. Lift the {removes}`side cover` off.

"""

END = """
## Return to service

### Put the cover on

Fit the {refits}`side cover`. Tighten its screws.

### Clear the rig

Count the tools. Send everybody clear: {all-clear}`people and tools`.

### Free the boom

Pull the pin out: {restores}`boom`.

### Wind the spring in

Wind the spring nut in until the loop is tight: {loads}`spring`.

### Put the pack in

Hang the pack on: {restores}`battery`. Push the heater plug in: {restores}`heat`.

### Test the rig

Run the rig once ({runs-on}`battery`). Watch it: {tests}`full run`. Watch its lamp: {tests}`lamp test`.

- Smooth, and the lamp is green: [Hand it back](#hand-it-back)
- Anything else: [Stop and tag](#stop-and-tag) {not-ok}

### Hand it back
:exit: returned to service

Write down what you changed.

### Stop and tag
:exit: left locked out, tagged

Lower the boom onto the stand. Push the pin in: {isolates}`boom`. Take the pack out. Lock it in its case: {isolates}`battery`. Pull the heater plug. Lock it in its case: {isolates}`heat`. Hang your tag on the rig.
"""

SVG = """\
<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600" viewBox="0 0 800 600">{}</svg>
"""


@lru_cache(maxsize=1)
def pictures() -> dict[str, bytes]:
    """Picture files that stand beside every example."""
    plain = Image.radial_gradient("L").resize((800, 600)).convert("RGB")
    still, moving = io.BytesIO(), io.BytesIO()
    plain.save(still, "PNG")
    small = [Image.new("RGB", (60, 40), colour) for colour in ("red", "blue")]
    small[0].save(moving, "PNG", save_all=True, append_images=small[1:], duration=200)
    photo = io.BytesIO()
    plain.save(photo, "JPEG")
    whole = still.getvalue()
    return {
        "picture.png": whole,
        "text.png": b"These are words, whatever the name says.\n",
        "moving.png": moving.getvalue(),
        "cut.png": whole[: len(whole) // 2],
        "photo.jpg": photo.getvalue(),
        "plain.svg": SVG.format('<path d="M 10 10 H 790" stroke="#000"/>').encode(),
        "linked.svg": SVG.format('<image href="photo.jpg"/>').encode(),
    }
