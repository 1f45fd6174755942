"""Arrows of movements and known lengths: how they are read, where they lie, that their words stay clear."""

from __future__ import annotations

import random
import re
import xml.etree.ElementTree as ET
from itertools import combinations
from math import hypot

import pytest

from kilter.model.text import Figure, Motion, Scale
from kilter.picture.callouts.layout import lay_out
from kilter.picture.callouts.model import NARROW, WIDE, Anchor, Box, Layout
from kilter.picture.marks import REACH, Marks, marks_of, way
from kilter.picture.overlay import sheet_svg
from kilter.read.figures import WAYS, motion_in, scale_in
from kilter.read.notes import Notes
from kilter.source import Source

SOURCE = Source("a.md", "x\n")
SPAN = SOURCE.whole_row(0)


def _read(value: str, reader=motion_in):
    notes = Notes(SOURCE)
    return reader(notes, value, SPAN), [d.message for d in notes.found]


def test_a_motion_is_read_with_or_without_how_far():
    made, said = _read("turn 412,310.5 left 90°")
    assert (made.kind, made.x, made.y, made.way, made.amount, said) == ("turn", 412, 310.5, "left", "90°", [])
    made, _ = _read("push 4 , 3 upper right")
    assert made.words == "push upper right" and made.amount == ""


@pytest.mark.parametrize(
    ("value", "message"),
    [
        ("turn 412,310 up", "a turn is left or right, not up"),
        ("twist 412,310 left", "`:motion:` can't be read"),
        ("push left 412,310", "`:motion:` can't be read"),
        ("push 412 310 left", "`:motion:` can't be read"),
        ("push -4,310 left", "`:motion:` can't be read"),
        ("push 4,310 leftwards", "`:motion:` can't be read"),
        ("push 4,310 left as far as it goes", "how far a movement goes takes 17 characters, the most is 16"),
    ],
)
def test_a_motion_that_is_none(value, message):
    assert _read(value) == (None, [message])


def test_a_scale_is_read():
    made, said = _read("50 mm = 412,310 612,310", scale_in)
    assert (made.length, made.start, made.end, said) == ("50 mm", (412, 310), (612, 310), [])


@pytest.mark.parametrize(
    ("value", "message"),
    [
        ("50 mm", "`:scale:` can't be read"),
        ("= 1,2 3,4", "`:scale:` can't be read"),
        ("50 mm = 1,2", "`:scale:` can't be read"),
        ("50 mm = 1,2 1,2", "`:scale:` names one place twice"),
    ],
)
def test_a_scale_that_is_none(value, message):
    assert _read(value, scale_in) == (None, [message])


def _figure(motions=(), scale=None) -> Figure:
    return Figure(
        path="p.png",
        id=None,
        alt="x",
        items=(),
        caption=(),
        span=SPAN,
        path_span=SPAN,
        motions=motions,
        scale=scale,
    )


def _motion(kind="turn", x=500.0, y=300.0, way="left", amount="") -> Motion:
    return Motion(kind=kind, x=x, y=y, way=way, amount=amount, span=SPAN)


def _marks(figure: Figure, style=WIDE) -> tuple[Marks, Layout]:
    layout = lay_out([Anchor(1, 100, 100), Anchor(2, 800, 500)], 1000, 600, style)
    return marks_of(figure, lambda x, y: (x / 1000, y / 600), layout), layout


def _numbers(path: str) -> list[tuple[float, float]]:
    """The places that a path goes through; radii and flags of an arc left out."""
    plain = re.sub(r"A\d+ \d+ 0 \d \d ", "L", path)
    return [(float(a), float(b)) for a, b in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", plain)]


def _paths(marks: Marks) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    shaft, head = re.findall(r'<path d="([^"]+)"', marks.arrows[0].drawing)[2:]
    return _numbers(shaft), _numbers(head)


@pytest.mark.parametrize("named", WAYS)
def test_a_push_ends_at_its_place_and_a_pull_begins_there(named):
    dx, dy = way(named)
    assert hypot(dx, dy) == pytest.approx(1)
    push, pull, slide = (
        _paths(_marks(_figure((_motion(k, way=named),)))[0]) for k in ("push", "pull", "slide")
    )
    for shaft, head in (push, pull, slide):
        ahead = (head[0][0] - shaft[0][0], head[0][1] - shaft[0][1])
        assert ahead[0] * dx + ahead[1] * dy == pytest.approx(hypot(*ahead), abs=0.05)
    assert hypot(*push[1][0]) < 5 < 30 < hypot(*push[0][0])
    assert hypot(*pull[0][0]) < 5 < 30 < hypot(*pull[1][0])
    assert hypot(*slide[0][0]) == pytest.approx(hypot(*slide[1][0]), abs=0.05)


@pytest.mark.parametrize(("named", "sign"), [("right", 1), ("left", -1)])
@pytest.mark.parametrize("amount", ["", "90°", "15 °", "720°", "2 turns"])
def test_a_turn_goes_with_or_against_the_clock(named, sign, amount):
    shaft, head = _paths(_marks(_figure((_motion(way=named, amount=amount),)))[0])
    (sx, sy), (ex, ey) = shaft[-1], head[0]
    assert (sx * ey - sy * ex) * sign > 0  # y counts downward: positive is with the clock
    flags = re.search(r"A16 16 0 (\d) (\d)", _marks(_figure((_motion(way=named),)))[0].arrows[0].drawing)
    assert flags and flags[2] == ("1" if sign > 0 else "0")


def test_words_stay_in_the_picture_and_off_each_other_where_there_is_room():
    chance = random.Random(4)
    for _ in range(200):
        places = [(chance.randrange(1000), chance.randrange(600)) for _ in range(2)]
        if hypot(places[0][0] - places[1][0], places[0][1] - places[1][1]) < 300:
            continue
        kinds = [chance.choice(("push", "pull", "slide")) for _ in places]
        motions = tuple(
            _motion(k, x, y, chance.choice(WAYS), "12 mm") for k, (x, y) in zip(kinds, places, strict=True)
        )
        marks, layout = _marks(_figure(motions))
        boxes = [a.words.box(*a.at) for a in marks.arrows]
        assert not any(a.meets(b) for a, b in combinations(boxes, 2))
        box = layout.picture
        for b in boxes:
            assert b.left >= box.left - 1 and b.right <= box.right + 1
            assert b.top >= box.top - 1 and b.bottom <= box.bottom + 1


def test_a_bar_lies_between_its_places_and_its_words_above_it():
    scale = Scale(length="50 mm", start=(600, 500), end=(200, 500), span=SPAN)
    marks, layout = _marks(_figure(scale=scale), NARROW)
    box: Box = layout.picture
    wide = box.right - box.left
    assert marks.bar is not None and marks.bar.across == pytest.approx((0, -1))
    assert marks.bar.start[0] == pytest.approx(box.left + 0.6 * wide)
    assert marks.bar.end[0] == pytest.approx(box.left + 0.2 * wide)


def test_words_of_an_author_are_escaped_in_the_overlay():
    marks, layout = _marks(
        _figure((_motion(amount="<b>&"),), Scale(length="<i>", start=(1, 1), end=(9, 9), span=SPAN))
    )
    svg = sheet_svg(layout, marks)
    texts = [t.text for t in ET.fromstring(f"<div>{svg}</div>").iter("text")]
    assert "turn left <b>&" in texts and "<i>" in texts and "<b>" not in svg


def test_an_arrow_keeps_within_its_reach():
    for named in WAYS:
        for kind in ("push", "pull", "slide"):
            shaft, head = _paths(_marks(_figure((_motion(kind, way=named),)))[0])
            assert all(abs(n) < REACH - 5 for p in shaft + head for n in p)
