"""What is kept between builds: whole or not at all, bounded, safe to delete, never in the way."""

from __future__ import annotations

import os
import subprocess
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from tests.picture.frame import saved, scene

from kilter.compute import pictureinfo
from kilter.compute.keep import FOLDER, Keep, keep_for
from kilter.compute.pictureplan import Box, Plan
from kilter.picture import encode


def library(folder: Path) -> Path:
    (folder / "procedures" / "pictures").mkdir(parents=True)
    (folder / "mkdocs.yml").write_text("site_name: Test\n", encoding="utf-8")
    file = folder / "procedures" / "pictures" / "a.jpg"
    file.write_bytes(saved(scene(), "JPEG"))
    return file


def fresh() -> None:
    """As in a process of its own."""
    encode._variants.cache_clear()
    pictureinfo._info.cache_clear()


def test_an_entry_comes_back_and_a_spoilt_one_does_not(tmp_path: Path) -> None:
    keep = Keep(tmp_path / "k")
    assert keep.get("a") is None
    keep.put("a", b"content")
    assert keep.get("a") == b"content"
    for spoilt in (b"", b"content", (tmp_path / "k" / "a").read_bytes()[:-1]):
        (tmp_path / "k" / "a").write_bytes(spoilt)
        assert keep.get("a") is None


def test_no_name_leads_out_of_the_folder(tmp_path: Path) -> None:
    for name in ("../a", "a/b", ".a", "", "A", "a" * 81):
        with pytest.raises(ValueError, match="no name"):
            Keep(tmp_path).get(name)


def test_git_passes_the_folder_over(tmp_path: Path) -> None:
    subprocess.run(["git", "init", "-q", str(tmp_path)], check=True)
    (tmp_path / "mkdocs.yml").write_text("site_name: Test\n", encoding="utf-8")
    keep = keep_for(tmp_path / "procedures")
    assert keep is not None and keep.folder == tmp_path / FOLDER
    keep.put("a", b"content")
    done = subprocess.run(
        ["git", "-C", str(tmp_path), "status", "--porcelain", "-uall"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == ["??", "mkdocs.yml"]


def test_the_folder_stays_below_its_bound(tmp_path: Path) -> None:
    keep = Keep(tmp_path / "k", most=10_000)
    for n in range(300):
        keep.put(f"entry-{n}", bytes(200))
        os.utime(tmp_path / "k" / f"entry-{n}", ns=(n * 10**9, n * 10**9))
    keep.prune()
    left = [f for f in (tmp_path / "k").iterdir() if f.name != ".gitignore"]
    assert 0 < sum(f.stat().st_size for f in left) <= 10_000
    assert keep.get("entry-299") is not None and keep.get("entry-0") is None


def test_a_folder_that_can_not_be_written_is_no_error(tmp_path: Path) -> None:
    (tmp_path / "k").write_text("a file in its place", encoding="utf-8")
    Keep(tmp_path / "k").put("a", b"content")
    assert Keep(tmp_path / "k").get("a") is None


def test_many_at_once_leave_whole_entries(tmp_path: Path) -> None:
    keep = Keep(tmp_path / "k")
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda n: keep.put(f"e-{n % 3}", b"x" * 100_000), range(60)))
    assert sorted(f.name for f in (tmp_path / "k").iterdir()) == [".gitignore", "e-0", "e-1", "e-2"]
    assert all(keep.get(f"e-{n}") == b"x" * 100_000 for n in range(3))


def test_a_second_build_unpacks_no_picture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = library(tmp_path)
    first = encode.variants(file, [(640, "webp"), (320, "jpeg")])
    facts = pictureinfo.picture_info(file)
    fresh()

    def never(*_: object) -> None:
        raise AssertionError("unpacked again")

    with monkeypatch.context() as patched:
        patched.setattr(encode, "decoded", never)
        patched.setattr(pictureinfo, "inspect", never)
        assert encode.variants(file, [(640, "webp"), (320, "jpeg")]) == first
        assert pictureinfo.picture_info(file) == facts
        with pytest.raises(AssertionError, match="unpacked again"):
            encode.variants(file, [(640, "webp")], Plan(crop=Box(0, 0, 100, 100)))


def test_without_the_folder_or_with_spoilt_entries_the_result_is_the_same(tmp_path: Path) -> None:
    file = library(tmp_path)
    first = encode.variants(file, [(320, "webp")])
    for entry in (tmp_path / FOLDER).iterdir():
        entry.write_bytes(b"rubbish")
    fresh()
    assert encode.variants(file, [(320, "webp")]) == first
    for entry in (tmp_path / FOLDER).iterdir():
        entry.unlink()
    (tmp_path / FOLDER).rmdir()
    fresh()
    assert encode.variants(file, [(320, "webp")]) == first


def test_a_changed_picture_is_made_anew(tmp_path: Path) -> None:
    file = library(tmp_path)
    first = encode.variants(file, [(320, "webp")])
    file.write_bytes(saved(scene(500, 300), "JPEG"))
    assert encode.variants(file, [(320, "webp")])[0].name != first[0].name


def test_nothing_of_a_broken_picture_is_kept(tmp_path: Path) -> None:
    file = library(tmp_path)
    file.write_bytes(file.read_bytes()[:300])
    assert pictureinfo.picture_info(file).problem
    assert not (tmp_path / FOLDER).exists()
