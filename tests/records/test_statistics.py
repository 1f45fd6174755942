"""What many records say together."""

import random
from datetime import UTC, datetime, timedelta

import pytest
from scipy.stats import beta
from tests.records import frame

from kilter.records import statistics

BEGAN = datetime(2024, 1, 1, tzinfo=UTC)


@pytest.mark.parametrize(
    ("out", "of", "percent"), [(0, 10, 26), (2, 30, 20), (0, 20, 14), (0, 30, 10), (0, 59, 5)]
)
def test_a_share_has_its_upper_bound(out, of, percent):
    """Computed from the Beta distribution, one-sided 95 %, as Clopper and Pearson (1934) have it; scipy as judge."""
    assert statistics.upper_share(out, of) == pytest.approx(beta.ppf(0.95, out + 1, of - out), abs=1e-9)
    assert round(statistics.upper_share(out, of) * 100) == percent
    assert statistics.upper_share(of, of) == 1.0


def visit(n, asset, day, found, left):
    """A record of one visit: what was found, and what was left."""
    step = frame.steps_with_readings()[0]
    at = (BEGAN + timedelta(days=day)).isoformat()
    asked = step["readings"][0]
    entries = [
        frame.entry(1, "begin", step, at=at, worker="AB"),
        frame.reading(2, step, {**asked, "phase": "as found"}, found, at),
    ]
    entries.append(frame.reading(3, step, {**asked, "phase": "as left"}, left, at))
    return frame.record(
        frame.sealed({**frame.head(id=frame.uuid_of(n), asset=asset, started=at), "entries": entries})
    )


def fleet(machines, drift, scatter, seed=4):
    chance = random.Random(seed)
    records = []
    for n in range(machines):
        records.append(visit(2 * n, f"M{n}", n, "8.0", "8.0"))
        found = 8 + drift + chance.gauss(0, scatter)
        records.append(visit(2 * n + 1, f"M{n}", n + 365.25, f"{found:.4f}", "8.0"))
    return records


def test_drift_is_told_from_ten_machines_on():
    (few,) = statistics.drifts(fleet(9, 0.1, 0.05)).values()
    (many,) = statistics.drifts(fleet(10, 0.1, 0.05)).values()
    assert not few.told and many.told
    assert "told from 10 machines or 20 intervals" in "\n".join(statistics.told(fleet(9, 0.1, 0.05)))
    assert "mm a year (95 %), 10 machines, 10 intervals" in "\n".join(statistics.told(fleet(10, 0.1, 0.05)))


def test_the_interval_holds_the_true_drift_about_as_often_as_it_says():
    """200 seeded fleets of 20 machines, drift 0.1 mm a year, scatter 0.05 mm: 95 % of the intervals, less what 20 cost."""
    held = 0
    for seed in range(200):
        (found,) = statistics.drifts(fleet(20, 0.1, 0.05, seed)).values()
        held += abs(found.per_year - 0.1) <= found.error
    assert 178 <= held <= 199


def test_only_what_was_left_and_found_next_is_a_pair():
    records = [
        visit(1, "M", 0, "8.0", "8.1"),
        visit(2, "M", 365.25, "8.3", "8.0"),
        visit(3, "N", 10, "9", "8"),
    ]
    (found,) = statistics.drifts(records).values()
    assert (found.pairs, found.machines) == (1, 1)
    assert found.per_year == pytest.approx(0.2)


def test_another_limit_begins_another_count():
    one = visit(1, "M", 0, "8.1", "8.1")
    data = one.model_dump(by_alias=True)
    data["id"] = frame.uuid_of(5)
    for entry in data["entries"][1:]:
        entry["limits"] = "8.0–8.4 mm"
    both = statistics.counts([one, frame.record(frame.sealed(data))])
    assert [(c.limits, c.of) for c in both] == [("8.0–8.3 mm", 1), ("8.0–8.4 mm", 1)]
