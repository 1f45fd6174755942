"""Records as a phone would write them, made from the plan of a real document."""

import functools
import itertools
import json
import random
from datetime import datetime, timedelta, timezone
from pathlib import Path

from kilter.model.record import Record
from kilter.records.against import uncertainty_at, verdict_on
from kilter.records.canonical import canonical, digest_of
from kilter.records.plans import Plans
from kilter.records.store import RecordStore

ROOT = Path(__file__).parent.parent.parent
NUMBER = "STR-110"
START = datetime(2026, 11, 28, 9, 0, 0, tzinfo=timezone(timedelta(hours=1)))


@functools.cache
def plan(number=NUMBER):
    found = Plans(ROOT / "procedures", RecordStore(ROOT / "no-such-folder")).today(number)
    assert found is not None
    return found


def uuid_of(seed):
    made = random.Random(seed).getrandbits(128)
    hex = f"{made:032x}"
    return f"{hex[:8]}-{hex[8:12]}-4{hex[13:16]}-a{hex[17:20]}-{hex[20:]}"


def sealed(data):
    data = {key: value for key, value in data.items() if key != "digest"}
    return {**data, "digest": digest_of(data)}


def head(number=NUMBER, **more):
    asked = plan(number)
    return {
        "schema": "kilter-record-1",
        "id": uuid_of(1),
        "kind": "run",
        "document": asked["document"],
        "revision": asked["revision"],
        "hash": asked["hash"],
        "equipment": asked["equipment"],
        "asset": "0042",
        "serial": "20417",
        "workOrder": "WO-77",
        "worker": "AB",
        "started": START.isoformat(),
        "finished": "",
        "zoneName": "Europe/Berlin",
        "exit": "",
        "previous": "",
        **more,
    }


def entry(n, kind, step, at=None, **more):
    when = at or (START + timedelta(seconds=20 * n)).isoformat()
    return {
        "n": str(n),
        "at": when,
        "kind": kind,
        "step": step["anchor"],
        "number": step["number"],
        "occurrence": "1",
        **more,
    }


def reading(n, step, asked, value, at=None, tool_id="T-7"):
    by = uncertainty_at(value, asked["share"], asked["off"])
    same = {key: asked[key] for key in ("id", "name", "phase", "unit", "limits", "low", "high", "tool")}
    return entry(
        n, "reading", step, at, **same, value=value, uncertainty=by, verdict=verdict_on(value, by, asked),
        toolId=tool_id, calibrationDue="2027-03-01",
    )  # fmt: skip


def steps_with_readings(number=NUMBER):
    return [step for step in plan(number)["steps"] if step["readings"]]


def run(number=NUMBER, values=(), upto=None, **more):
    """A run: begun, every reading of the document taken in order, answered, ended; or its first entries only."""
    asked = plan(number)
    first = asked["steps"][0]
    entries = [entry(1, "begin", first, worker="AB")]
    given = itertools.chain(values, itertools.repeat("8.0"))
    for step in steps_with_readings(number):
        for each in step["readings"]:
            entries.append(reading(len(entries) + 1, step, each, next(given)))
    last = next(step for step in asked["steps"] if step["exit"])
    entries.append(entry(len(entries) + 1, "exit", last, exit=last["exit"]))
    entries = entries[:upto]
    ended = entries[-1]["kind"] == "exit"
    data = {**head(number, **more), "entries": entries}
    data |= {"exit": entries[-1]["exit"], "finished": entries[-1]["at"]} if ended else {}
    return sealed(data)


def remark(text="The arrow points to the wrong screw.", seed=9, number=NUMBER):
    step = plan(number)["steps"][1]
    made = entry(1, "remark", step, at=START.isoformat(), hash=step["hash"], text=text)
    return sealed({**head(number, id=uuid_of(seed), kind="remark"), "entries": [made]})


def save(folder, data, name=None):
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / (name or f"{data['id'][:8]}-{data['digest'][:8]}.json")
    file.write_bytes(canonical(data).encode())
    return file


def record(data):
    return Record.model_validate(data)


def shown(data):
    return json.dumps(data, ensure_ascii=False, indent=1)
