"""How the published values about fasteners, torque tools and orders of bolts are worked out."""

from fractions import Fraction

from kilter.compute.bolt_order import circle_order
from kilter.compute.fastener import parse_fastener
from kilter.compute.fastener_engagement import hole_area
from kilter.compute.fastener_friction import parse_friction
from kilter.compute.fastener_preload import long_form, preload_at, short_form, torque_for
from kilter.compute.quantity import parse_quantity
from kilter.compute.torque_tool import indicated, permitted
from kilter.compute.units import UNITS

MM2, INCH = 1e-6, 0.0254


def _area(given):
    thread = parse_fastener(given["thread"]).thread
    return thread.stress_area / (INCH**2 if thread.inch else MM2)


def _pitch(given):
    return parse_fastener(given["thread"]).thread.pitch * 1e3


def _proof_load(given):
    one = parse_fastener(given["fastener"])
    return one.strength.proof * one.thread.stress_area


def _strength(given):
    one = parse_fastener(given["fastener"])
    factor = 6.894757293168e6 if one.thread.inch else 1e6
    return getattr(one.strength, given["of"]) / factor


def _torque_short(given):
    one = parse_fastener(given["fastener"])
    if "preload" in given:
        force = float(parse_quantity(given["preload"]).base_low)
    else:
        force = given["share"] * one.strength.proof * one.thread.stress_area
    torque = torque_for(force, short_form(one.thread, given["k"]))
    return torque / float(UNITS[given["unit"]].factor)


def _at_yield(given):
    one = parse_fastener(given["fastener"])
    bearing = given["bearing"] / 1e3 if "bearing" in given else None
    drag = long_form(one.thread, given["mu"], given["mu"], bearing)
    return preload_at(one.thread, one.strength.strain, drag, 0.9), drag


def _preload_at_yield(given):
    return _at_yield(given)[0] / 1e3


def _torque_at_yield(given):
    force, drag = _at_yield(given)
    return torque_for(force, drag)


def _strip_area(given):
    """Square inches for an inch of engagement."""
    return hole_area(parse_fastener(given["thread"]).thread) / INCH


def _k(given):
    found = parse_friction(given["word"])
    return {"low": found.low, "high": found.high}[given.get("end", "low")]


CALLS = {
    "fastener stress area": _area,
    "fastener pitch": _pitch,
    "fastener proof load": _proof_load,
    "fastener strength": _strength,
    "torque = K·d·F": _torque_short,
    "preload at 90 % of yield": _preload_at_yield,
    "torque at 90 % of yield": _torque_at_yield,
    "shear area of a tapped hole": _strip_area,
    "friction word": _k,
    "torque with an extension": lambda g: indicated(
        g["torque"], g["tool"], g["extension"], g.get("angle", 0)
    ),
    "accuracy of a torque tool": lambda g: float(permitted(Fraction(g["maximum"])) * 100),
    "order of bolts in a circle": lambda g: "-".join(map(str, circle_order(g["bolts"]))),
}
