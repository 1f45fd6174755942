"""Work on all cores gives what a loop gives, in the same order."""

import multiprocessing
import shutil
from pathlib import Path

import pytest

from kilter import parallel
from kilter.publish.build import build

ROOT = Path(__file__).parent.parent
forks = pytest.mark.skipif("fork" not in multiprocessing.get_all_start_methods(), reason="no fork here")


def square(n):
    return n * n


@forks
def test_order_is_kept(monkeypatch):
    monkeypatch.setattr(parallel, "_can_fork", lambda: True)
    things = list(range(1000))
    assert parallel.each(square, things) == [n * n for n in things]


def test_few_things_are_done_here():
    assert parallel.each(lambda n: n + 1, [1, 2]) == [2, 3]


@forks
def test_a_fault_in_a_worker_is_raised_here(monkeypatch):
    monkeypatch.setattr(parallel, "_can_fork", lambda: True)
    with pytest.raises(ZeroDivisionError):
        parallel.each(lambda n: 1 // (n - 500), list(range(1000)))


@forks
def test_the_demo_comes_out_the_same(tmp_path, monkeypatch):
    shutil.copytree(ROOT / "procedures", tmp_path / "procedures")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    monkeypatch.chdir(tmp_path)
    trees = []
    for few in (10**9, 1):
        monkeypatch.setattr(parallel, "FEW", few)
        monkeypatch.setattr(parallel, "_can_fork", lambda: parallel._job is None)
        assert build(Path(), tmp_path / f"out{few}", quiet=True, colour=False) == 0
        out = tmp_path / f"out{few}"
        trees.append({f.relative_to(out): f.read_bytes() for f in out.rglob("*") if f.is_file()})
    assert trees[0] == trees[1]
