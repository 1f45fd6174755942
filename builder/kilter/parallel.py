"""The same work on many things, on all cores, in order.

Workers are forks: they see all that has been read without a copy being sent, and only results come back.
Where there is nothing to gain, or no fork, it is a plain loop with the same results.
"""

from __future__ import annotations

import gc
import os
import sys
import threading
import warnings
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

Thing = TypeVar("Thing")
Result = TypeVar("Result")

FEW = 100
"""Below this many things a loop is quicker than starting workers."""

_job: tuple[Callable[[Any], Any], Sequence[Any]] | None = None


def each(work: Callable[[Thing], Result], things: Sequence[Thing], *, plain: bool = False) -> list[Result]:
    """`[work(t) for t in things]`; results, but not things, have to be picklable.

    `plain`: the work sets no type, so threads that typesetting has left here can't hold it up.
    """
    global _job
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if len(things) < FEW or cores < 2 or not _can_fork(plain):
        return [work(thing) for thing in things]
    import multiprocessing

    step = max(1, len(things) // (cores * 8))
    _job = (work, things)
    gc.freeze()  # what is there already is not looked at again, so its pages stay shared
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)
            with multiprocessing.get_context("fork").Pool(cores) as pool:
                parts = pool.map(_part, [(n, n + step) for n in range(0, len(things), step)], chunksize=1)
        return [result for part in parts for result in part]
    finally:
        gc.unfreeze()
        _job = None


def _can_fork(plain: bool = False) -> bool:
    """A fork beside running threads may hang; some systems have none."""
    alone = threading.active_count() == 1 and (plain or _threads() == 1)
    return sys.platform.startswith("linux") and alone and _job is None


def _threads() -> int:
    """Threads of this process as the kernel counts them: typesetting and pictures start some that Python does not see."""
    try:
        return sum(1 for _ in Path("/proc/self/task").iterdir())
    except OSError:
        return 1


def _part(stretch: tuple[int, int]) -> list[Any]:
    assert _job is not None
    work, things = _job
    return [work(thing) for thing in things[stretch[0] : stretch[1]]]
