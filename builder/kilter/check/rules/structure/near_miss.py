"""A tool or part whose name nearly is a declared one."""

import re
from collections.abc import Iterator
from difflib import SequenceMatcher

from kilter.check.lookup import marks
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, warning
from kilter.model.base import fold
from kilter.model.text import Name
from kilter.read.cures import put

CODE = "K225"
SEVERITY = Severity.WARNING

NEAR = 0.86
"""Share of letters two names have in common from which one is taken for a slip of the other."""


def check(context: Context) -> Iterator[Diagnostic]:
    front = context.document.front
    more = () if context.equipment is None else (context.equipment,)
    kits = {
        "tool": [t.name for f in (front, *more) for t in f.tools],
        "part": [p.name for f in (front, *more) for p in f.parts],
    }
    for what, declared in kits.items():
        folded = {fold(name): name for name in declared}
        for role in marks(context.document, what):
            for name in role.names:
                close = None if name.key in folded else _nearly(name.key, folded)
                if close is not None:
                    message = f"{what} `{name.text}` is nearly the declared `{folded[close]}`"
                    help = f"write `{folded[close]}`, or declare `{name.text}` under `{what}s`"
                    cure = _spelt(context, name, folded[close])
                    yield warning("near-miss", message, name.span, help, fixes=cure)


def _spelt(context: Context, name: Name, declared: str) -> tuple[Fix, ...]:
    """Alone only where blanks and hyphens differ: seal A and seal B are two parts, however alike."""
    source = context.library.sources.get(name.span.path)
    return put(source, name.span, name.text, declared, alone=_letters(name.key) == _letters(fold(declared)))


def _letters(name: str) -> str:
    return re.sub(r"[\W_]+", "", name)


def _nearly(word: str, known: dict[str, str]) -> str | None:
    for other in known:
        # fuse F2 and fuse F3 are two parts, however alike their names
        if re.findall(r"\d+", word) == re.findall(r"\d+", other) and _alike(word, other):
            return other
    return None


def _alike(one: str, two: str) -> bool:
    first, second = _letters(one), _letters(two)
    return first == second or SequenceMatcher(None, first, second).ratio() >= NEAR
