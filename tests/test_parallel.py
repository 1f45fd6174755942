"""Work on all cores gives what a loop gives, in the same order.

What forks runs in a process of its own: the one that runs the tests has threads of typesetting and of browsers
by now, and a fork beside them may wait for ever.
"""

import multiprocessing
import os
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from kilter import parallel

ROOT = Path(__file__).parent.parent
forks = pytest.mark.skipif("fork" not in multiprocessing.get_all_start_methods(), reason="no fork here")

ORDER = """
import os
from kilter import parallel
pids = parallel.each(lambda n: (n * n, os.getpid()), list(range(1000)))
assert [n for n, _ in pids] == [n * n for n in range(1000)]
print("shared" if os.getpid() not in {pid for _, pid in pids} else "done here")
"""
FAULT = """
from kilter import parallel
try:
    parallel.each(lambda n: 1 // (n - 500), list(range(1000)))
except ZeroDivisionError:
    print("raised here")
"""
BUILD = """
import sys
from pathlib import Path
from kilter import parallel
from kilter.publish.build import build
parallel.FEW = int(sys.argv[1])
sys.exit(build(Path(), Path(sys.argv[2]), quiet=True, colour=False))
"""


def alone(code, *args, cwd=None):
    """What a fresh process prints that runs this."""
    env = os.environ | {"PYTHONPATH": str(ROOT / "builder")}
    done = subprocess.run(
        [sys.executable, "-c", code, *args],
        cwd=cwd,
        env=env,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@forks
def test_order_is_kept_and_the_work_is_shared():
    assert alone(ORDER) == ("shared\n" if len(os.sched_getaffinity(0)) > 1 else "done here\n")


def test_few_things_are_done_here():
    assert parallel.each(lambda n: n + 1, [1, 2]) == [2, 3]


def test_beside_a_thread_nothing_is_forked(monkeypatch):
    monkeypatch.setattr(multiprocessing, "get_context", None)
    done = threading.Event()
    beside = threading.Thread(target=done.wait)
    beside.start()
    try:
        assert parallel.each(lambda n: n * n, list(range(1000))) == [n * n for n in range(1000)]
    finally:
        done.set()
        beside.join()


@forks
def test_a_thread_that_python_does_not_know_of_counts(monkeypatch):
    monkeypatch.setattr(threading, "active_count", lambda: 1)
    monkeypatch.setattr(parallel, "_threads", lambda: 2)
    assert not parallel._can_fork()
    assert parallel._can_fork(plain=True) is sys.platform.startswith("linux")
    monkeypatch.setattr(parallel, "_threads", lambda: 1)
    assert parallel._can_fork() is sys.platform.startswith("linux")


@forks
def test_a_fault_in_a_worker_is_raised_here():
    assert alone(FAULT) == "raised here\n"


@forks
def test_the_demo_comes_out_the_same(tmp_path):
    shutil.copytree(ROOT / "procedures", tmp_path / "procedures")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    trees = []
    for few in (10**9, 1):
        out = tmp_path / f"out{few}"
        alone(BUILD, str(few), str(out), cwd=tmp_path)
        trees.append({f.relative_to(out): f.read_bytes() for f in out.rglob("*") if f.is_file()})
    assert trees[0] == trees[1]
