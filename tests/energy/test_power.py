"""Every fault seeded into the oracle is noticed by the generated cases: else they would miss it in an engine too."""

from __future__ import annotations

import pytest

from .faults import FAULTS, Fault, seeded
from .generate import cases
from .oracle import judge
from .reading import Outcome
from .spec import Spec

COUNT = 4000


@pytest.fixture(scope="module")
def judged() -> list[tuple[Spec, Outcome]]:
    """Cases with the verdict of the sound oracle."""
    return [(spec, judge(spec)) for _, _, spec in cases(COUNT, 21)]


def noticed(spec: Spec, sound: Outcome) -> bool:
    """Would the comparison see a difference: another verdict, or a step blamed that nothing is against?"""
    now = judge(spec).core
    return bool(now) != bool(sound.core) or bool({v[0] for v in now} - {v[0] for v in sound.core})


@pytest.mark.parametrize("fault", FAULTS, ids=[f[0] for f in FAULTS])
def test_a_seeded_fault_is_noticed(fault: Fault, judged: list[tuple[Spec, Outcome]]) -> None:
    """At least one of the cases tells the faulty oracle from the sound one."""
    with seeded(fault):
        assert any(noticed(spec, sound) for spec, sound in judged)


def test_the_oracle_is_sound_again_afterwards(judged: list[tuple[Spec, Outcome]]) -> None:
    """No fault outlives its test."""
    assert all(judge(spec) == sound for spec, sound in judged[:300])
