"""Rows of a figure written into the file: nothing else changes, nobody's change is overwritten, one step back."""

from __future__ import annotations

import re

import pytest

from kilter.live.routes import all_routes

from .frame import FIGURE, NAME, bench, get, library, post, state


@pytest.fixture
def file(tmp_path):
    return library(tmp_path)


@pytest.fixture
def own(file, tmp_path):
    return bench(tmp_path)


def save(own, base, *rows, figure=1):
    sent = [{"line": line, "text": text} for line, text in rows]
    return post(own, "/place/save", path=NAME, figure=figure, base=base, rows=sent)


def line_of(file, words):
    rows = file.read_text(encoding="utf-8").splitlines()
    return next(n for n, row in enumerate(rows, 1) if words in row)


def test_the_state_tells_size_and_places_with_their_lines(own, file):
    found = state(own)
    assert (found["width"], found["height"], found["undo"]) == (400, 300, False)
    line = line_of(file, "Upper hinge")
    assert found["rows"] == [
        {"line": line, "name": "1", "value": "100,80 Upper hinge"},
        {"line": line + 1, "name": "2", "value": "300,60   Latch"},
    ]


@pytest.mark.parametrize("ends", [b"\n", b"\r\n"])
@pytest.mark.parametrize("bom", [b"", b"\xef\xbb\xbf"])
def test_a_new_item_stands_behind_the_last_and_every_other_byte_stays(tmp_path, ends, bom):
    file = library(tmp_path)
    before = bom + file.read_bytes().replace(b"\n", ends)
    file.write_bytes(before)
    own = bench(tmp_path)
    status, found = save(own, state(own)["hash"], (0, ":3: 12,34 Hook"))
    assert status == 200 and found["rows"][-1]["value"] == "12,34 Hook" and found["undo"]
    old = b":2:  300,60   Latch" + ends
    assert file.read_bytes() == before.replace(old, old + b":3: 12,34 Hook" + ends)
    assert file.with_name(f"{NAME}.bak").read_bytes() == before


def test_a_row_is_moved_and_another_taken_out(own, file):
    before = file.read_text(encoding="utf-8")
    line = line_of(file, "Upper hinge")
    status, _ = save(own, state(own)["hash"], (line, ":1: 101,82 Upper hinge"), (line + 1, ""))
    assert status == 200
    wanted = before.replace("100,80", "101,82").replace(":2:  300,60   Latch\n", "")
    assert file.read_text(encoding="utf-8") == wanted


@pytest.mark.parametrize("row", [
    ":crop: 10,10,300,200", ":cover: 10,10,30,20", ":detail: 10,100,50,40 lower right, 3 times",
    ":motion: turn 100,80 left 90°", ":scale: 50 mm = 10,200 90,200",
])  # fmt: skip
def test_every_kind_of_place_can_be_written(own, row):
    status, found = save(own, state(own)["hash"], (0, row))
    assert status == 200 and found["findings"] == []
    assert row in {f":{r['name']}: {r['value']}" for r in found["rows"]}


@pytest.mark.parametrize("row", [
    ":3: 12 Hook", ":motion: lift 1,2 up", ":alt: Another text", ":after: back.png", "### A step", ":::", "words",
    ":1: 5,5 Twice", ":3: 1,2 Hook\n### Step",
])  # fmt: skip
def test_what_is_no_place_is_not_written(own, file, row):
    before = file.read_bytes()
    status, found = save(own, state(own)["hash"], (0, row))
    assert status == 422 and found["error"]
    assert file.read_bytes() == before and not file.with_name(f"{NAME}.bak").exists()


def test_a_line_elsewhere_in_the_file_is_never_touched(own, file):
    before = file.read_bytes()
    for line in (1, 5, line_of(file, ":alt:"), line_of(file, ":::{figure}"), 100_000):
        status, _ = save(own, state(own)["hash"], (line, ":3: 1,2 Hook"))
        assert status == 422 and file.read_bytes() == before


def test_somebody_elses_change_stays_and_is_shown(own, file):
    base = state(own)["hash"]
    theirs = file.read_bytes().replace(b"Upper hinge", b"Top hinge")
    file.write_bytes(theirs)
    status, found = save(own, base, (0, ":3: 12,34 Hook"))
    assert status == 409 and "changed meanwhile" in found["error"]
    assert found["rows"][0]["value"] == "100,80 Top hinge" and file.read_bytes() == theirs
    assert save(own, found["hash"], (0, ":3: 12,34 Hook"))[0] == 200


def test_undo_takes_back_and_brings_back(own, file):
    before = file.read_bytes()
    _, found = save(own, state(own)["hash"], (0, ":3: 12,34 Hook"))
    after = file.read_bytes()
    status, found = post(own, "/place/undo", path=NAME, figure=1, base=found["hash"])
    assert status == 200 and file.read_bytes() == before and len(found["rows"]) == 2
    assert post(own, "/place/undo", path=NAME, figure=1, base=found["hash"])[0] == 200
    assert file.read_bytes() == after
    file.write_bytes(after + b"\nMore.\n")
    assert post(own, "/place/undo", path=NAME, figure=1, base=found["hash"])[0] == 409


def test_undo_without_a_copy_says_so(own):
    status, found = post(own, "/place/undo", path=NAME, figure=1, base=state(own)["hash"])
    assert status == 422 and "no copy" in found["error"]


def number(own, figure=1):
    return post(own, "/place/number", path=NAME, figure=figure, base=state(own, figure)["hash"])


def test_numbers_clockwise_are_followed_by_what_the_text_says(own, file):
    """The right margin is read before the left: hinge and latch change numbers, here and in the steps."""
    before = file.read_text(encoding="utf-8")
    assert state(own)["clockwise"] == {
        "offered": True,
        "refused": "",
        "references": before.count("{item}`fig-back"),
    }
    status, found = number(own)
    assert status == 200 and found["clockwise"] == {"offered": False, "refused": "", "references": 0}
    swapped = re.sub(r"(?<=`fig-back )[12]", lambda m: "21"[int(m[0]) - 1], before)
    wanted = swapped.replace(":1: 100,80", ":2: 100,80").replace(":2:  300,60", ":1:  300,60")
    assert file.read_text(encoding="utf-8") == wanted != before
    assert post(own, "/place/undo", path=NAME, figure=1, base=found["hash"])[0] == 200
    assert file.read_text(encoding="utf-8") == before


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (":::\n", ":::\n\n:::{figure} back.png\n:alt: Again.\n:1: 90,70 Upper hinge\n:::\n", "the same part keeps its number"),
        (":::\n", ":::\n\n:::{figure} back.png\n:alt: Again.\n:3: 90,70 Hook\n:::\n", ""),
        ("{item}`fig-back 1`", "**1**", "says a number in bold"),
    ],
)  # fmt: skip
def test_numbers_that_can_not_be_followed_stay_and_the_reason_is_told(tmp_path, old, new, told):
    file = library(tmp_path)
    text = file.read_text(encoding="utf-8")
    at = text.index("Latch\n:::") if old == ":::\n" else 0
    file.write_text(text[:at] + text[at:].replace(old, new, 1), encoding="utf-8")
    own, before = bench(tmp_path), file.read_bytes()
    offer = state(own)["clockwise"]
    assert offer["offered"] is not bool(told) and told in offer["refused"]
    status, found = number(own)
    assert (status == 200) is not bool(told) and (file.read_bytes() == before) is bool(told)
    assert told in found["error"] if told else "error" not in found


def test_of_a_pair_each_picture_has_its_own_rows(tmp_path):
    more = ":after: back.png\n:alt: The back with its door shut.\n:crop: 0,0,200,200\n:::"
    file = library(tmp_path, FIGURE.removesuffix(":::") + more)
    own = bench(tmp_path)
    assert [r["name"] for r in state(own, 2)["rows"]] == ["crop"] and len(state(own, 1)["rows"]) == 2
    assert not state(own, 1)["clockwise"]["offered"] and "pair" in state(own, 1)["clockwise"]["refused"]
    status, _ = save(own, state(own)["hash"], (0, ":1: 20,30 Upper hinge"), figure=2)
    assert status == 200
    assert ":crop: 0,0,200,200\n:1: 20,30 Upper hinge\n:::" in file.read_text(encoding="utf-8")
    status, _ = save(own, state(own)["hash"], (0, ":3: 1,2 Hook"), figure=1)
    assert ":2:  300,60   Latch\n:3: 1,2 Hook\n:after:" in file.read_text(encoding="utf-8")


def test_paths_and_bodies_that_are_none_of_ours_are_refused(own):
    for path in ("../mkdocs.yml", "back.png", "none.md", "/etc/passwd", ""):
        status, found = post(own, "/place/state", path=path, figure=1)
        assert status in (404, 422) and found["error"]
    assert post(own, "/place/state", path=NAME, figure=9)[0] == 422
    assert post(own, "/place/state", path=NAME, figure=0)[0] == 400
    assert post(own, "/place/save", path=NAME)[0] == 400


def test_pages_and_pictures_are_found_by_name(own):
    assert "back.png" in get(own, "/place").body.decode()
    page = get(own, f"/place/{NAME}", figure="1")
    assert page.status == 200 and f'data-path="{NAME}"' in page.body.decode()
    assert get(own, f"/place/{NAME}", shown="1").body == page.body
    assert get(own, "/place/none.md").status == 404
    picture = get(own, f"/place-picture/{NAME}", figure="1")
    assert picture.type == "image/webp" and picture.body.startswith(b"RIFF")
    for path, query in (
        (f"/place-picture/{NAME}", "7"),
        (f"/place-picture/{NAME}", "x"),
        ("/place-picture/none.md", "1"),
    ):
        assert get(own, path, figure=query).status == 404
    assert get(own, "/placing/placing.js").status == 200 and get(own, "/placing/page.py").status == 404


def test_the_routes_pass_the_same_gate_as_all_others():
    routes = all_routes({})
    assert {path for method, path in routes if method == "POST"} >= {
        "/place/save",
        "/place/state",
        "/place/undo",
    }
    assert not [path for method, path in routes if method == "GET" and path in ("/place/save", "/place/undo")]
