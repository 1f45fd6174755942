"""The torque calculator: what it answers, what it refuses, how it rounds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.fastener import parse_fastener
from kilter.compute.fastener_preload import combined_stress, long_form, preload

TORQUE = calculator("torque")


def ask(**given):
    return TORQUE.work(read_inputs(TORQUE.inputs, {k.replace("_", "-"): [v] for k, v in given.items()}))


def line(result, name):
    return next(line for line in result.lines if line.name == name)


def names(result):
    return [line.name for line in result.lines]


def test_preload_and_proof():
    """By hand: 20/(0.2·8 mm) = 12.5 kN, 24/(0.15·8 mm) = 20.0 kN; proof load 21.2 kN (ISO 898-1)."""
    result = ask(fastener="M8 8.8", torque="22 ± 2 N·m", friction="K 0.15 to 0.2")
    assert line(result, "preload").low == pytest.approx(12_500)
    assert line(result, "preload").high == pytest.approx(20_000)
    assert line(result, "of proof").high == pytest.approx(100 * 20 / 21.23, rel=1e-3)
    assert result.verdict == "holds"
    assert line(result, "torque for 75 % of proof").value == pytest.approx(0.75 * 21.233 * 1.2, rel=1e-3)
    assert line(result, "torque for 75 % of proof").text == "at most 19.1 N·m"


def test_without_friction_the_spread_is_a_caution():
    result = ask(fastener="M8 8.8", torque="22 ± 2 N·m")
    assert result.cautions[0] == (
        "friction not given: with K 0.15 to 0.25 the preload spreads from 10.0 kN to 20.0 kN"
    )


def test_verdicts():
    assert ask(fastener="M8 8.8", torque="40 ± 2 N·m", friction="K 0.2").verdict == "fails"
    assert ask(fastener="M8 8.8", torque="30 ± 2 N·m").verdict == "too close to call"
    assert ask(fastener="M8", torque="20 ± 2 N·m").verdict == "not judged"
    assert ask(torque="20 ± 2 N·m", tool_range="8–40 N·m").verdict == "holds"
    assert ask(torque="20 ± 0.2 N·m", tool_range="8–40 N·m").verdict == "fails"
    assert ask(torque="20 ± 0.2 N·m", tool_range="8–40 N·m", tool_accuracy="±0.5 %").verdict == "holds"
    assert ask(fastener="M8 8.8", torque="22 ± 2 N·m", grip="plastic").verdict == "not judged"


def test_the_torque_of_a_preload_surely_reaches_it():
    """By hand: 12 kN at K 0.2 on 8 mm is 19.2 N·m; at K 0.15 that gives 16 kN."""
    result = ask(fastener="M8 8.8", preload="≥ 12 kN", friction="K 0.15 to 0.2")
    assert line(result, "torque for the preload").value == pytest.approx(19.2)
    assert line(result, "preload at that torque").high == pytest.approx(16_000)


def test_an_extension_and_a_tool_together():
    """US Navy training manual: 100 lbf·in, L 12, E 6 -> 66.7; the tool is judged on its own scale."""
    result = ask(torque="100 ± 10 lbf·in", extension="6 in", tool_length="12 in", tool_range="15–75 lbf·in")
    assert line(result, "set the tool to").value == pytest.approx(66.667, rel=1e-4)
    assert result.verdict == "holds"
    assert ask(torque="100 ± 10 lbf·in", tool_range="15–75 lbf·in").verdict == "fails"


def test_grips():
    metal = ask(fastener="M8 8.8", torque="22 ± 2 N·m", friction="K 0.2", shear="150 MPa", engagement="6 mm")
    assert "thread" in names(metal) and line(metal, "least engagement").value > 8
    weak = ask(fastener="M8 8.8", torque="22 ± 2 N·m", friction="K 0.2", shear="≥ 30 MPa", engagement="5 mm")
    assert weak.verdict == "fails"
    pulled = ask(fastener="M4 A2-70", torque="1.5 ± 0.2 N·m", friction="K 0.2", pull_out="≥ 900 N")
    assert pulled.verdict == "fails"
    assert "pulled out at 900 N" in line(pulled, "insert").text


def test_bolts():
    result = ask(bolts="8", torque="22 ± 2 N·m")
    assert line(result, "order").text == "1-5-3-7-2-6-4-8"
    assert line(result, "passes").text.startswith("6.6 N·m, 13 N·m, 22 ± 2 N·m, then")
    assert [b["turn"] for b in result.drawing["bolts"]] == [1, 5, 3, 7, 2, 6, 4, 8]
    assert line(ask(bolts="10", pattern="rectangle 3 x 4"), "order").text.count("-") == 9


@pytest.mark.parametrize(
    ("given", "name", "said"),
    [
        ({}, "fastener", "nothing to work out"),
        ({"fastener": "M8"}, "torque", "missing"),
        ({"fastener": "M9", "torque": "5 N·m"}, "fastener", "no thread M9"),
        ({"fastener": "M8 8.8", "torque": "0 N·m"}, "torque", "above zero"),
        ({"fastener": "M8 8.8", "torque": "999999999999 N·m"}, "torque", "no torque of a screw"),
        ({"fastener": "M8 8.8", "torque": "≥ 5 N·m"}, "torque", "no upper limit"),
        ({"torque": "≤ 5 N·m", "tool-range": "10 N·m"}, "torque", "no lower limit"),
        ({"fastener": "M8 8.8", "torque": "5 N·m", "preload": "5 kN"}, "preload", "both given"),
        ({"fastener": "M2", "torque": "0.3 N·m", "friction": "K 0.03"}, "friction", "without any friction"),
        ({"fastener": "M8", "torque": "5 N·m", "friction": "zink"}, "friction", "says no friction"),
        ({"fastener": "M8", "torque": "5 N·m", "head-friction": "0.1"}, "thread-friction", "missing beside"),
        ({"fastener": "M8", "torque": "5 N·m", "bearing": "1 m"}, "bearing", "face under the head"),
        ({"friction": "dry", "torque": "5 N·m"}, "fastener", "`friction` without"),
        ({"fastener": "M8 8.8", "least-clamp": "5 kN"}, "torque", "`least-clamp` without"),
        ({"torque": "5 N·m", "extension": "1 mm"}, "tool-length", "missing"),
        ({"torque": "5 N·m", "angle": "30 °"}, "extension", "`angle` without"),
        ({"torque": "5 N·m", "extension": "-1 m", "tool-length": "1 m"}, "extension", "above zero"),
        (
            {"torque": "5 N·m", "extension": "1 m", "tool-length": "1 m", "angle": "180 °"},
            "angle",
            "over the screw",
        ),
        ({"torque": "5 N·m", "tool-accuracy": "4 %"}, "tool-range", "without"),
        ({"torque": "5 N·m", "tool-range": "9 N·m", "tool-accuracy": "4 mm"}, "tool-accuracy", "no accuracy"),
        ({"torque": "5 N·m", "tool-range": "≥ 9 N·m"}, "tool-range", "no upper end"),
        ({"torque": "5 mm"}, "torque", "is a length"),
        ({"pattern": "circle"}, "bolts", "without"),
        ({"bolts": "97"}, "bolts", "97 bolts"),
        ({"bolts": "8", "pattern": "star"}, "pattern", "no pattern"),
        ({"bolts": "7", "pattern": "rectangle"}, "pattern", "two rows"),
        ({"bolts": "7", "pattern": "rectangle 2 x 4"}, "pattern", "of 7 bolts"),
        ({"fastener": "M8", "torque": "5 N·m", "grip": "plastic", "shear": "50 MPa"}, "shear", "not used"),
    ],
)
def test_what_can_not_be_worked_with_is_refused(given, name, said):
    with pytest.raises(InputError) as caught:
        TORQUE.work(read_inputs(TORQUE.inputs, {k: [v] for k, v in given.items()}))
    assert caught.value.name == name
    assert said in caught.value.message
    assert caught.value.help


def shown(text):
    return [float(part) for part in text.replace(" kN", "").replace(" N", "").split(" to ")]


@given(st.integers(10, 4000), st.integers(1, 9), st.integers(10, 30), st.integers(1, 9))
def test_preload_is_shown_outward_and_torque_limits_inward(torque, by, k, more):
    result = ask(
        fastener="M8 8.8",
        torque=f"{torque / 100:.2f} ± {by / 100:.2f} N·m",
        friction=f"K {k / 100} to {(k + more) / 100}",
    )
    found = line(result, "preload")
    scale = 1000 if "kN" in found.text else 1
    low, high = shown(found.text)
    assert low * scale <= found.low * (1 + 1e-12) and found.high <= high * scale * (1 + 1e-12)
    for share in (75, 90):
        limit = line(result, f"torque for {share} % of proof")
        assert float(limit.text.split()[2]) <= limit.value


@given(
    st.data(),
    st.integers(5, 30),
    st.integers(5, 30),
    st.integers(0, 10),
    st.integers(0, 10),
    st.integers(0, 3),
)
def test_no_state_within_what_was_given_strains_the_screw_more_than_shown(
    data, inner, outer, more, further, nut
):
    """Judge: torque, both frictions and the nut's drag drawn from their ranges, worked through the long form."""
    given = {
        "fastener": "M8 8.8",
        "torque": "18–22 N·m",
        "thread_friction": f"{inner / 100} to {(inner + more + 1) / 100}",
        "head_friction": f"{outer / 100} to {(outer + further + 1) / 100}",
    }
    if nut:
        given["prevailing"] = f"≤ {nut} N·m"
    result = ask(**given)
    thread = parse_fastener("M8").thread
    for _ in range(5):
        torque = data.draw(st.floats(18, 22))
        drag = long_form(
            thread,
            data.draw(st.floats(inner / 100, (inner + more + 1) / 100)),
            data.draw(st.floats(outer / 100, (outer + further + 1) / 100)),
        )
        held = data.draw(st.floats(0, nut)) if nut else 0.0
        force = preload(torque, drag, held)
        used = 100 * combined_stress(thread, force, drag, held) / 640e6
        assert used <= line(result, "with torsion").value * (1 + 1e-9)
        found = line(result, "preload")
        assert found.low * (1 - 1e-9) <= force <= found.high * (1 + 1e-9)


def test_a_tool_that_just_fails_shows_the_digits_that_say_so():
    result = ask(torque="20 ± 0.79 N·m", tool_range="8–40 N·m")
    assert line(result, "tool").text == "not able: ±4 % is more than the tolerance, ±3.95 %"


def test_the_greatest_strain_may_lie_at_the_greatest_friction_in_the_thread():
    """With both frictions high a rough thread twists more than it takes from the tension."""
    given = {"fastener": "M8 8.8", "torque": "40 N·m", "head_friction": "0.4"}
    rough = ask(**given, thread_friction="0.79")
    both = ask(**given, thread_friction="0.45 to 0.79")
    assert (
        line(ask(**given, thread_friction="0.45"), "with torsion").value < line(rough, "with torsion").value
    )
    assert line(both, "with torsion").value == pytest.approx(line(rough, "with torsion").value)


def test_a_pass_below_the_tools_range_needs_a_smaller_tool():
    """By hand: 60 % of 20 N·m is 12 N·m and 30 % is 6 N·m; the tool begins at 8 N·m."""
    said = ask(bolts="4", torque="22 ± 2 N·m", tool_range="8–40 N·m").cautions
    assert said == ("the pass at 30 % lies below the tool's usable range: take a smaller tool for it",)
    assert ask(bolts="4", torque="60 ± 5 N·m", tool_range="10–80 N·m").cautions == ()


def test_a_tool_begins_where_it_says():
    """15 N·m is above a fifth of 40 N·m, but the tool's scale begins at 18."""
    assert ask(torque="15 ± 2 N·m", tool_range="18–40 N·m").verdict == "fails"
    assert ask(torque="15 ± 2 N·m", tool_range="40 N·m").verdict == "holds"
