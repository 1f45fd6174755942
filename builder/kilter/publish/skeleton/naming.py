"""Sentences of a profile in a step, with the tools they name marked so that they enter the kit."""

from __future__ import annotations

import re
from collections.abc import Iterable

from kilter.model.front import ProfileFront
from kilter.publish.skeleton.words import said


class Naming:
    """The tools that a profile declares, looked for in its own sentences."""

    def __init__(self, profile: ProfileFront) -> None:
        names = sorted((t.name for t in profile.tools if _can_be_marked(t.name)), key=len, reverse=True)
        self._tool = re.compile("|".join(map(_word, names)), re.I) if names else None

    def sentences(self, mark: str, said_of: Iterable[tuple[str, str | None, str]]) -> str:
        """One sentence for each source: `(its name, what the profile says of it, the blank where it says nothing)`.

        The mark closes the sentence, as people write it, and no verb stands in front: in print the mark says its
        own ("isolates mains"), and the step's title is the order. A tool is marked where the step names it first.
        """
        met = set[str]()
        return " ".join(
            f"{self._marked(said(text, ''), met) if text else blank}: {{{mark}}}`{name}`."
            for name, text, blank in said_of
        )

    def _marked(self, text: str, met: set[str]) -> str:
        def marked(found: re.Match[str]) -> str:
            word = found.group()
            if word.casefold() in met:
                return word
            met.add(word.casefold())
            return f"{{tool}}`{word}`"

        return self._tool.sub(marked, text) if self._tool else text


def _can_be_marked(name: str) -> bool:
    """Words and digits only: signs of Markdown are written otherwise in a text, and a comma parts two names."""
    return re.fullmatch(r"[\w /.+-]+", name) is not None and "_" not in name


def _word(name: str) -> str:
    """The name by itself, not inside a longer word."""
    return rf"(?<![\w-]){re.escape(name)}(?![\w-])"
