"""A record that does not match the document that it names is refused, each thing with its place."""

import copy

import pytest
from tests.records import frame

from kilter.diagnostic import Severity
from kilter.records.against import against, spelt, uncertainty_at
from kilter.records.canonical import canonical
from kilter.records.read import read_records
from kilter.source import Source


def judged(data, plan=None):
    taken, found = read_records(Source("a.json", canonical(frame.sealed(data))))
    assert len(taken) == 1 and not found, found
    return against(taken[0], plan or frame.plan())


def said(data, severity=Severity.ERROR):
    return [f.message for f in judged(data) if f.severity is severity]


@pytest.mark.parametrize("number", ["STR-110", "LFT-120", "LFT-130", "STR-130", "WCB-210", "WCB-230"])
def test_a_sound_record_matches(number):
    asked = frame.plan(number)
    assert [f.message for f in judged(frame.run(number), asked)] == []


CHANGES = {
    "revision": (lambda d: d.update(revision="C"), "the record says `C`, STR-110 revision B says `B`"),
    "hash": (lambda d: d.update(hash="0" * 64), "the record says `000000"),
    "equipment": (lambda d: d.update(equipment="egret-2"), "the record says `egret-2`, STR-110 revision B says `roan-3`"),
    "step": (lambda d: d["entries"][1].update(step="elsewhere"), "STR-110 revision B has no step `elsewhere`"),
    "number": (lambda d: d["entries"][1].update(number="9.9"), "the record says `9.9`"),
    "reading": (lambda d: d["entries"][1].update(id="measure-as-found.r2"), "has no reading `measure-as-found.r2`"),
    "name": (lambda d: d["entries"][1].update(name="width"), "the record says `width`"),
    "phase": (lambda d: d["entries"][1].update(phase="as left"), "the record says `as left`"),
    "unit": (lambda d: d["entries"][1].update(unit="in"), "the record says `in`, STR-110 revision B says `mm`"),
    "limits": (lambda d: d["entries"][1].update(limits="7.0–9.0 mm"), "the record says `7.0–9.0 mm`"),
    "low": (lambda d: d["entries"][1].update(low="7"), "the record says `7`"),
    "high": (lambda d: d["entries"][1].update(high=""), "the record says ``"),
    "uncertainty": (lambda d: d["entries"][1].update(uncertainty="0.001"), "the record says `0.001`"),
    "verdict": (lambda d: d["entries"][1].update(verdict="pass"), "is `too close to call`, not `pass`"),
    "tool": (lambda d: d["entries"][1].update(tool="ruler"), "the record says `ruler`"),
    "exit": (lambda d: (d["entries"][-1].update(exit="returned to service"), d.update(exit="returned to service")), "does not end with `returned to service`"),
}  # fmt: skip


@pytest.mark.parametrize("what", CHANGES)
def test_what_does_not_match_is_refused(what):
    change, message = CHANGES[what]
    data = copy.deepcopy(frame.run())
    change(data)
    found = said(data)
    assert any(message in each for each in found), found


def with_entry(step, kind, **more):
    data = frame.run(upto=1)
    data["entries"].append(frame.entry(2, kind, step, **more))
    return data


def step_where(test):
    return next(step for step in frame.plan()["steps"] if test(step))


def test_an_answer_is_one_of_the_step():
    step = step_where(lambda s: any(a["notZero"] for a in s["answers"]))
    n, asked = next((n, a) for n, a in enumerate(step["answers"]) if a["notZero"])
    right = {"index": str(n), "text": asked["text"], "failed": ", ".join(asked["failed"]), "notOk": ""}
    assert right["failed"]
    assert said(with_entry(step, "answer", **right)) == []
    assert len(said(with_entry(step, "answer", **{**right, "text": "All is well"}))) == 1
    assert len(said(with_entry(step, "answer", **{**right, "failed": ""}))) == 1
    assert len(said(with_entry(step, "answer", **{**right, "notOk": "yes"}))) == 1
    assert said(with_entry(step, "answer", **{**right, "index": "9"})) == [
        f"step {step['number']} has {len(step['answers'])} answers"
    ]
    assert said(with_entry(step, "done")) == [f"step {step['number']} is left by an answer only"]


def test_a_warning_that_was_read_is_one_of_the_document():
    stage = next(s for s in frame.plan()["stages"] if s["caution"])
    step = frame.plan()["steps"][0]
    assert said(with_entry(step, "caution", stage=stage["anchor"], words=stage["caution"])) == []
    found = said(with_entry(step, "caution", stage=stage["anchor"], words="0" * 12))
    assert found == [f"STR-110 revision B has no panel of these words at `{stage['anchor']}`"]


def test_a_wait_that_was_cut_short_is_kept_and_told():
    step = step_where(lambda s: s["waits"])
    wanted = str(step["waits"][0]["seconds"])
    short = with_entry(step, "wait", index="0", wanted=wanted, waited=str(int(wanted) - 1))
    assert said(short) == []
    assert said(short, Severity.WARNING) == [f"waited {int(wanted) - 1} s where {wanted} s are asked for"]
    assert len(said(with_entry(step, "wait", index="0", wanted="1", waited="1"))) == 1
    assert len(said(with_entry(step, "waiting", index="7", wanted=wanted))) == 1


def test_a_sound_answer_in_spite_of_a_reading_is_told():
    def marked(step):
        answers = step["answers"]
        return any(r["phase"] != "as found" for r in step["readings"]) and any(
            a["notOk"] or a["notZero"] for a in answers
        )

    step = step_where(marked)
    n, good = next((n, a) for n, a in enumerate(step["answers"]) if not a["notOk"] and not a["notZero"])
    asked = next(r for r in step["readings"] if r["phase"] != "as found")
    data = frame.run(upto=1)
    data["entries"].append(frame.reading(2, step, asked, "99999"))
    data["entries"].append(
        frame.entry(3, "answer", step, index=str(n), text=good["text"], failed="", notOk="")
    )
    assert any("answered" in each and "`fail`" in each for each in said(data, Severity.WARNING))
    assert said(data) == []


def test_a_tool_past_its_date_is_told():
    data = frame.run()
    data["entries"][1]["calibrationDue"] = "2026-11-27"
    assert said(data, Severity.WARNING) == ["depth gauge T-7 was past its calibration of 2026-11-27"]


def test_a_remark_is_about_the_step_as_it_stood():
    assert said(frame.remark()) == []
    data = frame.remark()
    data["entries"][0]["hash"] = "0" * 12
    assert len(said(data)) == 1


@pytest.mark.parametrize(
    ("value", "share", "off", "by"),
    [("230", "0.005", "", "1.15"), ("-2.5", "0.01", "", "0.025"), ("8.00", "", "0.02", "0.02"), ("8", "", "", ""), ("0", "0.005", "", "0"), ("3", "0.333333333334", "", "1.000000000002")],
)  # fmt: skip
def test_how_far_off_a_tool_may_be_is_exact(value, share, off, by):
    assert uncertainty_at(value, share, off) == by


def test_numbers_are_spelt_without_an_exponent():
    from fractions import Fraction

    assert [spelt(Fraction(t)) for t in ("0.10", "-0.05", "1000000", "-0", "0.000000000001")] == [
        "0.1",
        "-0.05",
        "1000000",
        "0",
        "0.000000000001",
    ]


@pytest.mark.parametrize(
    ("value", "index", "told"),
    [
        ("8.6", 0, []),
        ("8.6", 1, ["answered `Inside 8.0 to 8.3 mm` though 8.6 mm is `fail`"]),
        ("8.15", 0, ["answered `Outside 8.0 to 8.3 mm` though 8.15 mm was read"]),
        ("8.15", 1, []),
    ],
)
def test_an_answer_that_its_finding_speaks_against_is_told(value, index, told):
    """The phone lets nobody choose it; a record that has it was kept by something else."""
    step = step_where(
        lambda s: any(a["fits"] for a in s["answers"]) and s["readings"][0]["phase"] == "as found"
    )
    data = frame.run(upto=1)
    data["entries"].append(frame.reading(2, step, step["readings"][0], value))
    text = step["answers"][index]["text"]
    data["entries"].append(frame.entry(3, "answer", step, index=str(index), text=text, failed="", notOk=""))
    assert said(data) == []
    assert said(data, Severity.WARNING) == told
