"""Every bug seeded into the engine is seen by the comparison with the oracle; the engine without one is not blamed."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from unittest.mock import patch

import pytest

from . import adapter
from . import compare as comparing
from .compare import Tally, compare, show
from .engine_bugs import BUGS
from .engine_patch import seeded
from .generate import CHURN, cases, generators, make, weight
from .spec import Spec

SEED, ROUNDS, MIXED = 7, 30, 200
"""Rounds of all directed generators come first, then cases as the long run makes them."""

Case = tuple[str, int, Spec]


@pytest.fixture(scope="module")
def given() -> Iterator[list[Case]]:
    """The cases; each is read and judged once, which no bug of the engine can touch, and none is shrunk."""
    with (
        patch.object(comparing, "judge", lru_cache(None)(comparing.judge)),
        patch.object(adapter, "read_case", lru_cache(None)(adapter.read_case)),
        patch.object(comparing, "shrink", lambda spec, still: spec),
    ):
        yield [*directed(ROUNDS), *cases(MIXED, SEED)]


def directed(rounds: int) -> Iterator[Case]:
    """Every directed generator in turn, so many times; a new generator changes no case of the others."""
    names = [name for name in generators() if weight(name) == 1]
    for own in range(SEED * CHURN, SEED * CHURN + rounds):
        yield from ((name, own, make(name, own)) for name in names)


def first(given: list[Case]) -> Tally:
    """The comparison, up to the first disagreement."""
    return compare(adapter.engine_findings, given, most=1)


def test_the_engine_without_a_bug_agrees(given: list[Case]) -> None:
    """On the very cases that show the bugs; a good part of them is sound, so that rejecting too much is seen."""
    tally = first(given)
    assert not tally.found, show(tally)
    assert tally.count == len(given)
    assert 0.3 * tally.count < tally.accepted < 0.7 * tally.count


@pytest.mark.parametrize("name", BUGS)
def test_a_seeded_bug_is_seen(name: str, given: list[Case]) -> None:
    """At least one case is accepted or rejected wrongly, or the wrong step is blamed."""
    with seeded(BUGS[name]):
        tally = first(given)
    assert tally.found, f"{tally.count} cases say nothing"


def test_no_bug_outlives_its_test(given: list[Case]) -> None:
    """Put right again, also after a test that failed within."""
    for name in BUGS:
        with pytest.raises(KeyError), seeded(BUGS[name]):
            raise KeyError
    assert not first(given[:100]).found


def test_there_are_bugs_enough() -> None:
    """At least 25 were promised."""
    assert len(BUGS) >= 25
