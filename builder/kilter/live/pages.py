"""The pages of the site, each made when it is asked for, with the same body as in a build."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from kilter.check.calculated import calculated
from kilter.check.rule import all_rules
from kilter.compute.calculation import InputError, Result
from kilter.live.drawings import LivePictures
from kilter.live.facts import Facts
from kilter.live.taught import Lessons
from kilter.model.base import fold
from kilter.model.text import Calculation
from kilter.publish.cards.family import file_names
from kilter.publish.machine import machine_of
from kilter.publish.site import handbook, indexes, inforce, offline, recordfiles, training
from kilter.publish.site.calculations import CHECKED
from kilter.publish.site.checked import checked_page
from kilter.publish.site.document import document_page
from kilter.publish.site.equipment import equipment_page
from kilter.publish.site.page import Page
from kilter.publish.site.running import shelf_page
from kilter.publish.site.scope import Directory
from kilter.publish.site.states import states_page
from kilter.publish.view import equipment_address

if TYPE_CHECKING:
    from kilter.live.shelf import Shelf


class _Links(Mapping[str, tuple[str, str]]):
    """Published documents by folded number; each look-up is noted."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts

    def __getitem__(self, number: str) -> tuple[str, str]:
        found: tuple[str, str] | None = self.facts.ask("link", number)
        if found is None:
            raise KeyError(number)
        return found

    def __iter__(self) -> Iterator[str]:
        return (fold(v.number) for v in self.facts.ask("views"))

    def __len__(self) -> int:
        return len(self.facts.ask("views"))


class _Withheld:
    def __init__(self, facts: Facts) -> None:
        self.facts = facts

    def __contains__(self, number: object) -> bool:
        return bool(self.facts.ask("link withheld", str(number)))


class _Known:
    """What a plain page may link to: machines before the site's own pages before documents."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.fixed = handbook.resolver(Directory({}))

    def get(self, name: str, /) -> str | None:
        machine = self.facts.ask("equipment", name)
        if machine:
            return equipment_address(machine)
        if name in self.fixed:
            return self.fixed[name]
        found = self.facts.ask("link", name)
        return str(found[0]) if found else None


class Pages:
    """Makes pages by address. Called with the bench's lock held."""

    def __init__(self, shelf: Shelf) -> None:
        self.shelf, self.facts = shelf, shelf.facts
        self.directory = Directory(_Links(self.facts), _Withheld(self.facts), self._answer)
        self.pictures = LivePictures(shelf.workspace.base, self.facts)
        self.known = _Known(self.facts)
        self.lessons = Lessons(self.facts)
        self._guide = handbook.guide_addresses()
        self._rules = {handbook.rule_address(rule): rule for rule in all_rules().values()}

    def _answer(self, block: Calculation) -> Result | InputError:
        """A page with an answer stands on the library's limits too."""
        self.facts.ask("settings")
        return calculated(block, self.shelf.workspace.library)

    def common(self, address: str) -> Page | None:
        """A page that every site has; None for any other address."""
        ask = self.facts.ask
        if address in self._rules:
            return handbook.rule_page(self._rules[address], self.known)
        if address in self._guide:
            return handbook.guide_page(self.known, address)
        pages: dict[str, Callable[[], Page]] = {
            indexes.EQUIPMENT: lambda: indexes.by_equipment(ask("profiles"), ask("views")),
            indexes.SYMPTOMS: lambda: indexes.by_symptom(ask("views")),
            indexes.NUMBERS: lambda: indexes.by_number(ask("views")),
            "withheld.html": lambda: indexes.withheld_page(ask("withheld")),
            handbook.FRONT: self._front,
            handbook.RULES: handbook.rules_page,
            CHECKED: checked_page,
            handbook.SEARCH: handbook.search_page,
            training.LIST: lambda: training.training_list(m.front for m in self.lessons.published()),
            offline.SHELF: lambda: shelf_page(ask("settings").shelf_days),
            handbook.LOST: handbook.lost_page,
        }
        if address in pages:
            return pages[address]()
        return self.lessons.page(address) if address.startswith(("training-", "quiz-")) else None

    def _front(self) -> Page:
        ask = self.facts.ask
        counts = (len(ask("views")), len(ask("profiles")))
        return handbook.front_page(
            ask("front"), ask("settings").name, self.known, counts, len(self.lessons.published())
        )

    def document(self, path: str) -> Page | None:
        """The page of a published document; None for one that is not."""
        view = self.facts.ask("published", path)
        if view is None:
            return None
        return document_page(view, self.directory, self.pictures, file_names(view))

    def states(self, path: str) -> Page | None:
        """The reviewer's page of a published document."""
        view = self.facts.ask("published", path)
        return states_page(view, self.facts.ask("analysis", path)) if view else None

    def equipment(self, path: str) -> Page | None:
        """The page of a machine; None while its profile has errors."""
        profile = self.facts.ask("document", path)
        if profile is None or self.facts.ask("errors", path):
            return None
        views = self.facts.ask("views of", path)
        machine = machine_of(profile, "", "", "", views)  # which cards there are hangs on no more
        return equipment_page(profile, views, self.directory, self.pictures, cards=file_names(machine))

    def revisions(self) -> bytes:
        """What is in force: here, what can be published."""
        return inforce.revisions_files(self.facts.ask("views"), most=sys.maxsize)[inforce.REVISIONS]

    def records(self) -> bytes:
        """What the search knows, in one file: here it comes from no further than this computer."""
        views, profiles = self.facts.ask("views"), self.facts.ask("profiles")
        return recordfiles.records_files(views, profiles, most=sys.maxsize)[recordfiles.ADDRESS]
