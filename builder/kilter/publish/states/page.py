"""The reviewer's page as one file: it asks for nothing, and runs nothing."""

from __future__ import annotations

from importlib.resources import files

from kilter.publish.site.markup import Html, el, text
from kilter.publish.states.body import body
from kilter.publish.states.data import States
from kilter.publish.view import STANDING

POLICY = "default-src 'none'; style-src 'unsafe-inline'"

_BASE = """\
:root { color-scheme: light dark; --paper: #fff; --ink: #16191c; --soft: #4a5259; --rule: #b9c0c6; --line: #16191c; \
--tint: #f3f5f6; --accent: #14506a; }
@media (prefers-color-scheme: dark) { :root { --paper: #12161a; --ink: #eceff1; --soft: #b4bdc4; --rule: #46505a; \
--line: #9aa5ad; --tint: #1b2127; --accent: #8fd0ea; } }
body { max-width: 62rem; margin: 0 auto; padding: 1rem; background: var(--paper); color: var(--ink); \
font: 17px/1.5 Arial, "Liberation Sans", Helvetica, sans-serif; overflow-wrap: break-word; }
.wide { overflow-x: auto; }
"""


def render(table: States) -> str:
    """Same table, same bytes."""
    name = f"{table.number} rev. {table.revision}: {table.title}"
    style = files("kilter.publish.site").joinpath("assets/states.css").read_text(encoding="utf-8")
    style = style.removeprefix('@charset "utf-8";\n')
    head = (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width,initial-scale=1">\n'
        f"<title>{text(name)} - states step by step</title>\n<style>\n{_BASE}{style}</style>\n</head>\n"
    )
    parts = (el("h1", text(f"States step by step: {name}")), el("p", text(table.equipment)))
    foot = el("p", text(STANDING))
    return f"{head}<body>\n{Html(''.join(parts))}{body(table, '')}{foot}\n</body>\n</html>\n"
