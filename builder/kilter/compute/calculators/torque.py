"""What a tightening torque does: preload, proof, extension, tool, and the order of the bolts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kilter.compute.bolt_order_lines import bolts_of, order_lines
from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict
from kilter.compute.fastener_grip import GRIPS, Grip, grip_of
from kilter.compute.fastener_inputs import least, span
from kilter.compute.fastener_judge import Fact, judge_torque
from kilter.compute.fastener_lines import (
    Joint,
    force_line,
    joint,
    limit_lines,
    preload_lines,
    wanted_lines,
)
from kilter.compute.fastener_words import assumptions, doubts, first_pass
from kilter.compute.torque_tool_lines import lever_of, tool_lines, tool_of
from kilter.compute.value import Quantity

INPUTS = (
    Input("fastener", "size and strength class", "words", example="M8 8.8"),
    Input("torque", "the torque with its tolerance", "quantity", ("torque",), "22 ± 2 N·m"),
    Input("preload", "the preload that is wanted, instead of a torque", "quantity", ("force",), "12 kN"),
    Input(
        "friction",
        "K, µ or a word: dry, black, zinc, lubricated, cadmium, anti-seize",
        "words",
        example="K 0.2",
    ),
    Input(
        "thread-friction", "µ in the thread, if it differs from that under the head", "words", example="0.12"
    ),
    Input("head-friction", "µ under the head", "words", example="0.14"),
    Input("bearing", "mean diameter of the face under the head", "quantity", ("length",), "10.3 mm"),
    Input("prevailing", "what a lock nut takes to turn", "quantity", ("torque",), "≤ 4 N·m"),
    Input("least-clamp", "the least preload that holds the joint", "quantity", ("force",), "5 kN"),
    Input("grip", "what the screw goes into", "choice", choices=GRIPS, example="metal"),
    Input("shear", "shear strength of the tapped metal", "quantity", ("pressure",), "150 MPa"),
    Input("engagement", "how long the thread is engaged", "quantity", ("length",), "12 mm"),
    Input("pull-out", "the force that pulls the insert out, by its maker", "quantity", ("force",), "2.5 kN"),
    Input("extension", "from the wrench's square to the screw", "quantity", ("length",), "150 mm"),
    Input("tool-length", "from the middle of the grip to the square", "quantity", ("length",), "300 mm"),
    Input("angle", "of the extension to the wrench, 0 in line", "quantity", ("angle",), "45 °"),
    Input("tool-range", "the tool's range, or its maximum", "quantity", ("torque",), "4–20 N·m"),
    Input("tool-accuracy", "how far off the tool may be", "words", example="±4 %"),
    Input("bolts", "how many are tightened together", "count", example="8"),
    Input("pattern", "circle, line, or rectangle with rows and columns", "words", example="rectangle 2 x 4"),
)

_FORMULA = (
    "F = T/(K·d), or F = T/(d2/2·(tan λ + µ/cos 30°)/(1 − µ·tan λ/cos 30°) + µ head·D/2); "
    "proof load = Sp·As; tool set to T·L/(L + E·cos θ)"
)
_SOURCE = (
    "Shigley's Mechanical Engineering Design, 8-2 and 8-8; ISO 898-1, ISO 3506-1, SAE J429; torsion: VDI 2230-1 (2003); "
    "strip: ISO 965-1 and FED-STD-H28/2; tool: ISO 6789-1"
)


def work(given: Mapping[str, Any]) -> Result:
    """Whatever the inputs allow; raises InputError where they allow nothing."""
    _alone(given)
    torque = span(given, "torque")
    if torque is not None and "preload" in given:
        raise InputError("preload", "torque and preload are both given", "give one, the other is worked out")
    screw = joint(given)
    by, tool = lever_of(given), tool_of(given)
    lines: list[Line] = []
    cautions: list[str] = []
    drawing: dict[str, Any] = {}
    if screw is not None:
        lines, drawing = _screw(given, screw, torque)
        cautions += doubts(screw, torque)
    grip = grip_of(given, screw, torque)
    lines += grip.lines
    cautions += grip.cautions
    said = ""
    if torque is not None:
        more, said = tool_lines(_closed(given["torque"]), by, tool)
        lines += more
    pattern = bolts_of(given)
    if pattern is not None:
        more, drawn = order_lines(*pattern, given.get("torque"))
        lines, drawing = lines + more, drawing | drawn
        cautions += first_pass(torque, tool, by)
    if not lines:
        raise _nothing(given)
    facts = _facts(given, screw)
    cautions = [f.text for f in facts] + cautions
    verdict = _verdict(facts, grip, said, screw, torque)
    return Result(
        tuple(lines), _FORMULA, _SOURCE, assumptions(given, screw, tool), tuple(cautions), verdict, drawing
    )


_OF_SCREW = (
    "preload", "friction", "thread-friction", "head-friction", "bearing", "prevailing", "least-clamp", "grip", "shear",
    "engagement", "pull-out",
)  # fmt: skip
_OF_TORQUE = ("least-clamp", "extension", "tool-range")


def _alone(given: Mapping[str, Any]) -> None:
    """Nothing that was given is passed over in silence."""
    for needed, names, example in (
        ("fastener", _OF_SCREW, "M8 8.8"),
        ("torque", _OF_TORQUE, "22 ± 2 N·m"),
    ):
        name = next((n for n in names if n in given), None)
        if name is not None and needed not in given:
            raise InputError(needed, f"`{name}` without `{needed}`", f"say it, such as `{example}`")


def _screw(
    given: Mapping[str, Any], screw: Joint, torque: tuple[float, float] | None
) -> tuple[list[Line], dict[str, Any]]:
    lines: list[Line] = []
    drawing: dict[str, Any] = {}
    wanted = least(given, "preload")
    if torque is not None:
        lines += preload_lines(screw, torque)
        low, high = screw.preload(torque)
        drawing = {"kind": "preload", "low": low, "high": high, "proof": screw.proof}
    if wanted is not None:
        lines += wanted_lines(screw, wanted)
    if screw.proof is not None:
        lines.append(force_line(screw, "proof load", (screw.proof, screw.proof)))
    return lines + limit_lines(screw), drawing


def _closed(torque: Quantity) -> Quantity:
    if torque.base_low is None:
        raise InputError("torque", f"`{torque.text[:30]}` has no lower limit", "write a range or a tolerance")
    return torque


def _nothing(given: Mapping[str, Any]) -> InputError:
    if "fastener" in given:
        return InputError("torque", "`torque` is missing", "say the torque, such as `22 ± 2 N·m`")
    help = "give `fastener` and `torque`, such as `M8 8.8` and `22 ± 2 N·m`; or `bolts`, such as `8`"
    return InputError("fastener", "nothing to work out", help)


def _facts(given: Mapping[str, Any], screw: Joint | None) -> list[Fact]:
    """Proof and clamp; the tool has its own line."""
    if screw is None or "torque" not in given:
        return []
    least(given, "least-clamp")
    return judge_torque(
        screw.fastener,
        given["torque"],
        screw.friction,
        prevailing=given.get("prevailing"),
        least_clamp=given.get("least-clamp"),
        drags=(screw.slick, screw.rough),
    )


def _verdict(
    facts: list[Fact], grip: Grip, tool: str, screw: Joint | None, torque: tuple[float, float] | None
) -> Verdict:
    if grip.fails or tool == "fails" or any(f.sure for f in facts):
        return "fails"
    if facts:
        return "too close to call"
    if screw is None or torque is None:
        return "holds" if tool == "holds" else ""
    if screw.proof is None or grip.unknown:
        return "not judged"
    return "holds"


CALCULATOR = Calculator(
    "torque", "preload and proof of a tightened screw, extension, tool, order of bolts", INPUTS, work
)
