"""The first check of a whole library, on all cores while no other thread runs yet."""

from __future__ import annotations

from kilter import parallel
from kilter.check.flow.told import Told, told
from kilter.check.rule import Context
from kilter.check.run import findings_within
from kilter.check.workspace import Workspace, _Kept
from kilter.diagnostic import Diagnostic, Severity


class WarmWorkspace(Workspace):
    """A workspace that can check all its files at once."""

    def warm(self) -> None:
        """Check every file. Workers are forks, so this comes before any thread is started."""
        paths = self.paths()
        for path, (within, states) in zip(paths, parallel.each(self._checked, paths), strict=True):
            self._kept[path] = _Kept(self._fresh(path), within, None, states)

    def _fresh(self, path: str) -> Context | None:
        document = self.library.documents.get(path)
        return Context(self.library, document, self.library.profile_of(document)) if document else None

    def _checked(self, path: str) -> tuple[list[Diagnostic], Told | None]:
        context = self._fresh(path)
        within = findings_within(self.library, path, context)
        faulty = context is None or any(d.severity is Severity.ERROR for d in within)
        return within, None if context is None or faulty else told(context.analysis)
