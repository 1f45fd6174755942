"""Whether a printed card still says what the library says."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from kilter.model.base import fold
from kilter.publish.cards.family import Code, Subject, code_of, kinds_for
from kilter.publish.paper.code import Said, place, shown
from kilter.publish.prepare import Prepared, Withheld, machines
from kilter.publish.training.taught import training_address
from kilter.publish.view import DRAFT, address, equipment_address

AWAY = "Don't work from this paper"


class State(Enum):
    """What a paper is; only the first may be worked from."""

    CURRENT = "current"
    OLDER = "out of date"
    CHANGED = "changed since printing"
    NEWER = "newer than this library"
    WITHHELD = "withheld"
    UNKNOWN = "unknown"
    ELSEWHERE = "of another library"


class Verdict(NamedTuple):
    state: State
    lines: tuple[str, ...]
    """What is so, then what to do."""


class Known(NamedTuple):
    """One card as it would be printed now."""

    code: Code
    title: str
    card: str

    @property
    def name(self) -> str:
        revision = f", revision {self.code.revision}" if self.code.revision else ""
        return f"{self.code.number} {self.title}{revision}, hash {self.code.hash}"


@dataclass(frozen=True)
class Register:
    """Every card of a library as of now."""

    site_url: str
    cards: dict[str, list[Known]]
    """By place of their page."""
    withheld: dict[str, Withheld]
    """By place of the page that there would be."""
    taught: frozenset[str] = frozenset()
    """Pages of training modules: what is printed from them is no card."""

    def judge(self, said: Said) -> Verdict:
        if not said.address:
            return self._by_hash(said.hash)
        if said.address in self.cards:
            return _compare(said, self.cards[said.address])
        if said.address in self.withheld:
            held = self.withheld[said.address]
            why = f"its profile {held.because_of} has errors" if held.because_of else "it has errors"
            return Verdict(State.WITHHELD, (f"{held.name} is not published now: {why}.", f"{AWAY}."))
        return self._nowhere(said)

    def _by_hash(self, digest: str) -> Verdict:
        found = [k for known in self.cards.values() for k in known if k.code.hash == digest]
        if found:
            return _current(found)
        line = f"no card of this library has the hash {digest} now: it is out of date, was withdrawn or is of another library."
        return Verdict(State.UNKNOWN, (line, f"{AWAY}; the text of its QR code tells more."))

    def _nowhere(self, said: Said) -> Verdict:
        own = place(self.site_url).rstrip("/")
        if own and said.address.startswith(f"{own}/"):
            page = shown(said.address.rpartition("/")[2])
            if page in self.taught:
                line = f"this is training material: {page} of the site has what is taught now."
                return Verdict(State.UNKNOWN, (line, f"It is no card. {AWAY}; take the document's own card."))
            line = f"this library has no {page}: it was withdrawn, or has never been in it."
            return Verdict(State.UNKNOWN, (line, f"{AWAY}; ask who keeps the library."))
        here = f"this one is {shown(self.site_url)}" if own else "this one has no site_url in its mkdocs.yml"
        line = f"the code leads to {shown(said.address)}; {here}."
        return Verdict(State.ELSEWHERE, (line, "Look it up in the library that it is from."))


def register(ready: Prepared) -> Register:
    """Of all that is published. Cards need not be made for it."""
    site_url = ready.library.settings.site_url
    cards: dict[str, list[Known]] = {}
    subjects: Iterable[Subject] = (*ready.views, *machines(ready))
    for subject in subjects:
        known = [Known(code_of(k, subject), subject.front.title, k.title) for k in kinds_for(subject)]
        cards[place(subject.url)] = known
    taught = frozenset(training_address(m.front.number) for m in ready.modules)
    return Register(site_url, cards, _withheld(ready, site_url), taught)


def _withheld(ready: Prepared, site_url: str) -> dict[str, Withheld]:
    found = {}
    for held in ready.withheld:
        document = ready.library.documents.get(held.path)
        if document is not None:
            page = equipment_address(fold(document.key)) if document.is_profile else address(document.key)
            found[place(f"{site_url.rstrip('/')}/{page}" if site_url else page)] = held
    return found


def _compare(said: Said, known: list[Known]) -> Verdict:
    same = [k for k in known if (k.code.revision, k.code.hash) == (said.revision, said.hash)]
    if same:
        return _current(same)
    now = known[0]
    holds = "; ".join(dict.fromkeys(k.name for k in known))
    paper = f"revision {said.revision or '–'}, hash {said.hash}"
    again = f"{AWAY}: take it away and print it again (kilter print {now.code.number})."
    if said.revision == now.code.revision:
        line = f"this paper is {paper}. The library holds {holds}: same revision, other content."
        return Verdict(
            State.CHANGED, (line, f"It is a {DRAFT}, and was changed since this was printed.", again)
        )
    if _age(said.revision) < _age(now.code.revision):
        return Verdict(State.OLDER, (f"this paper is {paper}. The library holds {holds}.", again))
    line = f"this paper is {paper}. The library in this folder holds {holds}, which is older."
    return Verdict(
        State.NEWER, (line, f"{AWAY} before the folder is brought up to date and this is asked again.")
    )


def _age(revision: str) -> tuple[int, str]:
    """Letters count A .. Y, AA ..; dates of machines sort as they are written."""
    return len(revision), revision


def _current(known: list[Known]) -> Verdict:
    names = "; ".join(dict.fromkeys(k.name for k in known))
    cards = ", ".join(dict.fromkeys(k.card for k in known))
    return Verdict(
        State.CURRENT,
        (
            f"{names}: its code is that of what the library holds now.",
            f"Cards with this code: {cards}.",
            f"{DRAFT}: nobody has approved it yet.",
        ),
    )
