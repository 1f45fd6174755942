"""How the published values about stored energy, batteries, fuses, cables and cylinders are worked out."""

from kilter.compute import battery, cable, fuse, hydraulics, stored_energy


def _charge(given):
    found = battery.lead_acid_charge(given["voltage"])
    return {"low": found.low, "high": found.high}[given["end"]]


CALLS = {
    "stored_energy.bleed_time": lambda g: stored_energy.bleed_time(g["c"], g["r"], g["from"], g["to"]),
    "stored_energy.capacitor_energy": lambda g: stored_energy.capacitor_energy(g["c"], g["u"]),
    "battery.lead_acid_charge": _charge,
    "battery.peukert_hours": lambda g: battery.peukert_hours(g["capacity"], g["rated"], g["current"], g["k"]),
    "fuse.pulse": lambda g: fuse.pulse(g["peak"], g["seconds"], g["shape"]),
    "fuse.pulse_share": lambda g: fuse.pulse_share(g["pulses"]),
    "hydraulics.force": lambda g: hydraulics.force(
        g["pressure"], g.get("area") or hydraulics.piston_area(g["bore"])
    ),
    "hydraulics.weight": lambda g: hydraulics.weight(g["mass"]),
    "hydraulics.creep": lambda g: hydraulics.creep(g["distance"], g["seconds"]),
    "stored_energy.raised_energy": lambda g: stored_energy.raised_energy(g["mass"], g["height"]),
    "hydraulics.pressure": lambda g: hydraulics.pressure(g["force"], g["area"]),
    "cable.awg_area": lambda g: cable.awg_area(g["gauge"]) * 1e6,
    "cable.resistance": lambda g: cable.resistance(cable.awg_area(g["gauge"]), g["length"]),
    "cable.resistance of an area": lambda g: cable.resistance(g["area"] * 1e-6, g["length"]),
}
