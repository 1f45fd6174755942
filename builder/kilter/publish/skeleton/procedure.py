"""A new procedure: its front matter, its panels, and the stages of its task."""

from __future__ import annotations

from datetime import date
from itertools import combinations

from kilter.check.run import check_library
from kilter.diagnostic import Severity
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.library import Library
from kilter.publish.skeleton.safe import Frame
from kilter.publish.skeleton.stages import PARTS, reached
from kilter.publish.skeleton.tasks import STAGES
from kilter.publish.skeleton.words import filled, front, literal, quoted
from kilter.read.document import read_bytes


def procedure_text(
    library: Library, machine: Document, task: str, number: str, title: str, day: date, zone: str = ""
) -> str:
    """The whole file; an empty `title` becomes a blank, an empty `zone` means the whole machine.

    The profile's own shared stages are asked for where they do a whole part and the check accepts the whole;
    else every step is written out.
    """
    some = (parts for count in range(len(PARTS), 0, -1) for parts in combinations(PARTS, count))
    texts = (_written(Frame(machine, parts, zone), task, number, title, day) for parts in some)
    long = _written(Frame(machine, zone=zone), task, number, title, day)
    return next((t for t in dict.fromkeys(texts) if t != long and _sound(library, machine, t)), long)


def _sound(library: Library, machine: Document, text: str) -> bool:
    """Whether the check refuses nothing but the blanks, on this machine."""
    reading = read_bytes("new.md", filled(text).encode())
    if reading.document is None or any(d.severity is Severity.ERROR for d in reading.findings):
        return False
    alone = Library(library.root, settings=library.settings)
    for each in (library.readings[machine.path], reading):
        alone.add(each)
    return all(d.severity is not Severity.ERROR for d in check_library(alone, {"new.md"}).found["new.md"])


def _written(frame: Frame, task: str, number: str, title: str, day: date) -> str:
    head = title or "[fill in: title]"
    rows = [f"# {literal(head)}", "", f"[fill in: {_ABOUT[task]}, in two sentences]", ""]
    rows += frame.panels(
        "Keep hands outside every cover." if task == "test" else "Isolate, release and prove first."
    )
    stages = reached(STAGES[task](frame))
    titles = {step.slug: step.title for _, steps in stages for step in steps}
    for name, steps in stages:
        inside = any(step.slug == "close-up" for step in steps)
        rows += [f"## {name}", *([f":zone: {frame.zone}"] if frame.zone and inside else ())]
        for step in steps:
            rows += step.lines(titles)
        rows += [""]
    return front(_front(frame.profile, task, number, head, day)) + "\n".join(rows).rstrip() + "\n"


def _front(profile: ProfileFront, task: str, number: str, title: str, day: date) -> dict[str, str]:
    keys = {
        "kind": "procedure",
        "task": task,
        "number": number,
        "revision": "A",
        "equipment": profile.id,
        "title": quoted(title),
        "writers": '["[fill in: initials]"]',
        "date": day.isoformat(),
        "symptoms": '["[fill in: what is noticed first]"]',
        "time": '"[fill in: minutes, such as 30]"',
        "people": '"[fill in: how many, such as 1]"',
        "tools": "".join(f"\n  - {tool}" for tool in _TOOLS[task]),
    }
    if task == "replacement":
        keys["parts"] = '\n  - "[fill in: new part]": {stock-number: "[fill in: stock number]", quantity: 1}'
    elif task not in ("inspection", "test"):
        keys["parts"] = '["[fill in: part that is used up, or delete this line]"]'
    if task in ("inspection", "test"):
        del keys["symptoms"]
    return keys


_CALIBRATED = '{range: "[fill in: range, such as %s]", calibration: "[fill in: interval, such as 12 months]"}'
_METER = '"[fill in: measuring instrument]": ' + _CALIBRATED % "0–60 V"
_TORQUE = '"[fill in: torque tool]": ' + _CALIBRATED % "0.6–3 N·m"
_TOOLS = {
    "fault-isolation": (_METER,),
    "adjustment": (_METER, _TORQUE),
    "replacement": (_TORQUE,),
    "inspection": (_METER,),
    "test": (_METER,),
}
_ABOUT = {
    "fault-isolation": "what is noticed, and which causes are known",
    "adjustment": "what is out of place, and what this sets right",
    "replacement": "when the part is changed, and what this mends",
    "inspection": "what is looked at, how often, and why",
    "test": "what is tested, when, and why",
}
