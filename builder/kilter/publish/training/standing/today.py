"""What documents ask for today: the hash of every step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kilter.check.module import ModuleContext, facts_of, number_of, steps_of
from kilter.check.picturehash import picture_hashes
from kilter.compute.contenthash import content_hash
from kilter.compute.stepfacts import SHORT
from kilter.model.base import fold
from kilter.model.library import Library
from kilter.publish.numbers import Numbers


@dataclass(frozen=True)
class Document:
    """A document as it is now."""

    number: str
    title: str
    revision: str
    hash: str
    """12 digits of the content hash, as on sheets and cards."""
    steps: Mapping[str, str]
    """Slug to the 12 digits of its facts, in order."""
    facts: Mapping[str, str]
    """The same over what is computed with, without the words."""
    machine: str
    """Equipment that it is about."""
    months: int | None
    """The shortest time to revalidation that a module covering it names."""
    numbers: Mapping[str, str] = field(default_factory=dict)
    """Number of a step, as sheets and cards print it, in small letters, to its slug."""

    def step(self, named: str) -> str:
        """The slug of a step by its slug or number; empty where there is none."""
        return named if named in self.steps else self.numbers.get(named.casefold(), "")


def documents_today(library: Library) -> dict[str, Document]:
    """Every document with a number, by folded number; training modules are none."""
    months: dict[str, int] = {}
    for module in library.modules.values():
        every = module.front.revalidate
        for covered in ModuleContext(library, module).covered.values():
            key = fold(number_of(covered.document))
            if every is not None:
                months[key] = min(every, months.get(key, every))
    found = {}
    for document in library.documents.values():
        number = number_of(document)
        profile = library.profile_of(document)
        if not number or profile is None:
            continue
        found_here = {c.step.slug: f for c in steps_of(library, document) if (f := facts_of(library, c))}
        steps = {slug: f.short for slug, f in found_here.items()}
        facts = {slug: f.computed[:SHORT] for slug, f in found_here.items()}
        numbers = Numbers(document, profile).steps
        revision = str(getattr(document.front, "revision", ""))
        pictures = picture_hashes(library, document, profile)
        digest = content_hash(document, profile, pictures)
        machine = profile.front.title
        found[fold(number)] = Document(
            number,
            document.front.title,
            revision,
            digest[:SHORT],
            steps,
            facts,
            machine,
            months.get(fold(number)),
            {number.casefold(): slug for (_, slug), number in numbers.items() if slug in steps},
        )
    return dict(sorted(found.items()))
