"""A paper as a page: on the site to practise, in a package for a learning platform."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from kilter.publish.site.markup import Html, el, some, text
from kilter.publish.site.page import QUIZ, Page
from kilter.publish.site.words import theirs, word


def quiz_body(data: Mapping[str, Any]) -> Html:
    """Title, mark, the place that the script fills, and the paper as a data block that nothing runs."""
    held = json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":")).replace("<", "\\u003c")
    number = f"{data['module']} {data['revision']}"
    return some(
        el("h1", text(f"{number} "), el("span", text(data["title"]), lang=theirs())),
        el("p", text(word("quiz.draft")), cls="quiz-draft"),
        el("noscript", el("p", text(word("quiz.needs")), cls="quiz-note")),
        el("div", id="quiz"),
        el("script", Html(held), type="application/json", id="quiz-data"),
    )


def quiz_address(number: str) -> str:
    return f"quiz-{number.casefold()}.html"


def quiz_page(data: Mapping[str, Any]) -> Page:
    """The page of the site: for practice, nothing is recorded."""
    title = word("quiz.title", number=data["module"], title=data["title"])
    body = el("div", quiz_body(data), cls="quiz-page")
    return Page(quiz_address(data["module"]), title, body, QUIZ, description=title, searchable=True)


def place_marked() -> str:
    """What a picture with one ring says to those who do not see it."""
    return word("script.quiz.one-place")
