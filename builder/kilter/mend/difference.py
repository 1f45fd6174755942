"""The difference between two texts, to be looked at before it is written."""

from __future__ import annotations

from difflib import unified_diff

from kilter.source import unseen


def difference(path: str, before: str, after: str) -> str:
    """A unified difference with three rows around each change; empty if there is none."""
    rows = unified_diff(_rows(before), _rows(after), path, f"{path} (mended)", n=3)
    return "".join(_shown(row) for row in rows)


def _rows(text: str) -> list[str]:
    """Rows as they are compared: a change of line ends alone is none."""
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    return plain.splitlines(keepends=True) if plain.isascii() else _split(plain)


def _split(text: str) -> list[str]:
    """At line feeds only: `splitlines` also breaks at signs that are no line ends here."""
    return [row + "\n" for row in text.split("\n")[:-1]] + (
        [last] if (last := text.rpartition("\n")[2]) else []
    )


def _shown(row: str) -> str:
    """With signs that nobody sees written out: they could turn what a terminal shows."""
    body = row.removesuffix("\n")
    safe = "".join(f"<U+{ord(sign):04X}>" if unseen(sign) else sign for sign in body)
    return safe + "\n" if row.endswith("\n") else safe + "\n\\ no line end at the end of the file\n"
