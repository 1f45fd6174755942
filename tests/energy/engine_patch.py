"""Put one bug into the engine, in memory and for a while: its files stay as they are.

A bug is a few edits; each changes the text of one function, which is compiled again and patched in wherever the engine holds it.
"""

from __future__ import annotations

import inspect
import sys
import textwrap
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from types import ModuleType
from unittest.mock import patch

ENGINE = "kilter.check.flow"

Owner = type | ModuleType
Edit = tuple[Owner, str, str, str]
"""Class or module of the engine, the name of a function in it, the old text and the new."""
Bug = tuple[Edit, ...]


def edited(edit: Edit) -> object:
    """The function (or property) as it is with the edit; the old text must stand in it exactly once."""
    owner, name, old, new = edit
    text = textwrap.dedent(inspect.getsource(_function(getattr(owner, name))))
    assert text.count(old) == 1 and old != new, f"{name}: {old!r} stands {text.count(old)} times"
    made: dict[str, object] = {}
    flags = annotations.compiler_flag
    code = compile(text.replace(old, new), f"<{name} with a bug>", "exec", flags, dont_inherit=True)
    exec(code, _home(owner).__dict__, made)
    return made[name]


def _function(found: object) -> object:
    """What has a text: of a property its getter."""
    return found.fget if isinstance(found, property) else found


def _home(owner: Owner) -> ModuleType:
    """The module whose names the function sees."""
    return owner if isinstance(owner, ModuleType) else sys.modules[owner.__module__]


def holders(owner: Owner, name: str) -> list[Owner]:
    """The owner, and every part of the engine that took the same function by name."""
    sound = getattr(owner, name)
    modules = [m for key, m in sorted(sys.modules.items()) if key.startswith(ENGINE) and m is not owner]
    return [owner, *(m for m in modules if m.__dict__.get(name) is sound)]


@contextmanager
def seeded(bug: Bug) -> Iterator[None]:
    """The engine with one bug, put right again afterwards."""
    with ExitStack() as stack:
        for edit in bug:
            owner, name = edit[:2]
            assert _home(owner).__name__.startswith(ENGINE), f"{name} is not the engine's"
            wrong = edited(edit)
            for holder in holders(owner, name):
                stack.enter_context(patch.object(holder, name, wrong))
        yield
