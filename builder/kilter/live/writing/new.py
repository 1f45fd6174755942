"""A new procedure or pre-use check: a form, the file from the skeleton, and pasted text in it."""

from __future__ import annotations

from pathlib import Path
from typing import Literal
from urllib.parse import quote

from kilter.live.bench import Bench
from kilter.live.web import Request, Response, answer_json
from kilter.live.writing import said
from kilter.live.writing.answers import clean
from kilter.live.writing.candidates import candidates
from kilter.live.writing.merge import merged
from kilter.live.writing.new_page import Machine, new_page
from kilter.live.writing.numbers import next_number, trouble_with
from kilter.live.writing.paste import pasted
from kilter.live.writing.posted import Posted, refused, takes
from kilter.live.writing.store import NOTHING, ChangedError, save
from kilter.model.base import fold, slugify
from kilter.model.front import TASKS, ProfileFront
from kilter.model.library import Library
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton import new_text
from kilter.source import Source


class Number(Posted):
    number: str


class Paste(Posted):
    """What was pasted, with its formatting if the browser had it."""

    plain: str
    html: str = ""
    equipment: str = ""


class New(Posted):
    """The whole form."""

    kind: str = ""
    equipment: str = ""
    task: str = ""
    zone: str = ""
    number: str = ""
    title: str = ""
    covers: str = ""
    minutes: str = ""
    plain: str = ""
    html: str = ""
    frame: Literal["around", "none"] = "around"


def page(bench: Bench, request: Request) -> Response:
    """`/new`."""
    with bench.lock:
        library = bench.workspace.library
        machines = [
            Machine(
                p.profile.id,
                p.profile.title,
                next_number(library, p.profile.id),
                tuple(p.profile.zones),
                _documents(library, p.profile.id),
            )
            for p in library.profiles.values()
        ]
    return new_page(bench, sorted(machines, key=lambda m: m.title), request.query.get("equipment", ""))


def _documents(library: Library, machine: str) -> tuple[str, ...]:
    found = (d.front for d in library.numbers.values())
    return tuple(
        f.number for f in found if not isinstance(f, ProfileFront) and fold(f.equipment) == fold(machine)
    )


@takes(Number)
def number(bench: Bench, body: Number) -> Response:
    """Whether a number is free."""
    with bench.lock:
        return answer_json({"trouble": trouble_with(bench.workspace.library, body.number.strip())})


@takes(Paste)
def paste(bench: Bench, body: Paste) -> Response:
    """What becomes of a pasted text, and the words in it that may want a mark."""
    text = pasted(body.plain, body.html).body()
    found = candidates(Source("", text), 0, _profile(bench, body.equipment))
    return answer_json({"text": text, "candidates": [said.candidate(c) for c in found]})


def _profile(bench: Bench, id: str) -> ProfileFront | None:
    with bench.lock:
        document = bench.workspace.library.profile(id) if id else None
        return document.profile if document else None


@takes(New)
def make(bench: Bench, body: New) -> Response:
    """Write the new file; 422 with a word beside each question that is still open."""
    title = clean(body.title)
    with bench.lock:
        open_questions = _asked(bench, body, title)
    if open_questions:
        return answer_json({"questions": open_questions}, 422)
    file = _file(bench, body, title)
    try:
        save(file, _text(bench, body, title), NOTHING)
    except ChangedError:
        return refused(f"{file.name} is there already. Choose another title.", 422)
    bench.refresh([file])
    name = file.relative_to(bench.root).as_posix()
    return answer_json({"open": f"/write/{quote(name)}"})


def _asked(bench: Bench, body: New, title: str) -> dict[str, str]:
    library = bench.workspace.library
    asked: dict[str, str] = {}
    if body.kind == "training":
        asked |= _of_training(library, body)
    if body.kind not in ("procedure", "pre-use-check", "training"):
        asked["kind"] = "Choose what it is."
    if not body.equipment or library.profile(body.equipment) is None:
        asked["equipment"] = "Choose the machine."
    if body.kind == "procedure" and body.task not in TASKS:
        asked["task"] = "Choose what is done."
    machine = library.profile(body.equipment) if body.equipment else None
    if machine and body.zone and _works_inside(body) and machine.profile.zone(body.zone) is None:
        asked["zone"] = "Choose a zone of this machine, or the whole machine."
    if trouble := trouble_with(library, body.number.strip()):
        asked["number"] = trouble
    if not title:
        asked["title"] = "Write a title, such as: Replace the boom actuator."
    elif "{" in title or "}" in title:
        asked["title"] = "Write it without braces: at the end of a heading they would be a mark."
    elif len(title) > 200:
        asked["title"] = "Write a title of fewer than 200 letters."
    return asked


def _of_training(library: Library, body: New) -> dict[str, str]:
    asked: dict[str, str] = {}
    lost = [number for number in _covered(body) if library.number(number) is None]
    if not _covered(body):
        asked["covers"] = "Write the number of a document at least."
    elif lost:
        asked["covers"] = f"There is no document {lost[0]}."
    if not body.minutes.strip().isdecimal() or not 30 <= int(body.minutes) <= 6000:
        asked["minutes"] = "Write whole minutes, 30 at least."
    return asked


def _covered(body: New) -> list[str]:
    return [number for part in body.covers.split(",") if (number := part.strip())]


def _file(bench: Bench, body: New, title: str) -> Path:
    """Beside the machine's profile, called after number and title."""
    with bench.lock:
        profile = bench.workspace.library.profile(body.equipment)
        assert profile is not None
        folder = bench.workspace.library.file_of(profile.path).parent
    if body.kind == "training":
        folder = bench.root / "training"
        folder.mkdir(exist_ok=True)
    ending = "-".join(slugify(title).split("-")[:6])[:60].strip("-")
    name = "-".join(part for part in (body.number.strip().lower(), ending) if part)
    return folder / f"{name}.md"


def _works_inside(body: New) -> bool:
    """Whether the choice of a zone counts; the page hides it otherwise."""
    return body.kind == "procedure" and body.task != "test"


def _text(bench: Bench, body: New, title: str) -> str:
    text = new_text(
        body.kind, bench.root, task=body.task or "replacement", number=body.number.strip(),
        equipment=body.equipment, title=title, zone=body.zone if _works_inside(body) else "",
        covers=_covered(body), minutes=int(body.minutes) if body.kind == "training" else 120,
    )  # fmt: skip
    if body.kind == "training" or not (body.plain.strip() or body.html.strip()):
        return text
    own = pasted(body.plain, body.html)
    if body.frame == "around":
        return merged(text, own)
    front, fence, _ = text.removeprefix("---\n").partition("\n---\n")
    if not fence:
        raise CouldNotRunError("The frame of the document can't be read.")
    return f"---\n{front}{fence}{own.body(title)}"
