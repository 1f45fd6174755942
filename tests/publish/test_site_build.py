"""The whole site of a library: what is in it, what is not, and that it comes out the same twice."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from mkdocs.config import load_config
from mkdocs.exceptions import PluginError
from PIL import Image
from PIL.TiffImagePlugin import IFDRational
from tests.publish.site_frame import MKDOCS, ROOT, all_bytes, build_site, guide_example, read, small_library

from kilter.publish.prepare import prepare
from kilter.publish.site.assemble import assemble


@pytest.fixture(scope="module")
def demo(tmp_path_factory) -> Path:
    return build_site(ROOT, tmp_path_factory.mktemp("demo") / "site")


def test_two_builds_are_byte_identical(demo: Path, tmp_path: Path):
    assert all_bytes(demo) == all_bytes(build_site(ROOT, tmp_path / "again"))


def test_addresses_come_from_numbers_alone(demo: Path):
    pages = {p.name for p in demo.rglob("*.html")}
    assert {"lft-010.html", "lft-120.html", "equipment-egret-2.html", "index.html", "guide.html"} <= pages
    assert not [p for p in demo.rglob("*.html") if p.parent != demo]
    assert not list(demo.glob("sitemap*"))


def test_only_what_was_made_is_published(tmp_path: Path):
    """mkdocs would copy every file of the folder."""
    procedures = small_library(tmp_path)
    (procedures / "notes.txt").write_text("private", encoding="utf-8")
    (procedures / "spare.png").write_bytes((procedures / "back.png").read_bytes())
    (procedures / "extra.js").write_text("alert(1)", encoding="utf-8")
    names = all_bytes(build_site(tmp_path, tmp_path / "out"))
    assert "trl-110.html" in names
    unexpected = [
        n
        for n in names
        if not re.fullmatch(
            r"[\w-]+\.html|records\.json|records\.js|offline\.json|revisions\.json|sw\.js|app\.webmanifest|assets/.+|pictures/\w{12}\.(webp|jpg)",
            n,
        )
    ]
    assert unexpected == []
    assert not [
        n for n in names if n.endswith(("extra.js", ".txt", "back.png", "spare.png", ".md", ".map", ".py"))
    ]


def test_a_document_with_an_error_is_withheld_with_the_reason(tmp_path: Path):
    procedures = small_library(tmp_path, copies=2)
    broken = (procedures / "trl-110.md").read_text(encoding="utf-8").replace("0.8 ± 0.1 N·m", "0.8 N·m")
    (procedures / "trl-110.md").write_text(broken, encoding="utf-8")
    out = build_site(tmp_path, tmp_path / "out")
    assert not (out / "trl-110.html").exists()
    assert (out / "trl-111.html").is_file()
    withheld = read(out / "withheld.html").text
    line = broken[: broken.index("0.8 N·m")].count("\n") + 1
    assert "TRL-110 Replace the door switch" in withheld
    assert f"line {line}," in withheld
    assert "TRL-110" not in (out / "records.json").read_text(encoding="utf-8")
    assert "TRL-110" not in read(out / "by-number.html").text


def test_a_broken_profile_withholds_its_procedures(tmp_path: Path):
    procedures = small_library(tmp_path)
    profile = (procedures / "profile.md").read_text(encoding="utf-8")
    (procedures / "profile.md").write_text(
        profile.replace("battery, capacitor", "capacitor"), encoding="utf-8"
    )
    out = build_site(tmp_path, tmp_path / "out")
    assert not (out / "trl-110.html").exists()
    assert not (out / "equipment-larch-1.html").exists()
    assert "Its equipment profile has errors" in read(out / "withheld.html").text


def test_a_number_that_is_the_address_of_a_page_of_ours_is_withheld(tmp_path: Path):
    procedures = small_library(tmp_path, copies=2)
    text = (procedures / "trl-110.md").read_text(encoding="utf-8").replace("TRL-110", "INDEX")
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    ready = prepare(procedures)
    site = assemble(ready, {})
    addresses = [p.address for p in site.pages]
    assert len(addresses) == len(set(addresses))
    assert [w.errors[0].rule for w in ready.withheld] == ["reserved-number"]


def test_nothing_of_a_camera_is_published(tmp_path: Path):
    """A planted GPS tag, a comment and the original's bytes are looked for in every output."""
    procedures = small_library(tmp_path)
    exif = Image.Exif()
    exif[0x010E] = "WARD-SEVEN-SECRET"
    exif.get_ifd(0x8825).update({1: "N", 2: (IFDRational(51), IFDRational(30), IFDRational(7))})
    picture = Image.effect_noise((400, 300), 60).convert("RGB")
    picture.save(procedures / "back.jpg", exif=exif, comment=b"WARD-SEVEN-SECRET")
    original = (procedures / "back.jpg").read_bytes()
    assert b"WARD-SEVEN-SECRET" in original
    text = guide_example("procedure").replace("back.png", "back.jpg\n:looked: no people, no names")
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    made = all_bytes(build_site(tmp_path, tmp_path / "out"))
    assert [n for n in made if n.startswith("pictures/")]
    for name, data in made.items():
        assert b"WARD-SEVEN-SECRET" not in data, name
        assert original[200:600] not in data, name
        assert b"back.jpg" not in data, name
        if name.startswith("pictures/"):
            with Image.open(tmp_path / "out" / name) as opened:
                assert not opened.getexif(), name


def test_page_size_does_not_grow_with_the_library(tmp_path: Path):
    small_library(tmp_path / "one")
    small_library(tmp_path / "many", copies=30)
    one = build_site(tmp_path / "one", tmp_path / "one/out") / "trl-110.html"
    many = build_site(tmp_path / "many", tmp_path / "many/out") / "trl-110.html"
    assert one.stat().st_size == many.stat().st_size


def test_first_load_of_the_largest_demo_page_stays_small(demo: Path):
    """60 kB as sent (gzip), pictures left out: the budget of the notes."""
    import gzip

    largest = max(
        demo.glob("*-*.html"), key=lambda p: p.stat().st_size if not p.name.startswith("rule-") else 0
    )
    own = ["assets/kilter.css", "assets/document.css", "assets/search.js"]
    total = sum(len(gzip.compress((demo / n).read_bytes())) for n in [largest.name, *own])
    fonts = sum(p.stat().st_size for p in (demo / "assets/vendor").glob("*.woff2"))
    assert total + fonts <= 60_000, (total, fonts)


def test_cards_become_part_of_the_site_and_are_linked(tmp_path: Path):
    small_library(tmp_path)
    out = build_site(tmp_path, tmp_path / "out", {"trl-110.pdf": b"%PDF-1.7 test"})
    assert (out / "cards/trl-110.pdf").read_bytes() == b"%PDF-1.7 test"
    assert "cards/trl-110.pdf" in list(read(out / "trl-110.html").references())
    plain = build_site(tmp_path, tmp_path / "plain")
    assert "cards/trl-110.pdf" not in list(read(plain / "trl-110.html").references())


def test_another_theme_is_refused_in_words(tmp_path: Path):
    small_library(tmp_path)
    (tmp_path / "mkdocs.yml").write_text(MKDOCS.replace("material", "readthedocs"), encoding="utf-8")
    config = load_config(str(tmp_path / "mkdocs.yml"))
    with pytest.raises(PluginError, match="name: material"):
        config.plugins["kilter"].on_config(config)
