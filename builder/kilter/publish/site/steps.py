"""Stages and steps of a procedure as HTML."""

from __future__ import annotations

from kilter.model.base import fold
from kilter.publish.site.blocks import blocks_html, panel_html
from kilter.publish.site.calculations import windows_html
from kilter.publish.site.facts import fields_html, hands_html, origin_html, strip_html
from kilter.publish.site.inline import runs_html
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.site.scope import Scope
from kilter.publish.site.terms import as_written, author, exit_word
from kilter.publish.site.words import theirs, word
from kilter.publish.view import AnswerView, DocumentView, StageView, StepView
from kilter.publish.window import step_windows


def stages_html(view: DocumentView, scope: Scope) -> Html:
    return join(_stage(view, n, scope.of(stage.owner)) for n, stage in enumerate(view.stages))


def _stage(view: DocumentView, index: int, scope: Scope) -> Html:
    stage = view.stages[index]
    panels = join(panel_html(p, scope.of(view.document), word("signal.whole")) for p in stage.standing)
    head = some(
        el(
            "h2",
            el("span", text(stage.number), cls="no"),
            SPACE,
            author(text(stage.stage.title)),
            id=stage.anchor,
        ),
        scope.remark(stage.stage),
        _callers(view, stage),
        fields_html(stage.stage),
        as_written(panels),
        as_written(blocks_html(stage.stage.blocks, scope)),
    )
    steps = (_step(view, index, n, scope) for n in range(len(stage.steps)))
    return el("section", el("div", head, cls="opening"), *steps, cls="stage")


def _callers(view: DocumentView, stage: StageView) -> Html:
    if not stage.stage.shared:
        return NOTHING
    callers = [s for other in view.stages for s in other.steps if s.do == stage.anchor]
    links = join((link(f"#{s.anchor}", text(s.number)) for s in callers), text(", "))
    where = join([text(word("steps.callers-of")), links]) if callers else NOTHING
    return el("p", text(word("steps.callers")), where, text("."), cls="callers")


def _step(view: DocumentView, index: int, n: int, scope: Scope) -> Html:
    stage = view.stages[index]
    step = stage.steps[n]
    number = el("a", text(step.number), cls="no", id=step.number, href=f"#{step.anchor}")
    return el(
        "section",
        el("h3", number, SPACE, author(text(step.step.title))),
        scope.remark(step.step),
        el("div", strip_html(step.strip), hands_html(step), fields_html(step.step), cls="state"),
        el(
            "div",
            as_written(blocks_html(step.step.blocks, scope)),
            windows_html(step_windows(step.step, stage.stage, view.equipment)),
            origin_html(step.origin),
            _way_on(view, index, n, scope),
            cls="body",
        ),
        cls="step",
        id=step.anchor,
    )


def _way_on(view: DocumentView, index: int, n: int, scope: Scope) -> Html:
    """How it goes on after the step; nothing where the next step stands right below."""
    stage = view.stages[index]
    step, last = stage.steps[n], n == len(stage.steps) - 1
    if step.exit:
        return exit_html(step, view.contact)
    if step.do:
        then = text(f".{word('steps.then')}")
        return el(
            "p", text(word("steps.do")), link(f"#{step.do}", text(_label(view, step.do))), then, cls="go"
        )
    if step.answers:
        return _answers(step, scope)
    if step.go_to:
        return _go_on(step.go_to, step.go_to_number)
    if not last:
        return NOTHING
    if stage.stage.shared:
        return el("p", text(word("steps.back")), cls="go back")
    return _next_stage(view, index)


def _next_stage(view: DocumentView, index: int) -> Html:
    """The next stage in order, named only where a shared one stands between."""
    following = view.stages[index + 1 :]
    nearest = next((s for s in following if not s.stage.shared and s.steps), None)
    if nearest is None or following[0] is nearest:
        return NOTHING
    first = nearest.steps[0]
    return _go_on(first.anchor, first.number)


def _go_on(anchor: str, number: str) -> Html:
    there = link(f"#{anchor}", text(word("head.step", number=number)))
    return el("p", text(word("steps.go-on")), there, cls="go")


def _label(view: DocumentView, anchor: str) -> str:
    """A shared stage and its range of steps."""
    stage = next(s for s in view.stages if s.anchor == anchor)
    title, last = stage.stage.title, len(stage.steps)
    return word("steps.do-label", number=stage.number, title=title, last=last)


def _answers(view: StepView, scope: Scope) -> Html:
    rows = (_answer(view, answer, scope) for answer in view.answers)
    return el("ul", *rows, cls="answers")


def _answer(view: StepView, answer: AnswerView, scope: Scope) -> Html:
    given = view.step.answers[answer.index]
    seen = el("span", runs_html(given.seen, scope), cls="seen", lang=theirs())
    words = author(runs_html(given.link.runs, scope))
    failed = " failed" if given.failure else ""
    if answer.back:
        way = el("span", words, el("small", text(word("steps.back"))), cls="to")
    else:
        way = link(f"#{answer.target}", el("b", text(answer.number)), SPACE, words, cls="to")
    return el("li", seen, way, cls=f"answer{failed}")


def exit_html(step: StepView, contact: str) -> Html:
    """The end of the procedure; at a tagged one, what must stay as it is and whom to call."""
    tagged = fold(step.exit) == fold("left locked out, tagged")
    rows = [el("p", text(word("steps.end", exit=exit_word(step.exit))), cls="end")]
    if step.treat_as_live:
        rows.append(el("p", text(word("steps.live")), cls="live"))
    if tagged:
        rows += _left(step, contact)
    return el("div", *rows, cls="exit tagged" if tagged else "exit")


def _left(step: StepView, contact: str) -> list[Html]:
    said = [
        (word("steps.held"), ", ".join(step.held)),
        (word("steps.off"), ", ".join(step.guards_off)),
        (word("steps.call"), contact),
    ]
    return [el("dl", *(el("div", el("dt", text(k)), el("dd", text(v), lang=theirs())) for k, v in said if v))]
