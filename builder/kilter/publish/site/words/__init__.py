"""The words of the interface: one file a language, `en.toml` the first of them.

`word("search.none")` gives the words in the language of the site that is being made. What an author wrote is
never looked up here: it stays as written, and `theirs()` and `ours()` say in HTML which language is which.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from kilter.publish.site.words.script import SCRIPT

FIRST = "en"
"""The language that every other file is held against."""
FOR_SCRIPTS = "script."
"""Keys that scripts may ask for; they travel to the phone in `assets/words.js`, without this beginning."""
OF_RECORDS = ("script.run.said.", "script.code.")
"""Beginnings of keys that only what hands records over asks for: they travel with it."""
OWN_PAGES = {"quiz": ("script.quiz.",), "shelf": ("script.run.shelf.", *OF_RECORDS)}
"""Beginnings of keys that one kind of page alone asks for: they travel in `assets/words-NAME.js`."""


@dataclass(frozen=True)
class Words:
    """The words of one language, and the language that the documents are written in."""

    language: str
    said: Mapping[str, str]
    written: str
    """Language of the documents, as in HTML's `lang`."""

    def get(self, key: str, **values: object) -> str:
        """The words of a key with `{name}` filled in. Raises KeyError for a key or a value that is not there."""
        return self.said[key].format(**values) if values else self.said[key]

    def count(self, key: str, n: int, **values: object) -> str:
        """`KEY.one` or `KEY.many`, with `{n}` filled in."""
        return self.get(f"{key}.{'one' if n == 1 else 'many'}", n=n, **values)


def languages() -> tuple[str, ...]:
    """All there are, by file name."""
    own = files(__name__)
    return tuple(sorted(f.name[:-5] for f in own.iterdir() if f.name.endswith(".toml")))


@cache
def read(language: str) -> dict[str, str]:
    """A language's words by key; raises FileNotFoundError for one that has no file."""
    text = files(__name__).joinpath(f"{language}.toml").read_text(encoding="utf-8")
    return dict(_flat(tomllib.loads(text), ""))


def _flat(table: Mapping[str, Any], above: str) -> Iterator[tuple[str, str]]:
    for key, value in table.items():
        if isinstance(value, dict):
            yield from _flat(value, f"{above}{key}.")
        else:
            yield f"{above}{key}", value


_now = Words(FIRST, read(FIRST), FIRST)


def use(language: str = FIRST, written: str = "") -> None:
    """Make pages in a language from here on. A process makes one site at a time; workers are forks of it."""
    global _now
    _now = Words(language, read(language), written or language)


def now() -> Words:
    """What pages are being made in."""
    return _now


def word(key: str, **values: object) -> str:
    """The words of a key in the language of the site."""
    return _now.get(key, **values)


def count(key: str, n: int, **values: object) -> str:
    """`KEY.one` or `KEY.many` in the language of the site."""
    return _now.count(key, n, **values)


def theirs() -> str | None:
    """`lang` of an author's words; None where it is the page's own."""
    return _now.written if _now.written != _now.language else None


def ours() -> str | None:
    """`lang` of our words inside an author's; None where both are the same."""
    return _now.language if _now.written != _now.language else None


def script(only: str | tuple[str, ...] = FOR_SCRIPTS, without: Iterable[str] = ()) -> bytes:
    """`assets/words.js`: the words for scripts, and `kilterWord(key, values)` that says them.

    `only` are beginnings of the keys that are wanted, where a script stands without the others; `without` are
    beginnings of those that come in files of their own, which add to the first.
    """
    gone = tuple(without)
    kept = {
        k.removeprefix(FOR_SCRIPTS): v
        for k, v in _now.said.items()
        if k.startswith(only) and not k.startswith(gone)
    }
    data = json.dumps(kept, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return SCRIPT.replace("{/* words */}", data).encode()
