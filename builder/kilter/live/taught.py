"""Pages of training modules, made when they are asked for: nothing is printed before somebody wants it."""

from __future__ import annotations

from kilter.live.facts import Facts, Memory
from kilter.model.base import fold
from kilter.model.training import Module
from kilter.publish.cards.problems import CardProblems
from kilter.publish.site.page import Page
from kilter.publish.site.quiz import quiz_address, quiz_page
from kilter.publish.site.training import training_page
from kilter.publish.training.outputs import planned
from kilter.publish.training.paper.make import Sheet
from kilter.publish.training.taught import Taught, training_address

KEPT = 20
"""Modules whose questions stay in memory."""
Made = tuple[Taught, tuple[Sheet, ...]]


class Lessons:
    """Modules that can be published, and what they give. Called with the bench's lock held."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self._made: Memory[Made | None] = Memory(facts, KEPT)

    def published(self) -> list[Module]:
        """Sound modules on published documents, by number."""
        paths: tuple[str, ...] = self.facts.ask("modules")
        modules = (m for path in paths if (m := self._sound(path)) is not None)
        return sorted(modules, key=lambda m: m.front.number.lower())

    def _sound(self, path: str) -> Module | None:
        module: Module | None = self.facts.ask("module", path)
        if module is None or self.facts.ask("errors", path):
            return None
        found = all(self.facts.ask("link", fold(number)) for number in module.leans_on)
        return module if found else None

    def page(self, address: str) -> Page | None:
        """The educator's page of a module, or the one to practise on; None for any other address."""
        for module in self.published():
            number = module.front.number
            if address not in (training_address(number), quiz_address(number)):
                continue
            made = self._of(module)
            if made is None:
                return None
            if address == training_address(number):
                return training_page(made[0])
            return quiz_page(made[0].quiz) if made[0].quiz else None
        return None

    def _of(self, module: Module) -> Made | None:
        """None where its sheets can't be printed: a build withholds it and says why."""
        return self._made.get(module.path, lambda: self._planned(module))

    def _planned(self, module: Module) -> Made | None:
        ask = self.facts.ask
        ask("module", module.path)
        ask("settings")
        views = [v for v in ask("views") if fold(v.number) in {fold(n) for n in module.leans_on}]
        for view in views:  # what is asked is made from the analysis: it is another whenever the document is
            ask("analysis", view.document.path)
            ask("pictures", view.document.path)
        try:
            return planned(ask("library"), module, views)
        except CardProblems:
            return None

    def sheet(self, address: str) -> Sheet | None:
        """The sheet of `FOLDER/NAME.pdf` that trainees may have; to be printed when the lock is let go."""
        folder, _, name = address.partition("/")
        for module in self.published():
            made = self._of(module) if module.front.number.lower() == folder else None
            if made is not None and name in made[0].open:
                return next((s for s in made[1] if s.name == name), None)
        return None

    def picture(self, name: str) -> bytes | None:
        """A picture of a page to practise on."""
        made = (self._of(module) for module in self.published())
        return next((m[0].pictures[name] for m in made if m is not None and name in m[0].pictures), None)
