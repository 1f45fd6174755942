"""Cards of live pages: made when they are looked at; what keeps one from being made holds its document back."""

from __future__ import annotations

import threading
from collections import OrderedDict

from kilter.diagnostic import Diagnostic, error
from kilter.live.bench import Bench
from kilter.publish.cards.family import Kind, Subject, drawings, kinds_for, make
from kilter.publish.cards.problems import CardProblems
from kilter.publish.view import DocumentView

KEPT = 12
"""Cards whose pages stay in memory; one is about 4 MB."""


class Press:
    """Makes cards and knows which documents have none. Its lock is never held while the bench's is asked for."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self._lock = threading.Lock()
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
            return make(_main(view), view)

    def card(self, kind: Kind, subject: Subject) -> bytes:
        """Any card as it is printed; raises CardProblems."""
        with self._lock:
            return make(kind, subject)

    @staticmethod
    def _made(view: DocumentView) -> list[bytes]:
        return drawings(_main(view), view)

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


def _main(view: DocumentView) -> Kind:
    """The card without which a document is not published; an SVG of it is a fifth of the work of the PDF."""
    return next(kind for kind in kinds_for(view) if kind.main)


def _fault(view: DocumentView, fault: Exception) -> Diagnostic:
    message = f"the tool itself failed while making the card: {type(fault).__name__}: {fault}"
    help = "the document is not accepted; please report this with the file"
    return error("tool-fault", message, view.document.first_row_span, help)
