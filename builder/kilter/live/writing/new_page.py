"""The markup of the form for a new document."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kilter.live.bench import Bench
from kilter.live.shell import shell
from kilter.live.web import Response
from kilter.live.writing.editor_page import STYLE, module
from kilter.model.front import TASKS
from kilter.publish.site.markup import Html, el, join, link, text

KINDS = {
    "procedure": "a procedure: steps of a repair, a test or a search for a fault",
    "pre-use-check": "a pre-use check: what is looked at before each use",
    "training": "a training module: teaches documents that are there",
}
TASK_WORDS = {
    "fault-isolation": "find a fault", "adjustment": "adjust", "replacement": "replace a part",
    "inspection": "inspect", "test": "test",
}  # fmt: skip

TITLE_QUESTION, TITLE_HELP = "Which title?", "An order, such as: Replace the boom actuator."
SYMPTOM_QUESTION, SYMPTOM_HELP = (
    "What is noticed?",
    "The fault in a few words, such as: Lift does not charge.",
)
"""Of a search for a fault: who looks for the document knows what is noticed, not yet what is to be done."""


@dataclass(frozen=True)
class Machine:
    """A profile to choose, with the number its next document would get."""

    id: str
    title: str
    next: str
    zones: tuple[str, ...] = ()
    documents: tuple[str, ...] = ()
    """Numbers of its procedures and checks."""


def field(name: str, question: str, control: Html, help: str = "") -> Html:
    """A question with its control, and the place where a complaint about it stands."""
    return el(
        "div",
        el("label", text(question), for_=f"new-{name}"),
        el("p", text(help), cls="help", id=f"new-{name}-help") if help else Html(""),
        control,
        el("p", cls="wrong", id=f"new-{name}-wrong", role="alert"),
        cls="field",
    )


def select(name: str, options: Iterable[tuple[str, str, dict[str, str]]], chosen: str = "") -> Html:
    """A choice; nothing is chosen at first unless it is said."""
    made = [el("option", text("choose ..."), value="")]
    for value, words, more in options:
        picked = {"selected": "selected"} if value == chosen else {}
        made.append(el("option", text(words), value=value, **more, **picked))
    return el("select", join(made), id=f"new-{name}", name_=name, aria_describedby=f"new-{name}-wrong")


def words(name: str, **more: str) -> Html:
    given = {"autocomplete": "off", "spellcheck": "true", **more}
    return el("input", id=f"new-{name}", name_=name, aria_describedby=f"new-{name}-wrong", **given)


def new_page(bench: Bench, machines: list[Machine], chosen: str) -> Response:
    only = machines[0].id if len(machines) == 1 else chosen
    options = [
        (m.id, f"{m.title} ({m.id})", {"data_next": m.next, "data_documents": ", ".join(m.documents)})
        for m in machines
    ]
    form = el(
        "form",
        field("equipment", "Which machine is it for?", select("equipment", options, only)),
        el("p", link("/new/equipment", text("The machine is not in the list"), cls="as-button")),
        field("kind", "What is it?", select("kind", [(k, w, {}) for k, w in KINDS.items()], "procedure")),
        field("task", "What is done?", select("task", [(t, TASK_WORDS[t], {}) for t in TASKS])),
        _zones(machines),
        field(
            "covers",
            "Which documents are taught?",
            words("covers", spellcheck="false"),
            "Their numbers, with commas. Objectives, lessons and a paper are drafted from them.",
        ),
        field("minutes", "How many minutes are there?", words("minutes", inputmode="numeric", value="210")),
        field(
            "number",
            "Which number?",
            words("number", spellcheck="false"),
            "It is the address of the document for ever. The next free one is proposed.",
        ),
        _title(),
        _paste(),
        el("p", cls="wrong", id="new-wrong", role="alert"),
        el("button", text("Make the document"), type="submit", cls="main", id="new-make"),
        id="new-form",
        novalidate="novalidate",
    )
    body = el("div", el("h1", text("New document")), form, module("new.js"), cls="forms")
    return shell(bench, "New document", body, "New", styles=(STYLE,), swap=False)


def _title() -> Html:
    """Asked in two ways; the page shows the one that goes with the task."""
    symptom = {"data_symptom": SYMPTOM_QUESTION, "data_symptom_help": SYMPTOM_HELP}
    return field("title", TITLE_QUESTION, words("title", **symptom), TITLE_HELP)


def _zones(machines: list[Machine]) -> Html:
    """A choice where a machine has several zones; the page shows those of the chosen machine."""
    made = [el("option", text("the whole machine"), value="")]
    made += [
        el("option", text(z), value=z, data_of=m.id) for m in machines if len(m.zones) > 1 for z in m.zones
    ]
    box = el(
        "select", join(made), id="new-zone", name_="zone", aria_describedby="new-zone-help new-zone-wrong"
    )
    help = "Only what this zone reaches is opened and proved."
    return field("zone", "In which zone is the work?", box, help)


def _paste() -> Html:
    area = el(
        "textarea", id="new-plain", name_="plain", rows=8, aria_describedby="new-plain-help new-plain-wrong"
    )
    frames = [
        _radio("around", "Put it between the steps that make the machine safe and give it back", True),
        _radio("none", "Take it as it is, without those steps", False),
    ]
    shown = el(
        "section",
        el("fieldset", el("legend", text("What is around it?")), el("div", join(frames), cls="choices")),
        el("h2", text("What becomes of it")),
        el("pre", id="new-became", tabindex="0"),
        el("h2", text("Words that may want a mark")),
        el(
            "p",
            text("Nothing is marked by itself. The editor offers each of these where it stands."),
            cls="help",
        ),
        el("ul", id="new-maybe"),
        id="new-paste-box",
        hidden="hidden",
    )
    help = "From a word processor or a mail. Numbered lines become steps, headings stay headings, no word is lost."
    return join((field("plain", "Is there a text already? Paste it here.", area, help), shown))


def _radio(value: str, words: str, checked: bool) -> Html:
    more = {"checked": "checked"} if checked else {}
    box = el("input", type="radio", name_="frame", value=value, **more)
    return el("label", box, text(f" {words}"), cls="choice")
