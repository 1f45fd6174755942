"""Drawings of values: well formed, inside their frame, true to scale, no word on another, the same bytes twice."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ElementTree
from itertools import combinations

import fontpkg
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from kilter.compute.bolt_order import circle, grid
from kilter.compute.bolt_order_lines import order_lines
from kilter.compute.calculation import NAMES, calculator, read_inputs
from kilter.compute.typeface import TABLE
from kilter.publish.drawings import picture_of
from kilter.publish.drawings.ink import SIZE, WIDTH, Picture, hatched, number, width_of, wrapped
from kilter.publish.drawings.numbers import exact, plain
from kilter.publish.drawings.rows import EDGE

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")


def elements(picture: Picture | None, tag: str) -> list[ElementTree.Element]:
    assert picture is not None
    return list(ElementTree.fromstring(picture.svg).iter(SVG + tag))


def text_boxes(picture: Picture) -> list[tuple[float, float, float, float, str]]:
    """Left, top, right, bottom and words of each text, at least as large as it is drawn."""
    found = []
    for element in elements(picture, "text"):
        size = float(element.get("font-size", "0"))
        words = element.text or ""
        x, y, wide = float(element.get("x", "0")), float(element.get("y", "0")), width_of(words, size)
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[element.get("text-anchor", "")]
        found.append((left, y - size * 0.75, left + wide, y + size * 0.22, words))
    return found


def assert_sound(picture: Picture) -> None:
    """No word on another, everything inside the frame, nothing that the page's policy refuses."""
    assert "style=" not in picture.svg and "<script" not in picture.svg and " id=" not in picture.svg
    boxes = text_boxes(picture)
    for a, b in combinations(boxes, 2):
        assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]), (a, b)
    for left, top, right, bottom, words in boxes:
        assert left >= -0.01 and top >= -0.01 and right <= WIDTH + 0.01 and bottom <= picture.height + 0.01, (
            words
        )
    for x, y in places(picture):
        assert -0.01 <= x <= WIDTH + 0.01 and -0.01 <= y <= picture.height + 0.01


def places(picture: Picture) -> list[tuple[float, float]]:
    found = []
    for path in elements(picture, "path"):
        numbers = [float(n) for n in NUMBER.findall(path.get("d", ""))]
        found += list(zip(numbers[::2], numbers[1::2], strict=True))
    for box in elements(picture, "rect"):
        x, y = float(box.get("x", "0")), float(box.get("y", "0"))
        found += [(x, y), (x + float(box.get("width", "0")), y + float(box.get("height", "0")))]
    for ring in elements(picture, "circle"):
        x, y, r = (float(ring.get(k, "0")) for k in ("cx", "cy", "r"))
        found += [(x - r, y - r), (x + r, y + r)]
    for line in elements(picture, "line"):
        found += [(float(line.get(f"x{n}", "0")), float(line.get(f"y{n}", "0"))) for n in (1, 2)]
    return found


values = st.decimals(-500, 500, places=3, allow_nan=False).map(float)
maybe = st.none() | values


@st.composite
def windows(draw: st.DrawFn) -> dict[str, object]:
    low, high = sorted((draw(values), draw(values)))
    setting = sorted((draw(values), draw(values)))
    op = sorted((draw(values), draw(values)))
    return {
        "kind": "window", "unit": draw(st.sampled_from(["mm", "in", "°"])), "from_click": draw(st.booleans()),
        "low": low, "high": high, "set": draw(st.none() | st.just(sum(setting) / 2)),
        "set_low": setting[0] if setting[0] < setting[1] else None, "set_high": setting[1], "found": draw(maybe),
        "op_low": op[0], "op_high": op[1], "end": draw(maybe),
    }  # fmt: skip


@settings(max_examples=2000, deadline=None)
@given(windows())
@example({"kind": "window", "unit": "mm", "from_click": False, "low": 7.8, "high": 8.0})
def test_a_window_has_no_word_on_another_and_stays_in_its_frame(drawing):
    picture = picture_of(drawing)
    assert (picture is None) == (drawing["low"] >= drawing["high"])
    if picture is not None:
        assert_sound(picture)
        assert picture == picture_of(dict(drawing))


def test_the_watch_on_words_can_fail():
    words = '<text x="0" y="20" font-size="17" text-anchor="start">one</text>'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg">{words}{words}</svg>'
    with pytest.raises(AssertionError):
        assert_sound(Picture(svg, "", 40))
    with pytest.raises(AssertionError):
        assert_sound(Picture(svg.replace(words, "", 1), "", 10))


@settings(max_examples=500, deadline=None)
@given(st.lists(st.integers(0, 1000), min_size=6, max_size=6, unique=True))
def test_places_in_a_window_are_proportional(ends):
    """The places of the window's ends, the setting's ends, its aim and the one as found, against a straight line."""
    low, set_low, aim, set_high, high, found = (e / 10 for e in sorted(ends))
    picture = picture_of({
        "kind": "window", "unit": "mm", "from_click": False, "low": low, "high": high,
        "set": aim, "set_low": set_low, "set_high": set_high, "found": found,
    })  # fmt: skip
    zone = elements(picture, "rect")[0]
    left, right = float(zone.get("x", "")), float(zone.get("x", "")) + float(zone.get("width", ""))
    diamonds = [p.get("d", "") for p in elements(picture, "path") if p.get("fill") == "currentColor"]
    at = [float(NUMBER.findall(d)[0]) for d in diamonds]
    stops = [
        float(NUMBER.findall(p.get("d", ""))[0])
        for p in elements(picture, "path")
        if p.get("stroke-width") == "2.5"
    ]
    scale = (right - left) / (high - low)
    for shown, value in zip([*stops, *at], [set_low, set_high, aim, found], strict=True):
        assert shown == pytest.approx(
            left + (value - low) * scale, abs=0.02 + 0.02 * abs(value - low) / (high - low)
        )
    assert EDGE - 0.01 <= left < right <= WIDTH - EDGE + 0.01


def examples() -> list[tuple[str, dict[str, list[str]]]]:
    return [
        ("torque", {"fastener": ["M8 8.8"], "torque": ["22 ± 2 N·m"]}),
        ("torque", {"fastener": ["M8 8.8"], "torque": ["60 ± 2 N·m"]}),
        ("setting", {"op": ["8.8 ± 0.2 mm"], "ot": ["1.2 mm"], "set": ["7.9 ± 0.05 mm"], "found": ["8.3 mm"]}),
        ("setting", {"ot": ["1.2 mm"], "from": ["click"], "set": ["0.9 ± 0.1 mm"]}),
        ("stack", {"part": ["+ a part with a name as long as a sentence may well become: 40 ± 0.1 mm", "− b: 38 ± 0.2 mm"]}),
        ("bleed", {"capacitance": ["470 µF ± 20 %"], "resistance": ["100 kΩ"], "from": ["400 V"], "wait": ["5 min"]}),
        ("bleed", {"capacitance": ["470 µF"], "resistance": ["100 kΩ"], "from": ["400 V"]}),
        ("battery", {"chemistry": ["lead-acid AGM"], "capacity": ["12 Ah"], "use": ["standby: 0.08 A, 22 h"]}),
        ("battery", {"chemistry": ["lead-acid AGM"], "capacity": ["12 Ah"], "use": ["standby: 0.1 mA, 22 h"]}),
        ("reading", {"limit": ["≤ 0.3 Ω"], "read": ["0.27 Ω"], "uncertainty": ["0.02 Ω"]}),
        ("reading", {"limit": ["−85 to −75 kPa"], "read": ["−80.5 kPa"]}),
    ]  # fmt: skip


@pytest.mark.parametrize(("name", "given_"), examples())
def test_what_a_calculator_draws_is_sound(name, given_):
    found = calculator(name)
    result = found.work(read_inputs(found.inputs, given_))
    picture = picture_of(result.drawing)
    assert picture is not None
    assert_sound(picture)
    assert picture.said and f'aria-label="{picture.said}"' in picture.svg.replace("&#x27;", "'")


def test_a_calculator_without_a_drawing_has_none():
    assert set(NAMES) >= {"cable", "fuse"}
    found = calculator("cable")
    result = found.work(read_inputs(found.inputs, {"size": ["1.5 mm²"], "length": ["3 m"]}))
    assert picture_of(result.drawing) is None and picture_of({"kind": "of tomorrow"}) is None


def test_the_numbers_of_a_drawing_are_those_of_the_answer():
    """7.80 to 8.00: worst case of 8.8 ± 0.2 and 1.2 mm, worked out in compute/switch.py's own description."""
    found = calculator("setting")
    given_ = {"op": ["8.8 ± 0.2 mm"], "ot": ["1.2 mm"], "set": ["7.9 ± 0.05 mm"]}
    result = found.work(read_inputs(found.inputs, given_))
    picture = picture_of(result.drawing)
    assert picture is not None
    assert next(line.text for line in result.lines if line.name == "window") == "7.80 to 8.00 mm"
    assert "Window 7.80 to 8.00 mm; Set 7.85 to 7.95 mm" in picture.said


@pytest.mark.parametrize("count", range(2, 33))
@pytest.mark.parametrize("shape", ["circle", "line", "rectangle"])
def test_bolts_show_their_order_or_nothing(count, shape):
    bolts = {
        "circle": lambda: circle(count),
        "line": lambda: grid(1, count),
        "rectangle": lambda: grid(2, max(count // 2, 1)),
    }[shape]()
    lines, drawing = order_lines(shape, bolts, None)
    picture = picture_of(drawing)
    if picture is None:
        assert len(bolts) > 7, "few bolts are always drawn"
        return
    assert_sound(picture)
    order = next(line.text for line in lines if line.name == "order").split("-")
    assert re.findall(r"bolt (\d+)", picture.said) == order
    words = [t.text or "" for t in elements(picture, "text")][:-2]
    inside, beside = words[::2], words[1::2]
    assert sorted(int(n) for n in inside) == list(range(1, len(bolts) + 1))
    turns = {n: int(NUMBER.findall(t)[0]) for n, t in zip(inside, beside, strict=True)}
    assert [n for n, _ in sorted(turns.items(), key=lambda pair: pair[1])] == order


@settings(max_examples=500, deadline=None)
@given(
    st.floats(1e-3, 1e5),
    st.floats(1, 1500),
    st.floats(0.5, 200),
    st.floats(1e-2, 1e6),
    st.none() | st.floats(1, 1e6),
)
def test_a_discharge_falls_and_meets_the_safe_voltage(tau, start, end, least, wait):
    drawing = {"kind": "discharge", "tau": tau, "start": start, "end": end, "least": least, "wait": wait}
    picture = picture_of(drawing)
    assert (picture is None) == (start <= end)
    if picture is not None:
        assert_sound(picture)
        curve = next(p for p in elements(picture, "path") if p.get("stroke-width") == "2.5")
        heights = [float(n) for n in NUMBER.findall(curve.get("d", ""))][1::2]
        assert heights == sorted(heights), "y counts downwards: the voltage never rises"


def test_the_curve_meets_the_dashed_line_at_the_least_wait():
    """At t = τ·ln(U₀/U) the voltage is U, by the definition of both."""
    least = 59.2 * math.log(400 / 60)
    drawing = {"kind": "discharge", "tau": 59.2, "start": 400.0, "end": 60.0, "least": least, "wait": None}
    picture = picture_of(drawing)
    safe = next(float(n.get("y1", "")) for n in elements(picture, "line") if n.get("stroke-dasharray"))
    stop = next(float(n.get("x1", "")) for n in elements(picture, "line") if not n.get("stroke-dasharray"))
    curve = next(p for p in elements(picture, "path") if p.get("stroke-width") == "2.5")
    numbers = [float(n) for n in NUMBER.findall(curve.get("d", ""))]
    near = min(zip(numbers[::2], numbers[1::2], strict=True), key=lambda p: abs(p[0] - stop))
    assert near[1] == pytest.approx(safe, abs=1.5)


@settings(max_examples=300, deadline=None)
@given(maybe, maybe, maybe, st.none() | st.floats(0.001, 50))
def test_limits_are_drawn_for_any_reading(low, high, read, uncertainty):
    if low is not None and high is not None and low >= high:
        low, high = None, high
    picture = picture_of(
        {"kind": "limits", "unit": "kPa", "low": low, "high": high, "read": read, "uncertainty": uncertainty}
    )
    assert (picture is None) == (low is None and high is None)
    if picture is not None:
        assert_sound(picture)


@settings(max_examples=300, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.text(st.characters(codec="utf-8", exclude_categories=("C",)), min_size=1, max_size=90),
            st.floats(0, 1),
            st.floats(0, 1),
        ),
        max_size=7,
    )
)
def test_shares_are_drawn_for_any_names(shares):
    picture = picture_of({"kind": "stack", "shares": [list(s) for s in shares]})
    assert (picture is None) == (not shares)
    if picture is not None:
        assert_sound(picture)


@pytest.mark.parametrize("face", ["Regular", "Bold"])
def test_words_are_never_wider_than_was_reckoned(face):
    """Every character of the cards' typeface, measured in the file itself."""
    font = ImageFont.truetype(
        str(fontpkg.path("atkinson-hyperlegible")).replace("-Regular", f"-{face}"), 1000
    )
    spans = [part.partition("-")[::2] for part in TABLE.split()]
    for first, last in spans:
        for code in range(int(first, 16), int(last or first, 16) + 1):
            character = chr(code)
            if not character.isprintable():
                continue
            assert font.getlength(character) / 1000 <= width_of(character, 1.0) + 0.001, (
                f"{character} U+{code:04X}"
            )


def test_hatching_stays_in_its_box():
    numbers = [float(n) for n in NUMBER.findall(re.search(r'd="([^"]+)"', hatched(10, 20, 33, 14))[1])]
    assert all(10 <= x <= 43 for x in numbers[::2]) and all(20 <= y <= 34 for y in numbers[1::2])


def test_rows_of_words_lose_nothing():
    long = "a" * 90 + " and then some words"
    rows = wrapped(long, WIDTH)
    assert "".join(rows).replace(" ", "") == long.replace(" ", "")
    assert all(width_of(row) <= WIDTH for row in rows) and SIZE > 0


def test_numbers_are_written_as_they_were_meant():
    assert (number(0.001), number(-2.50), number(3.0)) == ("0", "-2.5", "3")
    assert exact(7.8) * 10 == 78 and plain(-7.80, "mm") == "−7.8 mm"
