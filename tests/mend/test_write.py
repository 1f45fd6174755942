"""Files are written whole, together, or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from kilter.mend.write import Change, ChangedMeanwhileError, write


def test_all_files_are_written_and_nothing_is_left_beside_them(tmp_path: Path) -> None:
    a, b = tmp_path / "a.md", tmp_path / "b.md"
    a.write_bytes(b"one\r\n")
    b.write_bytes(b"two")
    a.chmod(0o640)
    write([Change(a, b"one\r\n", b"1\r\n"), Change(b, b"two", b"2")])
    assert (a.read_bytes(), b.read_bytes()) == (b"1\r\n", b"2")
    assert stat.S_IMODE(a.stat().st_mode) == 0o640
    assert sorted(f.name for f in tmp_path.iterdir()) == ["a.md", "b.md"]


@pytest.mark.parametrize("happens", ["changed", "deleted"])
def test_one_file_changed_meanwhile_and_none_is_written(tmp_path: Path, happens: str) -> None:
    a, b = tmp_path / "a.md", tmp_path / "b.md"
    a.write_bytes(b"one")
    if happens == "changed":
        b.write_bytes(b"somebody else's")
    with pytest.raises(ChangedMeanwhileError, match=r"b\.md: changed since it was read"):
        write([Change(a, b"one", b"1"), Change(b, b"two", b"2")])
    assert a.read_bytes() == b"one"
    assert {f.name for f in tmp_path.iterdir()} <= {"a.md", "b.md"}


def test_a_full_disk_leaves_every_file_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    a, b = tmp_path / "a.md", tmp_path / "b.md"
    a.write_bytes(b"one")
    b.write_bytes(b"two")
    real, calls = os.fsync, []

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 2:
            raise OSError(28, "No space left on device")
        real(handle)

    monkeypatch.setattr("kilter.mend.write.os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write([Change(a, b"one", b"1"), Change(b, b"two", b"2")])
    assert (a.read_bytes(), b.read_bytes()) == (b"one", b"two")
    assert sorted(f.name for f in tmp_path.iterdir()) == ["a.md", "b.md"]


def test_the_target_of_a_link_is_written_and_the_link_stays(tmp_path: Path) -> None:
    real, link = tmp_path / "real.md", tmp_path / "link.md"
    real.write_bytes(b"one")
    link.symlink_to(real)
    write([Change(link, b"one", b"1")])
    assert link.is_symlink()
    assert real.read_bytes() == b"1"


def test_what_is_as_it_was_is_not_touched(tmp_path: Path) -> None:
    a = tmp_path / "a.md"
    a.write_bytes(b"one")
    before = a.stat().st_ino
    write([Change(a, b"one", b"one")])
    assert a.stat().st_ino == before
