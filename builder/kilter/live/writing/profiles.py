"""The form for a machine: a new profile, or an existing one where the form can say all that it says."""

from __future__ import annotations

import json
from typing import Any
from urllib.parse import quote

from kilter.diagnostic import Diagnostic, Severity
from kilter.live.bench import Bench
from kilter.live.shell import shell
from kilter.live.web import Request, Response, answer_json
from kilter.live.writing.answers import Answers
from kilter.live.writing.as_form import NotAsFormError, as_answers, rewritten
from kilter.live.writing.aside import Aside, aside
from kilter.live.writing.editor import NOT_OURS
from kilter.live.writing.editor_page import STYLE, module, refusal_page
from kilter.live.writing.form_words import SPEC
from kilter.live.writing.posted import Posted, refused, takes
from kilter.live.writing.questions import Question, questions
from kilter.live.writing.store import NOTHING, ChangedError, StoreError, load, save
from kilter.publish.site.markup import el, link, text


class Asked(Posted):
    answers: Answers


class Made(Asked):
    """The form, to be written."""

    path: str = ""
    """Of an existing profile, below the library's folder; empty for a new one."""
    base: str = NOTHING
    anyway: bool = False
    """Write it although documents would be refused."""


def form(bench: Bench, request: Request) -> Response:
    """`/new/equipment` and `/new/equipment/<path>`."""
    name = request.path.removeprefix("/new/equipment").strip("/")
    if not name:
        return _form(bench, "New machine", Answers(), "", NOTHING)
    file = bench.file_of(name)
    try:
        held = load(file) if file else None
    except StoreError as trouble:
        return refusal_page(bench, f"{name}: {trouble}", 422)
    if held is None:
        return refusal_page(bench, NOT_OURS, 404)
    try:
        return _form(bench, f"Machine: {name}", as_answers(held), name, held.hash)
    except NotAsFormError as trouble:
        return _as_text(bench, name, str(trouble))


def _form(bench: Bench, title: str, answers: Answers, name: str, base: str) -> Response:
    body = el(
        "div",
        el("h1", text(title)),
        el("p", text("Answer each kind of energy, also with no: a source that is forgotten makes every procedure look safe."), cls="help"),
        el("div", id="profile-form"),
        module("profile.js"),
        id="profile",
        cls="forms",
        data_path=name,
        data_hash=base,
        data_answers=answers.model_dump_json(),
        data_spec=json.dumps(SPEC, ensure_ascii=False),
    )  # fmt: skip
    return shell(bench, title, body, "New", _shown(bench, name), styles=(STYLE,), swap=False)


def _shown(bench: Bench, name: str) -> str:
    file = bench.file_of(name) if name else None
    return bench.workspace.shown(file) if file else ""


def _as_text(bench: Bench, name: str, why: str) -> Response:
    body = el(
        "div",
        el("h1", text("Edit this machine as text")),
        el("p", text(f"The form can't hold all of {name}. {why}")),
        el("p", link(f"/write/{quote(name)}", text("Edit it as text"), cls="as-button")),
        cls="forms",
    )
    return shell(bench, "Edit as text", body, "New", _shown(bench, name), styles=(STYLE,))


@takes(Asked)
def ask(bench: Bench, body: Asked) -> Response:
    """What is still open."""
    return answer_json({"questions": _said(questions(body.answers))})


def _said(asked: list[Question]) -> list[dict[str, str]]:
    return [{"at": q.at, "text": q.text} for q in asked]


@takes(Made)
def make_profile(bench: Bench, body: Made) -> Response:
    """Write the profile; 422 with questions, or with what the check would refuse."""
    asked = questions(body.answers) + _taken(bench, body)
    if asked:
        return answer_json({"questions": _said(asked)}, 422)
    name = body.path or f"{body.answers.id}/profile.md"
    file = bench.file_of(name)
    if file is None:
        return refused(NOT_OURS, 404)
    try:
        words = rewritten(load(file) if body.path else None, body.answers)
    except NotAsFormError as trouble:
        return refused(f"{name} has changed meanwhile. {trouble}", 409)
    look = aside(bench, file, words)
    problems = [d for d in look.findings() if d.severity is Severity.ERROR]
    others = _newly_refused(bench, look)
    if (problems or others) and not (body.anyway and body.path):
        return _would_be_refused(problems, others, bool(body.path))
    try:
        save(file, words, body.base if body.path else NOTHING)
    except ChangedError as trouble:
        gone = trouble.theirs is None
        return refused(
            "The file is gone." if gone else f"{name} has changed meanwhile. Load the form again.", 409
        )
    bench.refresh([file])
    return answer_json({"open": f"/write/{quote(name)}"})


def _taken(bench: Bench, body: Made) -> list[Question]:
    """A short name that another machine has, or a folder that holds a profile already."""
    with bench.lock:
        other = bench.workspace.library.profile(body.answers.id) if body.answers.id else None
        owner = bench.name_of(other.path) if other else ""
    if owner and owner != body.path:
        return [Question("id", f"{body.answers.id} is the machine of {owner}. Which other short name?")]
    if not body.path and (bench.root / body.answers.id / "profile.md").exists() and body.answers.id:
        return [
            Question("id", f"There is a file {body.answers.id}/profile.md already. Which other short name?")
        ]
    return []


def _newly_refused(bench: Bench, look: Aside) -> list[str]:
    """Documents on this machine that are sound now and would not be."""
    own = look.workspace
    with bench.lock:
        shared = bench.workspace
        sound = [p for p in shared.users(look.path) & own.users(look.path) if shared.sound(p)]
        names = {p: bench.name_of(p) for p in sound}
    return sorted(names[p] for p in sound if not own.sound(p))


def _would_be_refused(problems: list[Diagnostic], others: list[str], existing: bool) -> Response:
    listed: list[dict[str, Any]] = [
        {"message": d.message, "help": d.help, "line": d.span.line} for d in problems
    ]
    return answer_json({"problems": listed, "others": others, "anyway": existing}, 422)
