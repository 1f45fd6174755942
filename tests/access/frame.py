"""Page kinds, the ways they are looked at, and axe-core, which comes inside a package from PyPI."""

from __future__ import annotations

import os
from importlib.resources import files

KINDS = [
    "index.html", "lft-120.html", "lft-010.html", "str-130.html", "wcb-210.html", "equipment-egret-2.html", "by-equipment.html",
    "by-symptom.html", "by-number.html", "withheld.html", "guide.html", "guide-reference.html", "rules.html",
    "rule-answer-form.html", "numbers.html", "search.html", "404.html", "states-lft-120.html", "shelf.html",
]  # fmt: skip
WIDTHS = {"phone": 360, "desk": 1280}
LOOKS: dict[str, dict[str, str]] = {
    "light": {"theme": "light"},
    "dark": {"theme": "dark"},
    "light, high contrast": {"theme": "light", "contrast": "more"},
    "dark, high contrast": {"theme": "dark", "contrast": "more"},
}
"""What the reader may choose under Display."""
AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
EVERYTHING = "KILTER_ALL_LOOKS" in os.environ
"""Every page and screen in every look; else each is tried in the light one and in every second of the others."""
RUN = """() => axe.run(document, {
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
  rules: { 'target-size': { enabled: true } },
}).then((found) => ({
  broken: found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')} ${n.failureSummary.split('\\n')[1] ?? ''}`)),
  rules: found.passes.length,
}))"""


def broken(page: object) -> list[str]:
    """Everything that axe finds on the page as it stands; fails if axe looked at nothing."""
    page.evaluate(AXE)  # not as a script element: the policy would refuse it
    found = page.evaluate(RUN)
    assert found["rules"] > 10
    return list(found["broken"])


def in_turn(look: str, number: int) -> bool:
    """Whether the page or screen of this number is tried in a look."""
    return EVERYTHING or look == "light" or (number + list(LOOKS).index(look)) % 2 == 0


def choose(context: object, chosen: dict[str, str]) -> None:
    """Display settings that the pages of a context find on the device."""
    import json

    context.add_init_script(f"localStorage.setItem('kilter-display', {json.dumps(json.dumps(chosen))})")
