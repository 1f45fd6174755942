"""The phone's modules as one classic script.

A page opened from a stick (`file://`) may not load modules, and one file is one request. The modules are joined in
the order of what they need; `import` lines and the word `export` go. So that nothing can hide anything, every name
at the top of a module stands in one module only: `bundle` refuses otherwise.
"""

from __future__ import annotations

import re
from functools import lru_cache
from importlib.resources import files

ENTRY = "main.js"
_IMPORT = re.compile(r"^import\s+\{([^}]*)\}\s+from\s+\"\./([\w-]+\.js)\";\n", re.MULTILINE)
_AGAIN = re.compile(r"^export\s+\{[^}]*\};\n", re.MULTILINE)
_EXPORT = re.compile(r"^export\s+(?=(?:async\s+)?(?:function|class|const|let)\b)", re.MULTILINE)
_REMARK = re.compile(r"^[ \t]*/\*\*.*?\*/\n", re.MULTILINE | re.DOTALL)
_ASIDE = re.compile(r"[ \t]+// [^\n\"'`]*$", re.MULTILINE)
_STYLE_REMARK = re.compile(r"/\*.*?\*/", re.DOTALL)
_INDENT = re.compile(r"^\s+", re.MULTILINE)
"""What only people read stays in the modules; no text of theirs goes over the end of a line."""
_ASIDE_ROW = re.compile(r"^[ \t]*//.*\n", re.MULTILINE)
_TOP = re.compile(r"^(?:export\s+)?(?:async\s+)?(?:function\*?|class)\s+(\w+)", re.MULTILINE)
_BOUND = re.compile(r"^(?:export\s+)?(?:const|let)\s+(.+?)(?:;\n|$)", re.MULTILINE)


class BundleError(Exception):
    """Modules that can't be joined."""


@lru_cache(maxsize=8)
def bundle(entry: str = ENTRY) -> bytes:
    """The script, the same bytes for the same modules."""
    order: list[str] = []
    _visit(entry, order, ())
    seen: dict[str, str] = {}
    parts = []
    for name in order:
        text = _text(name)
        for top in names(text):
            if seen.setdefault(top, name) != name:
                raise BundleError(f"`{top}` stands in {seen[top]} and in {name}")
        parts.append(_EXPORT.sub("", _AGAIN.sub("", _IMPORT.sub("", text))).strip())
    body = _INDENT.sub("", _ASIDE.sub("", _REMARK.sub("", "\n".join(parts))))
    if re.search(r"^(?:import|export)\b", body, re.MULTILINE):
        raise BundleError("an import or export is left over")
    return f'(() => {{\n"use strict";\n{body}\n}})();\n'.encode()


def lean_style(sheet: bytes) -> bytes:
    """A style sheet of ours without its remarks and what its rows are drawn in by; no text of theirs holds `/*`."""
    return _INDENT.sub("", _STYLE_REMARK.sub("", sheet.decode())).encode()


def lean(script: bytes) -> bytes:
    """A classic script of ours without what only people read: rows of remarks, and what rows are drawn in by."""
    return _INDENT.sub("", _ASIDE_ROW.sub("", script.decode())).encode()


def _visit(name: str, order: list[str], above: tuple[str, ...]) -> None:
    if name in above:
        raise BundleError(f"{name} needs itself")
    if name in order:
        return
    text = _text(name)
    for imported, other in _IMPORT.findall(text):
        _visit(other, order, (*above, name))
        known = names(_text(other))
        for each in filter(None, (part.strip() for part in imported.split(","))):
            if each not in known:
                raise BundleError(f"{name} asks {other} for `{each}`, which it does not have")
    order.append(name)


def _text(name: str) -> str:
    return files("kilter.publish.site").joinpath("app", name).read_text(encoding="utf-8")


def names(text: str) -> set[str]:
    """Names at the top of a module."""
    found = set(_TOP.findall(text))
    for bound in _BOUND.findall(text):
        found |= set(re.findall(r"(?:^|,)\s*(\w+)\s*=", bound)) if not bound.startswith(("{", "[")) else set()
        found |= set(re.findall(r"^(\w+)", bound))
    return found


def modules() -> list[str]:
    """Every module that there is, by name."""
    return sorted(
        f.name for f in files("kilter.publish.site").joinpath("app").iterdir() if f.name.endswith(".js")
    )
