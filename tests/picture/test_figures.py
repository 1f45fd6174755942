"""The options of a figure: read, checked, and seen in the site and on the card."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from tests.check.pages import report_of
from tests.picture.frame import SECRET, saved, scene, telephone, too_much
from tests.publish.site_frame import build_site, guide_example, read, small_library

from kilter.compute.pictureplan import Box, Inset, plan_of
from kilter.diagnostic import Severity
from kilter.publish.cards.make import cards_for
from kilter.publish.prepare import prepare
from kilter.read.library import read_library

LOOKED = ":looked: no people, no names"


def said(options: str, folder: Path, picture: str = "picture.png") -> list[str]:
    """Errors about a figure with these options; the picture has 800 x 600 pixels."""
    text = f"Look at it.\n\n:::{{figure}} {picture}\n:alt: The side of the rig.\n{options}\n:::\n"
    found = report_of(text, folder).all()
    return [f"{d.message} [{d.rule}]" for d in found if d.severity is Severity.ERROR]


BAD = {
    ":crop: 1,2,3": "`:crop:` can't be read [bad-value]",
    ":crop: -1,2,3,4": "`:crop:` can't be read [bad-value]",
    ":cover: 1,2,0,4": "`:cover:` names an area without width or height [bad-value]",
    ":crop: 1,2,300,400 left": "`:crop:` has words behind its four numbers: `left` [bad-value]",
    ":crop: 9999999,2,3,4": "`:crop:` can't be read [bad-value]",
    ":detail: 10,20,30,40": "`:detail:` does not say in which corner and how large [bad-value]",
    ":detail: 10,20,30,40 middle, 3 times": "`:detail:` does not say in which corner and how large [bad-value]",
    ":detail: 10,20,30,40 upper right, 9 times": "a detail is shown 1.5 to 8 times as large, not 9 [bad-value]",
    ":crop: 0,0,100,100\n:crop: 0,0,90,90": "option `:crop:` stands twice [duplicate-key]",
    ":crops: 0,0,100,100": "option `:crops:` of a figure is not known [unknown-field]",
    ":crop: 0,0,801,600": "`:crop: 0,0,801,600` reaches outside its picture [picture-area]",
    ":cover: 790,590,20,5": "`:cover: 790,590,20,5` reaches outside its picture [picture-area]",
    ":crop: 0,0,31,600": "`:crop: 0,0,31,600` is smaller than 32 by 32 pixels [picture-area]",
    ":detail: 10,20,30,7 upper right, 3 times": "`:detail: 10,20,30,7` is smaller than 8 by 8 pixels [picture-area]",
    ":detail: 10,300,150,40 upper right, 3 times": "the detail would take 56 % of the picture in its corner [picture-area]",
    ":detail: 600,40,100,80 upper right, 3 times": "the detail would lie over the part that it enlarges [picture-area]",
    ":crop: 0,0,400,300\n:detail: 390,100,40,40 lower left, 2 times": "a detail reaches outside what `:crop:` leaves of the picture [picture-area]",
    ":detail: 300,300,90,70 upper right, 3 times\n:detail: 200,300,90,70 upper right, 2 times": "two details would lie over each other [picture-area]",
    ":crop: 0,0,400,300\n:1: 400,10 Nut": "item 1 stands at 400,10, which `:crop:` cuts off [picture-area]",
    ":cover: 100,100,50,50\n:1: 120,120 Nut": "item 1 stands at 120,120, which `:cover:` paints over [picture-area]",
    ":detail: 300,300,90,70 upper right, 3 times\n:motion: push 700,100 left": "`push left` stands at 700,100, under the enlarged detail [figure-marks]",
    ":detail: 300,300,90,70 upper right, 3 times\n:scale: 5 cm = 100,100 700,100": "an end of `:scale:` stands at 700,100, under the enlarged detail [figure-marks]",
    ":detail: 300,300,90,70 upper right, 3 times\n:1: 700,100 Nut": "item 1 stands at 700,100, under the enlarged detail [picture-area]",
}


@pytest.mark.parametrize("options", BAD)
def test_what_can_not_be_done_is_told(options: str, tmp_path: Path) -> None:
    assert said(options, tmp_path) == [BAD[options]]


def test_what_can_be_done_is_read(tmp_path: Path) -> None:
    options = ":crop: 0,0,800,500\n:cover: 1,2,3,4\n:cover: 5,6,7,8\n:detail: 300,300,90,70  upper right , 2.5 times"
    assert said(options, tmp_path) == []
    (figure,) = (
        read_library(tmp_path / "procedures", base=tmp_path / "procedures").documents["example.md"].figures
    )
    plan = plan_of(figure)
    assert plan.crop == Box(0, 0, 800, 500) and plan.covers == (Box(1, 2, 3, 4), Box(5, 6, 7, 8))
    assert plan.insets == (Inset(Box(300, 300, 90, 70), "upper right", 2.5),)


def test_a_drawing_in_svg_takes_no_areas(tmp_path: Path) -> None:
    told = "an SVG drawing can't be cropped, covered or enlarged here [picture-area]"
    assert said(":cover: 1,2,3,4", tmp_path, "plain.svg") == [told]
    assert said(":1: 799,599 Line", tmp_path, "plain.svg") == []
    assert said(":1: 800,599 Line", tmp_path, "plain.svg") == [
        "item 1 stands at 800,599, outside its picture [item-outside]"
    ]


def test_somebody_has_to_say_that_the_photograph_was_looked_at(tmp_path: Path) -> None:
    unsaid = "nobody says to have looked for people and names in `photo.jpg` [not-looked]"
    assert said(":id: a", tmp_path, "photo.jpg") == [unsaid]
    assert said(":looked: all good", tmp_path, "photo.jpg") == [
        "`:looked: all good` says too little [not-looked]"
    ]
    assert said(":looked:", tmp_path, "photo.jpg") == [unsaid, "option `:looked:` says nothing [empty-field]"]
    assert said(LOOKED, tmp_path, "photo.jpg") == []


def test_the_mending_never_says_it_for_them(tmp_path: Path) -> None:
    text = "Look.\n\n:::{figure} photo.jpg\n:alt: The side of the rig.\n:::\n"
    (found,) = (d for d in report_of(text, tmp_path).all() if d.rule == "not-looked")
    (fix,) = found.fixes
    assert fix.leaves_blank and not fix.alone and "[fill in:" in fix.edits[0].text
    blank = ":looked: [fill in: what you looked for in the picture]"
    assert any("[blank]" in line or "fill" in line for line in said(blank, tmp_path, "photo.jpg"))


_SMALL = st.integers(0, 900)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(["crop", "cover", "detail"]), _SMALL, _SMALL, _SMALL, _SMALL)
def test_any_area_is_taken_or_told_with_its_line(
    tmp_path_factory: pytest.TempPathFactory, name: str, x: int, y: int, width: int, height: int
) -> None:
    more = " lower left, 2 times" if name == "detail" else ""
    told = said(f":{name}: {x},{y},{width},{height}{more}", tmp_path_factory.mktemp("any"))
    fits = width > 0 and height > 0 and x + width <= 800 and y + height <= 600
    if not fits:
        assert len(told) == 1 and told[0].endswith(("[bad-value]", "[picture-area]"))
    elif name == "cover":
        assert told == []
    assert all(t.endswith(("[bad-value]", "[picture-area]")) for t in told)


def published_library(folder: Path, options: str, picture: str, data: bytes) -> Path:
    procedures = small_library(folder)
    (procedures / picture).write_bytes(data)
    text = guide_example("procedure").replace("back.png", f"{picture}\n{options}")
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    return procedures


def test_a_photograph_on_the_site_comes_in_widths_and_does_not_make_the_page_jump(tmp_path: Path) -> None:
    data = saved(scene(2000, 1500), "JPEG")
    options = f"{LOOKED}\n:crop: 100,50,1600,1200\n:cover: 1300,900,100,50"
    published_library(tmp_path, options, "back.jpg", data)
    page = build_site(tmp_path, tmp_path / "out") / "trl-110.html"
    (image,) = (tag for name, tag in read(page).tags if name == "img" and "pictures/" in tag["src"])
    (source,) = (tag for name, tag in read(page).tags if name == "source")
    names = re.findall(r"(pictures/\w{12}\.webp) (\d+)w", source["srcset"])
    assert [int(width) for _, width in names] == [1440, 720, 360]
    for name, width in names:
        with Image.open(tmp_path / "out" / name) as opened:
            assert opened.size == (int(width), int(width) * 3 // 4)
    assert source["type"] == "image/webp" and source["sizes"] and image["alt"]
    assert (image["width"], image["height"]) == ("720", "540") and image["src"].endswith(".jpg")
    with Image.open(tmp_path / "out" / image["src"]) as opened:
        assert opened.format == "JPEG" and opened.size == (720, 540), "for browsers without WebP"


def test_nothing_of_the_original_is_in_site_and_cards(tmp_path: Path) -> None:
    folder = tmp_path / "library"
    source = telephone(tmp_path / "a.jpg")
    original = source.read_bytes()
    procedures = published_library(folder, f"{LOOKED}\n:cover: 200,300,90,90", "back.jpg", original)
    out = build_site(folder, tmp_path / "out")
    (view,) = prepare(procedures).views
    made = {f.name: f.read_bytes() for f in out.rglob("*") if f.is_file()} | cards_for(view).cards
    assert any(n.endswith(".webp") for n in made) and any(n.endswith(".pdf") for n in made)
    runs = [
        original[at : at + 64]
        for at in range(0, len(original) - 64, 997)
        if len(set(original[at : at + 64])) > 20
    ]
    assert len(runs) > 10
    for name, data in made.items():
        assert not [run for run in runs if run in data], name
        assert SECRET.encode() not in data, name
    published = sorted((out / "pictures").iterdir())
    assert {f.suffix for f in published} == {".webp", ".jpg"}
    for file in published:
        assert too_much(file) == {}


def test_a_drawing_is_published_as_a_drawing(tmp_path: Path) -> None:
    data = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300" viewBox="0 0 400 300" onload="x()">'
        b'<metadata>WARD-SEVEN</metadata><path d="M10 10H390" stroke="#000"/>'
        b'<text x="20" y="90" font-family="Courier" font-size="20">Spring</text></svg>'
    )
    procedures = published_library(tmp_path, ":looked: drawn by ourselves", "back.svg", data)
    page = build_site(tmp_path, tmp_path / "out") / "trl-110.html"
    (image,) = (tag for name, tag in read(page).tags if name == "img" and "pictures/" in tag["src"])
    assert re.fullmatch(r"pictures/\w{12}\.svg", image["src"]) and "srcset" not in image
    assert (image["width"], image["height"]) == ("400", "300")
    made = (tmp_path / "out" / image["src"]).read_bytes()
    assert b"WARD" not in made and b"onload" not in made and b"Spring" in made
    (view,) = prepare(procedures).views
    assert all(card.startswith(b"%PDF") for card in cards_for(view).cards.values())
