"""Cards of live pages: made when they are looked at; what keeps one from being made holds its document back."""

from __future__ import annotations

import threading
from collections import OrderedDict

from kilter.diagnostic import Diagnostic, error
from kilter.live.bench import Bench
from kilter.publish.cards.family import Kind, Subject, drawings, file_name, main_kind, make
from kilter.publish.cards.problems import CardProblems
from kilter.publish.machine import MachineView
from kilter.publish.view import DocumentView

KEPT = 12
"""Cards whose pages stay in memory; one is about 4 MB."""


class Press:
    """Makes cards and knows which documents have none. Its lock is never held while the bench's is asked for."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self._lock = threading.Lock()
        self._tried: dict[str, tuple[DocumentView, tuple[Diagnostic, ...]]] = {}
        self._kept: OrderedDict[str, tuple[tuple[object, ...], list[bytes]]] = OrderedDict()
        bench.site.shelf.card_problems = self.problems

    def problems(self, view: DocumentView) -> tuple[Diagnostic, ...]:
        """What keeps the card from being made, as far as this state of the document has been tried."""
        tried = self._tried.get(view.document.path)
        return tried[1] if tried and tried[0] is view else ()

    def tried(self, view: DocumentView) -> bool:
        known = self._tried.get(view.document.path)
        return known is not None and known[0] is view

    def pages(self, kind: Kind, subject: Subject) -> list[bytes]:
        """The card's pages as SVG; raises CardProblems."""
        name, stands_on = file_name(kind, subject), _stands_on(subject)
        with self._lock:
            kept = self._kept.get(name)
            if kept is None or not _same(kept[0], stands_on):
                kept = (stands_on, drawings(kind, subject))
                self._kept[name] = kept
                if len(self._kept) > KEPT:
                    self._kept.popitem(last=False)
            self._kept.move_to_end(name)
            return kept[1]

    def pdf(self, kind: Kind, subject: Subject) -> bytes:
        """The card as it is printed; raises CardProblems."""
        with self._lock:
            return make(kind, subject)

    def attempt(self, view: DocumentView, keep: bool = False) -> bool:
        """Find out whether the card can be made; True if that is news to the pages."""
        before = self.problems(view)
        found: tuple[Diagnostic, ...] = ()
        try:
            self.pages(main_kind(view), view) if keep else self._once(view)
        except CardProblems as trouble:
            found = tuple(trouble.findings)
        except Exception as fault:  # a card that fails for a reason of ours must not stop the others
            found = (_fault(view, fault),)
        with self.bench.lock:
            self._tried[view.document.path] = (view, found)
        return before != found

    def _once(self, view: DocumentView) -> None:
        with self._lock:
            drawings(main_kind(view), view)


def _stands_on(subject: Subject) -> tuple[object, ...]:
    """What a card is made of; a machine's view is made anew for each request, its parts are not."""
    if isinstance(subject, MachineView):
        return (subject.profile, subject.contact, subject.site_url, subject.hash, *subject.views)
    return (subject,)


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(
        a is b or (isinstance(a, str) and a == b) for a, b in zip(one, other, strict=True)
    )


def _fault(view: DocumentView, fault: Exception) -> Diagnostic:
    message = f"the tool itself failed while making the card: {type(fault).__name__}: {fault}"
    help = "the document is not accepted; please report this with the file"
    return error("tool-fault", message, view.document.first_row_span, help)
