"""Cards of live pages: made when they are looked at; what keeps one from being made holds its document back."""

from __future__ import annotations

import json
import threading
from collections import OrderedDict

import typst

from kilter.diagnostic import Diagnostic, error
from kilter.live.bench import Bench
from kilter.model.front import CheckFront
from kilter.publish.cards.data import card_data
from kilter.publish.cards.make import CardMaker, CardProblems, Template, TooTallError, translated
from kilter.publish.cards.problems import find_problems, too_tall
from kilter.publish.view import DocumentView

KEPT = 12
"""Cards whose pages stay in memory; one is about 4 MB."""


class _Drawn(Template):
    """The same card as drawings, one a page: a fifth of the time of the PDF, and every browser shows them."""

    def pages(self, view: DocumentView) -> list[bytes]:
        data = json.dumps(card_data(view, self.width, self.height), ensure_ascii=False)
        try:
            made = self._compiler.compile(format="svg", sys_inputs={"data": data})
        except typst.TypstError as trouble:
            raise translated(trouble) from None
        return [page for page in (made if isinstance(made, list) else [made]) if page is not None]


class Press:
    """Makes cards and knows which documents have none. Its lock is never held while the bench's is asked for."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self._lock = threading.Lock()
        self._check, self._procedure = _Drawn("check.typ", 297, 210), _Drawn("procedure.typ", 148, 210)
        self._maker = CardMaker()
        self._tried: dict[str, tuple[DocumentView, tuple[Diagnostic, ...]]] = {}
        self._kept: OrderedDict[str, tuple[DocumentView, list[bytes]]] = OrderedDict()
        bench.site.shelf.card_problems = self.problems

    def problems(self, view: DocumentView) -> tuple[Diagnostic, ...]:
        """What keeps the card from being made, as far as this state of the document has been tried."""
        tried = self._tried.get(view.document.path)
        return tried[1] if tried and tried[0] is view else ()

    def tried(self, view: DocumentView) -> bool:
        known = self._tried.get(view.document.path)
        return known is not None and known[0] is view

    def pages(self, view: DocumentView) -> list[bytes]:
        """The card's pages as SVG; raises CardProblems."""
        path = view.document.path
        with self._lock:
            kept = self._kept.get(path)
            if kept is None or kept[0] is not view:
                kept = (view, self._made(view))
                self._kept[path] = kept
                if len(self._kept) > KEPT:
                    self._kept.popitem(last=False)
            self._kept.move_to_end(path)
            return kept[1]

    def pdf(self, view: DocumentView) -> bytes:
        """The card as it is printed; raises CardProblems."""
        with self._lock:
            return next(iter(self._maker.cards_for(view).values()))

    def _made(self, view: DocumentView) -> list[bytes]:
        problems = find_problems(view)
        if problems:
            raise CardProblems(problems)
        try:
            template = self._check if isinstance(view.front, CheckFront) else self._procedure
            return template.pages(view)
        except TooTallError as tall:
            raise CardProblems([too_tall(view, *s) for s in tall.steps]) from None

    def attempt(self, view: DocumentView, keep: bool = False) -> bool:
        """Find out whether the card can be made; True if that is news to the pages."""
        before = self.problems(view)
        found: tuple[Diagnostic, ...] = ()
        try:
            self.pages(view) if keep else self._once(view)
        except CardProblems as trouble:
            found = tuple(trouble.findings)
        except Exception as fault:  # a card that fails for a reason of ours must not stop the others
            found = (_fault(view, fault),)
        with self.bench.lock:
            self._tried[view.document.path] = (view, found)
        return before != found

    def _once(self, view: DocumentView) -> None:
        with self._lock:
            self._made(view)


def _fault(view: DocumentView, fault: Exception) -> Diagnostic:
    message = f"the tool itself failed while making the card: {type(fault).__name__}: {fault}"
    help = "the document is not accepted; please report this with the file"
    return error("tool-fault", message, view.document.first_row_span, help)
