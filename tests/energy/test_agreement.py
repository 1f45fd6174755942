"""The engine against the oracle: no false accept, no false reject, and no step blamed that nothing is against.

The long run is `python -m tests.energy.compare --count 20000`; this is its short daily form.
"""

from __future__ import annotations

import pytest

from .adapter import engine_findings
from .compare import compare, show
from .generate import cases


@pytest.mark.parametrize("seed", [101, 102])
def test_engine_and_oracle_agree(seed: int) -> None:
    """On a thousand random and directed cases a seed."""
    tally = compare(engine_findings, cases(1000, seed))
    assert not tally.found, show(tally)
    assert tally.count == 1000
    assert 300 < tally.accepted < 600
