"""Every published value in `builder/kilter/compute/published/` is met; the source stands beside each."""

import importlib
from collections import Counter
from pathlib import Path

import pytest

from kilter.compute.published import MARKS, published

ENTRIES = published()
HERE = Path(__file__).parent


def calls():
    found = {}
    for file in sorted(HERE.glob("published_calls_*.py")):
        for name, call in importlib.import_module(f"tests.compute.{file.stem}").CALLS.items():
            assert name not in found, f"{name} is defined twice"
            found[name] = call
    return found


CALLS = calls()


@pytest.mark.parametrize("entry", ENTRIES, ids=[f"{n}-{e.topic}-{e.of}" for n, e in enumerate(ENTRIES)])
def test_a_published_value_is_met(entry):
    found = CALLS[entry.of](entry.given)
    if isinstance(entry.expect, str):
        assert str(found) == entry.expect, entry.source
    else:
        assert entry.within > 0, "say how far off it may be"
        assert abs(float(found) - entry.expect) <= entry.within, f"{found} {entry.unit}; {entry.source}"


@pytest.mark.parametrize("entry", ENTRIES, ids=[f"{n}-{e.topic}-{e.of}" for n, e in enumerate(ENTRIES)])
def test_every_value_says_where_it_is_from(entry):
    assert entry.mark in MARKS
    assert len(entry.source) > 10
    if entry.mark == "memory":
        assert "memory" not in entry.source.casefold() or entry.source.casefold().startswith("memory")
    else:
        assert "memory" not in entry.source.casefold()


def test_no_value_stands_twice():
    twice = [k for k, n in Counter((e.of, str(e.given), e.source) for e in ENTRIES).items() if n > 1]
    assert twice == []


def test_every_call_is_used():
    assert set(CALLS) == {e.of for e in ENTRIES}
