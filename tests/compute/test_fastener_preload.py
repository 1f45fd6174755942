"""Torque and preload: against a cut free thread worked in forces, root finders, and each other."""

from math import atan, cos, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from kilter.compute.fastener import parse_fastener
from kilter.compute.fastener_engagement import (
    hole_area,
    least_engagement,
    loosest,
    screw_area,
    strip_load,
)
from kilter.compute.fastener_preload import (
    combined_stress,
    friction_of,
    least_k,
    long_form,
    preload,
    preload_at,
    short_form,
    torque_for,
)

THREADS = [
    parse_fastener(t).thread for t in ("M2", "M5", "M8", "M10x1.25", "M16", "M24", "#6-32", "1/4-20", "1-12")
]
threads = st.sampled_from(THREADS)
frictions = st.floats(0.03, 0.4)


def by_forces(thread, mu):
    """Forces on the unrolled flank: normal force tilted by the flank, friction along the helix, summed and solved."""
    lead = atan(thread.pitch / (pi * thread.pitch_diameter))
    flank = cos(radians(30))

    def axial(normal):
        return normal * (flank * cos(lead) - mu * sin(lead))

    normal = brentq(lambda n: axial(n) - 1.0, 0.0, 100.0, xtol=1e-14)
    around = normal * (flank * sin(lead) + mu * cos(lead))
    return around * thread.pitch_diameter / 2


@given(threads, frictions)
def test_the_thread_torque_is_that_of_a_wedge_pushed_up_the_helix(thread, mu):
    assert long_form(thread, mu, 0).thread == pytest.approx(by_forces(thread, mu), rel=1e-9)


@given(threads, frictions)
def test_vdi_with_straightened_angles_is_within_two_percent(thread, mu):
    """VDI 2230-1: F (0.159 P + 0.577 d2 µ + D/2 µ)."""
    face = 1.25 * thread.diameter
    straight = 0.159 * thread.pitch + 0.577 * thread.pitch_diameter * mu + face / 2 * mu
    assert long_form(thread, mu, mu).whole == pytest.approx(straight, rel=0.02)


@given(threads, st.floats(0.08, 0.5))
def test_a_k_stands_for_one_friction(thread, k):
    """Judge: scipy's root of the long form."""
    mu = brentq(lambda m: long_form(thread, m, m).whole - k * thread.diameter, 0.0, 2.0, xtol=1e-13)
    assert friction_of(thread, k) == pytest.approx(mu, abs=1e-9)
    drag = short_form(thread, k)
    assert drag.whole == pytest.approx(k * thread.diameter)
    assert drag.thread == pytest.approx(long_form(thread, mu, mu).thread, rel=1e-8)


@pytest.mark.parametrize("thread", THREADS, ids=lambda t: t.name)
def test_a_k_below_that_of_a_greased_lead_is_refused(thread):
    assert least_k(thread) == pytest.approx(thread.pitch / (2 * pi * thread.diameter))
    with pytest.raises(ValueError, match="without friction"):
        short_form(thread, least_k(thread) * 0.99)


@given(threads, frictions, frictions, st.floats(0.01, 1000), st.floats(0, 5))
def test_torque_and_preload_are_each_others_way_back(thread, inner, outer, force, nut):
    drag = long_form(thread, inner, outer)
    assert preload(torque_for(force, drag, nut), drag, nut) == pytest.approx(force, rel=1e-6)


@given(threads, frictions, st.floats(1.01, 2), st.floats(0.1, 100))
def test_more_friction_less_preload_and_more_torque_more(thread, mu, more, torque):
    less, greater = long_form(thread, mu, mu), long_form(thread, mu * more, mu * more)
    assert preload(torque, greater) < preload(torque, less)
    assert preload(torque * more, less) > preload(torque, less)


def test_a_lock_nut_that_takes_all_clamps_nothing():
    thread = THREADS[2]
    assert preload(3.0, short_form(thread, 0.2), 4.0) == 0.0


@given(threads, frictions)
def test_tension_and_torsion_together(thread, mu):
    """Judge: torsion by integrating a constant shear stress over the circle (fully yielded), von Mises by hand."""
    drag = long_form(thread, mu, mu)
    force = 1000.0
    d = thread.stress_diameter
    section = quad(lambda r: 2 * pi * r * r, 0, d / 2)[0]
    tension, torsion = force / (pi / 4 * d * d), force * drag.thread / section
    assert combined_stress(thread, force, drag) == pytest.approx(sqrt(tension**2 + 3 * torsion**2), rel=1e-9)
    assert combined_stress(thread, preload_at(thread, 640e6, drag), drag) == pytest.approx(0.9 * 640e6)


@pytest.mark.parametrize(
    "name", ["M3 8.8", "M8 8.8", "M10x1.25 10.9", "1/4-20 Gr 5", "3/4-16 Gr 8", "M6 A2-70"]
)
@given(shear=st.floats(20e6, 400e6))
def test_at_the_least_engagement_breaking_and_stripping_fall_together(name, shear):
    one = parse_fastener(name)
    length = least_engagement(one.thread, one.strength, shear)
    breaks = one.thread.stress_area * one.strength.tensile
    assert strip_load(one.thread, length, shear, one.strength) == pytest.approx(breaks, rel=1e-9)
    assert strip_load(one.thread, length * 0.98, shear, one.strength) < breaks
    assert least_engagement(one.thread, one.strength, shear / 2) >= length


def flank_overlap(thread, radius, screw_side):
    """Width along the axis of one ridge at a radius, from the triangle of a 60° thread."""
    fit = loosest(thread)
    at = fit.screw_pitch / 2 if screw_side else fit.hole_pitch / 2
    slope = 2 * tan(radians(30))
    return thread.pitch / 2 + (slope * (at - radius) if screw_side else slope * (radius - at))


@pytest.mark.parametrize("thread", THREADS, ids=lambda t: t.name)
def test_shear_areas_are_those_of_the_triangles(thread):
    """The hole's ridges are cut at the screw's outside, the screw's at the hole's inside; one ridge a pitch."""
    fit = loosest(thread)
    hole = pi * fit.outer * flank_overlap(thread, fit.outer / 2, False) / thread.pitch
    screw = pi * fit.hole_inner * flank_overlap(thread, fit.hole_inner / 2, True) / thread.pitch
    assert hole_area(thread) == pytest.approx(hole, rel=1e-9)
    assert screw_area(thread) == pytest.approx(screw, rel=1e-9)


def test_tolerances_are_those_of_the_standard():
    """ISO 965-2, M8 6g/6H: 7.760, 7.042, 7.348, 6.912 mm (from memory)."""
    fit = loosest(parse_fastener("M8").thread)
    sizes = [round(s * 1e3, 3) for s in (fit.outer, fit.screw_pitch, fit.hole_pitch, fit.hole_inner)]
    assert sizes == pytest.approx([7.760, 7.042, 7.348, 6.912], abs=0.006)


def test_what_a_lock_nut_takes_twists_the_screw_too():
    """By hand: M8, 5 N·m over π d³/12 with d = 6.827 mm is 60.0 MPa of shear, 104 MPa of equivalent stress."""
    thread = parse_fastener("M8").thread
    assert combined_stress(thread, 0.0, long_form(thread, 0.12, 0.12), 5.0) == pytest.approx(
        104.0e6, rel=2e-3
    )
