"""The page "How these numbers were checked": every published value that the tests hold the calculations against."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from functools import cache

from kilter.compute.published import MARKS, Published, published
from kilter.publish.site.calculations import CHECKED, CHECKED_TITLE
from kilter.publish.site.markup import Html, el, join, link, text
from kilter.publish.site.page import PLAIN, Page
from kilter.publish.worked import MAKER_FIRST

MARK_WORDS = {"read": "read", "computed": "computed", "memory": "from memory"}
COLUMNS = ("What", "From", "Value", "Within", "Source", "Mark")
ABOUT = (
    "Every calculation of this site is made by code that is tested against the values below. Each test works the value"
    " out anew from what stands under From, and it has to come out within what stands under Within."
)


@cache
def checked_page() -> Page:
    """The same for every library: it is about Kilter's own calculations."""
    every = published()
    parts = [el("h1", text(CHECKED_TITLE)), el("p", text(ABOUT)), _marks(every), el("p", text(MAKER_FIRST))]
    topics = list(dict.fromkeys(p.topic for p in every))
    rows = (el("li", link(f"#{t}", text(_title(t)))) for t in topics)
    parts.append(el("nav", el("ul", *rows), cls="pages parts", aria_label="On this page"))
    for topic in topics:
        parts.append(_topic(topic, [p for p in every if p.topic == topic]))
    return Page(
        CHECKED,
        CHECKED_TITLE,
        join(parts),
        PLAIN,
        "The published values behind the calculations",
        language="en",
    )


def _title(topic: str) -> str:
    return topic.replace("_", " ").capitalize()


def _marks(every: list[Published]) -> Html:
    """How many there are of each mark, and what it means: a value from memory is never passed off as read."""
    counts = Counter(p.mark for p in every)
    rows = (
        el("li", el("b", text(f"{counts[mark]} {MARK_WORDS[mark]}")), text(f": {meaning}."))
        for mark, meaning in MARKS.items()
    )
    return join([el("p", text(f"{len(every)} values:")), el("ul", *rows)])


def _topic(topic: str, entries: list[Published]) -> Html:
    head = el("tr", *(el("th", text(c), scope="col") for c in COLUMNS))
    body = (el("tr", *(el("td", text(cell)) for cell in _cells(entry))) for entry in entries)
    table = el("table", el("thead", head), el("tbody", *body))
    return join([el("h2", text(_title(topic)), id=topic), el("div", table, cls="wide", tabindex="0")])


def _cells(entry: Published) -> tuple[str, ...]:
    given = ", ".join(f"{key.replace('_', ' ')} {_shown(value)}" for key, value in entry.given.items())
    value = f"{_shown(entry.expect)} {entry.unit}".strip()
    within = (
        f"{_shown(entry.within)} {entry.unit}".strip()
        if not isinstance(entry.expect, str)
        else "to the letter"
    )
    of = entry.of.replace("_", " ").replace(".", ": ", 1)
    return of, given, value, within, entry.source, MARK_WORDS[entry.mark]


def _shown(value: object) -> str:
    """A number without the noise of a binary one; lists and tables of inputs with their parts."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{Decimal(repr(value)):f}".removesuffix(".0").replace("-", "−")
    if isinstance(value, (list, tuple)):
        return ", ".join(_shown(v) for v in value)
    if isinstance(value, dict):
        return ", ".join(f"{k} {_shown(v)}" for k, v in value.items())
    return str(value)
