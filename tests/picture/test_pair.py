"""Before and after: two pictures in one figure, each with its own options, items and place."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.picture.frame import saved, scene
from tests.picture.test_figures import LOOKED, published_library, said
from tests.publish.site_frame import build_site, read

from kilter.compute.pictureplan import Box, plan_of
from kilter.publish.cards.make import cards_for
from kilter.publish.compiled.make import compiled
from kilter.publish.prepare import prepare
from kilter.read.library import read_library

AFTER = f":after: photo.jpg\n:alt: The side with a new nut.\n{LOOKED}"


def figure_of(folder: Path):
    procedures = folder / "procedures"
    (figure,) = read_library(procedures, base=procedures).documents["example.md"].figures
    return figure


def test_what_stands_below_after_belongs_to_the_second_picture(tmp_path: Path) -> None:
    options = f":id: a\n:crop: 0,0,700,500\n:1: 10,20 Nut\n{AFTER}\n:crop: 0,0,400,300\n:motion: push 9,9 up\n:1: 30,40 Nut"
    assert said(options, tmp_path) == []
    figure = figure_of(tmp_path)
    before, after = figure.pictures
    assert (before.path, after.path, after.id) == ("picture.png", "photo.jpg", None)
    assert [(i.number, i.x) for p in (before, after) for i in p.items] == [(1, 10), (1, 30)]
    assert plan_of(before).crop == Box(0, 0, 700, 500) and plan_of(after).crop == Box(0, 0, 400, 300)
    assert before.looked is None and after.looked and not before.motions and len(after.motions) == 1
    row = (
        (tmp_path / "procedures" / "example.md")
        .read_text(encoding="utf-8")
        .splitlines()[after.path_span.line - 1]
    )
    assert row[after.path_span.column - 1 : after.path_span.end_column - 1] == "photo.jpg"


BAD = {
    ":after: none.png\n:alt: The new nut fitted.": "there is no picture `none.png` [picture-missing]",
    ":after: photo.jpg\n:alt: The new nut fitted.": "nobody says to have looked for people and names in `photo.jpg` [not-looked]",
    ":after: plain.svg": "a figure without a text for those who do not see it [alt-text]",
    f"{AFTER}\n:1: 900,10 Nut": "item 1 stands at 900,10, outside its picture [item-outside]",
    f"{AFTER}\n:after: plain.svg": "option `:after:` stands twice [duplicate-key]",
    f"{AFTER}\n:id: late": "`:id:` stands below `:after:` [misplaced-field]",
    f":1: 10,20 Nut\n{AFTER}\n:1: 30,40 Stud": "item 1 is `Nut` before and `Stud` after [figure-pair]",
    ":after: picture.png\n:alt: The side of the rig.": "before and after are the same picture, `picture.png` [figure-pair]",
    ":after:": "option `:after:` says nothing [empty-field]",
}


@pytest.mark.parametrize("options", BAD)
def test_what_is_wrong_with_a_pair_is_told(options: str, tmp_path: Path) -> None:
    assert said(options, tmp_path) == [BAD[options]]


def test_an_item_of_the_second_picture_can_be_named_in_the_text(tmp_path: Path) -> None:
    figure = f":id: a\n{AFTER}\n:7: 30,40 Stud\nThe stud is {{item}}`a 7`."
    assert said(figure, tmp_path) == []
    wrong = figure.replace("`a 7`", "`a 8`")
    assert [t.rpartition("[")[2] for t in said(wrong, tmp_path)] == ["unknown-item]"]


def library(folder: Path) -> Path:
    options = f"{LOOKED}\n:after: late.jpg\n:alt: The back with the cover on.\n{LOOKED}\n:9: 400,300 Cover"
    procedures = published_library(folder, "", "back.jpg", saved(scene(800, 600), "JPEG"))
    (procedures / "late.jpg").write_bytes(saved(scene(900, 700), "JPEG"))
    file = procedures / "trl-110.md"
    text = file.read_text(encoding="utf-8")
    at = text.index(":::", text.index("back.jpg"))
    lines = [row for row in text[text.index("back.jpg") : at].splitlines()[1:] if row.strip()]
    begin = text[: text.index("back.jpg")] + "back.jpg\n"
    first = [row for row in lines if row.startswith(":")]
    words = [row for row in lines if not row.startswith(":")]
    file.write_text(begin + "\n".join([*first, options, *words]) + "\n" + text[at:], encoding="utf-8")
    return procedures


def test_the_site_shows_both_under_their_words(tmp_path: Path) -> None:
    library(tmp_path)
    page = build_site(tmp_path, tmp_path / "out") / "trl-110.html"
    images = [tag for name, tag in read(page).tags if name == "img" and "pictures/" in tag["src"]]
    assert [(i["width"], i["height"]) for i in images] == [("720", "540"), ("720", "560")]
    html = page.read_text(encoding="utf-8")
    figure = html[html.index('<figure class="pair"') : html.index("</figure>")]
    assert figure.index("Before") < figure.index(images[0]["src"]) < figure.index("After")
    assert figure.index("After") < figure.index(images[1]["src"]) and figure.count("<figcaption>") <= 1
    assert 'data-item="9"' in figure


def test_card_and_data_hold_both(tmp_path: Path) -> None:
    procedures = library(tmp_path)
    (view,) = prepare(procedures).views
    assert all(card.startswith(b"%PDF") for card in cards_for(view).cards.values())
    (figure,) = compiled(prepare(procedures).library, view).figures
    assert figure.path.endswith("back.jpg") and figure.looked == "no people, no names"
    assert figure.after is not None and figure.after.path.endswith("late.jpg")
    assert [i.number for i in figure.after.items] == [9]


def test_the_areas_stand_in_the_data(tmp_path: Path) -> None:
    options = f"{LOOKED}\n:crop: 0,0,700,500\n:cover: 1,2,30,40\n:detail: 100,300,90,70 upper right, 3 times"
    procedures = published_library(tmp_path, options, "back.jpg", saved(scene(800, 600), "JPEG"))
    ready = prepare(procedures)
    (figure,) = compiled(ready.library, ready.views[0]).figures
    assert figure.crop is not None and figure.crop.width == 700
    assert [(c.x, c.height) for c in figure.covers] == [(1, 40)]
    assert [(d.area.y, d.place, d.times) for d in figure.details] == [(300, "upper right", 3.0)]
    assert figure.after is None
