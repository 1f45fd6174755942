"""A record is refused or accepted alike by the model, by two validators of the published schema, and with its place."""

import copy
import json

import pytest
from pydantic import ValidationError
from tests.records import frame
from tests.schema.judges import Judges, broken

from kilter.model.record import Record
from kilter.records.canonical import canonical, digest_of
from kilter.records.places import NotRecordError, read_json
from kilter.records.read import read_records
from kilter.source import Source

WRONG_VALUES = ["8,31", "NaN", "Infinity", "-0", "-0.00", "8.", ".5", "08.1", "+8", "1e5", "٨", "", " 8"]
WRONG_TIMES = [
    "2026-11-28T10:02:11",
    "2026-11-28 10:02:11+01:00",
    "2026-11-28T10:02:11Z",
    "2026-13-28T10:02:11+01:00",
    "10:02",
    "2026-11-28T24:00:00+01:00",
]


@pytest.fixture(scope="module")
def judges():
    return Judges("record")


def both(judges, sample):
    try:
        Record.model_validate(sample)
        model = True
    except ValidationError:
        model = False
    assert judges.accept(sample) is model
    return model


def test_what_a_phone_writes_is_accepted(judges):
    assert both(judges, frame.run())
    assert both(judges, frame.run(upto=3))
    assert both(judges, frame.remark())


@pytest.mark.parametrize("value", WRONG_VALUES)
def test_a_value_is_a_decimal_with_a_point(judges, value):
    sample = frame.run()
    sample["entries"][1]["value"] = value
    assert not both(judges, sample)


def test_a_line_end_is_no_part_of_a_value(judges):
    """Python's `$` also matches before a last line end, so one of the validators does not see this one."""
    sample = frame.run()
    sample["entries"][1]["value"] = "8.31\n"
    assert not judges.second.is_valid(sample)
    with pytest.raises(ValidationError):
        Record.model_validate(sample)


@pytest.mark.parametrize("value", ["0", "0.0", "7.90", "-0.30", "-12", "123456789012.123456789012"])
def test_a_value_is_kept_as_it_was_typed(judges, value):
    sample = frame.run()
    sample["entries"][1]["value"] = value
    assert both(judges, sample)
    assert Record.model_validate(sample).readings[0].value == value


@pytest.mark.parametrize("value", [8.31, 8, True, None, ["8.3"]])
def test_a_scalar_is_a_string(judges, value):
    sample = frame.run()
    sample["entries"][1]["value"] = value
    assert not both(judges, sample)


@pytest.mark.parametrize("time", WRONG_TIMES)
def test_a_time_has_its_offset(judges, time):
    for key in ("started", "finished"):
        assert not both(judges, {**frame.run(), key: time})
    sample = frame.run()
    sample["entries"][0]["at"] = time
    assert not both(judges, sample)


@pytest.mark.parametrize(
    ("key", "value"),
    [("patient", "x"), ("worker", "Alexandra Bell"), ("worker", "A B"), ("id", "1"), ("hash", "abc"), ("kind", "photo"),
     ("exit", "done"), ("asset", "a\nb"), ("asset", "x" * 41), ("revision", "b"), ("previous", "none")],
)  # fmt: skip
def test_a_head_holds_nothing_else(judges, key, value):
    assert not both(judges, {**frame.run(), key: value})


@pytest.mark.parametrize("length", [0, 501])
def test_a_note_has_a_length(judges, length):
    sample = frame.remark()
    sample["entries"][0]["text"] = "x" * length
    assert not both(judges, sample)
    sample["entries"][0]["text"] = "x\ny" + "z" * 497
    assert both(judges, sample)


def test_every_key_is_needed_and_no_other_is_taken(judges):
    for sample in (frame.run(), frame.remark()):
        wrong = list(broken(sample))
        assert len(wrong) > 50
        assert judges.kept(wrong, every=7) == []
        for _, each in wrong:
            with pytest.raises(ValidationError):
                Record.model_validate(each)


# places


def findings(text):
    taken, found = read_records(Source("phone/a.json", text))
    assert not taken
    return [(f.span.line, f.span.column, f.message) for f in found]


def wrong_text(change):
    data = copy.deepcopy(frame.run())
    change(data)
    return frame.shown(frame.sealed(data)), data


def line_of(text, part):
    return next(n for n, line in enumerate(text.splitlines(), 1) if part in line)


@pytest.mark.parametrize(
    ("key", "value", "message"),
    [
        ("value", "8,1", "`value` is not written as a record has it"),
        ("at", "2026-11-28T09:00:40", "`at` is not written as a record has it"),
        ("kind", "guess", "`kind` is no kind of entry"),
        ("phase", "between", "`phase` is not one of what is possible"),
    ],
)
def test_a_finding_stands_at_its_value(key, value, message):
    text, _ = wrong_text(lambda data: data["entries"][1].update({key: value}))
    line = line_of(text, f'"{key}": "{value}"')
    column = text.splitlines()[line - 1].index(f'"{value}"') + 1
    assert findings(text) == [(line, column, message)]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda d: d["entries"].pop(1), "entry 2 calls itself 3: one is missing or was moved"),
        (lambda d: d["entries"][2].update(at="2026-11-28T08:00:00+01:00"), "time runs backwards here"),
        (lambda d: d.update(started="2026-02-30T08:00:00+01:00"), "is no day of the calendar"),
        (lambda d: d.update(exit=""), "the head says ``"),
        (
            lambda d: d.update(finished="2026-11-28T23:00:00+01:00"),
            "`finished` is not the time of the last entry",
        ),
        (lambda d: d.update(asset="cafe\u0301"), "`asset` is not in Unicode NFC"),
        (lambda d: d.update(worker=""), "`worker` is empty"),
        (lambda d: d.update(kind="remark"), "a remark holds one entry"),
    ],
)
def test_a_record_fits_together(change, message):
    text, _ = wrong_text(change)
    assert any(message in said for _, _, said in findings(text)), findings(text)


def test_a_time_that_steps_back_is_taken_once_somebody_says_why():
    text, _ = wrong_text(lambda d: d["entries"][2].update(at="2026-11-28T09:00:39+01:00"))
    assert findings(text)
    taken, found = read_records(Source("a.json", text), clock_was_set=True)
    assert len(taken) == 1 and not found


def test_the_end_of_summer_time_runs_forwards():
    """By instant: 02:50+02:00 is 20 minutes before 02:10+01:00 and sorts after it as text."""
    data = frame.run(upto=2, started="2026-10-25T02:40:00+02:00")
    data["entries"][0]["at"], data["entries"][1]["at"] = (
        "2026-10-25T02:50:00+02:00",
        "2026-10-25T02:10:00+01:00",
    )
    taken, found = read_records(Source("a.json", canonical(frame.sealed(data))))
    assert len(taken) == 1 and not found


def test_every_character_of_a_record_is_under_its_digest():
    data = frame.run(upto=3)
    for key in data:
        if key in ("digest", "entries"):
            continue
        changed = {**data, key: (data[key] or "") + "x"}
        assert digest_of(changed) != data["digest"]
    text = canonical({**data, "asset": "0043"})
    assert [m for _, _, m in findings(text)] == [
        "the record was changed after it was handed over: its digest does not fit"
    ]


# JSON


@pytest.mark.parametrize(
    ("text", "message", "column"),
    [
        ('{"a":1}', "`1` is no string; a record holds strings only", 6),
        ('{"a":NaN}', "`NaN` is no string; a record holds strings only", 6),
        ('{"a":-0.5e3}', "`-0.5e3` is no string; a record holds strings only", 6),
        ('{"a":"x","a":"y"}', "`a` stands twice", 10),
        ('{"a":"x"', "not JSON: `,` or `}` is missing here", 9),
        ('{"a"', "not JSON: `:` is missing here", 5),
        ('{"a":"x"} 1', "something stands after the end of the JSON", 11),
        ('{"a":"\\ud800"}', "half a character stands in a string", 6),
        ("", "not JSON: a value is missing here", 1),
        ("[" * 40, "more levels than any record has", 14),
    ],
)
def test_what_is_no_json_of_strings_is_told_with_its_place(text, message, column):
    with pytest.raises(NotRecordError) as trouble:
        read_json(text)
    assert (trouble.value.message, trouble.value.start + 1) == (message, column)


def test_places_are_those_of_the_values():
    text = frame.shown(frame.run())
    data, places = read_json(text)
    assert data == json.loads(text)
    for way, (start, end) in places.items():
        value = data
        for key in way:
            value = value[key]
        assert json.loads(text[start:end]) == value


def test_no_text_makes_it_stumble():
    import random

    chance = random.Random(8)
    whole = canonical(frame.run(upto=4))
    for _ in range(1500):
        text = list(whole[: chance.randrange(len(whole) + 1)])
        for _ in range(chance.randrange(4)):
            if text:
                text[chance.randrange(len(text))] = chance.choice('{}[]",:x1\\\n\x00é\u2028')
        taken, found = read_records(Source("a.json", "".join(text)))
        assert bool(found) is not bool(taken)
