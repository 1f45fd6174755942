"""Remarks from phones at their steps: what somebody at the machine said is wrong stands where the writer looks."""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from kilter.live.listing import many
from kilter.live.web import Request, Response, answer_json
from kilter.outcome import CouldNotRunError
from kilter.publish.site.markup import NOTHING, Html, el, join, link, text
from kilter.records.remarks import remarks
from kilter.records.store import ANSWERED, FOLDER, MOST_WORDS, TAKEN, RecordStore

if TYPE_CHECKING:
    from kilter.live.bench import Bench

Row = tuple[str, str, str, str, str]
"""Id, anchor of the step, its number then, who and when, and the words."""
SCRIPT = '<script src="/live/remarks.js" defer></script>\n'


class Remarks:
    """The open remarks of the records beside the library, read again when the folder has changed."""

    def __init__(self, folder: Path) -> None:
        self.store = RecordStore(folder / FOLDER)
        self._seen: tuple[int, ...] = ()
        self._rows: dict[str, tuple[Row, ...]] = {}
        self.trouble = ""
        """Why they can't be read."""

    def changed(self) -> bool:
        """Look whether anything came or was answered; then read again."""
        now = tuple(map(_stamp, (self.store.folder / TAKEN, self.store.folder / ANSWERED)))
        if now == self._seen:
            return False
        self._seen = now
        found: dict[str, list[Row]] = {}
        self.trouble = ""
        try:
            for one in remarks(self.store):
                row = (one.record.id, one.remark.step, one.remark.number, one.who, one.remark.text)
                found.setdefault(one.record.document.casefold(), []).append(row)
        except (CouldNotRunError, OSError) as trouble:
            self.trouble = f"Remarks can't be read: {trouble}"
        self._rows = {number: tuple(rows) for number, rows in found.items()}
        return True

    def of(self, number: str) -> tuple[Row, ...]:
        return self._rows.get(number.casefold(), ())


def _stamp(place: Path) -> int:
    try:
        return place.stat().st_mtime_ns
    except OSError:
        return 0


def with_remarks(html: str, rows: tuple[Row, ...], trouble: str = "") -> str:
    """The page with each remark under the title of its step, and a list of all on top."""
    if trouble:
        return html.replace("</h1>", "</h1>" + el("p", text(trouble), cls="live-remarks", role="note"), 1)
    if not rows:
        return html
    lost = []
    for row in rows:
        start = html.find(f'id="{escape(row[1])}"')
        end = html.find("</h3>", start) if start >= 0 else -1
        if end < 0:
            lost.append(row)
            continue
        html = html[: end + 5] + _block(row) + html[end + 5 :]
    at = html.find("</h1>")
    top = _top(rows, lost)
    html = html[: at + 5] + top + html[at + 5 :] if at >= 0 else html
    return html.replace("</head>", f"{SCRIPT}</head>", 1)


def _top(rows: tuple[Row, ...], lost: list[Row]) -> Html:
    links = [link(f"#{row[1]}", text(f"step {row[2]}")) for row in rows if row not in lost]
    said = el(
        "p",
        text(f"{many(len(rows), 'remark')} from the machine"),
        text(": " if links else "."),
        join(links, text(", ")),
    )
    gone = el("p", text("The step is not there any more:")) if lost else NOTHING
    return el("div", said, gone, *map(_block, lost), cls="live-remarks", role="note")


def _block(row: Row) -> Html:
    id, _, number, who, words = row
    answer = el(
        "details",
        el("summary", text("Answer it")),
        el("label", text("What was done about it, or why nothing"), el("input", maxlength=MOST_WORDS)),
        el("button", text("Answered"), type="button"),
        el("p", text(""), role="alert"),
    )
    head = el("p", el("b", text(f"Said to be wrong (step {number}, {who})")))
    return el("aside", head, el("p", text(words), cls="said"), answer, cls="live-remark", data_remark=id)


def answer_remark(bench: Bench, request: Request) -> Response:
    """`{"id": .., "words": ..}` from the page's button."""
    try:
        body = request.json()
        id, words = body["id"], body["words"].strip()
    except (ValueError, KeyError, TypeError, AttributeError):
        return answer_json({"error": "The page sent something unexpected. Load it again."}, 400)
    store = bench.site.remarks.store
    if not words or len(words) > MOST_WORDS:
        return answer_json({"error": f"Say in 1 to {MOST_WORDS} characters what was done about it."}, 422)
    if id not in {one.record.id for one in remarks(store)}:
        return answer_json({"error": "This remark is not open any more. Load the page again."}, 422)
    store.answer(id, words)
    bench.site.look_for_remarks()
    return answer_json({"answered": id})
