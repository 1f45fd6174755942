"""The picture of the states: boxes that never meet, lines that never cross a box, the same bytes twice."""

from __future__ import annotations

import random
import re
import xml.etree.ElementTree as ET
from itertools import combinations
from pathlib import Path

import pytest
from tests.publish.site_frame import ROOT, Read, guide_example, small_library

from kilter.cli import main
from kilter.publish.states.figure import WIDTH, extent, wrapped
from kilter.publish.states.layout import Placed, Port, grid, place, straight

SVG = "{http://www.w3.org/2000/svg}"
HIGHEST = 300


def drawn(seed: int) -> tuple[list[int], Placed, list[Port], dict[int, int]]:
    """A random graph of up to 40 steps, placed."""
    rng = random.Random(seed)
    count = rng.randint(1, 40)
    ways = {(n, rng.randrange(count)) for n in range(count) for _ in range(rng.randint(0, 4))}
    ways |= {(n, n + 1) for n in range(count - 1) if rng.random() < 0.7}
    cells = grid(count, ways)
    heights = [rng.randint(40, HIGHEST) for _ in range(count)]
    falls, ports = {}, []
    for start, to in sorted(ways):
        if to == start + 1 and straight(cells, start, to):
            falls[start] = to
        else:
            ports.append(Port(start, to, rng.randint(10, heights[start] - 10), rng.random() < 0.3))
    return heights, place(cells, heights, WIDTH, ports, falls), ports, falls


@pytest.mark.parametrize("seed", range(200))
def test_boxes_never_meet_and_no_line_crosses_a_box(seed: int):
    heights, placed, ports, falls = drawn(seed)
    boxes = [(x, y, x + WIDTH, y + h) for (x, y), h in zip(placed.boxes, heights, strict=True)]
    for a, b in combinations(boxes, 2):
        assert a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]
    for left, top, right, bottom in boxes:
        assert left >= 0 and top >= 0 and right <= placed.width and bottom <= placed.height
    assert len(placed.lines) == len(ports) + len(falls)
    for line in placed.lines:
        for (x0, y0), (x1, y1) in zip(line.points, line.points[1:], strict=False):
            assert x0 == x1 or y0 == y1
            assert min(x0, x1) >= 0 and max(x0, x1) <= placed.width
            for left, top, right, bottom in boxes:
                inside = max(min(x0, x1), left) < min(max(x0, x1), right) if y0 == y1 else left < x0 < right
                beside = max(min(y0, y1), top) < min(max(y0, y1), bottom) if x0 == x1 else top < y0 < bottom
                assert not (inside and beside), f"{line} runs through a box"


@pytest.mark.parametrize("seed", range(200))
def test_lines_that_share_a_channel_lead_to_the_same_step(seed: int):
    """Whatever joins a line leads where that line leads; upright parts of different targets never lie on each other."""
    _, placed, _, _ = drawn(seed)
    upright: dict[int, list[tuple[int, int, tuple[int, int]]]] = {}
    for line in placed.lines:
        for (x0, y0), (x1, y1) in zip(line.points, line.points[1:], strict=False):
            if x0 == x1:
                upright.setdefault(x0, []).append((min(y0, y1), max(y0, y1), line.points[-1]))
    for parts in upright.values():
        for a, b in combinations(parts, 2):
            if max(a[0], b[0]) < min(a[1], b[1]):
                assert a[2] == b[2], f"{a} and {b} can't be told apart"


def test_onward_steps_stand_below_and_branches_aside():
    cells = grid(4, {(0, 1), (0, 2), (1, 3), (2, 3)})
    assert [(c.layer, c.column) for c in cells] == [(0, 0), (1, 0), (1, 1), (2, 0)]


def test_a_line_back_leaves_on_the_left_and_rises():
    cells = grid(3, {(0, 1), (1, 2), (2, 0)})
    placed = place(cells, [50, 50, 50], WIDTH, [Port(2, 0, 30)], {0: 1, 1: 2})
    back = next(line for line in placed.lines if line.back)
    assert back.points[0][0] == placed.boxes[2][0]
    assert back.points[1][0] < placed.boxes[0][0]
    assert back.points[-1][1] == placed.boxes[0][1] < back.points[0][1]


@pytest.mark.parametrize("words", ["a b c " * 40, "W" * 300, "", "one two", "→ 3.1"])
def test_words_stay_in_their_box(words: str):
    lines = wrapped(words, 200)
    assert all(extent(line) <= 200 for line in lines)
    assert "".join("".join(lines).split()) == "".join(words.split())


def svg_of(capsys, file: str) -> str:
    assert main(["states", file, "--format", "svg"]) == 0
    return capsys.readouterr().out


def test_every_demo_picture_is_sound_and_says_all_in_words(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    files = [
        f
        for f in sorted(Path("procedures").rglob("*.md"))
        if f.name not in ("profile.md", "front.md") and f.parent.name != "training"
    ]
    assert len(files) >= 5
    for file in files:
        out = svg_of(capsys, str(file))
        tree = ET.fromstring(out)
        assert tree.tag == f"{SVG}svg"
        assert not list(tree.iter(f"{SVG}script")) and not list(tree.iter(f"{SVG}style"))
        assert not [
            e for e in tree.iter() if "style" in e.attrib or any(k.endswith("href") for k in e.attrib)
        ]
        assert out == svg_of(capsys, str(file)), "same table, same bytes"


def test_steps_answers_failures_and_calls_stand_in_the_picture(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    tree = ET.fromstring(svg_of(capsys, "procedures/lift/lft-120-not-charged.md"))
    said = " ".join(" ".join("".join(t.itertext()) for t in tree.iter(f"{SVG}text")).split())
    for words in (
        "1.1 Watch the dock lamp", "Hands: outside controls", "dock supply: live", "battery: proved zero, held",
        "Green all the time → 1.4", "failed: Less than 25.2 V → 5.2", "Does stage A, then goes on",
        "A Make safe: done from 2.1, 3.1", "Both 1 V or less, boom firm, pedal loose: back to the caller",
        "Goes back to the caller", "End: Left locked out and tagged", "Dashed: the answer of a failed proof or test.",
    ):  # fmt: skip
        assert words in said, words
    assert said.count("A.1 Park the boom") == 1, "a shared stage is drawn once"
    failed = [p for p in tree.iter(f"{SVG}path") if "g-failed" in p.get("class", "")]
    assert failed and all(p.get("stroke-dasharray") for p in failed)
    whole = [p for p in tree.iter(f"{SVG}path") if p.get("class") == "g-line"]
    assert whole and not any(p.get("stroke-dasharray") for p in whole)


def test_the_page_alone_asks_for_nothing_and_runs_nothing(tmp_path, monkeypatch, capsys):
    small_library(tmp_path)
    monkeypatch.chdir(tmp_path)
    text = guide_example("procedure").replace(
        "Replace the door switch", "Replace <script>alert(1)</script> & more"
    )
    (tmp_path / "procedures" / "trl-110.md").write_text(text, encoding="utf-8")
    main(["states", "procedures/trl-110.md", "--format", "html"])
    out = capsys.readouterr().out
    page = Read(out)
    assert "script" not in {tag for tag, _ in page.tags}
    assert all(ref.startswith("#") for ref in page.references())
    assert set(re.findall(r"url\(([^)]*)", out)) == {"#tip"} and "@import" not in out
    assert not [a for _, a in page.tags if "style" in a or any(k.startswith("on") for k in a)]
    assert "Replace <script>alert(1)</script> & more" in page.text
    assert "every way through the document, as it is annotated, meets the policy" in page.text
    for tag in ("svg", "table", "details"):
        assert tag in {t for t, _ in page.tags}
    scopes = {a.get("scope") for t, a in page.tags if t == "th"}
    assert scopes == {"col", "row", "rowgroup"}
