"""`kilter picture add` as a person meets it: a clean file with a plain name, and what to do next."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from tests.picture.frame import SECRET, near, pixels, saved, scene, telephone, too_much

from kilter.cli import main
from kilter.compute.pictureinfo import inspect
from kilter.picture.compose import COVER

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60" viewBox="0 0 80 60"><script>x</script><rect width="9" height="9"/></svg>'


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    telephone(tmp_path / "WARD-SEVEN-SECRET 0412.jpg")
    return tmp_path


PHOTO = "WARD-SEVEN-SECRET 0412.jpg"


def test_a_photo_comes_in_upright_and_clean_under_its_new_name(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = (here / PHOTO).read_bytes()
    assert main(["picture", "add", PHOTO, "--as", "rail-latch", "--into", "lift/pictures"]) == 0
    made = here / "lift/pictures/rail-latch.jpg"
    assert too_much(made) == {} and SECRET.encode() not in made.read_bytes()
    assert pixels(made.read_bytes()).size == (480, 640)
    assert (here / PHOTO).read_bytes() == before
    out = capsys.readouterr().out
    assert "lift/pictures/rail-latch.jpg: written, 480 x 640 pixels" in out
    assert ":::{figure} pictures/rail-latch.jpg\n:id: fig-rail-latch\n:alt: [fill in:" in out
    assert "Nothing here can find a face" in out and ":looked: [fill in:" in out


def test_without_a_name_the_content_gives_one(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["picture", "add", PHOTO]) == 0
    assert main(["picture", "add", PHOTO]) == 0
    (made,) = (here / "pictures").iterdir()
    assert made.name.startswith("picture-") and made.suffix == ".jpg"
    out = capsys.readouterr().out
    assert "is there already, the same" in out and "WARD" not in out


def test_another_picture_is_never_written_over(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["picture", "add", PHOTO, "--as", "a"]) == 0
    first = (here / "pictures/a.jpg").read_bytes()
    (here / "other.jpg").write_bytes(saved(scene(300, 200), "JPEG"))
    assert main(["picture", "add", "other.jpg", "--as", "a"]) == 2
    assert "is there already and is another picture" in capsys.readouterr().err
    assert (here / "pictures/a.jpg").read_bytes() == first
    assert [f.name for f in (here / "pictures").iterdir()] == ["a.jpg"]


def test_what_is_covered_or_cut_off_does_not_come_into_the_library(here: Path) -> None:
    areas = ["--crop", "100,0,300,400", "--cover", "150,100,80,60", "--cover", "0,0,50,50"]
    assert main(["picture", "add", PHOTO, "--as", "a", *areas]) == 0
    made = pixels((here / "pictures/a.jpg").read_bytes())
    assert made.size == (300, 400)
    assert all(near(made, at, COVER, 3) for at in ((55, 105), (90, 130), (125, 155)))
    assert not near(made, (250, 300), COVER, 3)


def test_a_drawing_stays_a_drawing(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "a.svg").write_bytes(SVG)
    flat = Image.new("RGB", (300, 200), "white")
    (here / "b.png").write_bytes(saved(flat, "PNG"))
    for name, ending in (("a.svg", "svg"), ("b.png", "png")):
        assert main(["picture", "add", name, "--as", name[0]]) == 0
        made = here / f"pictures/{name[0]}.{ending}"
        assert inspect(made.read_bytes()).problem == "" and too_much(made) == {}
    assert b"script" not in (here / "pictures/a.svg").read_bytes()
    assert ":looked:" not in capsys.readouterr().out


def test_a_very_large_photo_is_brought_down(here: Path) -> None:
    (here / "big.jpg").write_bytes(saved(Image.linear_gradient("L").resize((6000, 4500)), "JPEG"))
    assert main(["picture", "add", "big.jpg", "--as", "big"]) == 0
    assert pixels((here / "pictures/big.jpg").read_bytes()).size == (4096, 3072)


WRONG = {
    "no file": (["gone.jpg"], "gone.jpg: can't be read: No such file"),
    "a folder": (["."], "can't be read: Is a directory"),
    "a name with a blank": ([PHOTO, "--as", "ward 7"], "not a plain name"),
    "a name that leads away": ([PHOTO, "--as", "../a"], "not a plain name"),
    "a long name": ([PHOTO, "--as", "a" * 61], "60 at most"),
    "into a file": ([PHOTO, "--into", PHOTO], "is a file, not a folder"),
    "an area outside": ([PHOTO, "--cover", "470,0,20,20"], "480 wide and 640 high"),
    "a crop of a drawing": (["a.svg", "--crop", "0,0,40,40"], "change the drawing itself"),
    "words": (["words.jpg"], "it holds words; save it as PNG, JPEG or WebP"),
    "a HEIC": (["a.heic"], "set the telephone's camera to JPEG"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_is_told_and_nothing_written(
    name: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "a.svg").write_bytes(SVG)
    (here / "words.jpg").write_text("These are words.", encoding="utf-8")
    (here / "a.heic").write_bytes(b"\x00\x00\x00\x18ftypheic" + bytes(90))
    arguments, words = WRONG[name]
    assert main(["picture", "add", *arguments]) == 2
    assert words in capsys.readouterr().err
    assert not (here / "pictures").exists()


@pytest.mark.parametrize("area", ["1,2,3", "a,b,c,d", "1,2,0,4", "-1,2,3,4", "1,2,3,4,5", ""])
def test_an_area_that_can_not_be_read_is_told(
    area: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["picture", "add", PHOTO, f"--crop={area}"])
    assert ended.value.code == 2
    assert "is no area: write left edge" in capsys.readouterr().err


def test_at_the_top_of_a_library_the_folder_has_to_be_said(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "mkdocs.yml").write_text("site_name: Test\n", encoding="utf-8")
    assert main(["picture", "add", PHOTO]) == 2
    assert "such as --into procedures/lift/pictures" in capsys.readouterr().err
