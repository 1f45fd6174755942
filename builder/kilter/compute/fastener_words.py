"""What is assumed and what is doubtful about a tightened screw, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kilter.compute.bolt_order import PASSES
from kilter.compute.fastener_judge import force_text
from kilter.compute.fastener_lines import Joint, greatest_stress
from kilter.compute.torque_tool import Tool


def doubts(screw: Joint, torque: tuple[float, float] | None) -> list[str]:
    found = []
    if torque is not None and screw.friction.assumed:
        low, high = screw.preload(torque)
        spread = f"from {force_text(low, screw.force_unit)} to {force_text(high, screw.force_unit)}"
        found.append(f"friction not given: with {screw.friction.text} the preload spreads {spread}")
    elif torque is not None and screw.friction.is_single:
        found.append(
            "friction is one number: in practice preload by torque scatters by some ±25 % (common practice, no source)"
        )
    strength = screw.fastener.strength
    if torque is not None and strength and greatest_stress(screw, torque[1]) > strength.strain:
        found.append("tension and torsion together may pass the yield stress while it is tightened")
    if strength is None:
        found.append(f"no strength class: write it, such as `{screw.fastener.thread.name} {_such(screw)}`")
    if torque is not None and screw.prevailing[1] >= torque[0]:
        found.append("the lock nut may take all of the torque: then nothing is clamped")
    return found


def _such(screw: Joint) -> str:
    return "Gr 5" if screw.fastener.thread.inch else "8.8"


def first_pass(torque: tuple[float, float] | None, tool: Tool | None, by: float) -> list[str]:
    if torque is None or tool is None:
        return []
    below = [p for p in PASSES if float(p) * torque[0] / by < tool.low <= torque[0] / by]
    if not below:
        return []
    return [
        f"the pass at {int(below[-1] * 100)} % lies below the tool's usable range: take a smaller tool for it"
    ]


def assumptions(given: Mapping[str, Any], screw: Joint | None, tool: Tool | None) -> tuple[str, ...]:
    said = []
    if screw is not None:
        source = screw.friction.source
        said.append(f"friction: {screw.friction.text}" + (f" ({source})" if source else ""))
        if "bearing" not in given:
            said.append("the face under the head has a mean diameter of 1.25 d")
        if "prevailing" not in given:
            said.append("no lock nut: nothing is taken from the torque")
        strength = screw.fastener.strength
        if strength is not None and strength.name[0] == "G" and screw.fastener.thread.name[0] == "#":
            said.append("SAE J429 begins at 1/4 in.: its grades are taken for smaller screws too")
        if strength is not None and strength.name[0] == "A":
            said.append("stainless steel has no proof stress: Rp0.2 is taken")
    if "shear" in given:
        said.append("threads at their loosest (6H/6g), one pitch bears nothing")
    if tool is not None:
        off = "what ISO 6789 allows" if tool.assumed else "as given, of the value"
        said.append(f"the tool's accuracy is {off}; it is usable from a fifth of its maximum")
    return tuple(said)
