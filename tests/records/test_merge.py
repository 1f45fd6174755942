"""One end state whatever the order in which records come, and however often; nothing is overwritten."""

import itertools
import os
import random
import subprocess
import sys
from pathlib import Path

import pytest
from tests.records import frame

from kilter.outcome import CouldNotRunError
from kilter.records import merge
from kilter.records.canonical import canonical
from kilter.records.lock import locked
from kilter.records.store import RecordStore

ROOT = Path(__file__).parent.parent.parent


def changed_reading():
    data = frame.run(upto=4)
    data["entries"][1]["value"], data["entries"][1]["verdict"] = "8.1", "pass"
    return frame.sealed(data)


MESSAGES = {
    "half": frame.run(upto=2),
    "whole": frame.run(),
    "between": frame.run(upto=4),
    "changed": changed_reading(),
    "other machine": frame.run(id=frame.uuid_of(2), asset="0043"),
    "typed again": frame.run(id=frame.uuid_of(3), started="2026-11-28T09:00:10+01:00"),
}


def state(store):
    return {f.name: f.read_bytes() for f in (store.folder / "taken").iterdir() if f.name.endswith(".json")}


def counted(records, decided=None):
    return [r.digest for r in merge.jobs(records, decided or {})]


def test_all_orders_each_sent_twice_end_alike():
    """The six messages in all 720 orders, each twice: what counts is the same every time."""
    records = [frame.record(m) for m in MESSAGES.values()]
    ends = set()
    for order in itertools.permutations(records):
        here = []
        for record in (*order, *order):
            here = merge.counting([*here, record])
        ends.add(tuple(r.digest for r in here))
    assert len(ends) == 1
    kept = {d for end in ends for d in end}
    assert kept == {
        frame.record(MESSAGES[m]).digest for m in ("whole", "changed", "other machine", "typed again")
    }


@pytest.mark.parametrize("seed", range(12))
def test_the_folder_ends_alike_too(tmp_path, seed):
    records = [frame.record(m) for m in MESSAGES.values()] * 2
    first, second = RecordStore(tmp_path / "a"), RecordStore(tmp_path / "b")
    first.take(records)
    random.Random(seed).shuffle(records)
    for record in records:
        second.take([record])
    assert state(first) == state(second)
    assert len(state(first)) == 4


def test_each_message_is_told_as_what_it_is(tmp_path):
    store = RecordStore(tmp_path / "records")
    half, whole, changed = (frame.record(MESSAGES[m]) for m in ("half", "whole", "changed"))
    assert store.take([half]).new == [half]
    assert store.take([half]).known == [half]
    assert store.take([whole]).longer == [whole]
    assert store.take([half]).known == [half]
    assert store.take([changed]).differing == [changed]
    assert merge.differing(store.all()) == {whole.id: [r for r in store.counting() if r.id == whole.id]}


def test_a_person_decides_which_of_two_versions_counts(tmp_path):
    store = RecordStore(tmp_path / "records")
    whole, changed = (frame.record(MESSAGES[m]) for m in ("whole", "changed"))
    store.take([whole, changed])
    assert len(counted(store.all())) == 2
    store.decide({whole.digest: "counts", changed.digest: "left out"})
    assert counted(store.all(), store.decided()) == [whole.digest]
    assert len(state(store)) == 2


def test_work_typed_once_more_is_one_job():
    whole, again, other = (frame.record(MESSAGES[m]) for m in ("whole", "typed again", "other machine"))
    (pair,) = merge.doubles([again, whole, other])
    assert (pair.counts, pair.other, pair.sure) == (whole, again, True)
    assert set(counted([whole, again, other])) == {whole.digest, other.digest}
    assert set(counted([whole, again, other], {again.digest: "counts"})) == {
        whole.digest,
        again.digest,
        other.digest,
    }


@pytest.mark.parametrize(
    ("more", "double"),
    [({"started": "2026-11-28T11:00:00+01:00"}, True), ({"started": "2026-11-28T11:00:01+01:00"}, False),
     ({"started": "2026-11-28T15:31:00+05:30"}, False), ({"started": "2026-11-28T13:30:00+05:30"}, True), ({"asset": "43"}, False), ({"hash": "0" * 64}, False)],
)  # fmt: skip
def test_two_hours_of_the_same_machine_and_document(more, double):
    """By instant: 13:30+05:30 is 09:00+01:00."""
    one, two = frame.record(frame.run()), frame.record(frame.run(id=frame.uuid_of(5), **more))
    assert bool(merge.doubles([one, two])) is double


def test_a_single_reading_is_only_proposed():
    one, two = (frame.record(frame.run(upto=2, id=frame.uuid_of(n))) for n in (6, 7))
    (pair,) = merge.doubles([one, two])
    assert not pair.sure
    assert len(counted([one, two])) == 2


def test_doubles_do_not_hang_on_the_order():
    records = [
        frame.record(frame.run(id=frame.uuid_of(n), started=f"2026-11-28T{9 + n:02}:00:00+01:00"))
        for n in range(4)
    ]
    ends = {tuple(sorted(counted(order))) for order in itertools.permutations(records)}
    assert len(ends) == 1


def take(folder, seed):
    records = [
        frame.record(frame.run(id=frame.uuid_of(100 * seed + n), asset=f"{seed}-{n}")) for n in range(15)
    ]
    records += [frame.record(m) for m in MESSAGES.values()]
    random.Random(seed).shuffle(records)
    for record in records:
        RecordStore(folder).take([record])


def test_imports_that_run_at_once_lose_nothing(tmp_path):
    folder = tmp_path / "records"
    frame.plan()
    code = "import sys; from pathlib import Path; from tests.records.test_merge import take; take(Path(sys.argv[1]), int(sys.argv[2]))"
    env = os.environ | {"PYTHONPATH": f"{ROOT / 'builder'}{os.pathsep}{ROOT}"}
    processes = [
        subprocess.Popen([sys.executable, "-c", code, str(folder), str(seed)], env=env)
        for seed in range(1, 5)
    ]
    assert [each.wait(timeout=120) for each in processes] == [0] * 4
    assert len(RecordStore(folder).all()) == 4 * 15 + 4
    assert not [f for f in (folder / "taken").iterdir() if f.name.endswith(".new")]


def test_who_waits_too_long_is_told(tmp_path):
    with (
        locked(tmp_path),
        pytest.raises(CouldNotRunError, match="another `kilter records` is at work"),
        locked(tmp_path, patience=0.1),
    ):
        pass


def test_a_file_that_was_changed_by_hand_is_named(tmp_path):
    store = RecordStore(tmp_path / "records")
    store.take([frame.record(MESSAGES["whole"])])
    (file,) = (store.folder / "taken").glob("*.json")
    file.write_text(file.read_text().replace('"0042"', '"0044"'))
    with pytest.raises(CouldNotRunError, match="changed after it was taken in"):
        store.all()


def test_a_full_disk_leaves_what_was_there(tmp_path, monkeypatch):
    store = RecordStore(tmp_path / "records")
    store.take([frame.record(MESSAGES["half"])])
    before = state(store)

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        store.take([frame.record(MESSAGES["whole"])])
    assert state(store) == before
    assert {f.suffix for f in (store.folder / "taken").iterdir()} == {".json"}


def test_bytes_are_canonical(tmp_path):
    store = RecordStore(tmp_path / "records")
    store.take([frame.record(MESSAGES["whole"])])
    (data,) = state(store).values()
    assert data.decode() == canonical(MESSAGES["whole"]) + "\n"
