"""The training modules of a prepared library, made; one that can't be is withheld, with the reason."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from kilter.publish.prepare import Prepared, Withheld, unpublished

if TYPE_CHECKING:
    from kilter.publish.training.taught import Taught


def modules_of(
    ready: Prepared, progress: Callable[[str], None] = lambda line: None, only_open: bool = False
) -> list[Taught]:
    """What each module gives; with `only_open` no more than the site shows."""
    if not ready.modules:
        return []
    from kilter.publish.cards.problems import CardProblems
    from kilter.publish.training.outputs import taught

    found: list[Taught] = []
    for module in list(ready.modules):
        progress(f"training {module.front.number}")
        name = f"{module.front.number} {module.front.title}"
        if lost := unpublished(ready, module):  # its card could not be made
            ready.withheld.append(Withheld(module.path, name, (), lost[0].path))
            ready.modules.remove(module)
            continue
        try:
            found.append(taught(ready.library, module, ready.views, only_open))
        except CardProblems as trouble:
            ready.report.add(module.path, trouble.findings)
            ready.withheld.append(Withheld(module.path, name, tuple(trouble.findings)))
            ready.modules.remove(module)
    return found
