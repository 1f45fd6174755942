"""From what is prepared to everything the site consists of."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import chain

from kilter import parallel
from kilter.check.calculated import calculated
from kilter.diagnostic import Diagnostic, error
from kilter.model.base import fold
from kilter.publish.prepare import Prepared, Withheld
from kilter.publish.site import handbook, indexes, inforce, offline, recordfiles, training, words
from kilter.publish.site.bundle import bundle, lean, lean_style
from kilter.publish.site.checked import checked_page
from kilter.publish.site.document import document_page
from kilter.publish.site.equipment import equipment_page
from kilter.publish.site.page import Page, Site
from kilter.publish.site.pictures import FOLDER, Pictures
from kilter.publish.site.printed import CARDS
from kilter.publish.site.quiz import quiz_page
from kilter.publish.site.running import shelf_page
from kilter.publish.site.scope import Directory
from kilter.publish.site.states import states_page
from kilter.publish.training.taught import Taught
from kilter.publish.view import DocumentView, equipment_address, states_address

log = logging.getLogger("mkdocs.plugins.kilter")


def assemble(ready: Prepared, cards: Mapping[str, bytes], modules: Sequence[Taught] = ()) -> Site:
    """All pages and files. Raises PluginError for a picture that is none."""
    views = _without_reserved(ready)
    directory = Directory(
        {fold(v.number): (v.address, v.front.title) for v in views},
        frozenset(_numbers(ready) - {fold(v.number) for v in views}),
        partial(calculated, library=ready.library),
    )
    pictures = Pictures(ready.base)
    pages: list[Page] = []
    pages_of = partial(_pages_of, ready, directory, frozenset(cards))
    for made, drawn in parallel.each(pages_of, views, plain=True):
        pages += made
        pictures.files |= drawn
    pages += [equipment_page(p, views, directory, pictures, cards=frozenset(cards)) for p in ready.profiles]
    pages += _lists(ready, views) + _handbook(ready, views, directory)
    pages += [
        training.training_list(each.module.front for each in modules),
        *(training.training_page(each) for each in modules),
    ]
    pages += [quiz_page(each.quiz) for each in modules if each.quiz]
    site = Site(pages)
    for each in modules:
        site.files |= {
            f"{training.FOLDER}/{each.folder}/{name}": data
            for name, data in each.files.items()
            if name in each.open
        }
        site.files |= {f"{FOLDER}/{name}": data for name, data in each.pictures.items()}
    site.files |= pictures.files
    site.files |= {f"{CARDS}/{name}": data for name, data in sorted(cards.items())}
    found = recordfiles.records_files(views, ready.profiles)
    site.files |= found | dict(recordfiles.as_script(address, data) for address, data in found.items())
    site.files |= {f"assets/{name}": data for name, data in assets()}
    site.files |= offline_files(ready.library.settings.name, views)
    site.sets = offline.machine_sets(views)
    return site


def _pages_of(
    ready: Prepared, directory: Directory, cards: frozenset[str], view: DocumentView
) -> tuple[list[Page], dict[str, bytes]]:
    """The pages of one document and the pictures they show."""
    pictures = Pictures(ready.base)
    analysis = ready.report.contexts[view.document.path].analysis
    return [document_page(view, directory, pictures, cards), states_page(view, analysis)], pictures.files


def _numbers(ready: Prepared) -> set[str]:
    return {fold(number) for number in ready.library.numbers}


def _lists(ready: Prepared, views: list[DocumentView]) -> list[Page]:
    return [
        indexes.by_equipment(ready.profiles, views),
        indexes.by_symptom(views),
        indexes.by_number(views),
        indexes.withheld_page(ready.withheld),
    ]


def _handbook(ready: Prepared, views: list[DocumentView], directory: Directory) -> list[Page]:
    known = handbook.resolver(directory)
    known |= {fold(p.profile.id): equipment_address(p.profile.id) for p in ready.profiles}
    counts = (len(views), len(ready.profiles))
    return [
        handbook.front_page(ready.front_page, ready.library.settings.name, known, counts, len(ready.modules)),
        *handbook.guide_pages(known),
        *handbook.rule_pages(known),
        checked_page(),
        handbook.search_page(),
        shelf_page(ready.library.settings.shelf_days),
        handbook.lost_page(),
    ]


def _without_reserved(ready: Prepared) -> list[DocumentView]:
    """Views whose address is not that of a page of ours; such a one would replace the front page."""
    known = handbook.resolver(Directory({}))
    taken = set(known.values()) | {handbook.LOST}
    taken |= {equipment_address(p.profile.id) for p in ready.profiles}
    taken |= {states_address(v.number) for v in ready.views}
    for view in [v for v in ready.views if v.address in taken]:
        found = reserved(view)
        ready.withheld.append(Withheld(view.document.path, f"{view.number} {view.front.title}", (found,)))
        ready.report.add(view.document.path, [found])
        ready.views.remove(view)
    return list(ready.views)


def reserved(view: DocumentView) -> Diagnostic:
    """A document's number that would take the address of a page of ours."""
    span = view.document.places.of("number")
    message = f"number `{view.number}` has the address of a page of the site"
    return error("reserved-number", message, span, "choose another number, such as LFT-120")


def offline_files(name: str, views: list[DocumentView]) -> dict[str, bytes]:
    """Files at fixed places that a phone asks for."""
    language, direction = words.now().language, words.word("language.direction")
    found = {path: offline.icon(size) for path, size in offline.ICONS.items()}
    found[offline.MANIFEST] = offline.app_manifest(name, language, direction)
    found |= inforce.revisions_files(views)
    found["sw.js"] = files("kilter.publish.site").joinpath("assets/sw.js").read_bytes()
    return found


def assets() -> Iterable[tuple[str, bytes]]:
    """Style sheets, scripts, fonts and what they carry with them, by path below `assets/`."""
    own = files("kilter.publish.site").joinpath("assets")
    return sorted(
        [
            *((name, _shipped(name, data)) for name, data in _walk(own, "") if name != "sw.js"),
            ("words.js", lean(words.script(without=chain(*words.OWN_PAGES.values())))),
            *((f"words-{name}.js", lean(words.script(only))) for name, only in words.OWN_PAGES.items()),
            ("run.js", bundle()),
            ("run-end.js", lean(words.script(words.OF_RECORDS)) + bundle("runend.js")),
            ("shelf.js", bundle("shelfpage.js")),
            ("quiz.js", bundle("quizpage.js")),
        ]
    )


def _shipped(name: str, data: bytes) -> bytes:
    """What is our own goes without its remarks; what others wrote stays as it is."""
    if name.endswith(".css"):
        return lean_style(data)
    return lean(data) if name.endswith(".js") and not name.startswith("vendor/") else data


def _walk(folder: Traversable, above: str) -> Iterable[tuple[str, bytes]]:
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _walk(entry, f"{above}{entry.name}/")
        else:
            yield f"{above}{entry.name}", entry.read_bytes()
